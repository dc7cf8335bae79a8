"""Conduction in slabs, cylinders and spheres, against textbooks, scipy's roots and a difference scheme."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.optimize import brentq
from scipy.special import j0, j1, jv

from scheduler.domain.kitchen.core import Shape
from scheduler.domain.kitchen.heat.conduction import (
    bessel,
    fourier_until,
    left,
    lumped,
    one_term,
    root,
    weight,
)

SLAB, CYLINDER, SPHERE = Shape

# Exact roots, laid out as Incropera table 5.1 and Cengel table 4-2 (worked out; agree with the books as remembered).
# Biot number; lambda1 and A1 of the wall, of the cylinder and of the sphere.
COEFFICIENTS = [
    (0.01, 0.0998, 1.0017, 0.1412, 1.0025, 0.1730, 1.0030),
    (0.04, 0.1987, 1.0066, 0.2814, 1.0099, 0.3450, 1.0120),
    (0.08, 0.2791, 1.0130, 0.3960, 1.0197, 0.4860, 1.0239),
    (0.2, 0.4328, 1.0311, 0.6170, 1.0483, 0.7593, 1.0592),
    (0.4, 0.5932, 1.0580, 0.8516, 1.0931, 1.0528, 1.1164),
    (0.6, 0.7051, 1.0814, 1.0184, 1.1345, 1.2644, 1.1713),
    (0.8, 0.7910, 1.1016, 1.1490, 1.1724, 1.4320, 1.2236),
    (1, 0.8603, 1.1191, 1.2558, 1.2071, 1.5708, 1.2732),
    (3, 1.1925, 1.2102, 1.7887, 1.4191, 2.2889, 1.6227),
    (5, 1.3138, 1.2402, 1.9898, 1.5029, 2.5704, 1.7870),
    (7, 1.3766, 1.2532, 2.0937, 1.5411, 2.7165, 1.8673),
    (9, 1.4149, 1.2598, 2.1566, 1.5611, 2.8044, 1.9106),
    (20, 1.4961, 1.2699, 2.2880, 1.5919, 2.9857, 1.9781),
    (40, 1.5325, 1.2723, 2.3455, 1.5993, 3.0632, 1.9942),
    (100, 1.5552, 1.2731, 2.3809, 1.6015, 3.1102, 1.9990),
]


@pytest.mark.parametrize("row", COEFFICIENTS, ids=lambda row: f"Bi {row[0]}")
def test_the_one_term_coefficients_are_the_tables(row: tuple[float, ...]) -> None:
    """OT rows: lambda1 and A1 to four decimals."""
    biot, *expected = row
    found = [value for shape in Shape for value in one_term(shape, biot)]
    assert found == pytest.approx(expected, abs=0.5e-4 + 1e-9)


def test_the_interpolated_coefficients_of_worked_examples_are_near() -> None:
    """PT-1, PT-3: Cengel 4-3 prints 3.0754 and 1.9959, Incropera 5.4 0.531 and 1.047 (read in a copy)."""
    assert one_term(SPHERE, 47.85) == pytest.approx((3.0754, 1.9959), abs=1e-3)
    assert one_term(SPHERE, 47.85) == pytest.approx((3.0760, 1.9959), abs=0.5e-4)
    assert one_term(SLAB, 0.313) == pytest.approx((0.531, 1.047), abs=2e-3)
    assert one_term(SLAB, 0.313) == pytest.approx((0.5319, 1.0468), abs=0.5e-4)


def _by_scipy(shape: Shape, biot: float, number: int) -> float:
    at = (number - 1) * math.pi
    if shape is SLAB:
        return float(brentq(lambda z: z * math.sin(z) - biot * math.cos(z), at + 1e-12, at + math.pi / 2))
    if shape is SPHERE:
        return float(brentq(lambda z: (1 - biot) * math.sin(z) - z * math.cos(z), at + 1e-6, at + math.pi))
    return float(brentq(lambda z: z * j1(z) - biot * j0(z), at + 1e-12, at + math.pi))


@pytest.mark.parametrize("shape", Shape)
@pytest.mark.parametrize("biot", [0.003, 0.1, 0.9, 1.0, 1.1, 7.5, 300.0])
def test_the_roots_are_scipy_s(shape: Shape, biot: float) -> None:
    """The first twelve roots agree with scipy's solver on the textbook's equations."""
    found = [root(shape, biot, number) for number in range(1, 13)]
    assert found == pytest.approx([_by_scipy(shape, biot, number) for number in range(1, 13)], rel=1e-9)


@pytest.mark.parametrize("order", [0, 1, 2])
def test_the_bessel_functions_are_scipy_s(order: int) -> None:
    """J0, J1 and J2 from 0 to 200 within 1e-12 of scipy."""
    for x in np.linspace(0, 200, 401):
        assert bessel(order, float(x)) == pytest.approx(float(jv(order, x)), abs=1e-12)


@pytest.mark.parametrize(
    ("shape", "firsts"),
    [
        (SLAB, (math.pi / 2, 4 / math.pi)),
        (CYLINDER, (2.404826, 2 / (2.404826 * 0.519147))),
        (SPHERE, (math.pi, 2.0)),
    ],
)
def test_a_surface_at_the_temperature_of_the_medium_is_the_limit(
    shape: Shape, firsts: tuple[float, float]
) -> None:
    """An endless Biot number gives the well-known roots of the shapes, and what a huge one comes to."""
    assert one_term(shape, math.inf) == pytest.approx(firsts, rel=1e-5)
    assert left(shape, math.inf, 0.3) == pytest.approx(left(shape, 1e7, 0.3), rel=1e-5)
    assert left(shape, math.inf, 0.3, 1.0) == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize("shape", Shape)
def test_a_tiny_biot_number_is_the_lumped_case(shape: Shape) -> None:
    """With no difference inside, the series and the exponential agree on both sides of the change."""
    for biot in (0.9e-5, 1.1e-5, 1e-4):
        assert left(shape, biot, 1 / biot) == pytest.approx(lumped(shape, biot, 1 / biot), rel=1e-3)


def test_a_biot_number_of_nothing_is_refused() -> None:
    """A surface through which nothing passes has no roots to give."""
    with pytest.raises(ValueError, match="Biot"):
        root(SLAB, 0.0, 1)


def _by_differences(shape: Shape, biot: float, fourier: float, cells: int = 120) -> np.ndarray:
    """The heat equation by finite volumes and scipy: the share left in cells from the middle out."""
    power = list(Shape).index(shape)
    edges = np.linspace(0, 1, cells + 1)
    volumes = (edges[1:] ** (power + 1) - edges[:-1] ** (power + 1)) / (power + 1)
    width = 1 / cells
    outer = 1 / (1 / biot + width / 2)

    def rate(_: float, share: np.ndarray) -> np.ndarray:
        inner = edges[1:-1] ** power * np.diff(share) / width
        flux = np.concatenate([[0.0], inner, [-outer * share[-1]]])
        return np.diff(flux) / volumes

    solved = solve_ivp(rate, (0, fourier), np.ones(cells), method="LSODA", rtol=1e-7, atol=1e-9)
    return np.asarray(solved.y[:, -1])


@pytest.mark.parametrize("shape", Shape)
@pytest.mark.parametrize(("biot", "fourier"), [(0.5, 0.05), (0.5, 1.0), (5.0, 0.15), (60.0, 0.05)])
def test_the_series_agrees_with_a_difference_scheme(shape: Shape, biot: float, fourier: float) -> None:
    """Middle, half way and surface agree with the heat equation integrated by scipy."""
    cells = _by_differences(shape, biot, fourier)
    for cell in (0, 60, 119):
        position = (cell + 0.5) / 120
        assert left(shape, biot, fourier, position) == pytest.approx(cells[cell], abs=2e-3)


@pytest.mark.parametrize("shape", Shape)
@pytest.mark.parametrize("fourier", [5e-4, 0.005])
def test_the_series_has_terms_enough_for_a_short_time(shape: Shape, fourier: float) -> None:
    """Just begun, the middle is untouched and the surface follows the solution for a body without end."""
    x = 2.0 * math.sqrt(fourier)
    endless = math.exp(x**2) * math.erfc(x)
    assert left(shape, 2.0, fourier, 1e-9) == pytest.approx(1, abs=1e-6)
    assert left(shape, 2.0, fourier, 1.0) == pytest.approx(endless, abs=0.02)


def test_an_egg_takes_as_long_as_in_the_textbook() -> None:
    """CX-1: Cengel 4-3, 14.4 min to 70 C (read in a copy); the full series gives 70.14 C then (worked out)."""
    biot, alpha, radius = 1200 * 0.025 / 0.627, 0.151e-6, 0.025
    share = (70 - 95) / (5 - 95)
    alone = math.log(weight(SPHERE, biot, 1) / share) / root(SPHERE, biot, 1) ** 2
    assert alone == pytest.approx(0.2085, abs=2e-4)
    assert alone * radius**2 / alpha / 60 == pytest.approx(14.4, abs=0.1)
    assert fourier_until(SPHERE, biot, share) * radius**2 / alpha / 60 == pytest.approx(14.4, abs=0.1)
    assert 95 - 90 * left(SPHERE, biot, alpha * 14.4 * 60 / radius**2) == pytest.approx(70.14, abs=0.02)


def test_a_hot_shaft_cools_as_in_the_textbook() -> None:
    """CX-3: Cengel 4-5, chart 360 C (read in a copy); one term is 364.3 C (worked out)."""
    share = left(CYLINDER, 80 * 0.1 / 14.9, 3.95e-6 * 45 * 60 / 0.1**2)
    assert 200 + 400 * share == pytest.approx(360, abs=5)
    assert 200 + 400 * share == pytest.approx(364.3, abs=0.1)


def test_a_steak_keeps_its_surface_warm_enough_as_in_the_textbook() -> None:
    """CX-5: Cengel 4-11, surface 2 C with the middle at 8 C needs h under 20 W/(m2 K) by chart (read in a copy)."""
    first = math.acos((2 + 15) / (8 + 15))
    transfer = first * math.tan(first) * 0.45 / 0.015
    assert transfer == pytest.approx(20, abs=1)
    biot = transfer * 0.015 / 0.45
    begun = fourier_until(SLAB, biot, (8 + 15) / (25 + 15))
    assert -15 + 40 * left(SLAB, biot, begun, 1.0) == pytest.approx(2, abs=0.05)


def test_a_sphere_cools_in_two_steps_as_in_the_textbook() -> None:
    """CX-7: Incropera 5.5, 94 s in air and 3.1 s in water (read in a copy); exact 2.98 s, Fo 0.794 (worked out)."""
    biot = 10 * 0.005 / 20
    in_air = math.log((400 - 20) / (335 - 20)) * 3000 * 1000 * 0.005 / (3 * 10)
    assert in_air == pytest.approx(94, abs=0.5)
    assert lumped(SPHERE, biot, 6.66e-6 * in_air / 0.005**2) == pytest.approx(315 / 380, abs=1e-3)
    in_water = fourier_until(SPHERE, 6000 * 0.005 / 20, (50 - 20) / (335 - 20))
    assert in_water == pytest.approx(0.794, abs=1e-3)
    assert in_water * 0.005**2 / 6.66e-6 == pytest.approx(2.98, abs=0.01)
    assert in_water * 0.005**2 / 6.66e-6 == pytest.approx(3.1, abs=0.2)


def test_a_can_of_puree_warms_as_in_the_textbook() -> None:
    """CX-9: Geankoplis 5.3-3, chart 104.4 C after 0.75 h (read in a copy); exact 106.1 C (worked out)."""
    radius = 0.0681 / 2
    share = left(CYLINDER, 4540 * radius / 0.83, 2.007e-7 * 2700 / radius**2)
    assert 115.6 - (115.6 - 29.4) * share == pytest.approx(104.4, abs=2)
    assert 115.6 - (115.6 - 29.4) * share == pytest.approx(106.1, abs=0.1)


def test_a_steel_ball_cools_as_in_the_textbook() -> None:
    """CX-11: Geankoplis 5.2-1, 474.6 K after an hour, the lumped case (read in a copy)."""
    radius, alpha = 0.0254, 43.3 / (7849 * 460.6)
    biot, fourier = 11.36 * radius / 43.3, alpha * 3600 / radius**2
    assert biot / 3 == pytest.approx(0.0022, abs=1e-4)
    assert 394.3 + (699.9 - 394.3) * lumped(SPHERE, biot, fourier) == pytest.approx(474.6, abs=0.2)
    assert 394.3 + (699.9 - 394.3) * left(SPHERE, biot, fourier) == pytest.approx(474.6, abs=0.7)


def test_the_egg_formula_is_the_first_term_at_the_edge_of_the_yolk() -> None:
    """CX-13: Williams 1998, 67 g from 20 C, yolk 70 C, 100 C: 315.2 s (worked out); the constants from memory."""
    density, heat, conductivity = 1.038, 3.7, 5.4e-3
    radius_cm = (67 / density / (4 / 3 * math.pi)) ** (1 / 3)
    # The formula's 0.76 is A1 sin(pi x)/(pi x) at the edge of the yolk, with the surface at 100 C.
    edge = float(
        brentq(lambda x: weight(SPHERE, math.inf, 1) * math.sin(math.pi * x) / (math.pi * x) - 0.76, 0.1, 1)
    )
    fourier = conductivity / (density * heat) * 315.2 / radius_cm**2
    first = 0.76 * math.exp(-(math.pi**2) * fourier)
    assert 100 - 80 * first == pytest.approx(70, abs=0.05)
    assert left(SPHERE, math.inf, fourier, edge) == pytest.approx(first, abs=0.03)


@pytest.mark.parametrize(("shape", "minutes"), [(SLAB, 23.4), (SPHERE, 6.4)])
def test_a_core_comes_within_half_a_degree_of_its_bath_as_worked_out(shape: Shape, minutes: float) -> None:
    """CX-Iw, CX-Is: 20 mm, 5 to 54.5 C at 55 C, surface at the bath, 1.4e-7 m2/s: 23.4 and 6.4 min (worked out)."""
    fourier = fourier_until(shape, math.inf, 0.5 / 50)
    assert fourier * 0.01**2 / 1.4e-7 / 60 == pytest.approx(minutes, abs=0.1)


@settings(max_examples=30, deadline=None)
@given(st.sampled_from(Shape), st.floats(0.02, 50), st.floats(0.02, 3), st.floats(1.05, 3))
def test_a_piece_only_ever_warms_and_sooner_outside(
    shape: Shape, biot: float, fourier: float, more: float
) -> None:
    """What is left shrinks with time, and is less at the surface than in the middle."""
    now = left(shape, biot, fourier)
    assert left(shape, biot, fourier * more) < now <= 1 + 1e-9
    assert left(shape, biot, fourier, 1.0) < now


@settings(max_examples=30, deadline=None)
@given(st.sampled_from(Shape), st.floats(0.05, 50), st.floats(0.01, 0.95))
def test_the_time_until_a_share_is_left_comes_back_to_the_share(
    shape: Shape, biot: float, share: float
) -> None:
    """`fourier_until` is `left` turned round."""
    assert left(shape, biot, fourier_until(shape, biot, share)) == pytest.approx(share, rel=1e-6)


def test_no_difference_at_all_is_never_left() -> None:
    """The last of a difference never goes, and asking for it is refused."""
    with pytest.raises(ValueError, match="always left"):
        fourier_until(SLAB, 1.0, 0.0)
