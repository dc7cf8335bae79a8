"""What to buy and when: each thing on the last day the cook is out before its step, or as its step says."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from itertools import groupby
from typing import Any

from bot.wording.amounts import as_bought
from scheduler import words
from scheduler.domain import hours
from scheduler.domain.kitchen.amounts import Amount, plain
from scheduler.domain.kitchen.totals import same_thing, to_buy, totals
from scheduler.domain.plan import Plan, Step
from scheduler.domain.timetable import Timetable

A_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Item:
    """So much of something, and the names of the steps it is for."""

    amount: Amount
    steps: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Trip:
    """What to have in the house by the end of a local day."""

    day: date
    items: tuple[Item, ...]


def trips(plan: Plan, timetable: Timetable, now: datetime) -> list[Trip]:
    """By day, soonest first: the day before a step unless it says how long before, and never before today."""
    wanted = [
        (hours.local(max(slot.start - (step.buy or A_DAY), now), plan.zone).date(), step)
        for slot in timetable.slots
        if (step := plan.steps[slot.step]).amounts and slot.start >= now
    ]
    wanted.sort(key=lambda pair: pair[0])
    days = groupby(wanted, key=lambda pair: pair[0])
    found = [Trip(day, _items([step for _, step in group])) for day, group in days]
    return [trip for trip in found if trip.items]


def _items(steps: list[Step]) -> tuple[Item, ...]:
    return tuple(
        Item(amount, tuple(step.name for step in steps if _uses(step, amount)))
        for amount in totals(each for step in steps for each in step.amounts)
    )


def _uses(step: Step, amount: Amount) -> bool:
    kinds = {(same_thing(each.name), each.unit) for each in to_buy(step.amounts)}
    return (same_thing(amount.name), amount.unit) in kinds


def as_text(found: list[Trip]) -> Iterator[str]:
    """One line a thing, under the day by which it is wanted."""
    if not found:
        yield "The plan names no amounts."
    for number, trip in enumerate(found):
        yield f"{'' if number == 0 else chr(10)}By the end of {words.date_name(trip.day)}"
        for item in trip.items:
            yield f"- {item.amount.name}, {as_bought(item.amount)} (for: {', '.join(item.steps)})"


def as_json(found: list[Trip]) -> list[dict[str, Any]]:
    """A list of days, each an ISO date with its items."""
    return [{"by": trip.day.isoformat(), "items": [_item(item) for item in trip.items]} for trip in found]


def _item(item: Item) -> dict[str, Any]:
    amount = item.amount
    of = {"of": list(amount.of)} if amount.of else {}
    return {"name": amount.name, "quantity": plain(amount.quantity), "unit": amount.unit, **of} | {
        "for": list(item.steps)
    }
