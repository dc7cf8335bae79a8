"""Where one step may stand among others that stay: everything in whole minutes, for speed.

The same rules as the verifier's, asked of a single step at one start after another.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, time

from scheduler.domain.hours import DAY, Interval, expand, instant, local, merge
from scheduler.domain.plan import MINUTE, Attention, Plan, Step
from scheduler.domain.presence import Presence
from scheduler.domain.timetable import EPOCH, Slot

Stretch = tuple[int, int]
"""Half-open, in minutes since 1970-01-01 00:00 UTC."""

NEVER = 1 << 40
"""A minute later than any that is meant."""

AS_FAR = 3 * 24 * 60
"""How far from where it is, in minutes, a step's start is looked at: three days each side."""


def minute(at: datetime) -> int:
    """The whole minute that a moment falls in."""
    return (at - EPOCH) // MINUTE


def moment(at: int) -> datetime:
    return EPOCH + at * MINUTE


def up_to(at: int, grain: int) -> int:
    """The first mark not before `at`."""
    return -(-at // grain) * grain


@dataclass(frozen=True, slots=True)
class Bounds:
    """What a step's neighbours leave it: the first and last start, and the first and last end."""

    first: int
    last: int
    soonest_end: int
    latest_end: int


class Place:
    """One step that has not begun, and the hours in which it may stand; `grain` in minutes."""

    def __init__(self, plan: Plan, slot: Slot, grain: int, presence: Presence) -> None:
        self.step = step = plan.steps[slot.step]
        self.start, self.end, self.cook, self.grain = minute(slot.start), minute(slot.end), slot.cook, grain
        shortest, longest = step.range.planned()
        self.shortest = shortest // MINUTE
        self.longest = NEVER if longest is None else longest // MINUTE
        known = slot.cook is not None and step.attention is Attention.HANDS_ON
        self.home = _minutes(presence.home(slot.cook) if known and slot.cook else presence.someone(step))
        self.only = _only(plan, step, presence)

    @property
    def hands_on(self) -> bool:
        return self.step.attention is Attention.HANDS_ON

    @property
    def by_choice(self) -> bool:
        return self.longest > self.shortest

    def end_for(self, start: int, bounds: Bounds, blocked: list[Stretch]) -> int | None:
        """The earliest end it may have when it starts at `start`; None when it cannot start there."""
        if not bounds.first <= start <= bounds.last:
            return None
        end = self.first_end(start, bounds.soonest_end)
        if end > min(start + self.longest, bounds.latest_end) or not self._in_hours(start, end):
            return None
        index = bisect_right(blocked, (start, NEVER))
        clear = (index == 0 or blocked[index - 1][1] <= start) and (
            index == len(blocked) or blocked[index][0] >= end
        )
        return end if clear else None

    def run(self, towards: int, bounds: Bounds, blocked: list[Stretch]) -> int:
        """The furthest start that way, 1 later or -1 earlier, reached over marks that are all allowed."""
        at = self.start
        if self.end_for(at, bounds, blocked) is None:
            return at
        while abs(at - self.start) < AS_FAR:
            if self.end_for(at + towards * self.grain, bounds, blocked) is None:
                break
            at += towards * self.grain
        return at

    def first_end(self, start: int, soonest: int) -> int:
        """The earliest end after a start, not before `soonest`, at which someone is there if need be."""
        end = max(start + self.shortest, soonest)
        if self.step.attention is Attention.UNATTENDED and not self.step.fresh_for:
            index = bisect_right(self.home, (end, NEVER)) - 1
            if index < 0 or end > self.home[index][1]:
                return self.home[index + 1][0] if index + 1 < len(self.home) else NEVER
        return end

    def _in_hours(self, start: int, end: int) -> bool:
        there = _around(self.home, start)
        stays = self.step.attention is not Attention.UNATTENDED
        if there is None or (stays and end > there[1]):
            return False
        for hours, whole in self.only:
            piece = _around(hours, start)
            if piece is None or (whole and end > piece[1]):
                return False
        return True


def _around(pieces: list[Stretch], at: int) -> Stretch | None:
    index = bisect_right(pieces, (at, NEVER)) - 1
    return pieces[index] if index >= 0 and at < pieces[index][1] else None


def _minutes(pieces: Iterable[Interval]) -> list[Stretch]:
    return [(minute(start), minute(end)) for start, end in pieces]


def _only(plan: Plan, step: Step, presence: Presence) -> list[tuple[list[Stretch], bool]]:
    """The hours and days a step is kept to, each with whether the whole step must lie inside."""
    found = []
    if step.between:
        hours = expand(step.between, plan.zone, presence.since, presence.until)
        found.append((_minutes(hours), step.attention is Attention.HANDS_ON))
    if step.on:
        found.append((_minutes(_days(plan, step, presence)), False))
    return found


def _days(plan: Plan, step: Step, presence: Presence) -> tuple[Interval, ...]:
    first, last = (local(at, plan.zone).date() for at in (presence.since, presence.until))
    days = [first + n * DAY for n in range((last - first).days + 1)]
    midnights = [datetime.combine(day, time()) for day in days if day in step.on or day.weekday() in step.on]
    return merge((instant(at, plan.zone), instant(at + DAY, plan.zone)) for at in midnights)
