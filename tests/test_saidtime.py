"""Times as people say them: found in the words, and turned into the nearest instant that makes sense."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sample_plan import build

from bot.understanding import instants
from bot.understanding.plainwords import bare, plain
from bot.understanding.saidtime import SOME_YEAR, TOKEN, Clock, Day, Said
from bot.understanding.timewords import split
from scheduler.domain.hours import instant, local

LONDON, PARIS, KOLKATA = "Europe/London", "Europe/Paris", "Asia/Kolkata"


def said(text: str) -> Said:
    return split(bare(plain(text)))


def at(zone: str, year: int, month: int, day: int, hour: int = 0, minute: int = 0) -> datetime:
    return instant(datetime(year, month, day, hour, minute), zone)


# ---------------------------------------------------------------- found in the words

LENGTHS = {
    "20 min": 20, "20 minutes": 20, "twenty five minutes": 25, "half an hour": 30, "an hour": 60, "1 h": 60,
    "an hour and a half": 90, "2 and a half hours": 150, "1.5 hours": 90, "1 h 30": 90, "1h30": 90,
    "two hours and 15 minutes": 135, "three quarters of an hour": 45, "a quarter of an hour": 15,
    "couple of hours": 120, "90 sec": 1.5, "2 days": 2880, "a week": 10080, "twenty minutes or so": 20,
    "5": 5, "another 10": 10, "give me 15": 15, "10 more minutes": 10, "40 late": 40, "½ hour": 30,
}  # fmt: skip


@pytest.mark.parametrize(("text", "minutes"), LENGTHS.items())
def test_lengths(text: str, minutes: float) -> None:
    """Lengths in figures and in words come out as elapsed time."""
    assert said(text).length == timedelta(minutes=minutes)


CLOCKS = {
    "at 8:40": Clock(8, 40, open=True), "20:15": Clock(20, 15), "08:40": Clock(8, 40), "at 0830": Clock(8, 30),
    "at 840": Clock(8, 40, open=True), "at 8.15": Clock(8, 15, open=True), "8.15pm": Clock(20, 15),
    "9pm": Clock(21), "7 a.m.": Clock(7), "12 am": Clock(0), "12pm": Clock(12), "8 o'clock": Clock(8, open=True),
    "8ish": Clock(8, open=True), "around 8": Clock(8, open=True), "until eight": Clock(8, open=True),
    "half 7": Clock(7, 30, open=True), "half past seven": Clock(7, 30, open=True),
    "quarter past eight": Clock(8, 15, open=True), "quarter to nine": Clock(8, 45, open=True),
    "ten to 6": Clock(5, 50, open=True), "twenty past 4": Clock(4, 20, open=True), "noon": Clock(12),
    "midnight": Clock(0), "at eight thirty": Clock(8, 30, open=True), "8 in the morning": Clock(8),
    "at 9 tonight": Clock(21), "at 20h15": Clock(20, 15), "at one": Clock(1, open=True),
    "12:30": Clock(0, 30, open=True),
}  # fmt: skip


@pytest.mark.parametrize(("text", "clock"), CLOCKS.items())
def test_clocks(text: str, clock: Clock) -> None:
    """Clock times in British, American and continental wording; open where morning or evening was not said."""
    assert said(text).clock == clock


@pytest.mark.parametrize(
    "text",
    [
        "ph 3.6 in the crock",
        "850 g of flour",
        "dinner for 8",
        "24 degrees",
        "2.5 % salt",
        "at 19 c",
        "20 eggs",
    ],
)
def test_figures_that_are_no_times(text: str) -> None:
    """Weights, readings, counts and percentages are left in the words."""
    assert said(text).times == ()


DAYS = {
    "tomorrow": Day("tomorrow", 1), "on saturday": Day("sat", weekday=5), "next tue": Day("tue", weekday=1),
    "sat lunch": Day("sat", weekday=5), "last night": Day("last night", -1, part="evening"),
    "this morning": Day("this morning", 0, part="morning"), "2027-03-14": Day("2027-03-14", date=date(2027, 3, 14)),
    "12 dec": Day("12 dec", date=date(SOME_YEAR, 12, 12)), "march 3rd": Day("3 mar", date=date(SOME_YEAR, 3, 3)),
    "tmrw": Day("tomorrow", 1), "2nite": Day("tonight", 0, part="evening"),
}  # fmt: skip


@pytest.mark.parametrize(("text", "day"), DAYS.items())
def test_days(text: str, day: Day) -> None:
    """Days by name, by weekday and by date, short forms and slips among them."""
    assert said(text).day == day


def test_sat_is_not_always_saturday() -> None:
    """ "The pork sat out" names no day, and a day that does not exist is none."""
    for text in (
        "the pork sat out for two hours",
        "it sat out",
        "it sat on the side",
        "the soup sat at room temperature",
    ):
        assert said(text).day is None
    assert said("on 31 feb").day is None and said("2027-02-30").day is None


def test_in_ago_and_vaguely() -> None:
    """ "In", "ago" and "in a bit" are told apart, and the words around them stay."""
    assert said("in 10").ahead == timedelta(minutes=10)
    assert said("begun half an hour ago").ago == timedelta(minutes=30)
    assert said("in half an hour's time").ahead == timedelta(minutes=30)
    assert said("in a bit").text == "VAGUE"
    assert said("give the pork another 20 min").text == "give the pork another LEN"


def test_each_clause_keeps_its_own_times() -> None:
    """Cut into clauses, each has the times that stand in it."""
    pieces = said("fed it at 8:40, folded it 10 min ago, in by 9pm").pieces(re.compile(", "))
    assert [piece.clock for _, piece in pieces] == [Clock(8, 40, open=True), None, Clock(21)]
    assert pieces[1][1].ago == timedelta(minutes=10)
    assert [before for before, _ in pieces] == ["", ", ", ", "]


# ---------------------------------------------------------------- what has been, what is to come

THURSDAY = (2027, 3, 11)


@pytest.mark.parametrize(
    ("now", "text", "meant"),
    [
        ((9, 0), "at 8:40", (*THURSDAY, 8, 40)),
        ((21, 0), "at 8:40", (*THURSDAY, 20, 40)),
        ((19, 5), "at 8:40", (*THURSDAY, 8, 40)),
        ((7, 0), "at 9", (2027, 3, 10, 21, 0)),
        ((9, 0), "at 9pm", (2027, 3, 10, 21, 0)),
        ((9, 0), "20 min ago", (*THURSDAY, 8, 40)),
        ((9, 0), "yesterday at 6", (2027, 3, 10, 18, 0)),
        ((9, 0), "yesterday morning at 6", (2027, 3, 10, 6, 0)),
        ((9, 0), "last night at 8", (2027, 3, 10, 20, 0)),
        ((9, 0), "on tuesday at noon", (2027, 3, 9, 12, 0)),
        ((15, 0), "this morning", (*THURSDAY, 8, 0)),
        ((7, 10), "this morning", (*THURSDAY, 7, 10)),
        ((9, 0), "yesterday", (2027, 3, 10, 9, 0)),
    ],
)
def test_past(now: tuple[int, int], text: str, meant: tuple[int, int, int, int, int]) -> None:
    """Of what has been done, the latest such time that has been."""
    assert instants.past(said(text), at(LONDON, *THURSDAY, *now), LONDON) == at(LONDON, *meant)


@pytest.mark.parametrize(
    ("now", "text", "meant"),
    [
        ((18, 0), "until 8", (*THURSDAY, 20, 0)),
        ((9, 0), "until 8", (*THURSDAY, 20, 0)),
        ((21, 0), "until 8", (2027, 3, 12, 8, 0)),
        ((21, 0), "until 11", (2027, 3, 12, 11, 0)),
        ((6, 0), "until 8", (*THURSDAY, 8, 0)),
        ((10, 0), "at 1", (*THURSDAY, 13, 0)),
        ((19, 0), "at 9pm", (*THURSDAY, 21, 0)),
        ((22, 0), "until 7am", (2027, 3, 12, 7, 0)),
        ((12, 0), "in 12 minutes", (*THURSDAY, 12, 12)),
        ((12, 0), "another half hour", (*THURSDAY, 12, 30)),
        ((12, 0), "tomorrow at 8", (2027, 3, 12, 8, 0)),
        ((12, 0), "tomorrow at 5", (2027, 3, 12, 17, 0)),
        ((12, 0), "tomorrow", (2027, 3, 12, 8, 0)),
        ((12, 0), "tomorrow evening", (2027, 3, 12, 18, 0)),
        ((12, 0), "in the morning", (2027, 3, 12, 8, 0)),
        ((12, 0), "tonight at 9", (*THURSDAY, 21, 0)),
        ((12, 0), "on sunday at 10", (2027, 3, 14, 10, 0)),
    ],
)
def test_future(now: tuple[int, int], text: str, meant: tuple[int, int, int, int, int]) -> None:
    """Of what is put off, the next such time; where two would do, the one in the cooks' waking hours."""
    assert instants.future(said(text), at(LONDON, *THURSDAY, *now), build(), LONDON) == at(LONDON, *meant)


