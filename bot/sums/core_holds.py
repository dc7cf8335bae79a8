"""Published holding times for a middle that has a temperature already: what each table says, by name."""

from __future__ import annotations

import re
from datetime import timedelta
from decimal import Decimal
from typing import Any

from bot.sums.told import Told
from scheduler import words
from scheduler.domain.kitchen.core import Food
from scheduler.domain.kitchen.hazards import DEFERRAL
from scheduler.domain.kitchen.heat.foods import food_in
from scheduler.domain.kitchen.heat.published.holds import Holds
from scheduler.domain.kitchen.heat.reductions import HOLDS, LOWEST_C, LOWEST_SOURCE
from scheduler.domain.kitchen.sources import How

MOST = 4
"""Tables that are told of in the chat."""


def told(at_c: float, food: Food | None) -> Told:
    """What is published for a middle of `at_c` degrees Celsius; a table counts from its next lower row."""
    found = [table for table in HOLDS[food] if table.lowest_c <= at_c]
    facts: dict[str, Any] = {"at_c": at_c, "food": None if food is None else str(food)}
    if not found:
        return _nothing(at_c, food, facts)
    lines = [f"- {_line(table, at_c)}" for table in found]
    later = [
        f"- {_name(table)} begins at {table.lowest_c:g} C." for table in HOLDS[food] if table not in found
    ]
    heading = f"With its middle at {at_c:g} C{_of(food)}, held: {_length(found[0], at_c)}"
    facts |= {"holds": [_fact(table, at_c) for table in found], "refused": False}
    counted = "Only time at that temperature counts, in the middle; each table by its next lower row."
    return Told(
        heading,
        (*lines, *later, counted, DEFERRAL),
        facts,
        brief=(*lines[:MOST], counted, DEFERRAL),
    )


def _nothing(at_c: float, food: Food | None, facts: dict[str, Any]) -> Told:
    lowest = min(table.lowest_c for table in HOLDS[food])
    first = f"the tables{_of(food)} begin at {lowest:g} C"
    below = f" ({LOWEST_SOURCE})" if food in (None, Food.MEAT) and lowest == LOWEST_C else ""
    because = f"no time is published for a middle of {at_c:g} C: {first}{below}"
    return Told(f"Refused: {because}", (DEFERRAL,), {**facts, "refused": True, "because": because}, True)


def _of(food: Food | None) -> str:
    return "" if food is None else f" for {food}"


def _length(table: Holds, at_c: float) -> str:
    seconds = table.seconds_at(at_c) or 0
    if not seconds:
        return "no time at all, once it is reached"
    length = timedelta(seconds=seconds)
    if seconds >= 60:
        return words.length(timedelta(seconds=round(seconds)))
    return "less than 1 s" if seconds == 1 else f"{Decimal(str(length.total_seconds())).normalize():f} s"


def _line(table: Holds, at_c: float) -> str:
    return f"{_name(table)}: {_length(table, at_c)}."


def _name(table: Holds) -> str:
    memory = f", {table.source.how}" if table.source.how is How.FROM_MEMORY else ""
    where = f", {table.source.where}" if table.source.where else ""
    return f"{table.name} ({table.source.name}{where}{memory})"


def _fact(table: Holds, at_c: float) -> dict[str, Any]:
    row = max(at for at, _ in table.rows if at <= at_c)
    return {
        "name": table.name,
        "row_c": row,
        "hold_s": table.seconds_at(at_c),
        "source": str(table.source),
    }


ASKED = re.compile(
    r"\bhow long (?:must|should|does|do|has to|have to|to|is|are) .*\bh[eo]ld\b.* at (\d{2}(?:[.,]\d{1,2})?)"
    r" ?(?:degrees?|°)? ?(c|f|celsius|fahrenheit)?\W*$",
    re.IGNORECASE,
)


def question(said: str) -> tuple[str, Food] | None:
    """ "How long must chicken be held at 62 C": the temperature as it is written, and the food that is named."""
    found = ASKED.search(" ".join(said.split()))
    food = food_in([said]) if found else None
    if found is None or food is None:
        return None
    return f"{found[1].replace(',', '.')} {(found[2] or 'C')[0].upper()}", food
