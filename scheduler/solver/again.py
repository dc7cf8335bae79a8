"""Planning again with a timetable in force: what `steady` asks for, one thing after another.

Each sum is made as small as can be and then held while the next one is: no weight has to outweigh another, so
the numbers stay small and the search short. One worker, a fixed seed and deterministic limits, as in `search`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime
from typing import Any

from scheduler.domain.timetable import Slot, Timetable, in_order
from scheduler.solver.engine import new_solver, solved
from scheduler.solver.model import Model
from scheduler.solver.search import SEARCH_LIMIT, Answer, Task, Verdict
from scheduler.solver.steady import Steady, hints

FURTHER_LIMIT = 0.2
"""Deterministic seconds for each search after one has found a timetable."""


def least_moved(task: Task, now: datetime) -> Answer:
    """The timetable that disturbs `task.previous` least; FEASIBLE where less was not ruled out in time.

    Raises ValueError when there is none.
    """
    previous = task.previous
    if previous is None:
        raise ValueError("there is no timetable in force")
    model = Model(replace(task, previous=None, from_now=True))
    return Answer(Verdict.INFEASIBLE) if model.impossible else Again(model, previous, now).answer()


class Again:
    """One planning again. `values` are those of the heads in the best timetable so far, at first as they were
    in the one in force.
    """

    def __init__(self, model: Model, previous: Timetable, now: datetime) -> None:
        self.model, self.previous = model, previous
        self.held = Steady(model, previous, now).held()
        self.values = hints(model, previous)
        self.found: tuple[Slot, ...] = ()
        self.proven = True

    def answer(self) -> Answer:
        aims = list(self.held.in_turn())
        if any(self.previous.slot(step.number) is None for step in self.model.waiting()):
            aims.append(self.model.first_preferences())
        if self.only_what_must():
            aims = [aim for aim in aims if aim is not self.held.disturbance]
        for aim in aims or [None]:
            verdict = self._improve(aim)
            if not self.found:
                return Answer(verdict)
        return Answer(Verdict.OPTIMAL if self.proven else Verdict.FEASIBLE, self.found, self.model.task.serve)

    def only_what_must(self) -> bool:
        """Whether it is enough to move the starts that cannot stay; if so, nothing else moves any more."""
        aim = self.held.disturbance
        if aim is None or self.held.overdue is not None:
            return False
        self.model.cp.add_assumption(self.held.local)
        solver, verdict = self._search(aim, FURTHER_LIMIT)
        if verdict is not Verdict.OPTIMAL or solver.value(aim) > self.held.least:
            self.model.cp.clear_assumptions()
            return False
        self._take(solver)
        self.model.cp.add(aim <= self.held.least)
        return True

    def _improve(self, aim: Any) -> Verdict:
        """Make a sum as small as it can be found to be, and hold it."""
        solver, verdict = self._search(aim, FURTHER_LIMIT if self.found else SEARCH_LIMIT)
        self.proven &= verdict is Verdict.OPTIMAL
        if verdict in (Verdict.OPTIMAL, Verdict.FEASIBLE):
            self._take(solver)
            if aim is not None:
                self.model.cp.add(aim <= solver.value(aim))
        return verdict

    def _take(self, solver: Any) -> None:
        self.found = in_order(self._slots(solver))
        self.values = {index: solver.value(head.var) for index, head in enumerate(self.model.heads)}

    def _search(self, aim: Any, limit: float) -> tuple[Any, Verdict]:
        cp = self.model.cp
        cp.clear_objective()
        cp.clear_hints()
        for index, value in self.values.items():
            cp.add_hint(self.model.heads[index].var, value)
        if aim is not None:
            cp.minimize(aim)
        solver = new_solver()
        solver.parameters.max_deterministic_time = limit
        return solver, solved(solver, cp)

    def _slots(self, solver: Any) -> Iterator[Slot]:
        for step in self.model.task.plan.steps:
            if step.number in self.model.starts:
                start, end = (
                    self._moment(solver, at[step.number]) for at in (self.model.starts, self.model.ends)
                )
                yield Slot(step.number, start, end, start, start, start, self._cook(solver, step.number))

    def _moment(self, solver: Any, place: Any) -> datetime:
        return self.model.moment(int(solver.value(self.model.at(place))))

    def _cook(self, solver: Any, number: int) -> str | None:
        cooks = ((name, there) for (n, name), there in self.model.by_cook.items() if n == number)
        return next((name for name, there in cooks if solver.value(there)), None)
