"""Wall-clock hours ("07:00-22:30", "mon-fri", one evening) and the instants they stand for.

Hours are kept as the cook wrote them and turned into instants per local date, so that "awake from
seven" stays seven o'clock on both sides of a clock change. Local times that occur twice mean the first
occurrence, and local times that do not occur are read with the offset before the gap
(RFC 5545, section 3.3.5, "FORM #3").
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from functools import lru_cache
from zoneinfo import ZoneInfo

Interval = tuple[datetime, datetime]
"""A half-open stretch of time, both ends aware UTC instants."""

DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Weekly:
    """Hours that come back on the given weekdays (0 is Monday).

    `end` not after `start` means the next day; `end` of 00:00 therefore means midnight.
    """

    days: frozenset[int]
    start: time
    end: time

    def on(self, day: date) -> tuple[datetime, datetime] | None:
        """The naive local start and end of the hours that begin on `day`, if any do."""
        if day.weekday() not in self.days:
            return None
        last = day if self.end > self.start else day + DAY
        return datetime.combine(day, self.start), datetime.combine(last, self.end)


@dataclass(frozen=True, slots=True)
class Dated:
    """Hours that happen once; both ends are naive local date-times."""

    start: datetime
    end: datetime

    def on(self, day: date) -> tuple[datetime, datetime] | None:
        return (self.start, self.end) if self.start.date() == day else None


Span = Weekly | Dated
Hours = tuple[Span, ...]


@lru_cache(maxsize=64)
def zone_named(name: str) -> ZoneInfo:
    """The zone of that IANA name; raises zoneinfo.ZoneInfoNotFoundError for a name that is not one."""
    return ZoneInfo(name)


def instant(local: datetime, zone: str) -> datetime:
    """The UTC instant of a naive local date-time, read as RFC 5545 section 3.3.5 says."""
    return local.replace(tzinfo=zone_named(zone), fold=0).astimezone(UTC)


def exists(local: datetime, zone: str) -> bool:
    """False for a wall-clock time that a clock change jumps over."""
    return instant(local, zone).astimezone(zone_named(zone)).replace(tzinfo=None) == local


def local(at: datetime, zone: str) -> datetime:
    """The aware local date-time of an instant."""
    return at.astimezone(zone_named(zone))


def expand(hours: Hours, zone: str, since: datetime, until: datetime) -> tuple[Interval, ...]:
    """Every stretch of `hours` between two instants, clipped to them, merged and in order."""
    first = local(since, zone).date() - DAY
    last = local(until, zone).date()
    # A dated span may have begun long before `since`; a weekly one at most a day before.
    found = [_clip(pair, zone, since, until) for span in hours for pair in _dates(span, first, last)]
    return merge(piece for piece in found if piece)


def _dates(span: Span, first: date, last: date) -> Iterator[tuple[datetime, datetime]]:
    if isinstance(span, Dated):
        yield span.start, span.end
        return
    for offset in range((last - first).days + 1):
        if pair := span.on(first + offset * DAY):
            yield pair


def _clip(pair: tuple[datetime, datetime], zone: str, since: datetime, until: datetime) -> Interval | None:
    start, end = max(instant(pair[0], zone), since), min(instant(pair[1], zone), until)
    return (start, end) if start < end else None


def merge(pieces: Iterable[Interval]) -> tuple[Interval, ...]:
    """The union, in order, with touching stretches joined."""
    joined: list[Interval] = []
    for start, end in sorted(pieces):
        if joined and start <= joined[-1][1]:
            joined[-1] = (joined[-1][0], max(joined[-1][1], end))
        else:
            joined.append((start, end))
    return tuple(joined)


def without(base: Iterable[Interval], holes: Iterable[Interval]) -> tuple[Interval, ...]:
    """What is left of `base` when the stretches in `holes` are taken out."""
    cuts = merge(holes)
    left: list[Interval] = []
    for start, end in merge(base):
        for hole_start, hole_end in cuts:
            if hole_end <= start or hole_start >= end:
                continue
            if start < hole_start:
                left.append((start, hole_start))
            start = hole_end
        if start < end:
            left.append((start, end))
    return tuple(left)


def covering(pieces: Iterable[Interval], at: datetime) -> Interval | None:
    """The stretch that `at` lies in, its end not included."""
    return next((piece for piece in pieces if piece[0] <= at < piece[1]), None)
