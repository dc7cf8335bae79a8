"""How the heat goes into a piece of food: conduction in a slab, a cylinder or a sphere, of one dimension.

Lengths are half the thickness or the radius; the Biot number is h L / k, the Fourier number alpha t / L^2, and a
position runs from 0, the middle, to 1, the surface. What is worked out is the share of the first difference of
temperature that is left: 1 at the start, 0 when all is at the temperature of the medium.
The equations stand in every textbook of heat transfer (Incropera et al., Fundamentals of Heat and Mass Transfer,
section 5.5 and 5.6; from memory); an infinite Biot number holds the surface at the temperature of the medium.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from functools import lru_cache

from scheduler.domain.kitchen.core import Shape

# Terms smaller than this no longer count.
_SMALL = 1e-13
_UNTOUCHED = 0.01
# Rounding, for a root; a dozen rounds get there.
_CLOSE = 4e-16
_ROUNDS = 200
# Below this the series and the lumped case differ by less than a part in 10^5.
_LUMPED = 1e-5


def bessel(order: int, x: float) -> float:
    """The Bessel function of the first kind, J0 or J1 or any whole order, at x >= 0.

    J_n(x) = 1/pi * integral of cos(n u - x sin u) from 0 to pi; the trapezoid rule is exact to rounding for a
    periodic integrand as soon as there are a few more points than x + n.
    """
    points = int(x + order) + 24
    inner = sum(
        math.cos(order * u - x * math.sin(u)) for u in (math.pi * k / points for k in range(1, points))
    )
    return (inner + 0.5 + 0.5 * math.cos(order * math.pi)) / points


def _sphere_0(z: float) -> float:
    return math.sin(z) / z if z else 1.0


def _sphere_1(z: float) -> float:
    return (math.sin(z) - z * math.cos(z)) / z**2 if z > 1e-3 else z / 3


# The even solution of each shape, and its fall: z * fall / even = Bi at a root, for all three.
_EVEN: dict[Shape, Callable[[float], float]] = {
    Shape.SLAB: math.cos,
    Shape.CYLINDER: lambda z: bessel(0, z),
    Shape.SPHERE: _sphere_0,
}
_FALL: dict[Shape, Callable[[float], float]] = {
    Shape.SLAB: math.sin,
    Shape.CYLINDER: lambda z: bessel(1, z),
    Shape.SPHERE: _sphere_1,
}
# Surface to volume of each shape, in units of 1/L; a root and its bracket move up by a quarter of pi for each.
_SIDES = {Shape.SLAB: 1, Shape.CYLINDER: 2, Shape.SPHERE: 3}


@lru_cache(maxsize=4096)
def root(shape: Shape, biot: float, number: int) -> float:
    """The root of that number (1 the lowest) of z tan z = Bi, z J1(z)/J0(z) = Bi or 1 - z cot z = Bi.

    ValueError where `biot` is not above 0.
    """
    if not biot > 0:
        raise ValueError("a Biot number is above 0")
    even, fall, resists = _EVEN[shape], _FALL[shape], 1 / biot
    place = number - 1 + (_SIDES[shape] - 1) / 4
    # Each root lies between a root of `fall` and the next root of `even`; an eighth of pi more is free of others.
    low = 0.0 if number == 1 else (place - (shape is not Shape.SLAB) / 8) * math.pi
    high = (place + 0.5 + 1 / 8) * math.pi
    return _zero(lambda z: even(z) - resists * z * fall(z), low, high)


def _zero(function: Callable[[float], float], low: float, high: float) -> float:
    """Where a function changes sign between two places: false position, the end that stays counted half (Illinois)."""
    at_low, at_high = function(low), function(high)
    for _ in range(_ROUNDS):
        if not at_high or abs(high - low) <= _CLOSE * abs(high):
            break
        place = high - at_high * (high - low) / (at_high - at_low)
        if place in (low, high):
            return place
        value = function(place)
        if value * at_high < 0:
            low, at_low = high, at_high
        else:
            at_low /= 2
        high, at_high = place, value
    return high


@lru_cache(maxsize=4096)
def weight(shape: Shape, biot: float, number: int) -> float:
    """How much the root of that number weighs in the series: A1 of the textbooks for the first."""
    z = root(shape, biot, number)
    even, fall = _EVEN[shape](z), _FALL[shape](z)
    match shape:
        case Shape.SLAB:
            return 4 * fall / (2 * z + math.sin(2 * z))
        case Shape.CYLINDER:
            return 2 * fall / (z * (even**2 + fall**2))
        case Shape.SPHERE:
            return 4 * z**2 * fall / (2 * z - math.sin(2 * z))


def one_term(shape: Shape, biot: float) -> tuple[float, float]:
    """Lambda1 and A1: near enough alone once the Fourier number is above 0.2 (the usual rule)."""
    return root(shape, biot, 1), weight(shape, biot, 1)


def lumped(shape: Shape, biot: float, fourier: float) -> float:
    """The share left where the piece has one temperature throughout: what a tiny Biot number comes to."""
    return math.exp(-_SIDES[shape] * biot * fourier)


def left(shape: Shape, biot: float, fourier: float, position: float = 0.0) -> float:
    """The share of the first difference that is left at a position (0 middle to 1 surface); the full series.

    The middle is untouched before a Fourier number of 0.01: what is left out is less than a part in 10^9.
    """
    if fourier <= 0 or (position == 0 and fourier < _UNTOUCHED):
        return 1.0
    if biot < _LUMPED:
        return lumped(shape, biot, fourier)
    even = _EVEN[shape]
    return math.fsum(weighs * even(z * position) for z, weighs in _terms(shape, biot, fourier))


def _terms(shape: Shape, biot: float, fourier: float) -> Iterator[tuple[float, float]]:
    number = 1
    while (fading := math.exp(-((z := root(shape, biot, number)) ** 2) * fourier)) > _SMALL:
        yield z, weight(shape, biot, number) * fading
        number += 1


def fourier_until(shape: Shape, biot: float, share: float) -> float:
    """The Fourier number at which the middle has that share left. ValueError where it is not above 0."""
    if share <= 0:
        raise ValueError("some difference is always left")
    high = 1.0
    while left(shape, biot, high) > share:
        high *= 2
    return _zero(lambda fourier: left(shape, biot, fourier) - share, 0.0, high)
