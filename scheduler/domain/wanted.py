"""When a meal may be on the table: hours of days and dates, and the quarter hours in them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, time

from scheduler.domain.hours import Dated, Hours, Interval, Weekly, expand, instant, merge, without
from scheduler.domain.plan import MINUTE, Plan
from scheduler.domain.presence import Presence
from scheduler.domain.timetable import EPOCH, next_mark

QUARTER = 15 * MINUTE
"""Serving hours fall on quarter hours."""

TO_EAT = QUARTER
"""How long someone who eats has to be there yet, where nobody named the hour."""

Clocks = tuple[tuple[time, time], ...]
"""From when to when by the wall clock; an end not after its start is on the next day."""

ANY_HOUR: Clocks = ((time(6), time(0)),)
"""Hours at which a meal may be found without being asked for: never between midnight and six (our choice)."""

MEALTIMES: Clocks = ((time(11), time(14)), (time(18), time(21)))
"""Hours at which people like to eat, for who asks for comfort and names none (common usage, no source)."""


class NoHours(ValueError):
    """None of the hours wanted is still to come, or not soon enough to be looked at."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """Hours for a meal. `said`: as the cook named them, taken at their word. `at_home`: only as far as someone
    is awake and at home then, for a quarter of an hour yet.
    """

    said: Hours = ()
    at_home: Hours = ()

    def last_date(self, zone: str) -> datetime | None:
        """The end of the last dated hours in it, an aware UTC instant; None when none are dated."""
        ends = [span.end for span in (*self.said, *self.at_home) if isinstance(span, Dated)]
        return instant(max(ends), zone) if ends else None

    def windows(self, plan: Plan, since: datetime, until: datetime) -> tuple[Interval, ...]:
        """The first and last quarter hour, both included, of every stretch between two instants, in order."""
        said = expand(self.said, plan.zone, since, until)
        asked = expand(self.at_home, plan.zone, since, until)
        away = without([(since, until)], _at_table(plan, since, until)) if asked else ()
        return tuple(_quarters(merge((*said, *without(asked, away)))))


def _at_table(plan: Plan, since: datetime, until: datetime) -> Iterable[Interval]:
    presence = Presence(plan, since, until + TO_EAT)
    home = merge(piece for cook in plan.kitchen.cooks for piece in presence.home(cook.name))
    return [(start, end - TO_EAT) for start, end in home if end - start > TO_EAT]


def _quarters(pieces: Iterable[Interval]) -> Iterable[Interval]:
    for start, end in pieces:
        first, last = next_mark(start, QUARTER), EPOCH + (end - EPOCH) // QUARTER * QUARTER
        if first <= last:
            yield first, last


EVERY_DAY = frozenset(range(7))


def on_any_day(clocks: Clocks) -> Wanted:
    """These hours every day, as far as someone is awake and at home."""
    return Wanted(at_home=tuple(Weekly(EVERY_DAY, start, end) for start, end in clocks))
