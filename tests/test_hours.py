"""Wall-clock hours and who is there: both clock-change weekends, against published facts, and in general."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfoNotFoundError

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.domain.hours import (
    Dated,
    Weekly,
    covering,
    exists,
    expand,
    instant,
    local,
    merge,
    without,
    zone_named,
)
from scheduler.domain.presence import Presence, holding, within
from tests.plans_for_tests import PARIS, at, component, cook, hours, number_of, plan, step, utc

HOUR = timedelta(hours=1)
EVERY_DAY = frozenset(range(7))

# ---------------------------------------------------------------- published clock changes

CHANGES = [
    ("Europe/Paris", "2026-03-29 01:00", "+01:00", "+02:00"),
    ("Europe/Paris", "2026-10-25 01:00", "+02:00", "+01:00"),
    ("America/New_York", "2026-03-08 07:00", "-05:00", "-04:00"),
    ("America/New_York", "2026-11-01 06:00", "-04:00", "-05:00"),
    ("Australia/Lord_Howe", "2026-04-04 15:00", "+11:00", "+10:30"),
    ("Australia/Lord_Howe", "2026-10-03 15:30", "+10:30", "+11:00"),
]
"""Zone, UTC moment, offset before, offset after. Source: IANA time zone database, 2026f."""


@pytest.mark.parametrize(("zone", "moment", "before", "after"), CHANGES)
def test_clocks_change_when_published(zone: str, moment: str, before: str, after: str) -> None:
    """The offset is the old one a minute before each published change and the new one from it on."""
    changes = utc(moment)
    assert local(changes - timedelta(minutes=1), zone).isoformat().endswith(before)
    assert local(changes, zone).isoformat().endswith(after)


@pytest.mark.parametrize(
    ("written", "meant"), [("2007-11-04 01:30", "2007-11-04 05:30"), ("2007-03-11 02:30", "2007-03-11 07:30")]
)
def test_doubtful_local_times_are_read_as_the_standard_says(written: str, meant: str) -> None:
    """A time that comes twice is its first, one that never comes has the offset before the gap.

    Source: RFC 5545, section 3.3.5, "FORM #3", whose two New York examples these are.
    """
    assert at(written, "America/New_York") == utc(meant)


SOAKS = [
    (PARIS, "2026-03-28 20:00", 12, "2026-03-29T09:00:00+02:00"),
    (PARIS, "2026-10-24 18:00", 16, "2026-10-25T09:00:00+01:00"),
    ("America/New_York", "2026-03-07 20:00", 12, "2026-03-08T09:00:00-04:00"),
    (PARIS, "2026-10-10 18:00", 504, "2026-10-31T17:00:00+01:00"),
    (PARIS, "2026-06-01 18:00", 504, "2026-06-22T18:00:00+02:00"),
]
"""Zone, local start, hours that pass, local end. Source: worked out from the IANA database, 2026f."""


@pytest.mark.parametrize(("zone", "start", "passed", "end"), SOAKS)
def test_durations_are_time_that_passes(zone: str, start: str, passed: int, end: str) -> None:
    """A soak across a clock change ends so many real hours later, whatever the wall clock did."""
    assert local(at(start, zone) + passed * HOUR, zone).isoformat() == end


def test_a_time_the_clock_jumps_over_does_not_exist() -> None:
    """02:30 on the spring night in Paris is told from 03:30 and from the same hour a day earlier."""
    assert not exists(datetime.fromisoformat("2026-03-29 02:30"), PARIS)
    assert exists(datetime.fromisoformat("2026-03-29 03:30"), PARIS)
    assert exists(datetime.fromisoformat("2026-03-28 02:30"), PARIS)
    assert exists(datetime.fromisoformat("2026-10-25 02:30"), PARIS)


def test_a_zone_that_is_none_is_refused() -> None:
    """A made-up zone name raises rather than meaning UTC."""
    with pytest.raises(ZoneInfoNotFoundError):
        zone_named("Europe/Nowhere")


# ---------------------------------------------------------------- expanding


@pytest.mark.parametrize(
    ("night", "lengths"), [("2026-03-28", [8.5, 7.5, 8.5]), ("2026-10-24", [8.5, 9.5, 8.5])]
)
def test_waking_hours_stay_on_the_wall_clock(night: str, lengths: list[float]) -> None:
    """Seven o'clock stays seven o'clock, so the night of a clock change is an hour shorter or longer."""
    first = datetime.fromisoformat(night) - timedelta(days=1)
    days = expand(hours("07:00-22:30"), PARIS, instant(first, PARIS), instant(first, PARIS) + 96 * HOUR)
    assert {local(start, PARIS).time() for start, _ in days} == {time(7)}
    assert {local(end, PARIS).time() for _, end in days} == {time(22, 30)}
    nights = [later[0] - earlier[1] for earlier, later in pairwise(days)]
    assert [each / HOUR for each in nights] == lengths


def test_hours_past_midnight_belong_to_the_day_they_begin_on() -> None:
    """ "sat 20:00-02:00" reaches into Sunday, and "20:00-00:00" ends at midnight."""
    since, until = at("2026-12-11 00:00"), at("2026-12-15 00:00")
    assert expand(hours("sat-sat 20:00-02:00"), PARIS, since, until) == (
        (at("2026-12-12 20:00"), at("2026-12-13 02:00")),
    )
    assert expand(hours("sat-sat 20:00-00:00"), PARIS, since, until) == (
        (at("2026-12-12 20:00"), at("2026-12-13 00:00")),
    )


def test_hours_that_began_before_the_stretch_are_clipped_to_it() -> None:
    """What began yesterday evening, or weeks ago, still counts from the first moment asked about."""
    since, until = at("2026-12-13 01:00"), at("2026-12-13 03:00")
    assert expand(hours("sat-sat 20:00-02:00"), PARIS, since, until) == ((since, at("2026-12-13 02:00")),)
    long_ago = Dated(datetime.fromisoformat("2026-11-01 08:00"), datetime.fromisoformat("2026-12-20 08:00"))
    assert expand((long_ago,), PARIS, since, until) == ((since, until),)


def test_all_day_every_day_is_one_stretch() -> None:
    """Hours from midnight to midnight join up without a gap, across a clock change too."""
    since, until = at("2026-10-20 00:00"), at("2026-10-30 00:00")
    assert expand(hours("00:00-00:00"), PARIS, since, until) == ((since, until),)


def test_hours_in_a_gap_that_the_clock_jumps_over_are_shifted() -> None:
    """ "02:15-02:45" on the spring night stands for 03:15 to 03:45 summer time (RFC 5545, section 3.3.5)."""
    found = expand(hours("02:15-02:45"), PARIS, at("2026-03-29 00:00"), at("2026-03-29 12:00"))
    assert [(local(a, PARIS).time(), local(b, PARIS).time()) for a, b in found] == [
        (time(3, 15), time(3, 45))
    ]


def test_a_dated_evening_begins_on_its_own_day_only() -> None:
    """One evening away is found on its date and no other."""
    (evening,) = hours("2026-12-10 18:00-23:00")
    assert evening.on(date(2026, 12, 10)) is not None
    assert evening.on(date(2026, 12, 11)) is None


# ---------------------------------------------------------------- sets of stretches

MINUTES = st.integers(0, 300)
PIECES = st.lists(st.tuples(MINUTES, st.integers(1, 60)), max_size=8)


def stretches(pairs: list[tuple[int, int]]) -> list[tuple[datetime, datetime]]:
    base = utc("2026-12-12 00:00")
    minute = timedelta(minutes=1)
    return [(base + start * minute, base + (start + length) * minute) for start, length in pairs]


@given(PIECES, MINUTES)
@settings(max_examples=80)
def test_merging_keeps_every_moment_and_leaves_gaps(pairs: list[tuple[int, int]], minute: int) -> None:
    """A moment lies in the union exactly when it lay in a piece, and no two pieces of it touch."""
    pieces, moment = stretches(pairs), stretches([(minute, 1)])[0][0]
    joined = merge(pieces)
    assert (covering(joined, moment) is not None) == any(start <= moment < end for start, end in pieces)
    assert all(earlier[1] < later[0] for earlier, later in pairwise(joined))
    assert holding(joined, moment) == covering(joined, moment)


@given(PIECES, PIECES, MINUTES)
@settings(max_examples=80)
def test_taking_holes_out_leaves_the_rest(
    base: list[tuple[int, int]], holes: list[tuple[int, int]], minute: int
) -> None:
    """A moment is left exactly when it lay in the base and in no hole."""
    moment = stretches([(minute, 1)])[0][0]
    left = without(stretches(base), stretches(holes))
    expected = covering(stretches(base), moment) is not None and covering(stretches(holes), moment) is None
    assert (covering(left, moment) is not None) == expected


@given(st.integers(0, 364), st.integers(0, 23), st.integers(1, 24))
@settings(max_examples=80)
def test_expanding_agrees_with_asking_the_local_clock(day: int, start: int, length: int) -> None:
    """Whether a moment lies in weekly hours is what its own wall clock says, every day of a year."""
    end = (start + length) % 24
    span = Weekly(EVERY_DAY, time(start), time(end))
    moment = utc("2026-01-01 11:20") + timedelta(days=day)
    clock = local(moment, PARIS).time()
    inside = time(start) <= clock < time(end) if start < end else clock >= time(start) or clock < time(end)
    found = expand((span,), PARIS, moment - 48 * HOUR, moment + 48 * HOUR)
    assert (covering(found, moment) is not None) == inside


# ---------------------------------------------------------------- who is there

WEEK = (at("2026-12-07 00:00"), at("2026-12-14 00:00"))
TWO = plan(
    component("A", step("Anyone's", nearby="20 min"), step("Noor's", hands_on="20 min", cook="Noor")),
    cooks=[
        cook("Ada", ["07:00-22:00"], ["mon-fri 08:30-17:45"]),
        cook("Noor", ["09:00-23:30"], ["mon-fri 09:00-12:00"]),
    ],
)
HERE = Presence(TWO, *WEEK)


def test_at_home_is_awake_without_away() -> None:
    """Ada's Monday at home is the hour and a half before work and the evening."""
    assert HERE.home("Ada")[:2] == (
        (at("2026-12-07 07:00"), at("2026-12-07 08:30")),
        (at("2026-12-07 17:45"), at("2026-12-07 22:00")),
    )
    assert HERE.awake("Ada")[0] == (at("2026-12-07 07:00"), at("2026-12-07 22:00"))


