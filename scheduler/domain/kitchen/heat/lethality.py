"""How much the heat has killed: D, z, and the sum of both along a curve of temperatures.

D is the time at a temperature that leaves one in ten alive; z how many degrees hotter it takes for a tenth of that
time. L = 10^((T - Tref)/z) weighs each moment; F, its integral, is the time at Tref that would do the same
(General Method, Bigelow 1920 and Ball 1923, from memory; read in Geankoplis, 3rd ed., section 9.12).

One rule integrates everywhere: between two points the temperature is a straight line, and L is integrated along it
exactly. On the textbook's own curve (Geankoplis, example 9.12-2) this gives 2.385 min where a cubic through L gives
2.48 and the book says 2.5, against 2.45 that are needed: the verdict turns on the rule, and this is the cautious one.
A curve that was worked out is first laid on the safe side (`on_the_safe_side`), so that the straight lines
never run above it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

Point = tuple[float, float]
"""A time, in minutes unless said otherwise, and a temperature in degrees Celsius."""


@dataclass(frozen=True, slots=True)
class Kills:
    """`d_min` minutes at `at_c` leave one in ten alive; `z_c` degrees hotter, a tenth of that time does."""

    at_c: float
    d_min: float
    z_c: float

    def d_at(self, temperature_c: float) -> float:
        """D in minutes at another temperature."""
        return self.d_min * 10 ** ((self.at_c - temperature_c) / self.z_c)

    def part(self, first: Point, second: Point) -> float:
        """The log10 reduction along one straight line of (minutes, degrees Celsius)."""
        return spent(first, second, self.at_c, self.z_c) / self.d_min


def fitted(points: Sequence[Point]) -> Kills:
    """The straight line through log10 D, least squares, of points (degrees Celsius, D in minutes).

    ValueError for fewer than two temperatures.
    """
    if len({at for at, _ in points}) < 2:
        raise ValueError("a line needs two temperatures")
    mean = sum(at for at, _ in points) / len(points)
    level = sum(math.log10(d) for _, d in points) / len(points)
    slope = sum((at - mean) * math.log10(d) for at, d in points) / sum((at - mean) ** 2 for at, _ in points)
    return Kills(mean, 10**level, -1 / slope)


def equivalent(curve: Sequence[Point], reference_c: float, z_c: float) -> float:
    """F, in the unit of time of the curve; a jump is two points at one time. Nothing for fewer than two points."""
    return math.fsum(spent(first, second, reference_c, z_c) for first, second in pairwise(curve))


def spent(first: Point, second: Point, reference_c: float, z_c: float) -> float:
    """F along one straight line."""
    per_degree = math.log(10) / z_c
    middle = ((first[1] + second[1]) / 2 - reference_c) * per_degree
    half = (second[1] - first[1]) / 2 * per_degree
    return (second[0] - first[0]) * math.exp(middle) * (math.sinh(half) / half if abs(half) > 1e-6 else 1.0)


def reduced(curve: Sequence[Point], kills: Kills) -> float:
    """The log10 reduction along a curve: F over D."""
    return equivalent(curve, kills.at_c, kills.z_c) / kills.d_min


def on_the_safe_side(rising: Sequence[Point]) -> tuple[Point, ...]:
    """Points of a rising curve, as steps at the lower value wherever a straight line could run above the curve.

    The middle of a piece warms faster and faster, then slower and slower, with one turn. Where the two lines
    before already grow less steep the turn lies behind, and from there on a straight line runs below the curve.
    """
    return tuple(_lower(rising))


def _lower(rising: Sequence[Point]) -> Iterator[Point]:
    turned = turns_at(rising)
    for place, point in enumerate(rising):
        if 0 < place <= turned:
            yield point[0], rising[place - 1][1]
        yield point


def turns_at(rising: Sequence[Point]) -> int:
    """The first line, counted from 0, that lies wholly behind the turn; their number where none does."""
    steep = [(b[1] - a[1]) / (b[0] - a[0]) for a, b in pairwise(rising)]
    return next((line for line in range(2, len(steep)) if steep[line - 2] > steep[line - 1]), len(steep))
