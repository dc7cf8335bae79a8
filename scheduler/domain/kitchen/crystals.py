"""Salt by volume: what a spoon of it weighs turns on the shape of its crystals, so it is never turned into a weight
unless the crystal is named, and then with a figure of that crystal.

The sources conflict. Table salt: 292 g a cup (USDA) against 304 g (a home measurement). Canning salt: 220 g a cup
(University of Wisconsin Extension), though it is as fine as table salt. The lower figure is taken in each, because
too little salt is what spoils a ferment; the range that is told spans all of them. The USDA has no entry for coarse
or flaked salt.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from scheduler.domain.kitchen.amounts import MILLILITRES_PER
from scheduler.domain.kitchen.densities import Density, density_of, words_of
from scheduler.domain.kitchen.sources import How, Source

HOME = Source("a home measurement of crystal types, 2012", "", How.READ_IN_A_COPY)
"""Quarter cups of salt weighed, good to 10 %."""

WISCONSIN = Source("University of Wisconsin Extension, 2013, as quoted", "", How.READ_IN_A_COPY)


@dataclass(frozen=True, slots=True)
class Crystal:
    """A shape of salt, and what a cup of it weighs, loosely filled. `words`: any one set of them names it."""

    name: str
    words: tuple[frozenset[str], ...]
    grams_a_cup: Decimal
    source: Source

    def density(self, unit: str = "") -> Density:
        """As for any food; table salt by the USDA's own figure for that measure, which is the lower."""
        own = density_of("table salt", unit) if self.name == TABLE else None
        return own or Density(f"{self.name} salt", "cup", self.grams_a_cup, self.source)


TABLE = "table"


def _any(*names: str) -> tuple[frozenset[str], ...]:
    return tuple(frozenset(name.split()) for name in names)


CRYSTALS = (
    Crystal(TABLE, _any("table", "iodised", "iodized"), Decimal("76.0") * 4, HOME),
    Crystal("canning", _any("canning", "pickling"), Decimal(220), WISCONSIN),
    Crystal("coarse sea", _any("coarse sea"), Decimal("66.8") * 4, HOME),
    Crystal("pressed coarse", _any("pressed coarse"), Decimal("62.0") * 4, HOME),
    Crystal(
        "large flake",
        _any("large flake", "large flake sea", "flake sea", "flake", "flaked", "flaky"),
        Decimal("33.2") * 4,
        HOME,
    ),
)

LIGHTEST, HEAVIEST = (pick(crystal.grams_a_cup for crystal in CRYSTALS) for pick in (min, max))
"""Grams of a cup of large flakes, and of table salt by the home measurement."""

KINDS = frozenset(
    {
        "sea",
        "fine",
        "coarse",
        "rock",
        "kosher",
        "flake",
        "flaked",
        "flaky",
        "table",
        "canning",
        "pickling",
        "iodised",
        "iodized",
    }
    | {"pressed", "large", "grey", "gray", "pure", "plain", "crystal", "medium", "brine", "bath", "topping"}
)
"""Words beside "salt" that leave it salt; salt cod, celery salt and curing salt are other things."""


def is_salt(name: str) -> bool:
    """Whether a name means salt, of whatever crystal."""
    said = words_of(name)
    return "salt" in said and said - {"salt"} <= KINDS


def crystal_of(name: str) -> Crystal | None:
    """The crystal that a name names, if it names one."""
    said = words_of(name) - {"salt", "crystal"}
    plain = said - {"fine", "pure", "plain"}
    return next((each for each in CRYSTALS if any(plain == words for words in each.words)), None)


def salt_span(millilitres: Decimal) -> tuple[Decimal, Decimal]:
    """The grams that so many millilitres of salt may weigh, lightest crystal to heaviest."""
    cups = millilitres / MILLILITRES_PER["cup"]
    return LIGHTEST * cups, HEAVIEST * cups
