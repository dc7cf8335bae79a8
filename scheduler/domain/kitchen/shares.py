"""A percent of salt, in the three ways of counting it, each with the salt left out of the whole or counted in.

"2.5 % salt" by itself means nothing: of the vegetables, of the water, and of both together are different weights
of salt, and so is each of them counted of a whole that has the salt in it. All sums are Decimal and nothing is
rounded; rounding is for telling.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal
from enum import StrEnum

from scheduler.domain.kitchen.amounts import as_weighed

HUNDRED = Decimal(100)
NOTHING = Decimal(0)


class Convention(StrEnum):
    """What a percent of salt is a percent of, by weight."""

    OF_PRODUCE = "produce"
    OF_WATER = "water"
    EQUILIBRIUM = "both"

    @property
    def told(self) -> str:
        """What it is a percent of, to stand after "2.5 % of"."""
        return _TOLD[self]


_TOLD: Mapping[Convention, str] = {
    Convention.OF_PRODUCE: "the produce's weight",
    Convention.OF_WATER: "the water's weight",
    Convention.EQUILIBRIUM: "produce and water together",
}


@dataclass(frozen=True, slots=True)
class Way:
    """A way of counting: a convention, and whether the salt itself counts in what it is a percent of (w/w)."""

    convention: Convention
    salt_included: bool = False

    def __str__(self) -> str:
        """ "the water's weight", "the water's weight with the salt counted in"."""
        return f"{self.convention.told}{' with the salt counted in' if self.salt_included else ''}"


WAYS = tuple(Way(convention, included) for convention in Convention for included in (False, True))
"""All six."""


@dataclass(frozen=True, slots=True)
class Packed:
    """What a percent is counted of: grams of vegetables and of the water added to them, salt not counted."""

    produce_g: Decimal = NOTHING
    water_g: Decimal = NOTHING

    def __post_init__(self) -> None:
        if self.produce_g < 0 or self.water_g < 0:
            raise ValueError("a weight is not below nothing")

    def base_g(self, convention: Convention) -> Decimal:
        """Grams of what a convention counts by; nothing where there is none of it."""
        match convention:
            case Convention.OF_PRODUCE:
                return self.produce_g
            case Convention.OF_WATER:
                return self.water_g
        return self.produce_g + self.water_g


def salt_g(percent: Decimal, way: Way, packed: Packed) -> Decimal:
    """Grams of salt that come to `percent` in that way of counting.

    ValueError where there is nothing to count by, for a percent below nothing, or, with the salt counted in, for
    100 % and more.
    """
    base = _base_g(way, packed)
    if percent < 0:
        raise ValueError("a percent is not below nothing")
    if not way.salt_included:
        return base * percent / HUNDRED
    if percent >= HUNDRED:
        raise ValueError("salt that is counted in is less than all of it")
    return base * percent / (HUNDRED - percent)


def percent(salt: Decimal, way: Way, packed: Packed) -> Decimal:
    """The percent that `salt` grams come to in that way of counting; ValueError where there is nothing to count by."""
    if salt < 0:
        raise ValueError("a weight is not below nothing")
    base = _base_g(way, packed)
    return salt * HUNDRED / (base + salt if way.salt_included else base)


def percents(salt: Decimal, packed: Packed) -> dict[Way, Decimal]:
    """The percent in every way of counting that there is anything to count by for."""
    return {way: percent(salt, way, packed) for way in WAYS if packed.base_g(way.convention)}


def water_phase_percent(salt: Decimal, packed: Packed, water_in_produce: Decimal) -> Decimal:
    """The salt once it is spread evenly through all the water, the produce's own included, in percent by weight (w/w)
    of that brine.

    `water_in_produce` is the share of the produce that is water, 0 to 1: 0.96 for cucumbers.
    """
    if not 0 <= water_in_produce <= 1:
        raise ValueError("a share of water lies between 0 and 1")
    water = packed.water_g + packed.produce_g * water_in_produce
    return percent(salt, Way(Convention.OF_WATER, salt_included=True), Packed(water_g=water))


def to_weigh(grams: Decimal, least: Decimal = NOTHING) -> Decimal:
    """Grams as a kitchen scale shows them, and never fewer than `least` where `grams` are no fewer."""
    shown = as_weighed(grams)
    if shown >= least or grams < least:
        return shown
    step = Decimal(1).scaleb(int(shown.as_tuple().exponent))
    return grams.quantize(step, rounding=ROUND_CEILING)


def _base_g(way: Way, packed: Packed) -> Decimal:
    base = packed.base_g(way.convention)
    if not base:
        raise ValueError(f"there is nothing to count by: no weight of {way.convention.told}")
    return base