def test_someone_is_any_of_the_cooks_of_a_step() -> None:
    """A step that names no cook has both cooks' hours, joined; one that does has that cook's alone."""
    anyone, noor = TWO.steps[number_of(TWO, "Anyone's")], TWO.steps[number_of(TWO, "Noor's")]
    assert HERE.someone(anyone)[:2] == (
        (at("2026-12-07 07:00"), at("2026-12-07 08:30")),
        (at("2026-12-07 12:00"), at("2026-12-07 23:30")),
    )
    assert HERE.someone(noor) == HERE.home("Noor")
    assert HERE.awake_someone()[0] == (at("2026-12-07 07:00"), at("2026-12-07 23:30"))


def test_a_stretch_is_inside_only_as_a_whole() -> None:
    """Ending when the hours end is inside; a minute more, or starting as they end, is not."""
    home = HERE.home("Ada")
    assert within(home, at("2026-12-07 07:00"), at("2026-12-07 08:30"))
    assert not within(home, at("2026-12-07 07:00"), at("2026-12-07 08:31"))
    assert not within(home, at("2026-12-07 08:30"), at("2026-12-07 08:30"))


def test_the_next_waking_moment_is_found() -> None:
    """Between two stretches the next start is given; inside one, the moment itself."""
    away, asleep, up = at("2026-12-07 10:00"), at("2026-12-08 03:00"), at("2026-12-07 20:00")
    assert not HERE.is_awake(away) and HERE.is_awake(away, at_home=False)
    assert HERE.next_awake(away) == at("2026-12-07 12:00")
    assert HERE.next_awake(away, at_home=False) == away
    assert HERE.next_awake(asleep, at_home=False) == at("2026-12-08 07:00")
    assert HERE.next_awake(up) == up


def test_nobody_is_known_of_beyond_the_stretch_asked_for() -> None:
    """After the last known moment there is nothing to find."""
    assert HERE.next_awake(WEEK[1]) is None
    assert all(start.tzinfo is UTC for start, _ in HERE.home("Noor"))
