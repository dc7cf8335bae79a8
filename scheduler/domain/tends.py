"""When the touches of a tend fall: as near to their due moments as the cooks' hours and hands allow."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import datetime, timedelta

from scheduler.domain.hours import Interval, without
from scheduler.domain.plan import FIVE_MINUTES, MINUTE, Attention, Plan, Step, Tend
from scheduler.domain.presence import Presence, holding, within
from scheduler.domain.progress import Progress, State
from scheduler.domain.timetable import EPOCH, Slot, Touch

COARSE_FROM = timedelta(minutes=20)
"""Touches that come this far apart or further fall on five-minute marks, closer ones on whole minutes."""


def touches(plan: Plan, slots: Iterable[Slot], progress: Progress, presence: Presence) -> tuple[Touch, ...]:
    """The touches of every step that is not finished, in order of their moment.

    Each stays within a quarter of its interval from when it is due, and within its step. It falls where one
    of the step's cooks is awake, at home and free; or else where one is there but busy; or else, when nobody
    is, at its due moment; the last two say so in `trouble`. A touch already done stays where it was due.
    """
    given = tuple(slots)
    placing = _Placing(plan, given, progress, presence)
    found = [touch for slot in given for touch in placing.of(slot)]
    return tuple(sorted(found, key=lambda touch: (touch.at, touch.step, touch.occurrence)))


def due_times(tend: Tend, slot: Slot) -> Iterator[tuple[int, datetime]]:
    """The occurrences of a tend, from 1, and when each is due: on a whole minute before its step ends."""
    began = _minute(slot.start)
    occurrence, due = 1, began + tend.every
    while due < slot.end and (tend.lasting is None or due - began <= tend.lasting):
        yield occurrence, due
        occurrence, due = occurrence + 1, due + tend.every


def _minute(at: datetime) -> datetime:
    """The whole minute that a real start fell in."""
    return at.replace(second=0, microsecond=0)


class _Placing:
    def __init__(self, plan: Plan, slots: tuple[Slot, ...], progress: Progress, presence: Presence) -> None:
        self.plan, self.progress, self.presence = plan, progress, presence
        self.busy: dict[str, list[Slot]] = {cook.name: [] for cook in plan.kitchen.cooks}
        for slot in slots:
            hands_on = plan.steps[slot.step].attention is Attention.HANDS_ON
            if hands_on and slot.cook in self.busy and progress.state(slot.step) is not State.DONE:
                self.busy[slot.cook].append(slot)
        self.free = {name: self._free(name) for name in self.busy}

    def _free(self, cook: str) -> tuple[Interval, ...]:
        return without(self.presence.home(cook), [(slot.start, slot.end) for slot in self.busy[cook]])

    def of(self, slot: Slot) -> Iterator[Touch]:
        step = self.plan.steps[slot.step]
        if step.tend is None or self.progress.state(slot.step) in (State.DONE, State.DROPPED):
            return
        for occurrence, due in due_times(step.tend, slot):
            done = (slot.step, occurrence) in self.progress.touched
            at, trouble = (due, None) if done else self._place(step, step.tend, due, slot)
            yield Touch(slot.step, occurrence, due, at, trouble)

    def _place(self, step: Step, tend: Tend, due: datetime, slot: Slot) -> tuple[datetime, str | None]:
        bounds = max(due - tend.tolerance, _minute(slot.start)), min(due + tend.tolerance, slot.end - MINUTE)
        cooks = [cook.name for cook in self.plan.cooks_of(step)]
        if free := _nearest((self.free[name] for name in cooks), tend, due, bounds):
            return free, None
        if there := _nearest((self.presence.home(name) for name in cooks), tend, due, bounds):
            return there, self._occupied(cooks, there, tend)
        return due, self._nobody(step, due)

    def _occupied(self, cooks: list[str], at: datetime, tend: Tend) -> str:
        """Who is there, and what with."""
        end = at + max(tend.hands_on, MINUTE)
        there = [name for name in cooks if within(self.presence.home(name), at, end)]
        name, slot = next((n, s) for n in there for s in self.busy[n] if s.start < end and at < s.end)
        return f"{name} is busy with {self.plan.steps[slot.step].name}"

    def _nobody(self, step: Step, due: datetime) -> str:
        up = [c.name for c in self.plan.cooks_of(step) if holding(self.presence.awake(c.name), due)]
        who = step.cook
        if up:
            return "nobody is at home" if who is None else f"{who} is not at home"
        return "everyone is asleep" if who is None else f"{who} is asleep"


def _nearest(
    hours: Iterable[tuple[Interval, ...]], tend: Tend, due: datetime, bounds: Interval
) -> datetime | None:
    """The mark nearest to `due` (the earlier of two) from which the whole touch lies inside the hours."""
    grain = FIVE_MINUTES if tend.every >= COARSE_FROM else MINUTE
    length = max(tend.hands_on, MINUTE)
    found = [
        mark
        for pieces in hours
        for start, end in pieces
        if start <= bounds[1] and bounds[0] < end
        for mark in _marks(max(start, bounds[0]), min(end - length, bounds[1]), due, grain)
    ]
    return min(found, key=lambda mark: (abs(mark - due), mark), default=None)


def _marks(low: datetime, high: datetime, due: datetime, grain: timedelta) -> list[datetime]:
    """The marks on either side of the moment of a stretch that is nearest to `due`, where they lie in it."""
    near = min(max(due, low), high)
    before = EPOCH + (near - EPOCH) // grain * grain
    return [mark for mark in (before, before + grain) if low <= mark <= high]
