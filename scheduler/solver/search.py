"""Plan, what is already past, and the serving hour -> start and end of every step, or the fact that none fit.

It searches in whole minutes with CP-SAT: one worker, a fixed seed
and a deterministic limit, so that the same input always gives the same answer. It is never trusted:
`scheduler.planning` puts every result through the verifier.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime
from enum import StrEnum
from typing import TYPE_CHECKING, Any

from scheduler.domain.plan import Plan
from scheduler.domain.progress import Progress
from scheduler.domain.timetable import Slot, Timetable, in_order
from scheduler.facts import Fact

if TYPE_CHECKING:
    from scheduler.solver.model import Model

SEARCH_LIMIT = 1.0
"""Deterministic seconds the main search may take before it answers with its best so far."""

POLISH_LIMIT = 0.06
"""Deterministic seconds spent on the last two preferences, which never cost the first two anything."""


@dataclass(frozen=True, slots=True)
class Bound:
    """A start kept between two instants, each of them allowed; None: no limit on that side."""

    step: int
    not_before: datetime | None = None
    not_after: datetime | None = None


@dataclass(frozen=True)
class Task:
    """What is to be timed: `serve` is the serving hour asked for, `previous` the timetable in force.

    With `latest_serve` later than `serve` the hour itself is sought: the earliest between them. `dropped`
    names facts to leave out, to find which of them conflict. `from_now`: look at all the time from now on, not
    only at as much of it as the steps take. `bounds` narrow down starts of steps not begun, beyond the plan.
    """

    plan: Plan
    progress: Progress
    now: datetime
    serve: datetime
    latest_serve: datetime | None = None
    previous: Timetable | None = None
    dropped: frozenset[Fact] = frozenset()
    from_now: bool = False
    bounds: tuple[Bound, ...] = ()


class Verdict(StrEnum):
    OPTIMAL = "optimal"
    FEASIBLE = "feasible"
    INFEASIBLE = "infeasible"
    UNKNOWN = "unknown"


@dataclass(frozen=True)
class Answer:
    """A verdict, with slots (windows not yet worked out) and the serving hour where there is one."""

    verdict: Verdict
    slots: tuple[Slot, ...] = ()
    serve: datetime | None = None

    @property
    def fits(self) -> bool:
        return self.verdict in (Verdict.OPTIMAL, Verdict.FEASIBLE)


def solve(task: Task) -> Answer:
    """The best timetable by the preferences in DEVELOPERS.md, or a verdict without one."""
    answer = _solve(task)
    if answer.verdict is Verdict.INFEASIBLE and not task.from_now:
        # Something may still fit for a cook who begins long before there is need.
        return _solve(replace(task, from_now=True))
    return answer


def _solve(task: Task) -> Answer:
    model = _model(task)
    if model.impossible:
        return Answer(Verdict.INFEASIBLE)
    if task.latest_serve is not None and task.latest_serve > task.serve:
        return _soonest(task, model)
    first = model.first_preferences()
    verdict, values = _run(model, first, SEARCH_LIMIT)
    if values is None:
        return Answer(verdict)
    if task.previous is None:
        model.hold(first, values)
        _, better = _run(model, model.last_preferences(), POLISH_LIMIT, hint=values)
        values = better or values
    return Answer(verdict, _slots(model, values), task.serve)


def fits(task: Task) -> Verdict:
    """Whether anything fits at all, without looking for the best."""
    model = _model(replace(task, from_now=True))
    return Verdict.INFEASIBLE if model.impossible else _run(model, None, SEARCH_LIMIT)[0]


def _soonest(task: Task, model: Model) -> Answer:
    verdict, values = _run(model, model.serve_var, SEARCH_LIMIT)
    if values is None:
        return Answer(verdict)
    serve = model.moment(values.of(model.serve_var))
    best = solve(replace(task, serve=serve, latest_serve=None))
    return replace(best, verdict=best.verdict if verdict is Verdict.OPTIMAL else verdict)


def _model(task: Task) -> Model:
    from scheduler.solver.model import Model

    return Model(task)


class Values:
    def __init__(self, solver: Any) -> None:
        self._solver = solver

    def of(self, expression: Any) -> int:
        return int(self._solver.value(expression))


def _run(model: Model, objective: Any, limit: float, hint: Values | None = None) -> tuple[Verdict, Any]:
    from ortools.sat.python import cp_model

    model.aim(objective, hint)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    solver.parameters.max_deterministic_time = limit
    status = solver.solve(model.cp)
    verdict = {
        cp_model.OPTIMAL: Verdict.OPTIMAL,
        cp_model.FEASIBLE: Verdict.FEASIBLE,
        cp_model.INFEASIBLE: Verdict.INFEASIBLE,
        cp_model.UNKNOWN: Verdict.UNKNOWN,
    }.get(status)
    if verdict is None:
        raise RuntimeError(f"the solver refused its model: {model.cp.validate()}")
    return verdict, Values(solver) if verdict in (Verdict.OPTIMAL, Verdict.FEASIBLE) else None


def _slots(model: Model, values: Values) -> tuple[Slot, ...]:
    return in_order(
        Slot(number, start, end, start, start, start, cook) for number, start, end, cook in model.read(values)
    )
