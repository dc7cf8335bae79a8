"""Plan, marks and serving hour -> a timetable that was checked, or why there is none.

The one place where solver, windows, tends and verifier meet. Nothing here reads a clock or a database.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta

from scheduler import staying
from scheduler.domain.check import Breach, check, misplaced
from scheduler.domain.check.facts import Facts
from scheduler.domain.plan import MINUTE, Plan
from scheduler.domain.presence import Presence
from scheduler.domain.progress import Progress, State, at_the_start, live_links
from scheduler.domain.slack import with_windows
from scheduler.domain.tends import touches
from scheduler.domain.timetable import Slot, Timetable, in_order, next_mark
from scheduler.explain import Misfit, first_after, misfit, serving_at
from scheduler.keeping import surer
from scheduler.remedies import remedies
from scheduler.solver import Answer, Bound, Task, Verdict, fits, solve

TO_AGREE = timedelta(minutes=5)
"""How long an hour that is offered should still fit: a cook has to read it first."""

NOT_MUCH = timedelta(minutes=30)
"""By how much the hour offered may be later for it."""


class Unsound(RuntimeError):
    """The verifier found a timetable wrong; it must not be used."""

    def __init__(self, breaches: tuple[Breach, ...]) -> None:
        super().__init__(breaches)
        self.breaches = breaches

    def __str__(self) -> str:
        return "; ".join(breach.text for breach in self.breaches)


def time_out(
    plan: Plan,
    serve: datetime,
    now: datetime,
    progress: Progress | None = None,
    previous: Timetable | None = None,
    so_far: Callable[[Timetable], object] | None = None,
) -> Timetable | Misfit:
    """The timetable for a serving hour; with `previous`, one that moves as little of it as can be.

    `so_far` is told one that would do already, where a better one is still looked for. Raises Unsound when the
    verifier refuses the result.
    """
    progress = progress or at_the_start(plan)
    if previous is not None and previous.serve == serve:
        kept = _kept(plan, previous, now, progress)
        if kept is not None:
            return kept
    task = Task(plan, progress, now, serve, previous=previous)
    if previous is not None:
        return _moved(task)
    first = _verified(task, solve(task), now)
    if isinstance(first, Misfit):
        return first
    if so_far is not None:
        so_far(replace(first, proven=False))
    return surer(plan, first, now, progress, lambda plan, bounds: within(plan, serve, now, progress, bounds))


def within(
    plan: Plan, serve: datetime, now: datetime, progress: Progress, bounds: tuple[Bound, ...]
) -> Timetable | None:
    """A timetable with some starts kept within bounds, or None; nothing is explained."""
    task = Task(plan, progress, now, serve, bounds=bounds)
    answer = solve(task)
    found = _verified(task, answer, now) if answer.fits else None
    return found if isinstance(found, Timetable) else None


def _verified(task: Task, answer: Answer, since: datetime) -> Timetable | Misfit:
    """What a search found, completed and checked as of `since`; or why there is nothing."""
    if not answer.fits:
        return misfit(task, proven=answer.verdict is Verdict.INFEASIBLE)
    plan, progress = task.plan, task.progress
    timetable = complete(plan, task.serve, since, progress, answer.slots, answer.verdict is Verdict.OPTIMAL)
    if breaches := check(plan, timetable, since, progress):
        raise Unsound(breaches)
    return timetable


def ways_out(
    found: Misfit, plan: Plan, now: datetime, progress: Progress | None = None, lead: timedelta = TO_AGREE
) -> Misfit:
    """The misfit with up to five remedies, each solved and verified as of `now` + `lead`; and each fits now, too,
    so that it is not refused when it is pressed at once: a keeping limit may run out in between.

    Those that it has already are not kept, but for the hour they offer.
    """
    task = Task(plan, progress or at_the_start(plan), now + lead, found.serve)
    earliest = min((remedy.serve for remedy in found.remedies if remedy.moves_the_hour), default=None)

    def lasts(changed: Task) -> bool:
        return fits(replace(changed, now=now)) is not Verdict.INFEASIBLE and _is_sound(changed)

    return replace(found, remedies=remedies(task, found.facts, earliest, lasts))


def _is_sound(task: Task) -> bool:
    """Whether a task is solved, and the verifier finds nothing wrong with the timetable."""
    answer = solve(task)
    if not answer.fits:
        return False
    plan, now, progress = task.plan, task.now, task.progress
    timetable = complete(plan, task.serve, now, progress, answer.slots, answer.verdict is Verdict.OPTIMAL)
    return not check(plan, timetable, now, progress)


def lasting(misfit: Misfit, plan: Plan, now: datetime, progress: Progress | None = None) -> Misfit:
    """The misfit with an hour to offer that will still fit when the cook agrees to it, if there is one nearly
    as early.
    """
    if not misfit.remedies:
        return misfit
    asked = Task(plan, progress or at_the_start(plan), now + TO_AGREE, misfit.serve)
    answer = solve(replace(asked, latest_serve=max(misfit.serve, now) + plan.horizon()))
    earliest = misfit.remedies[0].serve
    if not answer.fits or answer.serve is None or answer.serve - earliest > NOT_MUCH:
        return misfit
    return replace(misfit, remedies=(serving_at(answer.serve, plan, first_after(misfit.facts)),))


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
    """The timetable in force with real times in it, if it still holds."""
    found = staying.as_it_stands(plan, previous, now, progress)
    if found is None:
        return None
    slots, since = found
    bare = Timetable(previous.serve, slots)
    if next(misplaced(Facts(plan, since, progress), bare), None) is not None:
        return None
    if {(slot.step, slot.start, slot.end) for slot in slots} == {
        (slot.step, slot.start, slot.end) for slot in previous.slots
    }:
        timetable = previous
    else:
        timetable = complete(plan, previous.serve, since, progress, slots, previous.proven)
    return None if check(plan, timetable, since, progress) else timetable


def _moved(task: Task) -> Timetable | Misfit:
    """Another timetable that disturbs the one in force least."""
    answer, since = staying.least_moved(task)
    if answer.verdict is Verdict.UNKNOWN:
        answer, since = solve(task), task.now
    return _verified(task, answer, since)


def carried_on(plan: Plan, previous: Timetable, now: datetime, progress: Progress) -> Timetable:
    """The timetable in force with what really happened in it, though it holds no longer.

    For when nothing fits, until the cook has decided: what has begun has its real times, what was left out is
    gone, and what is held up begins as soon as what it follows is over. The verifier may refuse it.
    """
    slots = {
        slot.step: staying.real(plan, slot, now, progress)
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
