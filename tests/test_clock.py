"""The machine's clock, as it is set forward and back under a program that runs."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from freezegun import freeze_time

from bot.main import SET_RIGHT, SystemClock

NOON = datetime(2026, 12, 12, 12, tzinfo=UTC)
MINUTE = timedelta(minutes=1)


def test_a_clock_set_back_a_little_stands_still_until_the_time_comes_round() -> None:
    """What was done at noon is not done before it by what comes next."""
    clock = SystemClock()
    with freeze_time(NOON) as machine:
        assert clock.now() == NOON
        for minutes, told in ((-2, 0), (-1, 0), (1, 1)):
            machine.move_to(NOON + minutes * MINUTE)
            assert clock.now() == NOON + told * MINUTE


def test_a_clock_that_was_far_ahead_is_put_right() -> None:
    """Else everything would wait until that hour comes."""
    clock = SystemClock()
    with freeze_time(NOON + timedelta(days=30)) as machine:
        clock.now()
        machine.move_to(NOON)
        assert clock.now() == NOON
        machine.move_to(NOON - SET_RIGHT)
        assert clock.now() == NOON
