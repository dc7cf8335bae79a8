"""When a starter is ripe: the rule of thumb, warmth, ratios, a cook's own times, and what is refused."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.domain.kitchen.ripeness import (
    FARTHEST,
    FIVE_MINUTES,
    LATEST,
    LONGEST,
    NARROWEST,
    NotRipening,
    Observed,
    Ripeness,
    ripe,
)
from scheduler.domain.kitchen.starter import Feed

HOUR = timedelta(hours=1)
FEW = settings(max_examples=40, deadline=None)
warm = st.floats(14, 33)


def fed(ratio: str) -> Feed:
    return Feed(*(Decimal(part) for part in ratio.split(":")))


def took(hours: float, ratio: str = "1:5:5", at_c: float = 22.0) -> Observed:
    return Observed(fed(ratio), at_c, timedelta(hours=hours))


def width(found: Ripeness) -> float:
    """How many times as long the longest is as the shortest."""
    return found.longest / found.shortest


# ---------------------------------------------------------------- the rule of thumb


@pytest.mark.parametrize(("ratio", "shortest", "longest"), [("1:1:1", 4, 6), ("1:5:5", 8, 12)])
def test_the_rule_of_thumb_comes_out(ratio: str, shortest: int, longest: int) -> None:
    """RT-06 (common practice, from memory), 24 C: the middle lies within it, and the range holds all of it."""
    found = ripe(fed(ratio), 24)
    assert shortest * HOUR <= found.usually <= longest * HOUR
    assert found.shortest <= shortest * HOUR and longest * HOUR <= found.longest


def test_the_formula_and_the_rule_of_thumb_differ() -> None:
    """SF-4 (worked out): 1:5:5 takes 2.18 times as long as 1:1:1 by the formula, twice by the rule of thumb."""
    assert ripe(fed("1:5:5"), 24).hours / ripe(fed("1:1:1"), 24).hours == pytest.approx(2.18, abs=0.01)


@pytest.mark.parametrize("at_c", [21, 22, 23, 24])
def test_fed_before_use_by_half_a_day(at_c: float) -> None:
    """RT-02 (common practice, from memory): about 12 h at 21 C to 24 C, within what 1:5:5 is told to take."""
    found = ripe(fed("1:5:5"), at_c)
    assert found.shortest <= 12 * HOUR <= found.longest


# ---------------------------------------------------------------- warmth and ratios


@FEW
@given(warm, st.integers(1, 12), st.integers(1, 12))
def test_more_flour_takes_longer(at_c: float, less: int, more: int) -> None:
    """Shortest, usual and longest, at whatever temperature."""
    one, other = (ripe(fed(f"1:{flour}:{flour}"), at_c) for flour in sorted((less, more)))
    assert one.shortest <= other.shortest and one.usually <= other.usually and one.longest <= other.longest
    assert less == more or one.hours < other.hours


def test_nearer_the_best_temperature_is_faster() -> None:
    """From 12 C up to 28 C ever faster, beyond ever slower."""
    colder = [ripe(fed("1:2:2"), at_c).hours for at_c in range(12, 29)]
    warmer = [ripe(fed("1:2:2"), at_c).hours for at_c in range(28, 35)]
    assert all(one > other for one, other in pairwise(colder))
    assert all(one < other for one, other in pairwise(warmer))


@FEW
@given(warm, st.integers(1, 20))
def test_a_range_holds_what_is_usual_in_steps_of_five_minutes(at_c: float, flour: int) -> None:
    """Always at least one step, and never narrower than somebody would look."""
    found = ripe(fed(f"1:{flour}:{flour}"), at_c)
    assert FIVE_MINUTES <= found.shortest <= found.usually <= found.longest
    assert all(not each % FIVE_MINUTES for each in (found.shortest, found.usually, found.longest))
    assert width(found) > NARROWEST


def test_where_sources_disagree_the_range_is_wider() -> None:
    """At 34 C the bacteria thrive and the yeast hardly grows (SG-07 to SG-10, read); at 22 C all agree."""
    assert width(ripe(fed("1:5:5"), 34)) > 3 * width(ripe(fed("1:5:5"), 22))


# ---------------------------------------------------------------- what is refused


@pytest.mark.parametrize("at_c", [-18, 0, 4, 8])
def test_the_cold_is_refused_with_its_reason(at_c: float) -> None:
    """SG-10: no growth at 8 C (read); RT-10: a starter in the fridge is fed weekly (common practice, from memory)."""
    with pytest.raises(
        NotRipening, match=rf"^at {at_c} C it does not ripen: .* above 8 C only; .* fed weekly"
    ):
        ripe(fed("1:5:5"), at_c)


@pytest.mark.parametrize("at_c", [35, 36, 60])
def test_the_heat_is_refused_with_its_reason(at_c: float) -> None:
    """SG-05, SG-10: no growth of yeast from 35 C on (read)."""
    with pytest.raises(NotRipening, match=rf"^at {at_c} C it does not ripen: .* below 35 C only"):
        ripe(fed("1:5:5"), at_c)


@pytest.mark.parametrize("at_c", [8.1, 9, 10])
def test_more_than_a_week_is_no_answer(at_c: float) -> None:
    """Just above the lowest temperature the formula gives months: that is not told."""
    with pytest.raises(NotRipening, match="more than a week"):
        ripe(fed("1:5:5"), at_c)


@pytest.mark.parametrize("at_c", [11.9, 14, 34.9])
def test_what_is_answered_is_planned_within_a_week(at_c: float) -> None:
    """The slowest that is told."""
    assert ripe(fed("1:2:2"), at_c).usually <= LONGEST


@pytest.mark.parametrize("ratio", ["1:0.05:0.05", "1:500:500", "1:5:1", "1:1:9"])
def test_a_feed_that_nobody_makes_is_refused(ratio: str) -> None:
    """Hardly anything added, a crumb in a bucket, too dry to mix, thin as soup."""
    with pytest.raises(NotRipening, match=f"^fed {ratio}, "):
        ripe(fed(ratio), 24)


# ---------------------------------------------------------------- a cook's own times


@FEW
@given(warm, st.integers(1, 12))
def test_without_own_times_the_factor_is_one(at_c: float, flour: int) -> None:
    """Nothing is learned from nothing, and times as the formula has them change only the width."""
    plain = ripe(fed(f"1:{flour}:{flour}"), at_c)
    assert (plain.factor, plain.counted) == (1.0, 0)
    same = ripe(fed(f"1:{flour}:{flour}"), at_c, [took(plain.hours, f"1:{flour}:{flour}", at_c)])
    assert same.factor == pytest.approx(1.0) and same.usually == plain.usually


def test_own_times_count_instead_of_the_rule() -> None:
    """As in "took 5 h 30 min last time": the middle is that, and the range is narrower."""
    plain, own = ripe(fed("1:1:1"), 22), ripe(fed("1:1:1"), 22, [took(5.5, "1:1:1")])
    assert own.usually == 5.5 * HOUR and own.counted == 1 and width(own) < width(plain)
    assert own.shortest <= 5 * HOUR and own.longest >= 6 * HOUR


def test_own_times_hold_for_other_feeds_and_temperatures() -> None:
    """A starter half as quick is so at 1:5:5 too, and in the warm; there the sources disagree again."""
    slow = [took(2 * ripe(fed("1:1:1"), 22).hours, "1:1:1")] * 3
    at_22, at_30 = ripe(fed("1:5:5"), 22, slow), ripe(fed("1:5:5"), 30, slow)
    assert at_22.hours == pytest.approx(2 * ripe(fed("1:5:5"), 22).hours)
    assert at_30.hours == pytest.approx(2 * ripe(fed("1:5:5"), 30).hours)
    assert width(at_30) > width(at_22)


def test_one_odd_night_changes_little() -> None:
    """The middle one counts, not the mean."""
    steady = [took(12)] * 4
    assert ripe(fed("1:5:5"), 22, [*steady, took(30)]).hours == pytest.approx(12)


def test_only_the_latest_count() -> None:
    """What a starter did long ago says nothing of it now."""
    now = ripe(fed("1:5:5"), 22, [*[took(25)] * 9, *[took(10)] * LATEST])
    assert now.hours == pytest.approx(10) and now.counted == LATEST


@pytest.mark.parametrize(("hours", "factor"), [(0.1, 1 / FARTHEST), (2000, FARTHEST)])
def test_own_times_are_believed_within_bounds(hours: float, factor: float) -> None:
    """A button pressed a minute after, or a jar forgotten for weeks, is no measure of a starter."""
    assert ripe(fed("1:5:5"), 22, [took(hours)]).factor == pytest.approx(factor)


@FEW
@given(st.lists(st.floats(6, 24), min_size=1, max_size=8), warm)
def test_a_range_never_gets_narrower_than_is_honest(hours: list[float], at_c: float) -> None:
    """However often it was the same."""
    found = ripe(fed("1:5:5"), at_c, [took(each) for each in hours])
    assert width(found) >= NARROWEST**2 * 0.98  # but for the rounding
    assert found.shortest <= found.usually <= found.longest


def test_every_time_narrows_the_range() -> None:
    """From the width of the rule of thumb down to the narrowest, while they agree."""
    widths = [width(ripe(fed("1:5:5"), 22, [took(12)] * times)) for times in range(LATEST + 1)]
    assert all(one > other for one, other in pairwise(widths))


def test_times_that_disagree_keep_it_wide() -> None:
    """8 h one day and 18 h the next is a starter that nobody can count on."""
    assert width(ripe(fed("1:5:5"), 22, [took(8), took(18)] * 2)) > 2


def test_a_time_from_the_fridge_teaches_nothing() -> None:
    """Where the yeast does not grow, there is nothing to compare with."""
    assert ripe(fed("1:5:5"), 22, [took(100, at_c=4)]) == ripe(fed("1:5:5"), 22)


def test_a_time_of_nothing_is_none() -> None:
    """Ripe before it was fed."""
    with pytest.raises(ValueError, match="longer than nothing"):
        took(0)
