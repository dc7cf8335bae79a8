"""When the cooks of a plan can be spoken to: asleep, out, or at home, and what comes before and after."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from functools import cached_property

from scheduler.domain.hours import DAY, Interval, instant, merge
from scheduler.domain.plan import Plan, Step
from scheduler.domain.presence import Presence, holding

MARGIN = timedelta(days=3)
"""How far beyond the first and last moment of a timetable people's hours are worth knowing."""

Stretches = tuple[Interval, ...]
"""Stretches of time in order, none touching another."""


def next_in(pieces: Stretches, at: datetime) -> datetime | None:
    """`at`, if it lies in a stretch, else the start of the next; None after the last."""
    return at if holding(pieces, at) else first_start(pieces, at)


def first_start(pieces: Stretches, since: datetime, until: datetime | None = None) -> datetime | None:
    """The first start of a stretch from `since` on and, when given, before `until`."""
    place = bisect_left(pieces, since, key=_start)
    found = pieces[place][0] if place < len(pieces) else None
    return None if found is not None and until is not None and found >= until else found


def last_over(pieces: Stretches, by: datetime) -> Interval | None:
    """The last stretch that was over by then."""
    place = bisect_right(pieces, by, key=_end) - 1
    return pieces[place] if place >= 0 else None


def _start(piece: Interval) -> datetime:
    return piece[0]


def _end(piece: Interval) -> datetime:
    return piece[1]


@dataclass(frozen=True)
class Waking:
    """The waking and at-home hours of a plan's cooks between two instants."""

    plan: Plan
    since: datetime
    until: datetime

    @cached_property
    def _presence(self) -> Presence:
        return Presence(self.plan, self.since, self.until)

    @cached_property
    def _awake(self) -> dict[str | None, Stretches]:
        cooks = self.plan.kitchen.cooks
        alone: dict[str | None, Stretches] = {cook.name: self._presence.awake(cook.name) for cook in cooks}
        return alone | {None: merge(piece for pieces in alone.values() for piece in pieces)}

    def awake(self, step: Step) -> Stretches:
        """When at least one of the step's cooks is awake, at home or away."""
        return self._awake[step.cook]

    def home(self, step: Step) -> Stretches:
        """When at least one of the step's cooks is awake and at home."""
        return self._presence.someone(step)

    def morning(self, day: date, otherwise: time) -> datetime:
        """When the first of the house wakes on that local day; `otherwise` when nobody's waking begins."""
        start, end = (instant(datetime.combine(each, time()), self.plan.zone) for each in (day, day + DAY))
        found = first_start(self._awake[None], start, end)
        return found or instant(datetime.combine(day, otherwise), self.plan.zone)
