"""Nudges about beginning a step: at its start, ahead of it, the evening before, and for the shopping."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date, datetime, time, timedelta

from scheduler.domain.hours import DAY, Interval, instant, local
from scheduler.domain.nudges.hours import last_over, next_in
from scheduler.domain.nudges.ladder import Matter, closing_at, ladder
from scheduler.domain.nudges.outlook import Outlook
from scheduler.domain.nudges.policy import Policy, clamp
from scheduler.domain.plan import MINUTE, NO_TIME, Attention, Step
from scheduler.domain.presence import holding
from scheduler.domain.shopping import MOST_AHEAD, outing_before
from scheduler.domain.stages import About, Nudge, Stage
from scheduler.domain.timetable import Slot, next_mark


def beginnings(outlook: Outlook) -> Iterator[Nudge]:
    """START nudges, from "now" to "missed", of every step that someone has yet to begin."""
    for step, slot in outlook.to_begin:
        matter = _matter(outlook, step, slot)
        window = (matter.shut or matter.first) - matter.first
        offsets = start_offsets(step, window, outlook.policy)
        yield from ladder(matter, offsets, outlook.policy, outlook.policy.repeats)


def _matter(outlook: Outlook, step: Step, slot: Slot) -> Matter:
    planned = Matter(
        About.START,
        step.number,
        subject=slot.start,
        first=slot.start,
        shut=max(slot.last_call, slot.start),
        useful=outlook.timetable.serve,
        apart=outlook.policy.apart,
        home=outlook.waking.home(step),
        awake=outlook.waking.awake(step),
        busy=_busy(step),
    )
    asked = outlook.progress.of(step.number).not_before
    return planned if asked is None else _put_off(planned, asked, outlook.policy)


def _put_off(planned: Matter, asked: datetime, policy: Policy) -> Matter:
    """Said when the cook asked for it, but not after the last word would have been due."""
    wished = next_mark(asked, MINUTE)
    wished = (planned.home and next_in(planned.home, wished)) or wished
    first = max(planned.first, min(wished, closing_at(planned, policy) or planned.first))
    return planned if first == planned.first else replace(planned, first=first, subject=first, occurrence=1)


def _busy(step: Step) -> timedelta:
    """How long a job of the hands keeps them from the phone once it is begun."""
    return step.range.shortest if step.attention is Attention.HANDS_ON else NO_TIME


def start_offsets(step: Step, window: timedelta, policy: Policy) -> Iterator[timedelta]:
    """When, counted from the start, to say again that a step is waiting to be begun."""
    busy = _busy(step)
    patience = clamp(busy + policy.hands_full, policy.first_repeat, policy.patience)
    distance = offset = max(busy + policy.apart, min(patience, window / 4))
    while offset <= max(window, busy + policy.apart):
        yield offset
        distance = max(min(2 * distance, policy.longest_doubled), (window - offset) / 8)
        offset += distance


def shopping(outlook: Outlook) -> Iterator[Nudge]:
    """One BUY nudge for each step that has shopping, on the morning of the last day that leaves time for it.

    Its subject is the midnight at which the shopping day begins, so that it is not said again when the
    step moves by an hour.
    """
    said: dict[datetime, int] = defaultdict(int)
    for step, slot in outlook.to_begin:
        if step.buy is None or outlook.progress.of(step.number).not_before is not None:
            continue
        morning, midnight = _shopping_day(outlook, slot.start - step.buy)
        due = morning + said[morning] * outlook.policy.apart
        said[morning] += 1
        yield Nudge(About.BUY, Stage.HEADS_UP, due, max(slot.start, due + MINUTE), midnight, step.number)


def _shopping_day(outlook: Outlook, by: datetime) -> tuple[datetime, datetime]:
    """When to announce shopping that must be done `by` then, and the midnight its day begins.

    On a day somebody is out anyway they hear of it before they leave.
    """
    policy, day = outlook.policy, local(by, outlook.plan.zone).date()
    if outing := outing_before(outlook.plan, by, by - MOST_AHEAD):
        day = local(outing.end, outlook.plan.zone).date()
        morning = outlook.waking.morning(day, policy.morning)
        due = max(morning, min(morning + policy.shopping, outing.start - policy.before_leaving))
        return due, instant(datetime.combine(day, time()), outlook.plan.zone)
    due = outlook.waking.morning(day, policy.morning) + policy.shopping
    if due + policy.time_to_shop > by:
        day -= DAY
        due = outlook.waking.morning(day, policy.morning) + policy.shopping
    return due, instant(datetime.combine(day, time()), outlook.plan.zone)


def evenings(outlook: Outlook) -> Iterator[Nudge]:
    """One EARLY nudge an evening, about the first step that starts in the night or soon after waking.

    Once that one is begun, the next one is not announced in its place.
    """
    told: set[date] = set()
    to_begin = {step.number for step, _ in outlook.to_begin}
    for step, slot in outlook.asked_for:
        evening = _evening_before(outlook, step, slot.start)
        day = evening and local(evening[0], outlook.plan.zone).date()
        if evening and day and day not in told:
            told.add(day)
            due = max(evening[0], evening[1] - outlook.policy.before_bed)
            if step.number in to_begin:
                yield Nudge(About.EARLY, Stage.HEADS_UP, due, slot.start, slot.start, step.number)


def _evening_before(outlook: Outlook, step: Step, start: datetime) -> Interval | None:
    """The waking stretch before the night that the step follows closely, if it does."""
    awake = outlook.waking.awake(step)
    stretch = holding(awake, start)
    woken = stretch[0] if stretch else start
    return last_over(awake, woken) if start - woken < outlook.policy.early else None


def warnings(outlook: Outlook, spoken: Iterable[datetime]) -> Iterator[Nudge]:
    """A START heads-up for work that needs preparing or brings somebody home, if it has been quiet before it.

    `spoken` are the moments at which the cook hears something else anyway.
    """
    heard = list(spoken)
    to_begin = {step.number for step, _ in outlook.to_begin}
    for step, slot in outlook.asked_for:
        since = slot.start - outlook.policy.quiet
        quiet = not any(since < moment < slot.start for moment in heard)
        if quiet and _worth_a_heads_up(outlook, step, due := slot.start - outlook.policy.heads_up):
            heard.append(due)
            if step.number in to_begin and outlook.progress.of(step.number).not_before is None:
                yield Nudge(About.START, Stage.HEADS_UP, due, slot.start, slot.start, step.number)


def _worth_a_heads_up(outlook: Outlook, step: Step, due: datetime) -> bool:
    """Whether somebody is awake to hear it, and either out or with things to prepare."""
    awake, home = (holding(hours(step), due) for hours in (outlook.waking.awake, outlook.waking.home))
    return bool(awake and (not home or _needs_preparing(step, outlook.policy)))


def _needs_preparing(step: Step, policy: Policy) -> bool:
    """Work with things to bring out or an oven to heat, unless it is a small job."""
    if step.attention is Attention.UNATTENDED or not (step.amounts or step.oven is not None):
        return False
    return step.attention is Attention.NEARBY or step.range.planned()[0] > policy.small_job
