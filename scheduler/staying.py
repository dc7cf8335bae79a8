"""What stays where it is when a plan is timed again: the timetable in force, and what was to begin by now.

A step that is due, and not yet spoken of, stays where it is until its last call has passed: most likely the
cook's hands are in it. Nothing else can start in the past.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

from scheduler.domain.plan import FIVE_MINUTES, Attention, Plan
from scheduler.domain.progress import Progress, State, end_bounds, overdue
from scheduler.domain.timetable import Slot, Timetable
from scheduler.solver import Answer, Bound, Task, solve_again

GRACE = timedelta(minutes=15)
"""How long after its last call a step that nobody has spoken of may still be on its way."""


def still_due(plan: Plan, previous: Timetable, now: datetime, progress: Progress) -> tuple[Slot, ...]:
    """The steps that were to start before now, are not spoken of, and may still be on their way."""
    return tuple(slot for slot in _due(previous, now, progress) if not _given_up(plan, slot, now))


def as_it_stands(
    plan: Plan, previous: Timetable, now: datetime, progress: Progress
) -> tuple[tuple[Slot, ...], datetime] | None:
    """The slots in force with real times in them, and since when they have to hold; None when they are not
    enough, or a step is given up, or has kept waiting what could begin at once.
    """
    due = _due(previous, now, progress)
    live = {step.number for step in plan.steps if step.number not in progress.dropped}
    if any(_given_up(plan, slot, now) for slot in due) or _held_too_long(plan, previous, now, progress):
        return None
    since = min([now, *(slot.start for slot in due)])
    slots = tuple(real(plan, slot, since, progress) for slot in previous.slots)
    return (slots, since) if {slot.step for slot in slots} == live else None


def least_moved(task: Task) -> tuple[Answer, datetime]:
    """The answer that moves least of `task.previous`, and since when its timetable has to hold."""
    due = task.previous and still_due(task.plan, task.previous, task.now, task.progress)
    if due:
        earlier = waiting_since(task, due)
        answer = solve_again(earlier, task.now)
        stayed = {(slot.step, slot.start) for slot in answer.slots} & {
            (slot.step, slot.start) for slot in due
        }
        if answer.fits and stayed:
            return answer, earlier.now
    return solve_again(task, task.now), task.now


def waiting_since(task: Task, due: tuple[Slot, ...]) -> Task:
    """The task as of the first of the steps that are due; whatever else has not begun starts now or later."""
    starts = {slot.step: slot.start for slot in due}
    bounds = tuple(
        Bound(step.number, not_before=starts.get(step.number, task.now))
        for step in task.plan.steps
        if task.progress.state(step.number) is State.WAITING
    )
    return replace(task, now=min(starts.values()), bounds=(*task.bounds, *bounds))


def real(plan: Plan, slot: Slot, now: datetime, progress: Progress) -> Slot:
    """The slot of a step that has begun with its real times; of any other as it is."""
    standing = progress.of(slot.step)
    if standing.state is State.WAITING or standing.started is None:
        return slot
    if standing.ended is not None:
        return replace(slot, start=standing.started, end=standing.ended)
    first, last = end_bounds(plan.steps[slot.step], standing, now)
    end = max(first, slot.end if last is None else min(last, slot.end))
    return replace(slot, start=standing.started, end=end)


def _due(previous: Timetable, now: datetime, progress: Progress) -> list[Slot]:
    """What was to begin before now, and was neither begun nor put off."""
    return [slot for slot in previous.slots if slot.start < now and _unspoken(slot, progress)]


def _unspoken(slot: Slot, progress: Progress) -> bool:
    standing = progress.of(slot.step)
    put_off = standing.not_before is not None and standing.not_before > slot.start
    return standing.state is State.WAITING and not put_off


def _given_up(plan: Plan, slot: Slot, now: datetime) -> bool:
    """Whether a step that was due can no longer be on its way: hands-on work may have its own length yet."""
    step = plan.steps[slot.step]
    busy = step.range.shortest if step.attention is Attention.HANDS_ON else timedelta(0)
    return max(slot.last_call, slot.start + busy) + GRACE < now


def _held_too_long(plan: Plan, previous: Timetable, now: datetime, progress: Progress) -> bool:
    """Whether something that has kept too long is planned for later than it could begin."""
    late = {link.after for link in overdue(plan, progress, now)}
    return any(slot.step in late and slot.start - now >= FIVE_MINUTES for slot in previous.slots)
