"""Salt in water: density, grams per litre and degrees Salometer of a brine, and its strength from those.

Percents here are by weight of the whole brine (w/w, the salt counted in). Densities in kilograms per cubic metre,
which are grams per litre.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Sequence
from decimal import ROUND_UP, Decimal

from scheduler.domain.kitchen.amounts import plain
from scheduler.domain.kitchen.sources import How, Source

TABLE = Source("Poradnik fizykochemiczny (1974), aqueous NaCl", "table NaCl", How.READ)

# The table above, read, but for 0 % (pure water, from memory) and 5 % (CRC Handbook at 20 C, read in a copy). Lines
# between rows 2 % apart are off by about 0.01 % (worked out against the rows between).
PERCENTS = (0, 1, 2, 4, 5, 6, 8, 10, 12, 14, 16, 18, 20, 22, 24, 26)
AT_20_C = (
    "998.2", "1005.3", "1012.2", "1026.8", "1034.0", "1041.3", "1055.9", "1070.7", "1085.7", "1100.9", "1116.2",
    "1131.9", "1147.8", "1164.0", "1180.4", "1197.2",
)  # fmt: skip
AT_15_C = (
    "999.1", "1007.1", "1014.4", "1029.2", "1036.6", "1044.1", "1059.1", "1074.2", "1089.5", "1104.9", "1120.6",
    "1136.4", "1152.5", "1168.9", "1185.6", "1202.5",
)  # fmt: skip
"""5 % at 15 C is the middle of its neighbours: no source has it."""

DENSITIES_KG_M3: dict[int, tuple[Decimal, ...]] = {
    20: tuple(Decimal(row) for row in AT_20_C),
    15: tuple(Decimal(row) for row in AT_15_C),
}
"""By temperature in degrees Celsius, one for each of PERCENTS."""

STRONGEST_PERCENT = Decimal(26)
"""No brine stronger than this is made: cold water takes no more (the table ends here; saturated at 26.395 %)."""

_ROUNDING = Decimal("1e-9")
"""A strength that was worked out from weights may be off by that."""

SATURATED_PERCENT = Decimal("26.395")
"""100 degrees Salometer, at 60 degrees Fahrenheit (definition; read)."""

SALOMETER = Source("The Salometer and how to use it", "definition of degrees Salometer at 60 F", How.READ)


class TooStrong(ValueError):
    """More salt than water takes up; the text says so."""


def water_g(millilitres: Decimal) -> Decimal:
    """Grams of so much water: a gram a millilitre, which at 20 C is a fifth of a percent too much, never too little."""
    return millilitres


def density_kg_m3(percent: Decimal, at_c: int = 20) -> Decimal:
    """The density of a brine; `at_c` is 20 or 15 degrees Celsius. TooStrong above 26 %, ValueError below nothing."""
    rows = DENSITIES_KG_M3[at_c]
    return _between(_possible(percent), [Decimal(row) for row in PERCENTS], rows)


def percent_from_density(kg_m3: Decimal, at_c: int = 20) -> Decimal:
    """The strength of a brine of that density at 20 or 15 degrees Celsius.

    TooStrong for one denser than a brine of 26 %, ValueError for one lighter than water.
    """
    rows = DENSITIES_KG_M3[at_c]
    if kg_m3 > rows[-1]:
        raise TooStrong(_too_strong(f"a density of {kg_m3} kg/m3"))
    if kg_m3 < rows[0]:
        raise ValueError(f"{kg_m3} kg/m3 is lighter than water")
    return _between(kg_m3, rows, [Decimal(row) for row in PERCENTS])


def percent_from_specific_gravity(gravity: Decimal, at_c: int = 20) -> Decimal:
    """The strength of a brine whose density is `gravity` times that of water at the same temperature (20 or 15 C)."""
    return percent_from_density(gravity * DENSITIES_KG_M3[at_c][0], at_c)


def specific_gravity(percent: Decimal, at_c: int = 20) -> Decimal:
    """How many times as dense as water at the same temperature (20 or 15 C) the brine is."""
    return density_kg_m3(percent, at_c) / DENSITIES_KG_M3[at_c][0]


def grams_per_litre(percent: Decimal, at_c: int = 20) -> Decimal:
    """Grams of salt in a litre of finished brine."""
    return percent * density_kg_m3(percent, at_c) / 100


def percent_from_grams_per_litre(grams: Decimal, at_c: int = 20) -> Decimal:
    """The strength of a brine that holds so many grams of salt in a finished litre (not in a litre of water)."""
    if grams > grams_per_litre(STRONGEST_PERCENT, at_c):
        raise TooStrong(_too_strong(f"{grams} g in a litre"))
    if grams < 0:
        raise ValueError("a brine has no less than no salt")
    return _where(lambda percent: grams_per_litre(percent, at_c), grams)


def salometer_degrees(percent: Decimal) -> Decimal:
    """Degrees Salometer: 0 is water, 100 as much salt as water takes up at 60 degrees Fahrenheit."""
    return _possible(percent) * 100 / SATURATED_PERCENT


def percent_from_salometer(degrees: Decimal) -> Decimal:
    """The strength of a brine by its degrees Salometer. TooStrong above 26 %."""
    return _possible(degrees * SATURATED_PERCENT / 100)


def _possible(percent: Decimal) -> Decimal:
    if percent < 0:
        raise ValueError("a brine has no less than no salt")
    if percent > STRONGEST_PERCENT + _ROUNDING:
        raise TooStrong(_too_strong(f"{plain(percent.quantize(Decimal('0.01'), rounding=ROUND_UP))} %"))
    return min(percent, STRONGEST_PERCENT)


def _too_strong(what: str) -> str:
    return f"{what} is more salt than cold water takes up: a brine has at most {STRONGEST_PERCENT} %"


def _between(at: Decimal, places: Sequence[Decimal], values: Sequence[Decimal]) -> Decimal:
    """On the straight line between the two rows around `at`."""
    right = max(1, bisect_left(places, at))
    low, high = places[right - 1], places[right]
    return values[right - 1] + (values[right] - values[right - 1]) * (at - low) / (high - low)


def _where(grows: Callable[[Decimal], Decimal], reaches: Decimal) -> Decimal:
    """The strength at which what grows with it reaches a value, to a hundred millionth of a percent."""
    low, high = Decimal(0), STRONGEST_PERCENT
    while high - low > Decimal("1e-8"):
        middle = (low + high) / 2
        low, high = (middle, high) if grows(middle) < reaches else (low, middle)
    return (low + high) / 2
