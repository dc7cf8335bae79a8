"""Nudges about the touches of a tend: a lid to vent, a jar to turn."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta

from scheduler.domain.nudges.hours import next_in
from scheduler.domain.nudges.outlook import Outlook
from scheduler.domain.nudges.policy import Policy
from scheduler.domain.plan import MINUTE, Step
from scheduler.domain.presence import holding
from scheduler.domain.progress import State
from scheduler.domain.stages import About, Nudge, Stage
from scheduler.domain.timetable import Slot, Touch, next_mark


def touches(outlook: Outlook) -> Iterator[Nudge]:
    """TEND nudges for the touches to come of every step that is under way or still ahead.

    A step that should have been begun and was not has none.
    """
    for slot in outlook.timetable.slots:
        state = outlook.progress.state(slot.step)
        ahead = state is State.WAITING and slot.start >= outlook.now
        if outlook.plan.steps[slot.step].tend and (ahead or state is State.RUNNING):
            yield from _touches_of(outlook, slot)


def _touches_of(outlook: Outlook, slot: Slot) -> Iterator[Nudge]:
    planned = outlook.touches_of(slot.step)
    end = outlook.progress.of(slot.step).expected or slot.end
    overtaken = [*(touch.at for touch in planned[1:]), max(end, slot.end)]
    for touch, until in zip(planned, overtaken, strict=True) if planned else ():
        if (touch.step, touch.occurrence) not in outlook.progress.touched:
            yield from _touch(outlook, touch, next_mark(until, MINUTE))


def _touch(outlook: Outlook, touch: Touch, until: datetime) -> Iterator[Nudge]:
    """The touch, said twice at most; nothing when the next one comes before people can be asked.

    It is known by when it is due, so that moving it within its tolerance does not say it twice.
    """
    step, planned = outlook.plan.steps[touch.step], next_mark(touch.at, MINUTE)
    put_off = outlook.progress.put_off.get((touch.step, touch.occurrence), planned)
    due = _moved(outlook, step, next_mark(max(planned, put_off), MINUTE))
    if due is None or (due > planned and due >= until):
        return
    subject, over = put_off if put_off > planned else touch.due, max(until, due + outlook.policy.apart)
    yield Nudge(About.TEND, Stage.NOW, due, over, subject, touch.step, touch.occurrence)
    again = due + _pause(step, outlook.policy)
    if again + outlook.policy.apart <= over and _someone_there(outlook, step, again):
        yield Nudge(About.TEND, Stage.WAITING, again, over, subject, touch.step, touch.occurrence)


def _moved(outlook: Outlook, step: Step, at: datetime) -> datetime | None:
    """The nearest moment not before `at` to ask for a touch."""
    hours = outlook.hours(step)
    return at if hours is None or outlook.policy.night_touches else next_in(hours, at)


def _someone_there(outlook: Outlook, step: Step, at: datetime) -> bool:
    hours = outlook.hours(step)
    return hours is None or holding(hours, at) is not None


def _pause(step: Step, policy: Policy) -> timedelta:
    short = step.tend is not None and step.tend.every < policy.short_touch
    return policy.short_touch_repeat if short else policy.touch_repeat
