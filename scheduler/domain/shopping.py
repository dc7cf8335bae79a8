"""What to buy on which day: as late as it may be, and where it can be on a day somebody is out anyway."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from itertools import groupby

from scheduler.domain.hours import expand, local, without
from scheduler.domain.kitchen.amounts import Amount
from scheduler.domain.kitchen.totals import same_thing, to_buy, totals
from scheduler.domain.plan import NO_TIME, Plan
from scheduler.domain.presence import Presence
from scheduler.domain.timetable import Slot

DAY = timedelta(days=1)

MOST_AHEAD = 3 * DAY
"""Rather a trip of its own than food bought more than so long before it has to be (our choice)."""

TIME_TO_SHOP = timedelta(hours=3)
"""How long somebody must have been up before the food is wanted, for a trip of its own on that day (our choice)."""


@dataclass(frozen=True, slots=True)
class Outing:
    """A stretch in which a cook is out anyway; aware UTC instants."""

    cook: str
    start: datetime
    end: datetime


@dataclass(frozen=True, slots=True)
class Item:
    """So much of something for the steps of these numbers, the first of which begins at `wanted`."""

    amount: Amount
    steps: tuple[int, ...]
    wanted: datetime


@dataclass(frozen=True, slots=True)
class Trip:
    """What to bring home on a local day; `outing` is who is out then anyway, where somebody is.

    The items are in the order in which they are wanted, so what only the last day needs comes last.
    """

    day: date
    outing: Outing | None
    items: tuple[Item, ...]


def trips(plan: Plan, slots: Iterable[Slot], now: datetime) -> list[Trip]:
    """What the steps of `slots` still need, by shopping day, soonest first and none before today."""
    needs = sorted(
        ((*_day_for(plan, slot, now), slot) for slot in slots if plan.steps[slot.step].amounts),
        key=lambda need: (need[0], _home_by(need[1], now), need[2].start, need[2].step),
    )
    found = [
        Trip(day, outing, _items(plan, [slot for _, _, slot in group]))
        for (day, outing), group in groupby(needs, key=lambda need: need[:2])
    ]
    return [trip for trip in found if trip.items]


def outing_before(plan: Plan, by: datetime, since: datetime) -> Outing | None:
    """The last time before `by` that somebody comes home after `since`; not one too long before."""
    since = max(since, by - MOST_AHEAD)
    if since >= by:
        return None
    found = [
        Outing(cook.name, start, end)
        for cook in plan.kitchen.cooks
        for start, end in without(
            expand(cook.away, plan.zone, since - DAY, by + DAY),
            expand(cook.home, plan.zone, since - DAY, by + DAY),
        )
        if since < end <= by
    ]
    return max(found, key=lambda outing: outing.end, default=None)


def _home_by(outing: Outing | None, now: datetime) -> datetime:
    return now if outing is None else outing.end


def _day_for(plan: Plan, slot: Slot, now: datetime) -> tuple[date, Outing | None]:
    by = slot.start - (plan.steps[slot.step].buy or NO_TIME)
    outing = outing_before(plan, by, now)
    if outing is not None:
        return local(outing.end, plan.zone).date(), outing
    return max(_own_trip(plan, by), local(now, plan.zone).date()), None


def _own_trip(plan: Plan, by: datetime) -> date:
    """The last day on which somebody is up long enough before `by`."""
    up = Presence(plan, by - 2 * DAY, by).awake_someone()
    long_enough = [min(end, by) - TIME_TO_SHOP for start, end in up if min(end, by) - start >= TIME_TO_SHOP]
    return local(max(long_enough, default=by - DAY), plan.zone).date()


def _items(plan: Plan, slots: list[Slot]) -> tuple[Item, ...]:
    every = [(amount, slot) for slot in slots for amount in to_buy(plan.steps[slot.step].amounts)]
    items = []
    for amount in totals(each for slot in slots for each in plan.steps[slot.step].amounts):
        using = [slot for each, slot in every if _alike(each, amount)]
        steps = tuple(dict.fromkeys(slot.step for slot in using))
        items.append(Item(amount, steps, min(slot.start for slot in using)))
    return tuple(sorted(items, key=lambda item: item.wanted))


def _alike(one: Amount, other: Amount) -> bool:
    return (same_thing(one.name), one.unit) == (same_thing(other.name), other.unit)
