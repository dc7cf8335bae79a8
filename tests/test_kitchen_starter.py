"""Feeding a starter: what to weigh, to a total, to a hydration, over several feeds."""

from __future__ import annotations

from decimal import Decimal
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.domain.kitchen.starter import (
    LEAST_GROWTH,
    Feed,
    Mix,
    at_hydration,
    exactly,
    feeds,
    flour_and_water,
    mixed,
    topped_up,
    water_for,
)

FEW = settings(max_examples=60, deadline=None)
parts = st.integers(1, 20).map(Decimal)
some_feeds = st.builds(Feed, parts, parts, parts)
weights = st.integers(400, 5000).map(lambda tenths: Decimal(tenths) / 10)


def fed(ratio: str) -> Feed:
    return Feed(*(Decimal(part) for part in ratio.split(":")))


def grams(*weights: str) -> Mix:
    return Mix(*(Decimal(weight) for weight in weights))


@pytest.mark.parametrize(
    ("ratio", "want", "mix"),
    [
        ("1:5:5", "220", ("20", "100", "100")),  # SF-1, arithmetic, worked out
        ("1:1:1", "150", ("50", "50", "50")),  # worked out
        ("1:2:2", "100", ("20", "40", "40")),  # worked out
        ("2:3:1", "60", ("20", "30", "10")),  # worked out
        ("1:4:4", "300", ("34", "133", "133")),  # 33.33 and twice 133.33, worked out
        ("1:5:5", "55", ("5.0", "25.0", "25.0")),  # tenths where a part is under ten, worked out
        ("1:1:1", "100.5", ("33.5", "33.5", "33.5")),  # a total in tenths stays one, worked out
    ],
)
def test_parts_come_to_what_is_wanted(ratio: str, want: str, mix: tuple[str, str, str]) -> None:
    """Each part in steps of a kitchen scale, and no gram lost on the way."""
    assert mixed(fed(ratio), Decimal(want)) == grams(*mix)


@FEW
@given(some_feeds, weights)
def test_the_parts_sum_to_the_total_exactly(feed: Feed, total: Decimal) -> None:
    """Whatever the ratio, and each is within one step of the scale of what it would be."""
    mix = mixed(feed, total)
    assert mix.total_g == total
    weighed = (mix.starter_g, mix.flour_g, mix.water_g)
    assert all(abs(one - other) <= 1 for one, other in zip(weighed, exactly(feed, total), strict=True))


@FEW
@given(some_feeds, weights, st.integers(2, 9))
def test_a_feed_scales_as_what_is_wanted(feed: Feed, total: Decimal, times: int) -> None:
    """So many times as much is so many times each part, before it is rounded."""
    once, more = exactly(feed, total), exactly(feed, total * times)
    assert all(abs(one * times - other) < Decimal("1e-20") for one, other in zip(once, more, strict=True))


def test_a_part_that_no_scale_shows_is_refused() -> None:
    """A gram of starter cannot be made by 1:200:200."""
    with pytest.raises(ValueError, match="no scale shows"):
        mixed(fed("1:200:200"), Decimal(1))


def test_a_feed_of_nothing_is_none() -> None:
    """Every part is there."""
    with pytest.raises(ValueError, match="more than nothing"):
        fed("1:0:5")


# ---------------------------------------------------------------- hydration


def test_water_for_a_hydration_counts_what_the_starter_brings() -> None:
    """SF-2 (worked out): 20 g of starter at 100 %, 100 g of flour, 80 % in all, takes 78 g of water."""
    assert water_for(Decimal(20), Decimal(1), Decimal(100), Decimal("0.8")) == 78


@FEW
@given(weights, weights, st.integers(30, 150), st.integers(60, 200))
def test_the_water_gives_the_hydration(starter: Decimal, flour: Decimal, own: int, wanted: int) -> None:
    """Flour and water of the starter and those added, put together, are what was asked for."""
    has, target = Decimal(own) / 100, Decimal(wanted) / 100
    own_flour, own_water = flour_and_water(starter, has)
    if target * (own_flour + flour) <= own_water:
        with pytest.raises(ValueError, match="brings more water"):
            water_for(starter, has, flour, target)
        return
    water = water_for(starter, has, flour, target)
    assert abs((own_water + water) / (own_flour + flour) - target) < Decimal("1e-20")


