"""Part of a schedule made anew while the rest keeps its order: one step of a large-neighbourhood search."""

from __future__ import annotations

from collections.abc import Sequence
from random import Random
from typing import Any

from scheduler.solver.engine import solved
from scheduler.solver.projects.chains import handed_on
from scheduler.solver.projects.closure import Lags, close
from scheduler.solver.projects.engine import new_solver
from scheduler.solver.projects.exact import share_resources
from scheduler.solver.projects.network import Network
from scheduler.solver.projects.project import Project
from scheduler.solver.task import Verdict

FIRST_SIZE = 25
LEAST_SIZE = 8

SECONDS = 0.3
"""For one step: most are decided much sooner, and the others seldom get anywhere (measured)."""


class Neighbourhoods:
    """Steps from one schedule to a shorter one. The part set free grows while it is refuted quickly."""

    def __init__(self, project: Project, network: Network, random: Random) -> None:
        self._lags = [(lag.before, lag.after, lag.least) for lag in project.lags]
        self._network = network
        self._random = random
        self._size = min(FIRST_SIZE, network.count)
        self._lengths: list[int] = network.durations.tolist()

    def step(self, starts: Sequence[int], upper: int, seconds: float) -> list[int] | None:
        """Free the activities nearest some moment and look for a schedule that ends by `upper`."""
        free = self._nearest(starts, self._random.uniform(0, upper))
        links = handed_on(self._network, starts, free)
        lags = self._with(links, upper)
        found, decided = (None, True) if lags is None else self._search(lags, links, free, starts, seconds)
        if found is None:
            change = 1 if decided else -1
            self._size = min(max(self._size + change, LEAST_SIZE), self._network.count)
        return found

    def _nearest(self, starts: Sequence[int], moment: float) -> frozenset[int]:
        def away(number: int) -> tuple[float, float]:
            start = starts[number]
            return max(start - moment, moment - start - self._lengths[number], 0.0), self._random.random()

        return frozenset(sorted(range(len(starts)), key=away)[: self._size])

    def _with(self, links: set[tuple[int, int]], upper: int) -> Lags | None:
        lags = self._network.within(upper)
        if lags is None:
            return None
        for before, after in links:
            lags[before, after] = max(lags[before, after], self._lengths[before])
        return lags if close(lags) and self._network.deduce(lags) else None

    def _search(
        self,
        lags: Lags,
        links: set[tuple[int, int]],
        free: frozenset[int],
        hint: Sequence[int],
        seconds: float,
    ) -> tuple[list[int] | None, bool]:
        """Starts, if there are any in time, and whether the question was decided."""
        from ortools.sat.python import cp_model

        cp = cp_model.CpModel()
        earliest, latest = self._network.windows(lags)
        starts: list[Any] = [
            cp.new_int_var(first, last, "")
            for first, last in zip(earliest.tolist(), latest.tolist(), strict=True)
        ]
        linked = [(before, after, self._lengths[before]) for before, after in links]
        for before, after, least in self._lags + linked:
            if earliest[after] - latest[before] < least:
                cp.add(starts[after] - starts[before] >= least)
        self._order(cp, starts, lags, free)
        intervals = [
            cp.new_fixed_size_interval_var(start, length, "")
            for start, length in zip(starts, self._lengths, strict=True)
        ]
        share_resources(cp, self._network, intervals)
        for variable, value in zip(starts, hint, strict=True):
            cp.add_hint(variable, value)
        solver = new_solver(min(seconds, SECONDS))
        solver.parameters.cp_model_probing_level = 0
        solver.parameters.symmetry_level = 0
        verdict = solved(solver, cp)
        if verdict in (Verdict.OPTIMAL, Verdict.FEASIBLE):
            return [int(solver.value(start)) for start in starts], True
        return None, verdict is Verdict.INFEASIBLE

    def _order(self, cp: Any, starts: Sequence[Any], lags: Lags, free: frozenset[int]) -> None:
        for one, other in self._network.undecided(lags):
            if one in free and other in free:
                first = cp.new_bool_var("")
                cp.add(starts[other] - starts[one] >= self._lengths[one]).only_enforce_if(first)
                cp.add(starts[one] - starts[other] >= self._lengths[other]).only_enforce_if(~first)
