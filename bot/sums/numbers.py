"""Numbers as people write and say them, for the sums: decimal commas, thousands, fractions, "half a kilo"."""

from __future__ import annotations

import re
from decimal import Decimal

from bot.understanding.plainwords import SIGNS, plain
from scheduler import units
from scheduler.domain.kitchen.amounts import UNITS, Amount

_GROUPED = re.compile(
    r"(?<![\d.,:])[1-9]\d{0,2}(?:[.,]\d{3})+(?=\s*(?:g(?:r|rams?|rammes?)?|ml|millilit(?:re|er)s?)\b)",
    re.IGNORECASE,
)
"""Nobody weighs a thousandth of a gram: 1,500 g is a kilo and a half. In other units a comma is a decimal one."""

_COMMA = re.compile(r"(?<=\d),(?=\d)")
_UNIT = "|".join(sorted(map(re.escape, (*UNITS, *units.OTHERS)), key=len, reverse=True))
_FRACTION = re.compile(r"(?<![\d./])(?:(\d{1,4})[ -])?(\d{1,2})/(\d{1,2})(?![\d/])")
_HALF = re.compile(rf"\bhalf (?:an? )?(?=(?:{_UNIT})\b)")
_ONE = re.compile(rf"\b(?:an?|one) (?=(?:{_UNIT})\b)")


def pointed(text: str) -> str:
    """ "1,5 kg" as "1.5 kg", and "1,500 g" as "1500 g"."""
    whole = _GROUPED.sub(lambda found: re.sub(r"\D", "", found[0]), text)
    return _COMMA.sub(".", whole)


def decimal(text: str) -> str:
    """ "1 3/4 lb" and "1¾ lb" as "1.75 lb"; a fraction of nothing stays as it is."""
    for sign in "½¼¾":
        text = text.replace(sign, SIGNS[sign])
    return _FRACTION.sub(_as_decimal, " ".join(text.split()))


def measured(number: Decimal, written: str, name: str) -> Amount:
    """So much of something in any unit that is read; quarts and their like in millilitres."""
    known = UNITS.get(written)
    return (
        Amount(name, number, known)
        if known
        else Amount(name, *units.in_metric(number, units.OTHERS[written]))
    )


def tenths(grams: Decimal) -> Decimal:
    """To a tenth of a gram, to a hundredth below one: what ounces come to is weighed."""
    return grams.quantize(Decimal("0.1") if grams >= 1 else Decimal("0.01")).normalize() + Decimal(0)


def in_figures(said: str) -> str:
    """What was said in plain words, its measures in figures: "2 kilos" for two, "0.5 kilo" for "half a kilo"."""
    text = decimal(plain(pointed(said)))
    return _ONE.sub("1 ", _HALF.sub("0.5 ", text))


def _as_decimal(found: re.Match[str]) -> str:
    whole, top, bottom = (Decimal(part or 0) for part in found.groups())
    return f"{(whole + top / bottom).quantize(Decimal('0.0001')).normalize():f}" if bottom else found[0]
