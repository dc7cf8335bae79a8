"""D, z and the sum along a curve, against published and worked examples."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.interpolate import CubicSpline

from scheduler.domain.kitchen.heat.lethality import (
    Kills,
    Point,
    equivalent,
    fitted,
    on_the_safe_side,
    reduced,
    turns_at,
)
from scheduler.domain.kitchen.heat.reductions import (
    KILLS,
    MEAT_E_COLI,
    MEAT_LISTERIA,
    MEAT_SALMONELLA,
    POULTRY_LISTERIA,
    POULTRY_SALMONELLA,
)
from tests.reference_heat import MEASURED, Measured

TEXTBOOK_CURVE = [(0, 80), (15, 165), (25, 201), (30, 212.5), (40, 225), (50, 230.5), (64, 235)]
"""Minutes and degrees Fahrenheit (Geankoplis, 3rd ed., example 9.12-2; read through a code companion)."""


def test_stepped_temperatures_sum_as_the_textbook_says() -> None:
    """LE-1: 20 min at 160 F, 20 at 210 F and 33 at 230 F are 2.68 min at 250 F (Geankoplis, 9.12-1; read in a copy)."""
    steps = [(0, 160), (20, 160), (20, 210), (40, 210), (40, 230), (73, 230)]
    assert equivalent(steps, 250, 18) == pytest.approx(2.68, abs=0.01)


def test_the_rule_is_the_cautious_one_of_the_textbook_s_curve() -> None:
    """LE-3d, LE-3b: straight lines give 2.385 min, a cubic 2.48 (worked out); the book needs 2.45."""
    straight = equivalent(TEXTBOOK_CURVE, 250, 18)
    minutes = [at for at, _ in TEXTBOOK_CURVE]
    cubic = CubicSpline(minutes, [10 ** ((degrees - 250) / 18) for _, degrees in TEXTBOOK_CURVE])
    assert straight == pytest.approx(2.385, abs=0.002)
    assert float(cubic.integrate(0, 64)) == pytest.approx(2.48, abs=0.002)
    assert straight < 2.45


def test_the_rule_stays_near_the_textbook_s_own_figure() -> None:
    """LE-3: the book says 2.5 min with a tolerance; ours is less, and no more than 5 % less (read in a copy)."""
    assert 0.95 * 2.5 < equivalent(TEXTBOOK_CURVE, 250, 18) < 2.5


@given(st.floats(0.01, 100), st.floats(3, 20), st.floats(50, 121), st.floats(0.1, 12))
def test_so_many_times_d_at_its_temperature_is_so_many_logs(
    d_min: float, z_c: float, at_c: float, logs: float
) -> None:
    """LE-5: T = Tref for D x n is n (by definition)."""
    kills = Kills(at_c, d_min, z_c)
    assert reduced([(0, at_c), (logs * d_min, at_c)], kills) == pytest.approx(logs, rel=1e-12)


def test_the_line_behind_appendix_a_gives_its_140_f_row_within_rounding() -> None:
    """LE-7: 6.5 D at 60 C with D = 17.23 min at 54.4 C and z = 5.556 is 11.2 min; 12 is printed (worked out)."""
    kills = Kills((130 - 32) / 1.8, 17.23, 5.556)
    assert 6.5 * kills.d_at(60) == pytest.approx(11.2, abs=0.05)
    assert 6.5 * kills.d_at(60) == pytest.approx(12, rel=0.08)


def test_a_ramp_a_hold_and_a_ramp_sum_exactly() -> None:
    """LE-9: 50 to 60 C in 30 min, 12 min at 60 C, down in 20 min; z = 5.56: 23.8814 min at 60 C (analytic)."""
    curve = [(0.0, 50.0), (30.0, 60.0), (42.0, 60.0), (62.0, 50.0)]
    assert equivalent(curve, 60, 5.56) == pytest.approx(23.8814, abs=1e-3)


@pytest.mark.parametrize("of", MEASURED, ids=lambda of: f"{of.organism} {of.food}")
def test_a_line_through_the_measured_d_has_the_z_of_the_source(of: Measured) -> None:
    """GB, JU, MU, M4, JM, BR: the fit of every measured row gives the z printed or fitted in the source."""
    assert fitted(list(of.d_min.items())).z_c == pytest.approx(of.z_c, rel=of.within)


@pytest.mark.parametrize(
    ("of", "at_c", "d_min"),
    [(of, at_c, d_min) for of in MEASURED for at_c, d_min in of.d_min.items()],
    ids=lambda value: value.food if isinstance(value, Measured) else str(value),
)
def test_every_measured_d_lies_on_its_line(of: Measured, at_c: float, d_min: float) -> None:
    """Each row is within half a power of ten of its own line, the scatter of the worst (pork franks at 57.5 C)."""
    assert abs(math.log10(fitted(list(of.d_min.items())).d_at(at_c) / d_min)) < 0.31


def test_the_roast_beef_data_give_the_published_line() -> None:
    """GB-fit: D is 16.9 min at 54.4 C and 1.70 min at 60 C (worked out from the abstract, 3 %)."""
    line = fitted(list(MEASURED[0].d_min.items()))
    assert line.d_at(54.4) == pytest.approx(16.9, rel=0.03)
    assert line.d_at(60) == pytest.approx(1.70, rel=0.03)


def test_the_review_s_equation_and_its_own_figure_differ() -> None:
    """DM-eq, DM-71: log10 D = 11.7 - 0.188 T gives 1.35 s at 71 C, 1.2 s is printed; z = 5.3 (abstract read)."""
    review = Kills(0.0, 10**11.7, 1 / 0.188)
    assert review.z_c == pytest.approx(5.3, abs=0.03)
    assert review.d_at(71) * 60 == pytest.approx(1.35, abs=0.01)
    assert review.d_at(71) * 60 == pytest.approx(1.2, rel=0.15)


@pytest.mark.parametrize(
    ("reduction", "at_c", "d_min", "z_c", "logs"),
    [
        # BA rows, regression quoted by its author (read in a copy).
        (MEAT_E_COLI, 55, 19.35, 4.87, 5),
        (MEAT_SALMONELLA, 55, 13.18, 7.58, 6.5),
        (MEAT_LISTERIA, 55, 12.66, 9.22, 6),
        # MU rows, abstract read.
        (POULTRY_SALMONELLA, 55, 43.33, 5.34, 7),
        (POULTRY_LISTERIA, 55, 38.94, 5.08, 6),
    ],
)
def test_a_reduction_is_counted_with_the_d_and_z_of_its_source(
    reduction: object, at_c: float, d_min: float, z_c: float, logs: float
) -> None:
    """Each reduction that is asked for has the D, z and logs that were published."""
    found = next(each for each in KILLS if each == reduction)
    assert KILLS[found] == Kills(at_c, d_min, z_c)
    assert found.log10 == logs


def test_one_temperature_makes_no_line() -> None:
    """A fit of a single temperature is refused."""
    with pytest.raises(ValueError, match="two temperatures"):
        fitted([(55, 1.0), (55, 2.0)])


curves = st.lists(st.tuples(st.floats(0.1, 60), st.floats(40, 80)), min_size=3, max_size=12).map(
    lambda steps: [(sum(step for step, _ in steps[: n + 1]), at) for n, (_, at) in enumerate(steps)]
)


@given(curves, st.integers(1, 10), st.floats(4, 12))
def test_the_sum_is_additive_over_a_split(curve: list[Point], place: int, z_c: float) -> None:
    """Split anywhere, the two parts sum to the whole."""
    cut = min(place, len(curve) - 1)
    parts = equivalent(curve[: cut + 1], 60, z_c) + equivalent(curve[cut:], 60, z_c)
    assert parts == pytest.approx(equivalent(curve, 60, z_c), rel=1e-9)


@given(curves, st.floats(4, 12), st.floats(0, 10))
def test_hotter_or_longer_never_lowers_it(curve: list[Point], z_c: float, more: float) -> None:
    """A curve hotter throughout, or followed for longer, kills no less."""
    plain = equivalent(curve, 60, z_c)
    hotter = [(at, degrees + more) for at, degrees in curve]
    longer = [*curve, (curve[-1][0] + more, curve[-1][1])]
    assert equivalent(hotter, 60, z_c) >= plain * (1 - 1e-12)
    assert equivalent(longer, 60, z_c) >= plain


@given(st.floats(40, 80), st.floats(40, 80), st.floats(4, 12))
def test_a_straight_line_is_integrated_exactly(first: float, second: float, z_c: float) -> None:
    """One line agrees with numerical integration of L along it (scipy)."""
    exact, _ = quad(lambda at: 10 ** ((first + (second - first) * at - 60) / z_c), 0, 1)
    assert equivalent([(0, first), (1, second)], 60, z_c) == pytest.approx(exact, rel=1e-7)


@settings(max_examples=40)
@given(st.floats(0.5, 4), st.floats(5, 60), st.integers(8, 60), st.floats(4, 12))
def test_a_worked_out_curve_is_never_overstated(slow: float, rise: float, points: int, z_c: float) -> None:
    """Laid on the safe side, a coarse sample of a curve with one turn gives no more than the curve itself."""

    def middle(minute: float) -> float:
        return 60 - rise * (1 - (1 - math.exp(-minute / (20 * slow))) ** 3)

    times = [120 * slow * n / (points - 1) for n in range(points)]
    sampled = on_the_safe_side([(minute, middle(minute)) for minute in times])
    exact, _ = quad(lambda minute: 10 ** ((middle(minute) - 60) / z_c), 0, times[-1], limit=200)
    assert equivalent(sampled, 60, z_c) <= exact * (1 + 1e-9)


def test_before_the_turn_a_stretch_counts_at_its_lower_end() -> None:
    """A rise that grows steeper is turned into steps; behind the turn the points stay."""
    rising = [(0.0, 0.0), (1.0, 1.0), (2.0, 3.0), (3.0, 4.0), (4.0, 4.5), (5.0, 4.7)]
    assert turns_at(rising) == 3
    laid = on_the_safe_side(rising)
    assert laid[:5] == ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (2.0, 1.0), (2.0, 3.0))
    assert laid[-2:] == ((4.0, 4.5), (5.0, 4.7))
    assert all(first[0] <= second[0] for first, second in pairwise(laid))
