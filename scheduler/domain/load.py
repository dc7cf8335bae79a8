"""What a timetable asks of the people in the kitchen: work by day, the busiest hour, the hours to be up.

A day runs from waking to bedtime: work past midnight counts with the evening it belongs to. Every length is
elapsed time.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from scheduler.domain.hours import DAY, Interval, local, merge
from scheduler.domain.plan import NO_TIME, Attention, Plan, Step
from scheduler.domain.presence import Presence, within
from scheduler.domain.timetable import Slot, Timetable, Touch

HOUR = timedelta(hours=1)
MARGIN = timedelta(days=7)


@dataclass(frozen=True, slots=True)
class Piece:
    """A stretch for which a cook has to be up, `busy` when hands are needed; every time an aware UTC instant.

    `waking` is the stretch between waking and bedtime that it falls in, None when the cook sleeps then.
    """

    start: datetime
    end: datetime
    cook: str
    busy: bool
    day: date
    waking: Interval | None

    @property
    def hands_on(self) -> timedelta:
        return self.end - self.start if self.busy else NO_TIME


@dataclass(frozen=True, slots=True)
class Share:
    """One cook's part of a day: hands-on time, and the first and last moment that cook has to be up."""

    cook: str
    day: date
    hands_on: timedelta
    first: datetime
    last: datetime
    waking: Interval | None


@dataclass(frozen=True, slots=True)
class DayLoad:
    """A day on which someone is needed. `shares` has the cooks who are, in the order of the plan."""

    day: date
    shares: tuple[Share, ...]

    @property
    def hands_on(self) -> timedelta:
        return sum((share.hands_on for share in self.shares), NO_TIME)

    @property
    def first(self) -> datetime:
        return min(share.first for share in self.shares)

    @property
    def last(self) -> datetime:
        return max(share.last for share in self.shares)


@dataclass(frozen=True, slots=True)
class Busiest:
    """The sixty minutes with the most hands-on time; a cook with two things at once is busy once."""

    start: datetime
    end: datetime
    by_cook: tuple[tuple[str, timedelta], ...]

    @property
    def hands_on(self) -> timedelta:
        return sum((busy for _, busy in self.by_cook), NO_TIME)


@dataclass(frozen=True)
class Load:
    """`pieces` in order of start; `days` in order; `busiest` None when nothing takes hands."""

    days: tuple[DayLoad, ...]
    busiest: Busiest | None
    pieces: tuple[Piece, ...]

    def shares_of(self, cook: str) -> tuple[Share, ...]:
        return tuple(share for day in self.days for share in day.shares if share.cook == cook)


def load(plan: Plan, timetable: Timetable) -> Load:
    """The load of a whole timetable, what is done already included."""
    pieces = tuple(sorted(_Sharing(plan, timetable).pieces(), key=lambda p: (p.start, p.end, p.cook)))
    days = sorted({piece.day for piece in pieces})
    return Load(tuple(_day(plan, day, pieces) for day in days), _busiest(plan, pieces), pieces)


def _day(plan: Plan, day: date, pieces: Iterable[Piece]) -> DayLoad:
    mine = [piece for piece in pieces if piece.day == day]
    shares = (_share(day, [p for p in mine if p.cook == cook.name]) for cook in plan.kitchen.cooks)
    return DayLoad(day, tuple(share for share in shares if share is not None))


def _share(day: date, mine: list[Piece]) -> Share | None:
    if not mine:
        return None
    total = sum((piece.hands_on for piece in mine), NO_TIME)
    first, last = min(piece.start for piece in mine), max(piece.end for piece in mine)
    return Share(mine[0].cook, day, total, first, last, next((p.waking for p in mine if p.waking), None))


# ---------------------------------------------------------------- who does what


