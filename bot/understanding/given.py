"""A weight or a volume in a cook's words: found and read in one place."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal

from scheduler import units
from scheduler.domain.kitchen.amounts import UNITS, Amount
from scheduler.domain.kitchen.weighing import weight_of

UNIT = "|".join(re.escape(unit) for unit in sorted((*UNITS, *units.OTHERS), key=len, reverse=True))
FIGURE = r"\d{1,7}(?:[.,]\d{1,3})?"
GIVEN = re.compile(
    rf"(?P<figure>{FIGURE})\s*(?P<unit>{UNIT})\b(?: of)?(?: the)? ?(?P<of>[a-z ]*)", re.IGNORECASE
)


@dataclass(frozen=True, slots=True)
class Given:
    """So much of something that a cook named: `name` is what follows it, `start` where it stands."""

    quantity: Decimal
    unit: str
    name: str
    start: int

    @property
    def amount(self) -> Amount:
        return Amount(self.name, self.quantity, self.unit)

    @property
    def grams(self) -> Decimal | None:
        """Its weight, also of a volume whose density is known."""
        return weight_of(self.amount)


def given_in(words: str) -> Given | None:
    """The first weight or volume that is named."""
    found = GIVEN.search(words)
    if found is None:
        return None
    return Given(*measured(found["figure"], found["unit"]), found["of"].strip(), found.start())


def measured(figure: str, unit: str) -> tuple[Decimal, str]:
    """A quantity in a unit of the domain's tables; "1,5" is one and a half. KeyError for a unit that is none."""
    number, written = Decimal(figure.replace(",", ".")), unit.casefold()
    known = UNITS.get(written)
    return (number, known) if known is not None else units.in_metric(number, units.OTHERS[written])
