"""What to buy and when, on the command line."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from typing import Any

from bot.wording.amounts import as_bought
from bot.wording.shopping import out_anyway
from scheduler import words
from scheduler.domain.hours import local
from scheduler.domain.kitchen.amounts import plain
from scheduler.domain.plan import Plan
from scheduler.domain.shopping import Item, Outing, Trip
from scheduler.domain.shopping import trips as trips_of
from scheduler.domain.timetable import Timetable


def trips(plan: Plan, timetable: Timetable, now: datetime) -> list[Trip]:
    """The shopping for every step still to begin, by day."""
    return trips_of(plan, [slot for slot in timetable.slots if slot.start >= now], now)


def as_text(found: list[Trip], plan: Plan) -> Iterator[str]:
    """One line a thing, under the day on which to buy it."""
    if not found:
        yield "The plan names no amounts."
    for number, trip in enumerate(found):
        yield f"{'' if number == 0 else chr(10)}On {words.date_name(trip.day)}{_out(trip.outing, plan)}"
        for item in trip.items:
            yield f"- {item.amount.name}, {as_bought(item.amount)} (for: {', '.join(_names(item, plan))})"


def _out(outing: Outing | None, plan: Plan) -> str:
    return "" if outing is None else f", {out_anyway(outing, plan)}"


def _names(item: Item, plan: Plan) -> list[str]:
    return [plan.steps[number].name for number in item.steps]


def as_json(found: list[Trip], plan: Plan) -> list[dict[str, Any]]:
    """A list of days, each an ISO date with its items and who is out then anyway; instants with their offset."""
    return [
        {
            "by": trip.day.isoformat(),
            "out": None if trip.outing is None else _outing(trip.outing, plan.zone),
            "items": [_item(item, plan) for item in trip.items],
        }
        for trip in found
    ]


def _outing(outing: Outing, zone: str) -> dict[str, str]:
    start, end = (local(at, zone).isoformat() for at in (outing.start, outing.end))
    return {"cook": outing.cook, "from": start, "until": end}


def _item(item: Item, plan: Plan) -> dict[str, Any]:
    amount = item.amount
    of = {"of": list(amount.of)} if amount.of else {}
    return {"name": amount.name, "quantity": plain(amount.quantity), "unit": amount.unit, **of} | {
        "for": _names(item, plan),
        "wanted": local(item.wanted, plan.zone).isoformat(),
    }
