"""A plan as it stands at a moment: what the services work on and the words are chosen from."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime
from functools import cached_property, lru_cache

from scheduler import words
from scheduler.change_words import counted
from scheduler.changes import Change, changed
from scheduler.domain.links import live_links
from scheduler.domain.plan import Link, Plan, Step
from scheduler.domain.progress import Mark, Progress, State, fold
from scheduler.domain.timetable import Slot, Timetable
from scheduler.planfile import read
from scheduler.ports import UnitOfWork
from scheduler.records import PlanRow

ON_ITS_WAY = (State.WAITING, State.RUNNING)


@lru_cache(maxsize=32)
def read_plan(
    source: str, zone: str, awake: str, changes: tuple[Change, ...] = (), accepted: bool = True
) -> Plan:
    """The plan a stored source reads to, with what was changed about it since; not `accepted`, one that arrives.

    Raises BadPlan like `read`, but for what is stored that was ruled out on arrival.
    """
    return changed(read(source, zone=zone, awake=awake, accepted=accepted), changes)


@dataclass(frozen=True)
class View:
    """One plan at `now`. `row.revision` is what any change must be based on."""

    row: PlanRow
    plan: Plan
    marks: tuple[Mark, ...]
    progress: Progress
    now: datetime

    @property
    def id(self) -> int:
        if self.row.id is None:
            raise ValueError("the plan was never stored")
        return self.row.id

    @property
    def zone(self) -> str:
        return self.plan.zone

    @property
    def serve(self) -> datetime:
        return self.row.serve

    @property
    def timetable(self) -> Timetable:
        if self.row.timetable is None:
            raise ValueError("the plan has no timetable yet")
        return self.row.timetable

    def with_marks(self, marks: tuple[Mark, ...]) -> View:
        """The same plan with more said about it."""
        every = (*self.marks, *marks)
        return replace(self, marks=every, progress=fold(self.plan, every, self.now, self.row.timetable))

    def with_timetable(self, timetable: Timetable, serve: datetime) -> View:
        row = replace(self.row, timetable=timetable, serve=serve)
        return replace(self, row=row, progress=fold(self.plan, self.marks, self.now, timetable))

    def with_changes(self, changes: tuple[Change, ...]) -> View:
        """The same with just these changes made to the plan as it was written."""
        row = replace(self.row, changes=changes)
        plan = plan_in_force(row)
        if row.timetable is not None:
            row = replace(row, timetable=_by_those_there(plan, row.timetable))
        return replace(self, row=row, plan=plan, progress=fold(plan, self.marks, self.now, row.timetable))

    def counts_on(self) -> list[str]:
        """What the plan as it stands counts on beyond what was written, each a sentence."""
        rows = [replace(self.row, changes=self.row.changes[:n]) for n in range(len(self.row.changes))]
        pairs = zip(self.row.changes, rows, strict=True)
        return [counted(change, plan_in_force(before)) for change, before in pairs]

    def upcoming(self) -> list[Slot]:
        """Slots of steps not begun, in order of start."""
        return [slot for slot in self.timetable.slots if self.progress.state(slot.step) is State.WAITING]

    def running(self) -> list[Slot]:
        """Slots of steps under way, in order of start."""
        return [slot for slot in self.timetable.slots if self.progress.state(slot.step) is State.RUNNING]

    def step(self, number: int) -> Step:
        return self.plan.steps[number]

    def part_of(self, step: Step) -> list[Step]:
        """Every step of the component a step belongs to."""
        return [other for other in self.plan.steps if other.component == step.component]

    @cached_property
    def links(self) -> tuple[Link, ...]:
        """What comes after what, with the steps left out closed up."""
        return live_links(self.plan, self.progress.dropped)

    def before(self, number: int) -> list[int]:
        """The steps that one comes after."""
        return [link.before for link in self.links if link.after == number]

    def after(self, number: int) -> list[int]:
        """The steps that come after one."""
        return [link.after for link in self.links if link.before == number and link.after is not None]

    def brief(self, at: datetime) -> str:
        """A moment on the plan's clock, as short as it can be said now."""
        return words.brief(at, self.zone, self.now)


def plan_in_force(row: PlanRow) -> Plan:
    """The plan of a stored row, with what was changed about it."""
    return read_plan(row.source, row.zone, row.awake, row.changes)


def _by_those_there(plan: Plan, timetable: Timetable) -> Timetable:
    """The timetable with what somebody was to do who is not in the kitchen after all done by one who is."""
    names = {cook.name for cook in plan.kitchen.cooks}
    slots = [
        replace(slot, cook=plan.cooks_of(plan.steps[slot.step])[0].name)
        if slot.cook not in (None, *names)
        else slot
        for slot in timetable.slots
    ]
    return replace(timetable, slots=tuple(slots))


def view_of(uow: UnitOfWork, row: PlanRow, now: datetime) -> View:
    """Read marks and plan; the row must be stored."""
    if row.id is None:
        raise ValueError("the plan was never stored")
    plan = plan_in_force(row)
    marks = tuple(uow.marks.of(row.id))
    return View(row, plan, marks, fold(plan, marks, now, row.timetable), now)
