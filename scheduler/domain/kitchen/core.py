"""What a step says of the middle of what it heats."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Shape(StrEnum):
    """The shapes that have a solution of one dimension; `thickness` is across the slab, else the diameter."""

    SLAB = "slab"
    CYLINDER = "cylinder"
    SPHERE = "sphere"


class Food(StrEnum):
    """Which published reductions are asked for: they differ by the animal and by what was done to it."""

    MEAT = "meat"
    POULTRY = "poultry"
    GROUND = "ground"
    FISH = "fish"
    PLANT = "plant"


@dataclass(frozen=True, slots=True)
class Core:
    """A piece of food that starts at `start_c` throughout and is to be hot right through.

    `thickness_mm` is the thickness of a slab, the diameter of a cylinder or a sphere. `at_c` is what the middle
    is to reach; in a water bath, the bath itself. `food` None: not said, so the strictest for meat counts.
    """

    shape: Shape
    thickness_mm: float
    at_c: float
    start_c: float
    food: Food | None = None
