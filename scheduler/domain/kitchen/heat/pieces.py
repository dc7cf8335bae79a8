"""A piece of food as heat meets it: its shape, its sides, and how fast warmth spreads in it.

The published tables of pasteurising times for meat come out of a diffusivity of 1.11e-7 m2/s, 95 W/(m2 K) and a
conductivity near 0.48 W/(m K): with these the pieces up to 25 mm are an endless slab, and the thicker ones heat like a
box of 2 : 3 : 5 (Baldwin, A Practical Guide; the figures from memory, found again from his tables). No box is counted
on here. A slab is taken as an endless bar at least twice as wide as it is thick and never less than 10 cm wide
(poultry 6 cm): heat comes in from two more sides, and less of it than in the tables. `width_mm` None leaves
that out, which is the longest a slab can take.
"""

from __future__ import annotations

from dataclasses import dataclass

from scheduler.domain.kitchen.core import Core, Food, Shape
from scheduler.domain.kitchen.heat import conduction
from scheduler.domain.kitchen.heat.published.diffusivity import PLAUSIBLE

# The lowest of the range used for meat in water baths, 1.11e-7 to 1.4e-7 (Baldwin, from memory).
MEAT_M2_S = 1.11e-7
# Lower than cod (1.22e-7) and halibut (1.47e-7) of the handbook (Baldwin, from memory).
FISH_M2_S = 0.995e-7
# The lowest plant of the handbook's table, banana (read in a copy).
PLANT_M2_S = 1.18e-7

# With the diffusivity above, what the tables for meat come out of (worked out); meat is 0.45 to 0.51 (from memory).
CONDUCTIVITY_W_MK = 0.48

_WIDTHS_MM = {Food.POULTRY: 60.0}
_WIDTH_MM = 100.0
_TIMES_AS_WIDE = 2.0


@dataclass(frozen=True, slots=True)
class Piece:
    """`half_mm` is half a slab's thickness or a radius. ValueError for a diffusivity that no food has."""

    shape: Shape
    half_mm: float
    width_mm: float | None
    alpha_m2_s: float
    conductivity_w_mk: float = CONDUCTIVITY_W_MK

    def __post_init__(self) -> None:
        if not PLAUSIBLE[0] <= self.alpha_m2_s <= PLAUSIBLE[1]:
            raise ValueError(f"no food has a diffusivity of {self.alpha_m2_s:g} m2/s")
        if self.half_mm <= 0:
            raise ValueError("a piece is thicker than nothing")

    def left(self, transfer_w_m2k: float, seconds: float) -> float:
        """The share of the first difference of temperature left in the middle: 1 at the start, towards 0."""
        share = self._across(self.shape, self.half_mm, transfer_w_m2k, seconds)
        if self.width_mm is None:
            return share
        return share * self._across(Shape.SLAB, self.width_mm / 2, transfer_w_m2k, seconds)

    def settles_s(self, transfer_w_m2k: float) -> float:
        """The time constant, in seconds: in so long the difference shrinks to 1/e once warmth is on its way."""
        first, _ = conduction.one_term(self.shape, self._biot(self.half_mm, transfer_w_m2k))
        return (self.half_mm / 1000 / first) ** 2 / self.alpha_m2_s

    def _across(self, shape: Shape, half_mm: float, transfer_w_m2k: float, seconds: float) -> float:
        fourier = self.alpha_m2_s * seconds / (half_mm / 1000) ** 2
        return conduction.left(shape, self._biot(half_mm, transfer_w_m2k), fourier)

    def _biot(self, half_mm: float, transfer_w_m2k: float) -> float:
        return transfer_w_m2k * half_mm / 1000 / self.conductivity_w_mk


def diffusivity_m2_s(food: Food | None) -> float:
    """What is counted for a kind of food: at the low end of what was measured."""
    return {Food.FISH: FISH_M2_S, Food.PLANT: PLANT_M2_S}.get(food or Food.MEAT, MEAT_M2_S)


def width_mm(core: Core) -> float | None:
    """How wide a slab is taken to be; None for the other shapes, and for plants, for which there is no table."""
    if core.shape is not Shape.SLAB or core.food is Food.PLANT:
        return None
    return max(_WIDTHS_MM.get(core.food or Food.MEAT, _WIDTH_MM), _TIMES_AS_WIDE * core.thickness_mm)


def piece_of(core: Core, endless: bool = False) -> Piece:
    """The piece a step speaks of; `endless` takes a slab without its sides."""
    width = None if endless else width_mm(core)
    return Piece(core.shape, core.thickness_mm / 2, width, diffusivity_m2_s(core.food))
