"""The forecast of how fast food cools, from two readings, by Newton's law."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from math import exp

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.domain.kitchen.pace import LONGEST, reaches

BEGAN = datetime(2026, 11, 25, 14, 0, tzinfo=UTC)
MINUTE = timedelta(minutes=1)


def read(*pairs: tuple[float, float]) -> list[tuple[datetime, float]]:
    return [(BEGAN + minutes * MINUTE, celsius) for minutes, celsius in pairs]


def minutes_to(to_c: float, around_c: float, *pairs: tuple[float, float]) -> float | None:
    at = reaches(read(*pairs), to_c, around_c)
    return None if at is None else (at - BEGAN) / MINUTE


def test_halving_the_difference_takes_as_long_each_time() -> None:
    """84 C to 44 C in 30 min with 4 C around it: 24 C after 60 min, 14 C after 90 (worked out by halves)."""
    assert minutes_to(24, 4, (0, 84), (30, 44)) == 60
    assert minutes_to(14, 4, (0, 84), (30, 44)) == 90


@settings(max_examples=60, deadline=None)
@given(st.floats(0.05, 3), st.floats(-2, 20), st.floats(60, 95), st.integers(5, 60), st.floats(0.05, 0.9))
def test_the_forecast_is_newtons_law(
    an_hour: float, around: float, hot: float, minutes: int, share: float
) -> None:
    """Readings made by the law are continued by it, to the minute and never early."""

    def law(after: float) -> float:
        return around + (hot - around) * exp(-an_hour * after / 60)

    wanted = around + share * (law(minutes) - around)
    said = minutes_to(wanted, around, (0, hot), (minutes, law(minutes)))
    if said is None:
        assert law(LONGEST / MINUTE) > wanted
    else:
        assert law(said) <= wanted + 1e-6 and law(said - 1.001) >= wanted - 1e-6


@pytest.mark.parametrize(
    ("to_c", "around_c", "pairs"),
    [
        (21, 4, [(0, 57)]),  # one reading shows no pace
        (21, 4, [(0, 40), (30, 40)]),  # it does not cool
        (21, 4, [(0, 40), (30, 45)]),  # it gets warmer
        (5, 20, [(0, 57), (30, 40)]),  # a room is warmer than that
        (21, 4, [(0, 57), (30, 3)]),  # it is colder than what is said to be around it
        (5, 4.9, [(0, 57), (30, 56.9)]),  # it would take weeks
    ],
)
def test_no_pace_no_forecast(to_c: float, around_c: float, pairs: list[tuple[float, float]]) -> None:
    """Where two readings do not show it going there, nothing is made up."""
    assert minutes_to(to_c, around_c, *pairs) is None


def test_only_the_last_two_readings_count() -> None:
    """What was stirred or set in ice goes by its new pace; readings may be told in any order."""
    slow_then_fast = minutes_to(21, 0, (0, 80), (60, 76), (70, 56))
    assert slow_then_fast == minutes_to(21, 0, (70, 56), (60, 76))


def test_what_is_there_already_is_there_since_the_reading() -> None:
    """No forecast lies before the reading that shows it."""
    assert minutes_to(21, 4, (0, 57), (30, 20)) == 30
