"""The little grammars of a plan file: what they read, and what they refuse."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime, time, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scheduler.domain.hours import Dated, Weekly
from scheduler.planfile import figures as figures
from scheduler.planfile import text as text
from scheduler.planfile.text import TextError

SECOND, MINUTE, HOUR, DAY = timedelta(seconds=1), timedelta(minutes=1), timedelta(hours=1), timedelta(days=1)
EVERY_DAY = frozenset(range(7))
WEEKDAYS = frozenset(range(5))


def wall(written: str) -> datetime:
    """A naive local date-time."""
    return datetime.fromisoformat(written)


@pytest.mark.parametrize(
    ("written", "length"),
    [
        ("25 min", 25 * MINUTE),
        ("25min", 25 * MINUTE),
        ("2 h 30 min", 150 * MINUTE),
        ("2h30min", 150 * MINUTE),
        ("  2  Hours 1 Minute ", 121 * MINUTE),
        ("90 s", 90 * SECOND),
        ("1.5 h", 90 * MINUTE),
        ("0.5 d", 12 * HOUR),
        ("2 w 1 d", 15 * DAY),
        ("400 d", 400 * DAY),
        ("0 min", timedelta(0)),
    ],
)
def test_durations(written: str, length: timedelta) -> None:
    """Weeks to seconds, the longer unit first, whatever the spacing."""
    assert text.duration(written) == length


@pytest.mark.parametrize(
    "written",
    [
        "",
        "25",
        "min",
        "25 m",
        "30 min 2 h",
        "1 h 1 h",
        "-5 min",
        "1,5 h",
        "5 minn",
        "401 d",
        "9999999 d",
        "0.0001 s",
        "5 min later",
        "٥ min",
        "1e3 s",
        "5 min" + " " * 500,
    ],
)
def test_what_is_no_duration(written: str) -> None:
    """No unit, unknown units, units out of order, signs, and too much are refused."""
    with pytest.raises(TextError):
        text.duration(written)


@given(st.integers(0, 400 * 86400))
def test_durations_written_out_read_back(seconds: int) -> None:
    """`duration` undoes `written` for every duration there can be."""
    length = timedelta(seconds=seconds)
    assert text.duration(text.written(length)) == length


@pytest.mark.parametrize(
    ("written", "span"),
    [
        ("25 min", (25 * MINUTE, 25 * MINUTE)),
        ("7 d to 10 d", (7 * DAY, 10 * DAY)),
        ("7 to 10 d", (7 * DAY, 10 * DAY)),
        ("3 h 30 min to 5 h", (210 * MINUTE, 5 * HOUR)),
        ("45 min to 1 h 15 min", (45 * MINUTE, 75 * MINUTE)),
        ("at least 12 h", (12 * HOUR, None)),
        ("At Least 1 h 30 min", (90 * MINUTE, None)),
        ("1 h to 1 h", (HOUR, HOUR)),
    ],
)
def test_ranges(written: str, span: tuple[timedelta, timedelta | None]) -> None:
    """One length, two, two that share a unit, and an open end."""
    assert text.span_of(written) == span


@pytest.mark.parametrize(
    "written",
    ["", "10 d to 7 d", "7 d to", "to 7 d", "at most 7 d", "7 d - 10 d", "1 to 2", "45 to 1 h 15 min"],
)
def test_what_is_no_range(written: str) -> None:
    """Upside down, half a range, or none."""
    with pytest.raises(TextError):
        text.span_of(written)


@pytest.mark.parametrize(
    ("written", "hours"),
    [
        ("07:00-22:30", (Weekly(EVERY_DAY, time(7), time(22, 30)),)),
        ("7:00 - 22:30", (Weekly(EVERY_DAY, time(7), time(22, 30)),)),
        ("mon-fri 08:30–17:45", (Weekly(WEEKDAYS, time(8, 30), time(17, 45)),)),
        ("Fri-Mon 10:00-11:00", (Weekly(frozenset({4, 5, 6, 0}), time(10), time(11)),)),
        ("mon, wed 10:00-11:00", (Weekly(frozenset({0, 2}), time(10), time(11)),)),
        ("tuesday-thurs, sun 10:00-11:00", (Weekly(frozenset({1, 2, 3, 6}), time(10), time(11)),)),
        ("22:00-06:00", (Weekly(EVERY_DAY, time(22), time(6)),)),
        ("00:00-24:00", (Weekly(EVERY_DAY, time(0), time(0)),)),
        ("2026-12-10 18:00-23:00", (Dated(wall("2026-12-10 18:00"), wall("2026-12-10 23:00")),)),
        ("2026-12-10 18:00-24:00", (Dated(wall("2026-12-10 18:00"), wall("2026-12-11 00:00")),)),
        ("2026-12-10 22:00-02:00", (Dated(wall("2026-12-10 22:00"), wall("2026-12-11 02:00")),)),
        ("2026-12-10 18:00 - 2026-12-12 09:00", (Dated(wall("2026-12-10 18:00"), wall("2026-12-12 09:00")),)),
        (
            "mon-fri 06:30-22:30, sat-sun 08:00-24:00",
            (Weekly(WEEKDAYS, time(6, 30), time(22, 30)), Weekly(frozenset({5, 6}), time(8), time(0))),
        ),
        (
            ["mon-fri 06:30-22:30", "2026-12-10 18:00-23:00"],
            (
                Weekly(WEEKDAYS, time(6, 30), time(22, 30)),
                Dated(wall("2026-12-10 18:00"), wall("2026-12-10 23:00")),
            ),
        ),
    ],
)
def test_hours(written: str | list[str], hours: tuple[Weekly | Dated, ...]) -> None:
    """Daily, weekly, dated, over midnight, a trip; one, or several in a list or between commas."""
    assert text.hours(written) == hours


@pytest.mark.parametrize(
    "written",
    [
        "",
        [],
        ["mon"],
        "mon",
        "7-22",
        "07:00",
        "07:00-25:00",
        "24:00-06:00",
        "07:60-08:00",
        "07:00-07:00",
        "mun-fri 08:00-09:00",
        "mon 2026-12-10 08:00-09:00",
        "08:00 - 2026-12-12 09:00",
        "2026-02-30 08:00-09:00",
        "1999-01-01 08:00-09:00",
        "2026-12-12 09:00 - 2026-12-12 09:00",
        "2026-12-12 09:00 - 2026-12-10 10:00",
        "mon-tue-wed 08:00-09:00",
    ],
)
def test_what_are_no_hours(written: str | list[str]) -> None:
    """Half an interval, times and dates that don't exist, ends before starts, days of no week."""
    with pytest.raises(TextError):
        text.hours(written)


