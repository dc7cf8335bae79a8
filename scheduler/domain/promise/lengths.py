"""How long steps may last in whole minutes, as nature or the cook has it."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime, timedelta

from scheduler.domain.plan import MINUTE, Plan, Step
from scheduler.domain.progress import Progress, State, end_bounds
from scheduler.domain.slack.room import minute
from scheduler.domain.timetable import Slot, Timetable

Ranges = Mapping[int, tuple[int, int]]
"""The shortest and longest of steps that nature ends, by number."""

NO_LIMIT = timedelta(days=1)
"""How long past the meal a step that names no longest time may go on."""


def left_to_nature(plan: Plan, progress: Progress) -> tuple[int, ...]:
    """The steps that are not over yet and that nature ends."""
    live = (State.WAITING, State.RUNNING)
    return tuple(s.number for s in plan.steps if s.range.by_nature and progress.state(s.number) in live)


def as_nature_has_it(plan: Plan, timetable: Timetable, now: datetime, progress: Progress) -> Ranges:
    """Every length nature may choose; parts of a minute count as the whole of it, at either end."""
    found: dict[int, tuple[int, int]] = {}
    for number in left_to_nature(plan, progress):
        step, slot = plan.steps[number], timetable.slot(number)
        if slot is None:
            continue
        planned = as_planned(slot)
        low, high = min(step.range.shortest // MINUTE, planned), max(_longest(step, slot, timetable), planned)
        if progress.state(number) is State.RUNNING:
            so_far = minute(now) - minute(slot.start) + 1
            low, high = max(low, so_far), max(high, so_far, planned)
            low = min(low, max(planned, so_far))
        found[number] = low, high
    return found


def as_planned(slot: Slot) -> int:
    """The length the timetable gives a step, in minutes."""
    return minute(slot.end) - minute(slot.start)


def _longest(step: Step, slot: Slot, timetable: Timetable) -> int:
    if step.range.longest is not None:
        return -(-step.range.longest // MINUTE)
    return max(0, minute(timetable.serve + NO_LIMIT) - minute(slot.start))


def by_choice(step: Step, slot: Slot, now: datetime, progress: Progress) -> tuple[int, int | None]:
    """The shortest and longest the cook may let it last, from its start, real or to come."""
    if progress.state(step.number) is State.RUNNING:
        first, last = end_bounds(step, progress.of(step.number), now)
        began = minute(slot.start)
        return minute(first) - began, None if last is None else minute(last) - began
    shortest, longest = step.range.planned()
    return shortest // MINUTE, None if longest is None else longest // MINUTE
