"""Measures in whatever unit they are given: into grams, millilitres and millimetres.

Plan files read metric and household units by the domain's own exact tables, without a library; everything else
goes through pint, which takes half a second to load and is loaded only then.
"""

from __future__ import annotations

import re
from decimal import Decimal
from functools import cache
from typing import TYPE_CHECKING

from scheduler.domain.kitchen.amounts import GRAMS_PER
from scheduler.planfile.text import TextError

if TYPE_CHECKING:
    from pint import UnitRegistry

MASSES = (*GRAMS_PER, "stone")

_NAMES = {"fl oz": "fluid_ounce"}
"""What pint calls them, where it has another name."""

OTHERS = {
    **dict.fromkeys(("fl oz", "fl. oz", "fl. oz.", "floz", "fluid ounce", "fluid ounces"), "fl oz"),
    **dict.fromkeys(("pint", "pints", "pt"), "pint"),
    **dict.fromkeys(("quart", "quarts", "qt"), "quart"),
    **dict.fromkeys(("gallon", "gallons", "gal"), "gallon"),
    "stone": "stone",
}
"""Units of plan files that the domain has no factor for, in every way they are written; volumes are those of the
United States, as spoons and cups are."""

MILLIMETRES_PER = {"mm": 1, "cm": 10, "m": 1000}

_LENGTH = re.compile(r"([0-9]{1,7}(?:[.,][0-9]{1,4})?) ?(mm|cm|m|in|inch|inches)")


@cache
def _registry() -> UnitRegistry[float]:
    from pint import UnitRegistry

    return UnitRegistry()


def length_mm(text: str) -> float:
    """Millimetres of "40 mm", "4 cm" or "1.5 in"; TextError for anything else."""
    found = _LENGTH.fullmatch(" ".join(text.split()))
    if found is None:
        raise TextError("a length with its unit, such as 40 mm or 1.5 in")
    number, unit = Decimal(found[1].replace(",", ".")), found[2]
    if unit in MILLIMETRES_PER:
        return float(number * MILLIMETRES_PER[unit])
    return float(_registry().Quantity(float(number), "inch").to("mm").magnitude)


def in_metric(number: Decimal, unit: str) -> tuple[Decimal, str]:
    """A quantity in one of OTHERS as grams or millilitres, to four places: (2, "quart") is (1892.7059, "ml")."""
    into = "g" if unit in MASSES else "ml"
    given = _registry().Quantity(float(number), _NAMES.get(unit, unit))
    return Decimal(str(round(float(given.to(into).magnitude), 4))), into
