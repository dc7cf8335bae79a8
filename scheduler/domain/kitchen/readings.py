"""What the cook measures: the acidity of a ferment and the heat it stands at, held against published figures.

A reading is a note the cook made ("pH 3.9", "24 C"); it gets its type when it is read back. The limit of 21 CFR
114.3 is for the pH once liquid and vegetables have evened out, which may take days; a meter's error counts against
the reading.
"""

from __future__ import annotations

import re
from collections.abc import Container, Iterable
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from enum import StrEnum

from scheduler.domain.kitchen.amounts import plain
from scheduler.domain.kitchen.salt import KINDS, KRAUT, Kind, Lasts
from scheduler.domain.kitchen.sources import How, Source
from scheduler.domain.marks import Mark, MarkKind, standing_marks

ACID_ENOUGH = Decimal("4.6")
"""The highest pH of an acid food, itself included (21 CFR 114.3, read)."""

METER_ERROR = Decimal("0.1")
"""How far a kitchen pH meter may be off (common practice, no source)."""

HIGHEST_PH = 14
SOUREST_PH = Decimal("2.5")
"""A lower reading is of no vegetable ferment (our choice; cucumbers end at 3.3, J. Food Quality 8051435, read)."""

HOTTEST_ROOM_C = 45
"""Above this, in degrees Celsius, a reading is not of a room that a ferment stands in (our choice)."""

RIPE_KIMCHI = Source("a textbook chapter on kimchi", "", How.READ_IN_A_COPY)
SLOW = Source(KRAUT.name, "", How.FROM_MEMORY)

_NUMBER = r"(-?\d{1,3}(?:[.,]\d{1,2})?)"
_PH = re.compile(rf"\bph\b\D{{0,30}}?{_NUMBER}(?![\d.,]*\d)|(?<![\d.,]){_NUMBER} ?ph\b", re.IGNORECASE)
_HEAT = re.compile(
    rf"(?<![\d.,]){_NUMBER} ?(?:(?:degrees?|°) ?(c|f)?(?:elsius|ahrenheit)?|(c|f)(?:elsius|ahrenheit)?)(?!\w)",
    re.IGNORECASE,
)


class Measured(StrEnum):
    """What was measured: acidity, or heat in degrees Celsius."""

    PH = "pH"
    HEAT = "C"


@dataclass(frozen=True, slots=True)
class Reading:
    """A measurement: when it was taken, and of which step (None: of the kitchen)."""

    measured: Measured
    value: Decimal
    at: datetime
    step: int | None = None

    def __str__(self) -> str:
        """ "pH 3.9", "24 C"."""
        return f"pH {plain(self.value)}" if self.measured is Measured.PH else f"{plain(self.value)} C"


def measured_in(text: str) -> tuple[Measured, Decimal] | None:
    """What a note says was measured, in pH or degrees Celsius (Fahrenheit is turned into tenths of them)."""
    if found := _PH.search(text):
        value = _decimal(found[1] or found[2])
        return (Measured.PH, value) if 0 <= value <= HIGHEST_PH else None
    if found := _HEAT.search(text):
        value = _decimal(found[1])
        if (found[2] or found[3] or "c").casefold() == "f":
            value = ((value - 32) * 5 / 9).quantize(Decimal("0.1"))
        return Measured.HEAT, value
    return None


def readings(marks: Iterable[Mark], steps: Container[int | None]) -> tuple[Reading, ...]:
    """The readings of some steps (None: of the kitchen) that were not taken back, by when they were taken."""
    found = []
    for mark in standing_marks(marks):
        if mark.kind is MarkKind.NOTE and mark.step in steps and (measured := measured_in(mark.text)):
            found.append(Reading(*measured, mark.about, mark.step))
    return tuple(sorted(found, key=lambda reading: reading.at))


def acidity(reading: Decimal, kind: Kind | None = None) -> str:
    """Which published limit a pH reading meets, or does not; the meter's error counts against it.

    Kimchi that is ripe may still be near the limit, and is told so.
    """
    limit = f"pH {ACID_ENOUGH} or below (21 CFR 114.3)"
    if reading < SOUREST_PH:
        return f"No ferment turns as sour as that; the limit is {limit}: check the meter and measure again."
    kimchi = kind is KINDS["kimchi"]
    ripe = f" Ripe kimchi lies at pH 4.2 to 4.5, near the limit ({RIPE_KIMCHI})." if kimchi else ""
    if reading + METER_ERROR <= ACID_ENOUGH:
        near = ripe if reading >= Decimal("4.2") else ""
        return f"That meets the limit of {limit}, with {METER_ERROR} to spare for the meter.{near}"
    if reading <= ACID_ENOUGH:
        return (
            f"That just meets the limit of {limit}; a meter may be off by {METER_ERROR}: measure again.{ripe}"
        )
    return f"That does not meet the limit of {limit}.{ripe}"


def too_warm(kind: Kind, at_c: Decimal) -> str:
    """What its source says of a ferment as warm as that; "" where it is not too warm, or none says.

    A limit borrowed from kraut names kraut's source.
    """
    if kind.too_warm_c is None or at_c <= Decimal(str(kind.too_warm_c)):
        return ""
    return f"Above {kind.too_warm_c:.0f} C {kind.warm_says} ({kind.warm_source})."


def warmth(kind: Kind, at_c: Decimal) -> str:
    """What is published of a ferment of that kind at so many degrees Celsius; "" where nothing is."""
    if said := too_warm(kind, at_c):
        return said
    if kind.too_cool_c is not None and at_c < Decimal(str(kind.too_cool_c)) - _NEAR:
        return f"Below {kind.too_cool_c:.0f} C it is slow and may stand still ({SLOW})."
    found = next((lasts for lasts in kind.lasts if _is_within(lasts, at_c)), None)
    return (
        "" if found is None else f"At {_heat(found)} {kind} take{_s(kind)} {_time(found)} ({found.source})."
    )


_NEAR = Decimal("0.5")
"""A thermometer shows whole degrees."""


def _is_within(lasts: Lasts, at_c: Decimal) -> bool:
    return Decimal(str(lasts.coolest_c)) - _NEAR <= at_c <= Decimal(str(lasts.warmest_c)) + _NEAR


def _heat(lasts: Lasts) -> str:
    low, high = f"{lasts.coolest_c:.0f}", f"{lasts.warmest_c:.0f}"
    return f"{low} C" if low == high else f"{low} C to {high} C"


def _time(lasts: Lasts) -> str:
    if lasts.least_d % 7 == 0 and lasts.most_d % 7 == 0:
        return f"{lasts.least_d // 7} to {lasts.most_d // 7} weeks"
    return f"{lasts.least_d} to {lasts.most_d} days"


def _s(kind: Kind) -> str:
    return "" if kind.name.endswith("s") else "s"


def _decimal(figure: str) -> Decimal:
    return Decimal(figure.replace(",", "."))
