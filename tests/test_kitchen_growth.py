"""Growth by temperature against what was published; beside each figure whether it was read or is from memory."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.domain.kitchen.growth import MODEL, PLANTARUM, SOURDOUGH_BACTERIA, SOURDOUGH_YEAST, Grower
from scheduler.domain.kitchen.sources import How, Source

NO_SOURCE = Source("a test", "", How.PRACTICE)

# The formula of Rosso et al. (from memory), worked out by hand at these temperatures: CT-L, CT-Y; within 1e-4.
BACTERIA_AT = {
    10: 0.0782,
    15: 0.2489,
    20: 0.4887,
    25: 0.7537,
    30: 0.9628,
    32.5: 1.0,
    35: 0.9476,
    37: 0.8023,
    39: 0.5132,
}
YEAST_AT = {14: 0.1688, 20: 0.5745, 24: 0.8585, 26: 0.9592, 28: 1.0, 30: 0.9453, 32: 0.7448, 34: 0.3250}
# CT-P: the same for L. plantarum in MRS broth, per hour, by cardinal temperatures read in a copy; within 1e-4.
PLANTARUM_AT = {8: 0.0312, 16: 0.1678, 18: 0.2181, 21: 0.3047, 24: 0.4035, 30: 0.6260, 36.6: 0.8100}

WITHIN = 1e-4


@pytest.mark.parametrize(("at_c", "share"), BACTERIA_AT.items())
def test_the_bacteria_grow_as_the_formula_says(at_c: float, share: float) -> None:
    """Lowest 4, best 32.5, highest 41 C (author's statement, read), rows CT-L (worked out)."""
    assert SOURDOUGH_BACTERIA.relative_rate(at_c) == pytest.approx(share, abs=WITHIN)


@pytest.mark.parametrize(("at_c", "share"), YEAST_AT.items())
def test_the_yeast_grows_as_the_formula_says(at_c: float, share: float) -> None:
    """Lowest 8, best 28, highest 35 C (author's statement, read), rows CT-Y (worked out)."""
    assert SOURDOUGH_YEAST.relative_rate(at_c) == pytest.approx(share, abs=WITHIN)


@pytest.mark.parametrize(("at_c", "per_h"), PLANTARUM_AT.items())
def test_plantarum_grows_as_the_formula_says(at_c: float, per_h: float) -> None:
    """Lowest 2, best 36.6, highest 41 C, 0.81 per hour (read in a copy), rows CT-P (worked out)."""
    assert PLANTARUM.rate_per_h(at_c) == pytest.approx(per_h, abs=WITHIN)


# Lowest, best and highest temperature, and the fastest rate per hour where it was published.
PUBLISHED = (
    (2.0, 36.6, 41.0, 0.81),  # SG-15, L. plantarum in MRS broth, read in a copy
    (7.8, 34.7, 41.0, 0.52),  # SG-15, in milk, read in a copy
    (5.4, 34.2, 41.4, 0.40),  # SG-15, in milk without lactose, read in a copy
    (2.7, 44.4, 52.0, None),  # SG-16, L. rhamnosus GG, Chemical Papers, read
    (4.3, 23.6, 36.8, None),  # SG-14, S. kudriavzevii, Salvado et al. 2011, read
    (4.0, 32.5, 41.0, None),  # SG-06 to SG-09, bacteria of sourdough, author's statement, read
    (8.0, 28.0, 35.0, None),  # SG-10, yeast of sourdough, author's statement, read
)


@pytest.mark.parametrize(("low", "best", "high", "fastest"), PUBLISHED)
def test_the_cardinal_temperatures_are_met_exactly(
    low: float, best: float, high: float, fastest: float | None
) -> None:
    """SG-19 (Rosso et al., from memory): the fastest at the best, nothing at both ends and beyond."""
    grower = Grower("any", low, best, high, NO_SOURCE, fastest)
    assert grower.relative_rate(best) == pytest.approx(1.0, abs=1e-12)
    assert [grower.relative_rate(at_c) for at_c in (low - 5, low, high, high + 5)] == [0.0] * 4
    if fastest is not None:
        assert grower.rate_per_h(best) == pytest.approx(fastest)


@pytest.mark.parametrize(("low", "best", "high", "fastest"), PUBLISHED)
def test_it_grows_faster_up_to_the_best_and_slower_beyond(
    low: float, best: float, high: float, fastest: float | None
) -> None:
    """One best temperature, whatever the grower: rates rise to it and fall after it."""
    grower = Grower("any", low, best, high, NO_SOURCE)
    rising = [grower.relative_rate(low + (best - low) * step / 20) for step in range(21)]
    falling = [grower.relative_rate(best + (high - best) * step / 20) for step in range(21)]
    assert all(colder < warmer for colder, warmer in pairwise(rising))
    assert all(colder > warmer for colder, warmer in pairwise(falling))


STATED = (
    # who, degrees Celsius, share of the fastest rate: author's statement in a public FAQ, answer 39 (read)
    *((SOURDOUGH_BACTERIA, at_c, share) for at_c, share in ((37, 0.5), (20, 0.5), (39, 0.25), (15, 0.25))),
    *((SOURDOUGH_BACTERIA, at_c, 0.0) for at_c in (4, 41)),
    *((SOURDOUGH_YEAST, at_c, share) for at_c, share in ((32, 0.5), (20, 0.5), (34, 0.25), (14, 0.25))),
    *((SOURDOUGH_YEAST, at_c, share) for at_c, share in ((28, 1.0), (35, 0.0), (8, 0.0))),
)
CONFLICTS = {(SOURDOUGH_BACTERIA.name, 37)}
"""CT-L37: half the rate by the statement, 0.80 of it by the formula, which comes to half at 39.1 C only."""


@pytest.mark.parametrize(("grower", "at_c", "share"), STATED)
def test_what_was_stated_is_kept_as_stated(grower: Grower, at_c: float, share: float) -> None:
    """SG-07 to SG-10 exactly; the formula agrees within the 2 C of the statement but for the named conflict."""
    assert grower.stated_rate(at_c) == pytest.approx(share)
    near = [grower.relative_rate(at_c + tenths / 10) for tenths in range(-20, 21)]
    agrees = min(near) - WITHIN <= share <= max(near) + WITHIN
    assert agrees is ((grower.name, at_c) not in CONFLICTS)


def test_conflicts_between_sources_stay_small() -> None:
    """SG-01 (Gaenzle et al. 1998, read): best 27 C, SG-05 (Brandt et al. 2004, read): 28 and 32 C; taken within 1 C."""
    assert SOURDOUGH_YEAST.best_c == pytest.approx(27, abs=1) and SOURDOUGH_YEAST.best_c == 28
    assert SOURDOUGH_BACTERIA.best_c == pytest.approx(32, abs=1)
    assert SOURDOUGH_YEAST.relative_rate(35) == 0.0, "SG-05: yeast inhibited at 35 C (read)"
    assert 32 <= SOURDOUGH_BACTERIA.best_c <= 33, "SG-06 (author's statement, read)"


def test_the_doubling_rules_are_far_apart_and_not_used() -> None:
    """SG-12 (public FAQ, answer 37, read): doubling with 7 F is a Q10 of 5.9, the older rule, 18 F, of 2. By the
    formula the yeast goes through both on its way from cold to warm, which no rule with one figure can.
    """
    by_seven, by_eighteen = (2 ** (18 / fahrenheit) for fahrenheit in (7, 18))
    assert by_seven == pytest.approx(5.9, abs=0.1) and by_eighteen == pytest.approx(2.0)
    of_ten = [SOURDOUGH_YEAST.slower_by(at_c + 10, at_c) for at_c in (10, 14, 18)]
    assert of_ten[0] > by_seven > of_ten[1] > of_ten[2] > by_eighteen


def test_a_rate_and_its_doubling_time() -> None:
    """SG-11 (public FAQ, answer 37, read): 0.7 per hour is 0.99 h."""
    quick = Grower("any", 4.0, 30.0, 40.0, NO_SOURCE, 0.7)
    assert quick.doubling_h(30.0) == pytest.approx(0.990, abs=0.001)
    assert quick.doubling_h(20.0) == pytest.approx(math.log(2) / quick.rate_per_h(20.0))
    with pytest.raises(ValueError, match="does not grow"):
        quick.doubling_h(40.0)
    with pytest.raises(ValueError, match="no rate is known"):
        SOURDOUGH_YEAST.doubling_h(28.0)


@settings(max_examples=50)
@given(st.floats(8.5, 34.5), st.floats(8.5, 34.5))
def test_slower_by_undoes_itself(one: float, other: float) -> None:
    """From one temperature to another and back is no change, and the same temperature none either."""
    there, back = SOURDOUGH_YEAST.slower_by(one, other), SOURDOUGH_YEAST.slower_by(other, one)
    assert there * back == pytest.approx(1.0) and SOURDOUGH_YEAST.slower_by(one, one) == 1.0


def test_no_growth_cannot_be_compared() -> None:
    """In the fridge the yeast does not grow, so nothing takes so many times as long there."""
    with pytest.raises(ValueError, match="does not grow at 4 C"):
        SOURDOUGH_YEAST.slower_by(22, 4)


def test_what_is_from_memory_says_so() -> None:
    """The formula was not read again; the statement was."""
    assert str(MODEL).endswith("from memory") and "from memory" not in str(SOURDOUGH_YEAST.source)


def test_without_a_statement_the_formula_stands_in() -> None:
    """Of L. plantarum only the cardinal temperatures were published."""
    assert PLANTARUM.stated_rate(24) == PLANTARUM.relative_rate(24)
    assert SOURDOUGH_YEAST.stated_rate(50) == 0.0
