"""A project's shortest schedule within a limit: a first answer, evolution, then proof or neighbourhoods."""

from __future__ import annotations

from collections.abc import Callable
from random import Random

from scheduler.solver.projects.cliques import large_cliques
from scheduler.solver.projects.evolve import Evolution
from scheduler.solver.projects.network import Network
from scheduler.solver.projects.packing import Packing
from scheduler.solver.projects.project import Project, ProjectAnswer, Status
from scheduler.solver.projects.reorder import wander
from scheduler.solver.projects.serial import Sides
from scheduler.solver.projects.unschedule import first_schedules

SEED = 1

LARGE = 75
"""Activities beyond which most proofs are out of reach, and time is better spent on a shorter schedule."""

# Shares of the limit, as measured on the published sets.
FIRST = 0.06
ATTEMPTS = 0.02
FIRST_PROOF = 0.4
HALVING = 0.05
NEIGHBOURHOODS = 0.12
PROOF_OF_LARGE = 0.2
EVOLUTION_OF_LARGE = 0.14
WANDERING_OF_LARGE = 0.4


def solve_project(project: Project, limit: float, stopwatch: Callable[[], float]) -> ProjectAnswer:
    """The best schedule found in `limit` seconds of `stopwatch`, and what is known of it.

    Where there are only minimum lags, a schedule is found however short the limit.

    One thread and a fixed seed: where the search ends before the limit, the answer is always the same.
    """
    return _Search(project, limit, stopwatch).answer()


class _Search:
    def __init__(self, project: Project, limit: float, stopwatch: Callable[[], float]) -> None:
        self._project = project
        self._limit = limit
        self._stopwatch = stopwatch
        self._deadline = stopwatch() + limit
        self._network = Network(project)
        self._random = Random(SEED)
        self._cliques: list[list[int]] = []
        self._starts: list[int] | None = None
        self._makespan = self._network.horizon + 1
        self._bound = self._network.bound()
        self._finished = not self._network.possible

    def answer(self) -> ProjectAnswer:
        if self._finished:
            return self._told()
        if Sides.suits(self._project):
            self._with_least_lags_only(Sides(self._project))
        else:
            self._with_most_lags()
        return self._told()

    # ------------------------------------------------------------ what is known

    def _left(self) -> float:
        return self._deadline - self._stopwatch()

    def _over(self) -> bool:
        return self._finished or self._left() <= 0

    def _take(self, starts: list[int] | None) -> None:
        if starts is None:
            return
        ends = zip(self._project.activities, starts, strict=True)
        makespan = max((start + activity.duration for activity, start in ends), default=0)
        if makespan < self._makespan:
            self._starts, self._makespan = starts, makespan
        self._raise(self._bound)

    def _raise(self, bound: int) -> None:
        """No schedule is shorter than this; where none is as short as the horizon, there is none at all."""
        self._bound = max(self._bound, bound)
        self._finished = self._finished or self._bound >= self._makespan

    def _told(self) -> ProjectAnswer:
        if self._starts is None:
            if self._finished:
                return ProjectAnswer(Status.INFEASIBLE)
            return ProjectAnswer(Status.NONE, bound=self._bound)
        status = Status.OPTIMAL if self._finished else Status.FEASIBLE
        bound = self._makespan if self._finished else self._bound
        return ProjectAnswer(status, tuple(self._starts), self._makespan, bound)

    # ------------------------------------------------------------ stages

    def _with_least_lags_only(self, sides: Sides) -> None:
        evolution = Evolution(sides, self._random, self._bound)
        self._evolve(evolution, FIRST)
        if self._network.count <= LARGE:
            self._prove(self._left())
            return
        self._prove(PROOF_OF_LARGE * self._limit)
        if not self._over() and self._starts is not None:
            evolution.accept(self._starts)
            self._evolve(evolution, EVOLUTION_OF_LARGE)
            self._wander(sides)
            self._improve(self._left(), sides)

    def _with_most_lags(self) -> None:
        lags = self._network.within(self._network.horizon)
        if lags is None:
            self._finished = True
            return
        packing = Packing(
            self._project.capacities, [activity.demands for activity in self._project.activities]
        )
        until = self._stopwatch() + ATTEMPTS * self._limit
        self._take(
            first_schedules(self._network, lags, packing, self._random, lambda: self._stopwatch() >= until)
        )
        self._cliques = large_cliques(self._network)
        self._prove(FIRST_PROOF * self._limit)
        if self._starts is None:
            self._ask(self._network.horizon, self._left() / 2)
        self._halve()
        self._improve(NEIGHBOURHOODS * self._limit)
        if self._cliques:
            self._prove(self._left() / 2, with_cliques=False)
        self._prove(self._left())

    def _evolve(self, evolution: Evolution, share: float) -> None:
        until = min(self._stopwatch() + share * self._limit, self._deadline)
        evolution.run(lambda: self._stopwatch() >= until)
        self._take(evolution.best)

    def _wander(self, sides: Sides) -> None:
        if self._over() or self._starts is None:
            return
        until = min(self._stopwatch() + WANDERING_OF_LARGE * self._limit, self._deadline)
        self._take(wander(sides, self._starts, self._bound, self._random, lambda: self._stopwatch() >= until))

    def _halve(self) -> None:
        """Ask for schedules half-way between bound and best: either answer is found sooner than the last one."""
        low, unknown = self._bound, 0
        while not self._over() and self._makespan - low > 2 and unknown < 3:
            target = (low + self._makespan) // 2
            if self._ask(target, HALVING * self._limit):
                low = max(low, self._bound)
            else:
                low, unknown = target, unknown + 1

    def _ask(self, target: int, seconds: float) -> bool:
        """Whether it was found out if anything ends by then."""
        from scheduler.solver.projects.exact import any_within

        if self._over():
            return False
        outcome = any_within(self._network, target, min(self._left(), seconds), self._starts)
        self._take(outcome.starts)
        if outcome.starts is None and outcome.finished:
            self._raise(target + 1)
        return outcome.starts is not None or outcome.finished

    def _prove(self, seconds: float, with_cliques: bool = True) -> None:
        from scheduler.solver.projects.exact import shortest

        if self._over():
            return
        cliques = self._cliques if with_cliques else []
        seconds = min(seconds, self._left())
        outcome = shortest(self._network, self._makespan - 1, seconds, self._starts, cliques)
        self._take(outcome.starts)
        if outcome.finished:
            self._raise(self._makespan)
        else:
            self._raise(min(outcome.bound, self._makespan))

    def _improve(self, seconds: float, sides: Sides | None = None) -> None:
        from scheduler.solver.projects.neighbourhood import Neighbourhoods

        until = min(self._stopwatch() + seconds, self._deadline)
        steps = Neighbourhoods(self._project, self._network, self._random)
        while not self._finished and self._starts is not None and self._stopwatch() < until:
            found = steps.step(self._starts, self._makespan - 1, until - self._stopwatch())
            if found is not None:
                self._take(sides.justified(found) if sides else found)
