"""Plan, marks and serving hour -> a timetable that was checked, or why there is none.

The one place where solver, windows, tends and verifier meet. Nothing here reads a clock or a database.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

from scheduler.domain.check import Breach, check
from scheduler.domain.plan import MINUTE, Attention, Plan
from scheduler.domain.presence import Presence
from scheduler.domain.progress import Progress, State, at_the_start, end_bounds, live_links
from scheduler.domain.slack import with_windows
from scheduler.domain.tends import touches
from scheduler.domain.timetable import Slot, Timetable, in_order, next_mark
from scheduler.explain import Misfit, misfit, serving_at
from scheduler.solver import Task, Verdict, solve

GRACE = timedelta(minutes=15)
"""How long after its last call a step that nobody has spoken of may still be on its way."""


TO_AGREE = timedelta(minutes=5)
"""How long an hour that is offered should still fit: a cook has to read it first."""

NOT_MUCH = timedelta(minutes=30)
"""By how much the hour offered may be later for it."""


class Unsound(RuntimeError):
    """The verifier found a timetable wrong; it must not be used."""

    def __init__(self, breaches: tuple[Breach, ...]) -> None:
        super().__init__("; ".join(breach.text for breach in breaches))
        self.breaches = breaches


def time_out(
    plan: Plan,
    serve: datetime,
    now: datetime,
    progress: Progress | None = None,
    previous: Timetable | None = None,
) -> Timetable | Misfit:
    """The timetable for a serving hour; with `previous`, one that moves as little of it as can be.

    Raises Unsound when the verifier refuses the result.
    """
    progress = progress or at_the_start(plan)
    if previous is not None and previous.serve == serve:
        kept = _kept(plan, previous, now, progress)
        if kept is not None:
            return kept
    task = Task(plan, progress, now, serve, previous=previous)
    answer = solve(task)
    if not answer.fits:
        return misfit(task, proven=answer.verdict is Verdict.INFEASIBLE)
    timetable = complete(plan, serve, now, progress, answer.slots, answer.verdict is Verdict.OPTIMAL)
    if breaches := check(plan, timetable, now, progress):
        raise Unsound(breaches)
    return timetable


def lasting(misfit: Misfit, plan: Plan, now: datetime, progress: Progress | None = None) -> Misfit:
    """The misfit with an hour to offer that will still fit when the cook agrees to it, if there is one nearly
    as early.
    """
    if not misfit.remedies:
        return misfit
    asked = Task(plan, progress or at_the_start(plan), now + TO_AGREE, misfit.serve)
    answer = solve(replace(asked, latest_serve=misfit.serve + plan.horizon()))
    earliest = misfit.remedies[0].serve
    if not answer.fits or answer.serve is None or answer.serve - earliest > NOT_MUCH:
        return misfit
    return replace(misfit, remedies=(serving_at(answer.serve, plan),))


def complete(
    plan: Plan, serve: datetime, now: datetime, progress: Progress, slots: tuple[Slot, ...], proven: bool
) -> Timetable:
    """Slots with their windows, and the touches between."""
    presence = presence_for(plan, now, serve, slots)
    return Timetable(
        serve,
        in_order(with_windows(plan, slots, now, serve, progress, presence)),
        touches(plan, slots, progress, presence),
        proven,
    )


def presence_for(plan: Plan, now: datetime, serve: datetime, slots: tuple[Slot, ...] = ()) -> Presence:
    """Who is there from a week before the first moment of interest to a week after the last."""
    week = timedelta(days=7)
    moments = [now, serve, *(slot.start for slot in slots)]
    return Presence(plan, min(moments) - week, max(moments) + week)


def _kept(plan: Plan, previous: Timetable, now: datetime, progress: Progress) -> Timetable | None:
    """The timetable in force with real times in it, if it still holds.

    A step that is due, and not yet spoken of, stays where it is until its last call has passed: most
    likely the cook's hands are in it.
    """
    due = [slot for slot in previous.slots if progress.state(slot.step) is State.WAITING and slot.start < now]
    if any(_given_up(plan, slot, now) for slot in due):
        return None
    since = min([now, *(slot.start for slot in due)])
    slots = [_real(plan, slot, since, progress) for slot in previous.slots]
    if {slot.step for slot in slots} != {
        step.number for step in plan.steps if step.number not in progress.dropped
    }:
        return None
    if {(slot.step, slot.start, slot.end) for slot in slots} == {
        (slot.step, slot.start, slot.end) for slot in previous.slots
    }:
        timetable = previous
    else:
        timetable = complete(plan, previous.serve, since, progress, tuple(slots), previous.proven)
    return None if check(plan, timetable, since, progress) else timetable


def carried_on(plan: Plan, previous: Timetable, now: datetime, progress: Progress) -> Timetable:
    """The timetable in force with what really happened in it, though it holds no longer.

    For when nothing fits, until the cook has decided: what has begun has its real times, what was left out is
    gone, and what is held up begins as soon as what it follows is over. The verifier may refuse it.
    """
    slots = {
        slot.step: _real(plan, slot, now, progress)
        for slot in previous.slots
        if slot.step not in progress.dropped
    }
    links = live_links(plan, progress.dropped)
    for number in plan.order:
        if number in slots:
            ends = [
                slots[link.before].end + link.shortest
                for link in links
                if link.after == number and link.before in slots
            ]
            slots[number] = _held_up(slots[number], ends, progress)
    found = in_order(slots.values())
    presence = presence_for(plan, now, previous.serve, found)
    return replace(previous, slots=found, touches=touches(plan, found, progress, presence))


def _held_up(slot: Slot, ends: list[datetime], progress: Progress) -> Slot:
    """The slot begun when all it follows is over; with no room to move once it has begun, or is held up."""
    waiting = progress.state(slot.step) is State.WAITING
    start = max([slot.start, *(next_mark(end, MINUTE) for end in ends)]) if waiting else slot.start
    if waiting and start == slot.start:
        return slot
    end = slot.end + (start - slot.start)
    return replace(slot, start=start, end=end, earliest=start, latest=start, last_call=start)


def _given_up(plan: Plan, slot: Slot, now: datetime) -> bool:
    """Whether a step that was due can no longer be on its way: hands-on work may have its own length yet."""
    step = plan.steps[slot.step]
    busy = step.range.shortest if step.attention is Attention.HANDS_ON else timedelta(0)
    return max(slot.last_call, slot.start + busy) + GRACE < now


def _real(plan: Plan, slot: Slot, now: datetime, progress: Progress) -> Slot:
    standing = progress.of(slot.step)
    if standing.state is State.WAITING or standing.started is None:
        return slot
    if standing.ended is not None:
        return replace(slot, start=standing.started, end=standing.ended)
    first, last = end_bounds(plan.steps[slot.step], standing, now)
    end = max(first, slot.end if last is None else min(last, slot.end))
    return replace(slot, start=standing.started, end=end)
