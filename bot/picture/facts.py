"""What a picture has to show, worked out from a plan and its timetable: where the last day begins, which
steps fall before it and in it, when nobody is awake or at home, what keeps until it is used.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from functools import cached_property

from scheduler.domain.hours import DAY, Interval, expand, instant, local, merge, without
from scheduler.domain.plan import FIVE_MINUTES, MINUTE, Attention, Cook, Plan, Step
from scheduler.domain.timetable import Slot, Timetable, Touch
from scheduler.words import length

HOUR = timedelta(hours=1)

ONE_PANEL = timedelta(hours=18)
"""A meal no longer than this is drawn on one scale of hours."""

LEAST_DAY = timedelta(hours=3)
"""The last day begins at the last waking at least this long before the serving hour."""


@dataclass(frozen=True)
class Scene:
    """A plan, its timetable, and the moment it is drawn for, if any. Instants are aware."""

    plan: Plan
    timetable: Timetable
    now: datetime | None = None

    @property
    def zone(self) -> str:
        return self.plan.zone

    @property
    def serve(self) -> datetime:
        return self.timetable.serve

    @cached_property
    def begins(self) -> datetime:
        return min((slot.start for slot in self.timetable.slots), default=self.serve - HOUR)

    @cached_property
    def ends(self) -> datetime:
        return max((slot.end for slot in self.timetable.slots), default=self.serve)

    @cached_property
    def until(self) -> datetime:
        """The end of the hours drawn: the serving hour, or later where a step runs past it."""
        return max(self.serve, self.ends)

    @cached_property
    def split(self) -> datetime:
        """Where the days before end and the last day begins, on a mark of the local clock."""
        if self.serve - self.begins <= ONE_PANEL:
            return self._mark_before(min(self.begins, self.serve - 15 * MINUTE))
        earliest = self._last_waking()
        moments = [slot.start for slot in self.timetable.slots] + [slot.end for slot in self.timetable.slots]
        moments += [touch.at for touch in self.timetable.touches]
        inside = [at for at in moments if earliest <= at < self.serve]
        return self._mark_before(min(inside, default=earliest))

    def _last_waking(self) -> datetime:
        awake = merge(piece for cook in self.plan.kitchen.cooks for piece in self._awake(cook))
        wakings = [start for start, _ in awake if start <= self.serve - LEAST_DAY]
        return max([*wakings, self.serve - DAY])

    def _awake(self, cook: Cook) -> tuple[Interval, ...]:
        return expand((*cook.awake, *cook.home), self.zone, self.serve - 2 * DAY, self.serve)

    def _mark_before(self, at: datetime) -> datetime:
        """The whole hour before, by the local clock; finer where all is over within two hours."""
        span = self.until - at
        grain = HOUR if span > 2 * HOUR else 15 * MINUTE if span > HOUR else FIVE_MINUTES
        wall = local(at, self.zone)
        past = timedelta(minutes=wall.minute, seconds=wall.second, microseconds=wall.microsecond)
        return at - past % grain

    @cached_property
    def earlier(self) -> tuple[Slot, ...]:
        """The steps that start before the last day."""
        return tuple(slot for slot in self.timetable.slots if slot.start < self.split)

    @cached_property
    def last_day(self) -> tuple[Slot, ...]:
        """The steps that run on the last day, begun then or before."""
        return tuple(slot for slot in self.timetable.slots if slot.end > self.split)

    def step(self, slot: Slot) -> Step:
        return self.plan.steps[slot.step]

    def attention(self, slot: Slot) -> Attention:
        return self.step(slot).attention

    def lasting(self, slot: Slot) -> str:
        """How long a step takes, in words; what nature ends lasts about so long."""
        about = "about " if self.step(slot).range.by_nature else ""
        return about + length(slot.end - slot.start)

    def touches(self, slot: Slot) -> tuple[Touch, ...]:
        return tuple(touch for touch in self.timetable.touches if touch.step == slot.step)

    def used(self, slot: Slot) -> datetime | None:
        """When what a step made is first used, where that is not the moment it ends."""
        after: list[datetime] = []
        for link in self.plan.links_out_of[slot.step]:
            later = None if link.after is None else self.timetable.slot(link.after)
            if later or link.after is None:
                after.append(later.start if later else self.serve)
        first = min(after, default=slot.end)
        return first if first > slot.end else None

    def midnights(self) -> tuple[datetime, ...]:
        """Local midnights from the day the meal is begun to the end of the day it is over."""
        first, last = self.date_of(self.begins), self.date_of(self.until - MINUTE)
        return tuple(self._midnight(first + n * DAY) for n in range((last - first).days + 2))

    def date_of(self, at: datetime) -> date:
        return local(at, self.zone).date()

    def _midnight(self, day: date) -> datetime:
        return instant(datetime.combine(day, datetime.min.time()), self.zone)

    def clock_changes(self) -> tuple[tuple[date, timedelta], ...]:
        """The local dates on which the clocks change, and by how much they are put forward."""
        edges = self.midnights()
        offsets = [local(at, self.zone).utcoffset() or timedelta() for at in edges]
        pairs = zip(edges, offsets, offsets[1:], strict=False)
        return tuple((self.date_of(at), after - before) for at, before, after in pairs if after != before)

    def asleep(self, cooks: tuple[Cook, ...], since: datetime) -> tuple[Interval, ...]:
        """When none of these cooks is awake, from `since` to the end."""
        up = [span for cook in cooks for span in (*cook.awake, *cook.home)]
        awake = expand(tuple(up), self.zone, since, self.until)
        return without([(since, self.until)], awake)

    def out(self, cooks: tuple[Cook, ...], since: datetime) -> tuple[Interval, ...]:
        """When some of these cooks are awake and none of them is at home."""
        home: list[Interval] = []
        for cook in cooks:
            awake = expand(cook.awake, self.zone, since, self.until)
            home += without(awake, expand(cook.away, self.zone, since, self.until))
            home += expand(cook.home, self.zone, since, self.until)
        return without([(since, self.until)], [*home, *self.asleep(cooks, since)])

    def hands(self, cook: Cook, since: datetime) -> tuple[Slot, ...]:
        """The hands-on work of one cook from `since`; work without a name is the first cook's."""
        first = self.plan.kitchen.cooks[0].name
        return tuple(
            slot
            for slot in self.timetable.slots
            if slot.end > since
            and self.attention(slot) is Attention.HANDS_ON
            and (slot.cook or self.step(slot).cook or first) == cook.name
        )
