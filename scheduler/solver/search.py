"""Plan, what is already past, and the serving hour -> start and end of every step, or the fact that none fit.

Small plans go to CP-SAT as they are. Larger ones first get an answer of our own (`serial`), and CP-SAT looks only
at moments with which something better could be had. One worker, a fixed seed and deterministic limits: the same
input always gives the same answer. When a limit is reached, the best so far stands, unproven. Nothing here is
trusted: `scheduler.planning` puts every result through the verifier.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime, timedelta
from math import ceil
from typing import TYPE_CHECKING, Any

from scheduler.domain.timetable import Slot, in_order, next_mark
from scheduler.solver.task import Answer as Answer
from scheduler.solver.task import Bound as Bound
from scheduler.solver.task import Task as Task
from scheduler.solver.task import Verdict as Verdict

if TYPE_CHECKING:
    from scheduler.solver.model import Model
    from scheduler.solver.places import Places
    from scheduler.solver.serial import First

SEARCH_LIMIT = 1.0
"""Deterministic seconds the main search may take before it answers with its best so far."""

QUARTER = timedelta(minutes=15)
FURTHEST_STEP = timedelta(hours=5)

LARGE_LIMIT, MANY = 0.3, 150
"""The deterministic seconds for a plan of so many heads; for more heads less, for fewer more."""

FEW = 32
"""Heads up to which CP-SAT alone is fastest."""

A_FEW_PUSHES = 20
"""How long our own way tries to find something where only whether anything fits is asked."""

QUICK_LIMIT = 0.1
"""Deterministic seconds in which it mostly shows whether anything fits at all; simplifying the model first takes
seconds where facts are left out and much is free.
"""

POLISH_LIMIT = 0.06
"""Deterministic seconds spent on the last two preferences, which never cost the first two anything."""


def solve(task: Task) -> Answer:
    """The best timetable by the preferences in DEVELOPERS.md, or a verdict without one."""
    answer = _solve(task)
    if answer.verdict is Verdict.INFEASIBLE and not task.from_now:
        # Something may still fit for a cook who begins long before there is need.
        return _solve(replace(task, from_now=True))
    return answer


def _solve(task: Task) -> Answer:
    from scheduler.solver.model import Model
    from scheduler.solver.places import Places

    places = Places(task)
    if places.impossible:
        return Answer(Verdict.INFEASIBLE)
    if task.latest_serve is not None and task.latest_serve > task.serve:
        return _soonest(task, Model(task))
    if len(places.heads) <= FEW or task.previous is not None:
        return _searched(Model(task), SEARCH_LIMIT)
    return _large(places)


def fits(task: Task) -> Verdict:
    """Whether anything fits at all, without looking for the best."""
    from scheduler.solver.model import Model
    from scheduler.solver.places import Places

    task = replace(task, from_now=True)
    places = Places(task)
    if places.impossible:
        return Verdict.INFEASIBLE
    if len(places.heads) > FEW and places.latest_serve == places.serve and _placed(places, A_FEW_PUSHES):
        return Verdict.FEASIBLE
    quick = _run(Model(task), None, QUICK_LIMIT, presolve=False)[0]
    return _run(Model(task), None, SEARCH_LIMIT)[0] if quick is Verdict.UNKNOWN else quick


def _placed(places: Places, pushes: int) -> bool:
    from scheduler.solver.serial import first_answer

    return first_answer(places, costs=False, pushes=pushes) is not None


def _searched(model: Model, limit: float) -> Answer:
    """What CP-SAT finds by itself; a first answer of our own where it finds nothing in time."""
    objective = model.first_preferences()
    verdict, values = _run(model, objective, limit, core=model.task.previous is None)
    if values is None:
        return _unsearched(model) if verdict is Verdict.UNKNOWN else Answer(verdict)
    best = Answer(verdict, (), model.task.serve, values.of(objective), values.bound)
    if model.task.previous is None:
        model.hold(objective, values)
        _, better = _run(model, model.last_preferences(), POLISH_LIMIT, hint=values)
        values = better or values
    return replace(best, slots=_slots(model, values))


def placed(task: Task) -> Answer:
    """Our own first answer alone, FEASIBLE or (which proves nothing) UNKNOWN; for when a search found nothing."""
    from scheduler.solver.places import Places

    places = Places(task)
    return Answer(Verdict.INFEASIBLE) if places.impossible else _unsearched(places)


def _unsearched(places: Places) -> Answer:
    from scheduler.solver.serial import first_answer

    first = first_answer(places)
    if first is None:
        return Answer(Verdict.UNKNOWN)
    first.improve()
    return _answer(first, first.bound)


def _large(places: Places) -> Answer:
    """A first answer of our own, then what CP-SAT can find in what it leaves worth looking at."""
    from scheduler.solver.model import Model
    from scheduler.solver.serial import first_answer

    first = first_answer(places)
    if first is None:
        return _searched(Model(places.task), SEARCH_LIMIT)
    first.improve()
    bound = first.bound
    if bound < first.cost:
        model = Model(places.task, first.within())
        objective = model.first_preferences()
        verdict, values = _run(model, objective, _limit(places), core=True, first=first)
        if values is not None and values.of(objective) < first.cost:
            first.take(*model.placed(values))
        if verdict is Verdict.OPTIMAL or values is not None:
            bound = max(bound, min(first.cost, values.bound))
    return _answer(first, bound)


def _limit(places: Places) -> float:
    """Deterministic seconds; one of them takes the longer the more heads there are."""
    return min(SEARCH_LIMIT, LARGE_LIMIT * (MANY / len(places.heads)) ** 2)


def _answer(first: First, bound: int) -> Answer:
    """A placement of our own, polished, as an answer."""
    if first.places.task.previous is None:
        first.polish()
    cost = first.cost
    verdict = Verdict.OPTIMAL if cost <= bound else Verdict.FEASIBLE
    return Answer(verdict, first.slots(), first.places.task.serve, cost, min(bound, cost))


def _soonest(task: Task, model: Model) -> Answer:
    verdict, values = _run(model, model.serve_var, SEARCH_LIMIT)
    if values is None:
        return Answer(verdict) if verdict is Verdict.INFEASIBLE else _some_hour(task)
    serve = model.moment(values.of(model.serve_var))
    best = solve(replace(task, serve=serve, latest_serve=None))
    return replace(best, verdict=best.verdict if verdict is Verdict.OPTIMAL else verdict)


def _some_hour(task: Task) -> Answer:
    """An hour at which our own way finds a timetable, when the earliest cannot be found in time."""
    from scheduler.solver.places import Places

    for serve in _hours(next_mark(task.serve, QUARTER), task.latest_serve or task.serve):
        at = replace(task, serve=serve, latest_serve=None)
        places = Places(at)
        if not places.impossible and _placed(places, A_FEW_PUSHES):
            return replace(solve(at), verdict=Verdict.FEASIBLE)
    return Answer(Verdict.UNKNOWN)


def _hours(first: datetime, last: datetime) -> Iterator[datetime]:
    """Hours to try, ever further apart, but never so far that a part of the day is passed over; then the last."""
    step = QUARTER
    while first < last:
        yield first
        first, step = first + step, min(2 * step, FURTHEST_STEP)
    yield last


class Values:
    def __init__(self, solver: Any) -> None:
        self._solver = solver

    def of(self, expression: Any) -> int:
        return int(self._solver.value(expression))

    @property
    def bound(self) -> int:
        """What the objective is at least."""
        least: float = self._solver.best_objective_bound
        return ceil(least - 1e-6)


def _run(
    model: Model,
    objective: Any,
    limit: float,
    hint: Values | None = None,
    core: bool = False,
    first: First | None = None,
    presolve: bool = True,
) -> tuple[Verdict, Any]:
    """`core`: prove from below, by which few wishes cannot all be had, rather than improve from above."""
    from scheduler.solver.engine import new_solver, solved

    model.aim(objective, hint)
    if first is not None:
        model.hint_at(first)
    solver = new_solver()
    solver.parameters.max_deterministic_time = limit
    solver.parameters.cp_model_presolve = presolve
    if core:
        solver.parameters.optimize_with_core = True
        solver.parameters.cp_model_probing_level = 0
        solver.parameters.linearization_level = 0
    verdict = solved(solver, model.cp)
    return verdict, Values(solver) if verdict in (Verdict.OPTIMAL, Verdict.FEASIBLE) else None


def _slots(model: Model, values: Values) -> tuple[Slot, ...]:
    return in_order(
        Slot(number, start, end, start, start, start, cook) for number, start, end, cook in model.read(values)
    )