def test_hours_to_start_in_come_back() -> None:
    """`between` takes days and hours but no dates."""
    assert text.weekly_hours("sat 09:00-12:00") == (Weekly(frozenset({5}), time(9), time(12)),)
    with pytest.raises(TextError, match="sat 09:00-12:00"):
        text.weekly_hours("2026-12-12 09:00-12:00")


@pytest.mark.parametrize(
    ("written", "days"),
    [
        ("sat", (5,)),
        ("Saturday", (5,)),
        ("sat-sun", (5, 6)),
        ("fri-mon", (4, 5, 6, 0)),
        ("wed, mon", (2, 0)),
        ("mon-mon", (0,)),
        ("2026-12-12", (date(2026, 12, 12),)),
    ],
)
def test_days(written: str, days: tuple[int | date, ...]) -> None:
    """Names, ranges of them, or a date, in the order written."""
    assert text.days(written) == days


@pytest.mark.parametrize(
    "written", ["", "so", "someday", "2026-13-01", "2026-12-12 09:00", "12 December", "sat sun"]
)
def test_what_are_no_days(written: str) -> None:
    """Unknown names and dates that don't exist."""
    with pytest.raises(TextError):
        text.days(written)


@pytest.mark.parametrize(
    ("written", "at"),
    [
        ("2026-12-12 19:30", "2026-12-12 19:30"),
        ("2026-12-12T19:30", "2026-12-12 19:30"),
        ("2026-12-12 19:00:00", "2026-12-12 19:00"),
        (" 2026-12-12   9:05 ", "2026-12-12 09:05"),
        ("2028-02-29 19:00", "2028-02-29 19:00"),
    ],
)
def test_moments(written: str, at: str) -> None:
    """A date and a time of day, with or without the T and the seconds YAML loaders add."""
    assert text.local_datetime(written) == wall(at)


@pytest.mark.parametrize(
    "written",
    [
        "",
        "2026-12-12",
        "19:30",
        "2026-02-29 19:30",
        "2026-12-12 24:00",
        "2026-12-12 19:30:30",
        "12/12/2026 19:30",
        "2200-01-01 00:00",
    ],
)
def test_what_are_no_moments(written: str) -> None:
    """Half a moment, moments that don't exist, and other ways of writing dates."""
    with pytest.raises(TextError):
        text.local_datetime(written)


def test_words_are_tidied() -> None:
    """Runs of spaces and line ends become one space, accents one character."""
    assert text.words("  a \n b\u00a0 c ") == "a b c"
    assert text.name("Cre\u0301me") == "Cr\u00e9me"
    assert text.name("n" * 80) == "n" * 80


@pytest.mark.parametrize(
    "written",
    [
        "",
        " \n",
        "a\tb",
        "a\x00",
        "a\x7f",
        "a\x85b",
        "\u202eabc",
        "a\u2066b",
        "a\ufeff",
        "\ud800",
        "a\u2029b",
        "n" * 81,
    ],
)
def test_what_is_no_name(written: str) -> None:
    """Nothing, controls, direction overrides, halves of characters, and more than eighty characters."""
    with pytest.raises(TextError):
        text.name(written)


GRAMMARS = (
    text.duration,
    text.span_of,
    text.hours,
    text.weekly_hours,
    text.days,
    text.local_datetime,
    text.name,
    figures.celsius,
    figures.oven_heat,
    figures.lead,
    figures.quantity,
    figures.yes_or_no,
)


@given(
    st.sampled_from(GRAMMARS),
    st.text(st.sampled_from("0123456789:-., %+ CFabdehilmnosuty\u0660\u00b2\u2013"), max_size=40),
)
def test_every_grammar_reads_or_refuses(grammar: Callable[[str], object], written: str) -> None:
    """No text gets anything but TextError out of a grammar, and that always says what was expected."""
    try:
        grammar(written)
    except TextError as error:
        assert error.expected
