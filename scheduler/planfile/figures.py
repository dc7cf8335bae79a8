"""The figures a plan is written in: counts, temperatures, amounts, yes and no.

As in `plantext`, every function raises TextError, and the patterns are shared with the JSON Schema.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import timedelta
from decimal import ROUND_HALF_UP, Decimal

from scheduler.domain.kitchen.amounts import UNITS
from scheduler.domain.kitchen.starter import Feed
from scheduler.planfile.text import DURATION, TextError, duration, words

A_TEMPERATURE = "a temperature with its unit, such as 19 C or 66 F"
AN_OVEN = "an oven temperature with its unit, such as 180 C or 350 F"
AN_AMOUNT = "an amount such as 900 g, 1.2 L, 3, 8 pieces or 2.5 % of turnips"
A_LEAD = "a time before such as 2 d before"
A_THICKNESS = "a thickness with its unit, such as 40 mm, 4 cm or 1.5 in"
A_FEED = "parts of starter, flour and water by weight, such as 1:5:5"
YES_OR_NO = "true or false"

COLDEST, HOTTEST = -40, 300
COOLEST_OVEN, HOTTEST_OVEN = 30, 550
MOST_PERCENT = 1000

TEMPERATURE = "-?[0-9]{1,3}(?:\\.[0-9]{1,2})? ?\u00b0?[CcFf]"
_FIGURE = r"[0-9]{1,7}(?:\.[0-9]{1,4})?"
AMOUNT = f"{_FIGURE}(?: ?% of .+| ?[^0-9%]{{1,40}})?"
LEAD = f"{DURATION}(?: before)?"
THICKNESS = r"[0-9]{1,3}(?:\.[0-9]{1,2})? ?(?:mm|cm|in)"
_PART = r"[0-9]{1,3}(?:\.[0-9]{1,2})?"
FEED = f"{_PART}:{_PART}:{_PART}"

THINNEST_MM, THICKEST_MM = 1, 400


@dataclass(frozen=True, slots=True)
class Quantity:
    """An amount before it is known what it is of: see `domain.kitchen.amounts.Amount`.

    `written` is the text of one in a unit that was turned into grams or millilitres.
    """

    number: Decimal
    unit: str = ""
    of: tuple[str, ...] = ()
    written: str = ""


def count(text: str, lowest: int, highest: int) -> int:
    """A whole number within bounds."""
    if not re.fullmatch("[0-9]{1,6}", text.strip()) or not lowest <= int(text) <= highest:
        raise TextError(f"a whole number from {lowest} to {highest}")
    return int(text)


def yes_or_no(text: str) -> bool:
    """Reads "true" or "yes", "false" or "no"."""
    answers = {"true": True, "yes": True, "false": False, "no": False}
    if text.strip().casefold() not in answers:
        raise TextError(YES_OR_NO)
    return answers[text.strip().casefold()]


def celsius(text: str) -> float:
    """Degrees Celsius, in tenths, of "19 C" or "66 F"."""
    return float(_celsius(text, A_TEMPERATURE, COLDEST, HOTTEST).quantize(Decimal("0.1"), ROUND_HALF_UP))


def oven_heat(text: str) -> int:
    """Whole degrees Celsius of "180 C" or "350 F"."""
    return int(_celsius(text, AN_OVEN, COOLEST_OVEN, HOTTEST_OVEN).quantize(Decimal(1), ROUND_HALF_UP))


def _celsius(text: str, expected: str, lowest: int, highest: int) -> Decimal:
    tidy = " ".join(text.split())
    if not re.fullmatch(TEMPERATURE, tidy):
        raise TextError(expected)
    degrees = Decimal(tidy.rstrip("CcFf\u00b0 "))
    if tidy[-1] in "Ff":
        degrees = (degrees - 32) * 5 / 9
    if not lowest <= degrees <= highest:
        raise TextError(f"a temperature from {lowest} C to {highest} C")
    return degrees


def thickness_mm(text: str) -> float:
    """Millimetres of "40 mm", "4 cm" or "1.5 in"."""
    tidy = " ".join(text.split())
    if not re.fullmatch(THICKNESS, tidy):
        raise TextError(A_THICKNESS)
    from scheduler import units  # half a second, for the few plans that need it

    thick = units.length_mm(tidy)
    if not THINNEST_MM <= thick <= THICKEST_MM:
        raise TextError(f"a thickness from {THINNEST_MM} mm to {THICKEST_MM} mm")
    return thick


def feed(text: str) -> Feed:
    """Parts of starter, flour and water: "1:5:5"."""
    tidy = "".join(text.split())
    if not re.fullmatch(FEED, tidy):
        raise TextError(A_FEED)
    try:
        return Feed(*(Decimal(part) for part in tidy.split(":")))
    except ValueError as error:
        raise TextError("every part of a feed more than nothing") from error


def lead(text: str) -> timedelta:
    """How long before, from "2 d before"."""
    tidy = " ".join(text.split()).casefold()
    if not re.fullmatch(LEAD, tidy):
        raise TextError(A_LEAD)
    return duration(tidy.removesuffix(" before"))


def quantity(text: str) -> Quantity:
    """Reads "900 g", "1.2 L", "3", "8 pieces" or "2.5 % of turnips" ("3 % of water + turnips")."""
    tidy = words(text)
    if not re.fullmatch(AMOUNT, tidy):
        raise TextError(AN_AMOUNT)
    figure = re.match(_FIGURE, tidy)
    number = Decimal(figure[0] if figure else 0)
    unit = tidy[figure.end() if figure else 0 :].strip()
    if number <= 0:
        raise TextError("an amount above zero")
    if unit.startswith("%"):
        return _share(number, unit.removeprefix("% of "))
    return _measured(number, unit)


def _measured(number: Decimal, unit: str) -> Quantity:
    known = UNITS.get(unit.casefold())
    if known is not None or not unit:
        return Quantity(number, known or "")
    from scheduler import units  # pint, half a second, for the few plans that need it

    other = units.OTHERS.get(unit.casefold())
    if other is None:
        return Quantity(number, unit)
    return Quantity(*units.in_metric(number, other), written=f"{number} {unit}")


def _share(number: Decimal, of: str) -> Quantity:
    if number > MOST_PERCENT:
        raise TextError(f"at most {MOST_PERCENT} %")
    names = tuple(name.strip() for name in of.split("+"))
    if not all(names):
        raise TextError("a name on both sides of every '+'")
    return Quantity(number, "%", names)