def test_no_time_said_is_none() -> None:
    """Nothing is made up where no time was said, or where the part of the day is over."""
    now = at(LONDON, *THURSDAY, 21, 0)
    assert instants.past(said("done"), now, LONDON) is None
    assert instants.future(said("later"), now, None, LONDON) is None
    assert instants.future(said("tonight"), now, None, LONDON) is None


def test_the_next_waking() -> None:
    """Until the cook wakes: tomorrow's first waking hour, also when already asleep."""
    assert instants.next_waking(build(), at(LONDON, *THURSDAY, 22, 0), LONDON) == at(
        LONDON, 2027, 3, 12, 6, 30
    )
    assert instants.next_waking(build(), at(LONDON, *THURSDAY, 5, 0), LONDON) == at(LONDON, *THURSDAY, 6, 30)
    assert instants.next_waking(None, at(LONDON, *THURSDAY, 5, 0), LONDON) is None


# ---------------------------------------------------------------- another serving hour

SUNDAY_LUNCH = at(LONDON, 2027, 3, 14, 13, 30)


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("can we eat at 2 instead", (2027, 3, 14, 14, 0)),
        ("make it dinner at 7", (2027, 3, 14, 19, 0)),
        ("push lunch to 14:15", (2027, 3, 14, 14, 15)),
        ("move it to saturday lunch at 1", (2027, 3, 13, 13, 0)),
        ("monday dinner at 8", (2027, 3, 15, 20, 0)),
        ("eat an hour later", (2027, 3, 14, 14, 30)),
        ("eat half an hour earlier", (2027, 3, 14, 13, 0)),
        ("eat tomorrow instead", (2027, 3, 12, 13, 30)),
        ("breakfast at 10", (2027, 3, 14, 10, 0)),
        ("lunch at noon", (2027, 3, 14, 12, 0)),
    ],
)
def test_serving(text: str, meant: tuple[int, int, int, int, int]) -> None:
    """Another hour for the meal stays on its day unless a day is said, and near its hour."""
    now = at(LONDON, *THURSDAY, 19, 5)
    assert instants.serving(said(text), SUNDAY_LUNCH, now, LONDON) == at(LONDON, *meant)


