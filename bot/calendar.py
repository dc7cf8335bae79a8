"""A timetable as an iCalendar file (RFC 5545), for the cook's own calendar.

Every moment is written in UTC with an explicit end, so that elapsed time stays what it is across a clock
change; nominal durations such as P21D (RFC 5545, section 3.3.6) are not used.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Any
from uuid import UUID, uuid5

from bot.wording.amounts import amount_line, equipment
from bot.wording.lines import beware, one_line
from scheduler.domain.plan import Attention, Plan, Step
from scheduler.domain.progress import starts_itself
from scheduler.domain.timetable import Slot, Timetable, Touch
from scheduler.planfile.kitchen import ONE_COOK
from scheduler.words import clock, day, day_and_clock, length

PRODUCT = "-//Crockbell//Crockbell//EN"
NAMES = UUID("8f0b1f6e-5a0c-4d0e-9a53-0c6b1d2f7e44")
"""What the identifiers of our events are derived in (RFC 4122, section 4.3)."""

AHEAD = timedelta(minutes=10)
"""How long before a step that someone has to begin the alarm sounds."""


def calendar(plan: Plan, timetable: Timetable, *, stamp: datetime) -> bytes:
    """The timetable as the bytes of an .ics file: an event for every step, every touch, and the meal.

    `stamp`, an aware instant, is when the file was made. An event keeps its identifier when the timetable
    changes, so that a later file replaces what an earlier one wrote. Raises ValueError for a naive stamp.
    """
    from icalendar import Calendar  # takes a while to import

    if stamp.tzinfo is None:
        raise ValueError("the stamp needs its offset from UTC")
    file = Calendar()
    file.add("prodid", PRODUCT)
    file.add("version", "2.0")
    file.add("name", _Text(one_line(plan.title)), encode=False)
    for entry in _entries(plan, timetable):
        file.add_component(_event(entry, _identifier(plan, timetable, entry.key), stamp))
    return bytes(file.to_ical())


@dataclass(frozen=True, slots=True)
class _Entry:
    """One event; without an end it takes no time. `alarm` is how long before its start it sounds."""

    key: str
    summary: str
    about: tuple[str, ...]
    start: datetime
    end: datetime | None = None
    component: str | None = None
    busy: bool = True
    alarm: timedelta | None = None


def _entries(plan: Plan, timetable: Timetable) -> Iterator[_Entry]:
    for slot in timetable.slots:
        yield _step(plan, slot)
    for touch in timetable.touches:
        yield from _touch(plan, touch)
    people = (f"For {plan.serves}.",) if plan.serves else ()
    yield _Entry("table", f"At the table: {one_line(plan.title)}", people, timetable.serve)


def _step(plan: Plan, slot: Slot) -> _Entry:
    step = plan.steps[slot.step]
    waits = step.attention is Attention.UNATTENDED
    return _Entry(
        f"step {slot.step}",
        one_line(step.name),
        tuple(_about(plan, step, slot)),
        slot.start,
        slot.end,
        one_line(step.component),
        busy=not waits,
        alarm=None if starts_itself(plan, step) else AHEAD,
    )


def _touch(plan: Plan, touch: Touch) -> Iterator[_Entry]:
    step = plan.steps[touch.step]
    if step.tend is None:
        return
    about = (f"During: {one_line(step.name)}", *((one_line(touch.trouble),) if touch.trouble else ()))
    yield _Entry(
        f"touch {touch.step} {touch.occurrence}",
        one_line(step.tend.name),
        about,
        touch.at,
        touch.at + step.tend.hands_on,
        one_line(step.component),
        alarm=timedelta(0),
    )


def _about(plan: Plan, step: Step, slot: Slot) -> Iterator[str]:
    """What a cook wants to know of a step, a line each."""
    about = "about " if step.range.by_nature else ""
    yield f"{step.attention.capitalize()}, {about}{length(slot.end - slot.start)}"
    yield from (amount_line(amount) for amount in step.amounts)
    if step.range.until is not None:
        yield f"Until: {one_line(step.range.until)}"
    if needed := equipment(step):
        yield needed
    cook = slot.cook or step.cook
    if cook and cook != ONE_COOK and len(plan.kitchen.cooks) > 1:
        yield f"Cook: {one_line(cook)}"
    yield from beware(step, plan)
    yield from _window(plan, slot)


def _window(plan: Plan, slot: Slot) -> Iterator[str]:
    """How late it may start: with the rest as it is, and with what follows moved."""
    if slot.latest > slot.start:
        yield f"May start until {_when(plan, slot, slot.latest)}"
    if slot.last_call > max(slot.latest, slot.start):
        yield f"At the very latest {_when(plan, slot, slot.last_call)}, and then what follows moves"
    if max(slot.latest, slot.last_call) <= slot.start:
        yield "Has to start on time"


def _when(plan: Plan, slot: Slot, at: datetime) -> str:
    """A local time, with its date where that is not the date the step starts on, and its zone."""
    same_day = day(at, plan.zone) == day(slot.start, plan.zone)
    return f"{(clock if same_day else day_and_clock)(at, plan.zone)} ({plan.zone})"


def _identifier(plan: Plan, timetable: Timetable, key: str) -> str:
    """The same for the same part of the same meal, whenever and wherever it is written.

    Where the plan names its hour, that one counts, so that a meal that is put off keeps its events. It
    holds no host name (RFC 7986, section 5.3).
    """
    meal = (plan.serve or timetable.serve).astimezone(UTC).isoformat()
    return str(uuid5(NAMES, "\n".join((one_line(plan.title), meal, key))))


class _Text(str):
    """A TEXT value. The library's own takes a backslash followed by N for a line break, even where that is
    what the cook wrote.
    """

    def to_ical(self) -> bytes:
        """The value, escaped as RFC 5545 section 3.3.11 says."""
        escaped = self.replace("\\", "\\\\").replace(";", "\\;").replace(",", "\\,")
        return escaped.replace("\n", "\\n").encode()


def _event(entry: _Entry, identifier: str, stamp: datetime) -> Any:
    from icalendar import Event

    event = Event()
    event.add("uid", identifier)
    event.add("dtstamp", stamp.astimezone(UTC))
    event.add("last-modified", stamp.astimezone(UTC))
    event.add("dtstart", entry.start.astimezone(UTC))
    if entry.end is not None:
        event.add("dtend", entry.end.astimezone(UTC))
    event.add("summary", _Text(entry.summary), encode=False)
    if entry.about:
        event.add("description", _Text("\n".join(entry.about)), encode=False)
    if entry.component:
        event.add("categories", _Text(entry.component), encode=False)
    event.add("transp", "OPAQUE" if entry.busy else "TRANSPARENT")
    if entry.alarm is not None:
        event.add_component(_alarm(entry.summary, entry.alarm))
    return event


def _alarm(text: str, ahead: timedelta) -> Any:
    from icalendar import Alarm

    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("description", _Text(text), encode=False)
    alarm.add("trigger", -ahead)
    return alarm