class _Sharing:
    """Gives what no cook was named for to a cook who is there for it."""

    def __init__(self, plan: Plan, timetable: Timetable) -> None:
        self.plan, self.timetable = plan, timetable
        moments = [timetable.serve, *(slot.start for slot in timetable.slots)]
        moments += [slot.end for slot in timetable.slots]
        self.presence = Presence(plan, min(moments) - MARGIN, max(moments) + MARGIN)
        self.busy = {cook.name: list(self._hands(cook.name)) for cook in plan.kitchen.cooks}

    def _hands(self, cook: str) -> Iterator[Interval]:
        for slot in self.timetable.slots:
            if self.plan.steps[slot.step].attention is Attention.HANDS_ON and slot.cook == cook:
                yield slot.start, slot.end

    def pieces(self) -> Iterator[Piece]:
        for slot in self.timetable.slots:
            yield from self._of_slot(self.plan.steps[slot.step], slot)
        for touch in self.timetable.touches:
            yield from self._of_touch(self.plan.steps[touch.step], touch)

    def _of_slot(self, step: Step, slot: Slot) -> Iterator[Piece]:
        if step.attention is Attention.HANDS_ON:
            yield self._piece(slot.start, slot.end, slot.cook or self._cooks(step)[0], busy=True)
        elif step.attention is Attention.NEARBY:
            yield from self._nearby(step, slot.start, slot.end)
        else:
            yield self._piece(slot.start, slot.start, self._beginner(step, slot.start), busy=False)

    def _beginner(self, step: Step, at: datetime) -> str:
        """Who begins a wait: the cook whose hands were in what came before, or else the first who is there."""
        cooks = self._cooks(step)
        there = [name for name in cooks if self._stays(name, at) > at]
        at_it = [name for name in cooks if any(start < at <= end for start, end in self.busy[name])]
        return (at_it or there or cooks)[0]

    def _nearby(self, step: Step, start: datetime, end: datetime) -> Iterator[Piece]:
        """Handed from cook to cook where none is there for all of it."""
        while True:
            cook, until = max(
                ((name, self._stays(name, start)) for name in self._cooks(step)), key=lambda pair: pair[1]
            )
            until = end if until <= start else min(until, end)
            yield self._piece(start, until, cook, busy=False)
            if until >= end:
                return
            start = until

    def _stays(self, cook: str, at: datetime) -> datetime:
        """Until when that cook is at home and awake; `at` itself when they are not."""
        return next((end for start, end in self.presence.home(cook) if start <= at < end), at)

    def _of_touch(self, step: Step, touch: Touch) -> Iterator[Piece]:
        if step.tend is None:
            return
        start, end = touch.at, touch.at + step.tend.hands_on
        cook = self._free(step, start, end)
        self.busy[cook].append((start, end))
        yield self._piece(start, end, cook, busy=True)

    def _free(self, step: Step, start: datetime, end: datetime) -> str:
        """A cook who is there with free hands; else one who is there; else the first who may do it."""
        cooks = self._cooks(step)
        there = [name for name in cooks if within(self.presence.home(name), start, end)]
        free = [name for name in there if not any(a < end and start < b for a, b in self.busy[name])]
        return (free or there or cooks)[0]

    def _cooks(self, step: Step) -> list[str]:
        return [cook.name for cook in self.plan.cooks_of(step)]

    def _piece(self, start: datetime, end: datetime, cook: str, busy: bool) -> Piece:
        waking = next((w for w in self.presence.awake(cook) if w[0] <= start <= w[1] and end <= w[1]), None)
        # A cook who never sleeps has days by the calendar.
        woke = waking[0] if waking and waking[1] - waking[0] <= DAY else start
        return Piece(start, end, cook, busy, local(woke, self.plan.zone).date(), waking)


# ---------------------------------------------------------------- the busiest hour


def _busiest(plan: Plan, pieces: Iterable[Piece]) -> Busiest | None:
    busy = {
        cook.name: merge((p.start, p.end) for p in pieces if p.cook == cook.name and p.busy)
        for cook in plan.kitchen.cooks
    }
    # The most lies in an hour that begins as some work does, or ends as some does.
    begins = sorted({start for spans in busy.values() for start, _ in spans})
    ends = sorted({end - HOUR for spans in busy.values() for _, end in spans})
    hours = [_hour(start, busy) for start in (*begins, *ends)]
    return max(hours, key=lambda hour: hour.hands_on, default=None)


def _hour(start: datetime, busy: dict[str, tuple[Interval, ...]]) -> Busiest:
    end = start + HOUR
    shares = ((name, _overlap(spans, start, end)) for name, spans in busy.items())
    return Busiest(start, end, tuple((name, share) for name, share in shares if share))


def _overlap(spans: Iterable[Interval], start: datetime, end: datetime) -> timedelta:
    return sum((min(b, end) - max(a, start) for a, b in spans if a < end and start < b), NO_TIME)