def test_serving_without_a_planned_hour() -> None:
    """With no hour planned, the next such day and time; a mere length says nothing."""
    now = at(LONDON, *THURSDAY, 19, 5)
    assert instants.serving(said("saturday lunch at 1"), None, now, LONDON) == at(LONDON, 2027, 3, 13, 13)
    assert instants.serving(said("eat an hour later"), None, now, LONDON) is None


# ---------------------------------------------------------------- nights on which the clocks change


def test_the_clocks_going_forward() -> None:
    """A time on the morning after is the wall clock's; a length across the change is elapsed time.

    In London the clocks go from 01:00 to 02:00 on 28 March 2027 (IANA time zone database).
    """
    now = at(LONDON, 2027, 3, 27, 22, 0)
    assert instants.future(said("until 7am"), now, None, LONDON) == datetime(2027, 3, 28, 6, 0, tzinfo=UTC)
    assert instants.future(said("in 10 hours"), now, None, LONDON) == datetime(2027, 3, 28, 8, 0, tzinfo=UTC)
    assert instants.past(said("yesterday at 8pm"), at(LONDON, 2027, 3, 28, 9, 0), LONDON) == datetime(
        2027, 3, 27, 20, 0, tzinfo=UTC
    )


def test_the_clocks_going_back() -> None:
    """A time that occurs twice is its first occurrence, as everywhere (RFC 5545, section 3.3.5).

    In Paris the clocks go from 03:00 to 02:00 on 31 October 2027 (IANA time zone database).
    """
    now = datetime(2027, 10, 31, 7, 0, tzinfo=UTC)
    assert instants.past(said("at 2:30 this morning"), now, PARIS) == datetime(
        2027, 10, 31, 0, 30, tzinfo=UTC
    )


def test_a_zone_off_the_hour() -> None:
    """Half-hour zones are no exception."""
    now = at(KOLKATA, 2026, 12, 4, 9, 0)
    assert instants.past(said("at 8:40"), now, KOLKATA) == datetime(2026, 12, 4, 3, 10, tzinfo=UTC)


# ---------------------------------------------------------------- always

TIMES = st.sampled_from(
    [*CLOCKS, *DAYS, *LENGTHS, "in 10", "an hour ago", "tonight", "in the evening", "tomorrow at 8"]
)
MOMENTS = st.datetimes(datetime(2026, 1, 1), datetime(2028, 12, 31)).map(lambda day: day.replace(tzinfo=UTC))
ZONES = st.sampled_from([LONDON, PARIS, KOLKATA, "America/New_York", "Pacific/Apia", "UTC"])


@given(TIMES, MOMENTS, ZONES)
@settings(max_examples=120, deadline=None)
def test_past_is_past_and_future_is_to_come(text: str, now: datetime, zone: str) -> None:
    """Whenever and wherever it is said, what was done has been and what is put off is to come."""
    before, after = instants.past(said(text), now, zone), instants.future(said(text), now, None, zone)
    assert before is None or before <= now
    assert after is None or after > now


@given(st.integers(1, 12), st.integers(0, 59), MOMENTS, ZONES)
@settings(max_examples=80, deadline=None)
def test_an_open_time_is_within_half_a_day(hour: int, minute: int, now: datetime, zone: str) -> None:
    """ "At 8:40" about something done is never more than half a day ago, but for a change of the clocks."""
    meant = instants.past(said(f"at {hour}:{minute:02}"), now, zone)
    assert meant is not None and now - meant <= timedelta(hours=13)
    assert (local(meant, zone).hour % 12, local(meant, zone).minute) == (hour % 12, minute)


@given(st.text(max_size=300))
@settings(max_examples=100, deadline=None)
def test_any_text_can_be_split(text: str) -> None:
    """Every time found stands in the text as a word in capitals, in order, and nothing fails."""
    found = said(text)
    assert TOKEN.findall(found.text) == [kind for kind, _ in found.times]