def test_a_ratio_with_another_hydration() -> None:
    """1:5 at 100 % is 1:5:5, and at 80 % has less water."""
    assert at_hydration(fed("1:5:3"), Decimal(1)) == fed("1:5:5")
    assert at_hydration(fed("1:5:5"), Decimal("0.8")) == fed("1:5:3.9")


def test_all_of_it_brought_to_a_weight_and_a_hydration() -> None:
    """5 g at 100 % to 220 g at 80 %: 122.2 g of flour in all, 2.5 g of it there already."""
    feed = topped_up(Decimal(5), Decimal(220), Decimal("0.8"))
    assert sum(feed.parts) == 220
    assert feed.flour + Decimal("2.5") == pytest.approx(Decimal("122.2222"), abs=Decimal("0.001"))
    with pytest.raises(ValueError, match="as much as that already"):
        topped_up(Decimal(220), Decimal(220), Decimal(1))
    with pytest.raises(ValueError, match="cannot be brought"):
        topped_up(Decimal(100), Decimal(101), Decimal("0.5"))


# ---------------------------------------------------------------- several feeds


def test_two_feeds_where_one_is_not_enough() -> None:
    """5 g to 55 g to 220 g: the first by 1:5:5, the second of all there is."""
    first, second = feeds(Decimal(5), Decimal(220), fed("1:5:5"))
    assert first == grams("5", "25", "25") and second.starter_g == 55 and second.total_g == 220
    assert abs(second.flour_g - second.water_g) <= 1


@pytest.mark.parametrize(("have", "starter"), [("20", "20"), ("50", "20"), ("500", "20")])
def test_one_feed_where_that_is_enough(have: str, starter: str) -> None:
    """No more is begun with than it takes."""
    (only,) = feeds(Decimal(have), Decimal(220), fed("1:5:5"))
    assert only == grams(starter, "100", "100")


def test_a_last_feed_is_no_mere_spoonful() -> None:
    """5 g to 60 g is not 5 g to 55 g to 60 g: both feeds grow alike."""
    first, second = feeds(Decimal(5), Decimal(60), fed("1:5:5"))
    assert first.total_g == 17 and second.total_g == 60
    assert min(first.feed.growth, second.feed.growth) > LEAST_GROWTH


@FEW
@given(
    st.integers(2, 40).map(Decimal),
    st.integers(40, 4000).map(Decimal),
    st.sampled_from(["1:2:2", "1:5:5", "1:9:7"]),
)
def test_feeds_hang_together(have: Decimal, want: Decimal, ratio: str) -> None:
    """Each begins with what the one before made, none grows more than the ratio, the last is what is wanted."""
    feed = fed(ratio)
    found = feeds(have, want, feed)
    assert found[-1].total_g == want
    assert all(before.total_g == after.starter_g for before, after in pairwise(found))
    assert len(found) == 1 or found[0].starter_g == have
    assert all(mix.total_g <= mix.starter_g * feed.growth * Decimal("1.05") for mix in found)


def test_feeds_without_end_are_refused() -> None:
    """A tenth of a gram to a hundred kilos would take a week of them; nothing at all never would."""
    with pytest.raises(ValueError, match="more than 6 feeds"):
        feeds(Decimal("0.1"), Decimal(100_000), fed("1:1:1"))
    with pytest.raises(ValueError, match="more than nothing"):
        feeds(Decimal(0), Decimal(220), fed("1:5:5"))


@pytest.mark.parametrize(("ratio", "doublings"), [("1:5:5", 3.46), ("1:1:1", 1.58), ("1:2:2", 2.32)])
def test_doublings_that_a_feed_asks_for(ratio: str, doublings: float) -> None:
    """SF-3 and SF-4 (worked out, within 0.01), and 1:2:2, which is log2 of 5."""
    assert fed(ratio).doublings == pytest.approx(doublings, abs=0.01)
    assert str(fed(ratio)) == ratio
