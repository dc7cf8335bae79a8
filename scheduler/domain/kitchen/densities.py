"""What a volume weighs: only where a published figure fits the name the plan uses, and never for salt unnamed.

Where the USDA gives a food in the very measure that was used, that figure counts; else one that was read rather
than remembered, of the largest measure, in which rounding weighs least. The densities of FAO/INFOODS are not used
beside it (they differ by up to a tenth for flour, and lie just above for table salt: 1.22 against 1.217 g/ml), but
for ice, which the USDA lacks.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from functools import cache

from scheduler.domain.kitchen.amounts import MILLILITRES_PER
from scheduler.domain.kitchen.household import HOUSEHOLD
from scheduler.domain.kitchen.sources import How, Source

USDA, FAO = "USDA SR28", "FAO/INFOODS density database"
ICE = Decimal("0.916")
"""g/ml at 0 degrees Celsius: FAO/INFOODS density database, version 1.0 (2011), read."""


@dataclass(frozen=True, slots=True)
class Density:
    """What one measure of something weighs, loosely filled."""

    name: str
    measure: str
    grams: Decimal
    source: Source

    @property
    def grams_per_ml(self) -> Decimal:
        return self.grams / MILLILITRES_PER[self.measure]

    def weight(self, millilitres: Decimal) -> Decimal:
        """Grams of so many millilitres."""
        return millilitres * self.grams / MILLILITRES_PER[self.measure]

    def __str__(self) -> str:
        """ "wheat flour, all-purpose, 125 g a cup (USDA SR28, NDB 20081)"."""
        return f"{self.name}, {self.grams.normalize():f} g a {self.measure} ({self.source})"


Words = frozenset[str]

BY_THE_WAY = frozenset(
    {
        "of",
        "the",
        "some",
        "and",
        "organic",
        "extra",
        "virgin",
        "cold",
        "warm",
        "lukewarm",
        "hot",
        "good",
        "best",
    }
)
"""What says nothing of how much of it goes into a cup."""

PURPOSE = re.compile(r"\b(?:for|to)\b.*", re.DOTALL)


def words_of(name: str) -> Words:
    """The words of a name that tell what it is, each in the singular: "Flour for dusting" is just flour."""
    said = PURPOSE.sub("", name.casefold()) or name.casefold()
    return frozenset(map(_singular, re.findall(r"[^\W_]+", said))) - BY_THE_WAY


def _singular(word: str) -> str:
    if word.endswith("oes"):
        return word[:-2]
    return (
        word[:-1] if len(word) > 3 and word.endswith("s") and not word.endswith(("ss", "us", "ous")) else word
    )


def density_of(name: str, unit: str = "") -> Density | None:
    """The published figure for a food by the plan's own name of it, as used with that unit; None where none is known.

    Names that fit several foods of different weight are not known: see `nearly`. Salt has an entry of its own
    only as table salt: see `crystals`.
    """
    return max(_table().get(words_of(name), ()), key=lambda row: _worth(row, unit), default=None)


def _worth(row: Density, unit: str) -> tuple[bool, bool, Decimal]:
    """The figure of that very measure first, then one that was read, then the one of the largest measure."""
    return row.measure == unit, row.source.how is not How.FROM_MEMORY, MILLILITRES_PER[row.measure]


def nearly(name: str) -> tuple[str, ...]:
    """The foods that the words of a name may stand for when more is said: brown sugar, packed or unpacked."""
    said = words_of(name)
    found = [rows[0].name for words, rows in _table().items() if said and said < words]
    return tuple(dict.fromkeys(found))


@cache
def _table() -> dict[Words, tuple[Density, ...]]:
    """Every name of every food with its figures."""
    found: dict[Words, tuple[Density, ...]] = {}
    for line in HOUSEHOLD.strip().splitlines():
        number, name, measures, others = (cell.strip() for cell in line.split("|"))
        rows = tuple(_row(name, number, measure) for measure in measures.split(";"))
        for each in (name, *others.split(";")):
            if each.strip():
                found.setdefault(words_of(each), rows)
    ice = Density("ice", "ml", ICE, Source(FAO, "version 1.0"))
    return found | {words_of("ice"): (ice,)}


def _row(name: str, number: str, measure: str) -> Density:
    unit, grams = measure.split()
    how = How.READ_IN_A_COPY if unit.startswith("*") else How.FROM_MEMORY
    return Density(name, unit.removeprefix("*"), Decimal(grams), Source(USDA, f"NDB {number}", how))
