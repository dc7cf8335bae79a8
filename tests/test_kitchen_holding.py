"""The clocks of food that cools or stands out: their limits, how readings move them, and what is said at the limit."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.domain.hours import instant
from scheduler.domain.kitchen.holding import Clock, Kind, Limit, State, limits, verdict
from scheduler.domain.kitchen.rules import FOOD_CODE, OTHER_OPTION, RULES, SETS, STRICTER, Rules

BEGAN = datetime(2026, 11, 25, 14, 0, tzinfo=UTC)
MINUTE, HOUR = timedelta(minutes=1), timedelta(hours=1)
APPENDIX_B = RULES["fsis-appendix-b-1999"]
AT_HOME = RULES["fsis-at-home"]


def at(elapsed: str) -> datetime:
    """ "1:55" after the clock began."""
    hours, minutes = elapsed.split(":")
    return BEGAN + int(hours) * HOUR + int(minutes) * MINUTE


def clock(readings: str = "", kind: Kind = Kind.COOLING, began: datetime = BEGAN) -> Clock:
    """A clock with readings such as "57@0:00 21@1:55"."""
    pairs = [each.split("@") for each in readings.split()]
    return Clock(kind, began, tuple((at(elapsed), float(celsius)) for celsius, elapsed in pairs))


def moments(found: tuple[Limit, ...]) -> list[tuple[str, float | None]]:
    """How long after the clock began each limit falls, and what the middle must be down to."""
    return [(str((limit.at - BEGAN) // MINUTE * MINUTE)[:-3], limit.to_c) for limit in found]


# ---------------------------------------------------------------- cooling by the Food Code

VERDICTS = [
    ("57@0:00 21@1:55 5@5:55", State.MET, []),  # FC-V1
    ("57@0:00 21@2:05 5@5:00", State.PASSED, [(21.0, 5)]),  # FC-V2: the first stage fails
    ("57@0:00 21@1:00 5@6:00", State.MET, []),  # FC-V3: the total counts, not 2 h and then 4 h
    ("57@0:00 21@1:00 5@6:10", State.PASSED, [(5.0, 10)]),  # FC-V4: the total fails
    ("60@0:00 57@0:20 21@2:15 5@6:15", State.MET, []),  # FC-V5: the clock starts at 57 C
    ("57@0:00 21@2:00 5@6:00", State.MET, []),  # FC-V6: at the limits
]


@pytest.mark.parametrize(("readings", "state", "missed"), VERDICTS)
def test_two_stages_by_the_food_code(readings: str, state: State, missed: list[tuple[float, int]]) -> None:
    """Worked from 3-501.14(A), FC-01 and FC-02 (read in a copy): 21 C in 2 h, 5 C in 6 h in all, from 57 C."""
    found = verdict(clock(readings), FOOD_CODE, at("9:00"))
    assert found.state is state
    assert [(miss.limit.to_c, miss.by / MINUTE) for miss in found.missed] == missed


def test_the_limits_before_anything_was_read() -> None:
    """Food Code 3-501.14 (read in a copy): 21 C after 2 h, 5 C after 6 h, as if it passed 57 C when it began."""
    found = limits(clock(), FOOD_CODE)
    assert moments(found) == [("2:00", 21.0), ("6:00", 5.0)]
    assert [limit.says for limit in found] == ["21 C or below in the middle", "5 C or below in the middle"]
    assert all(limit.hard and str(limit.source) == "FDA Food Code 2013, 3-501.14" for limit in found)


def test_a_stage_that_a_reading_shows_is_no_longer_a_limit() -> None:
    """A fast first stage leaves the rest of the six hours to the second (FC-02)."""
    assert moments(limits(clock("57@0:00 20.5@0:40"), FOOD_CODE)) == [("6:00", 5.0)]


def test_the_time_counts_from_the_last_reading_at_57_or_above() -> None:
    """While it is hot no time runs; between two readings the earlier is taken (FC-V5 and the safe side)."""
    assert moments(limits(clock("90@0:10 60@0:50 40@1:30"), FOOD_CODE)) == [("2:50", 21.0), ("6:50", 5.0)]
    assert moments(limits(clock("50@0:30"), FOOD_CODE)) == [("2:00", 21.0), ("6:00", 5.0)]


def test_getting_warm_again_gives_no_time() -> None:
    """A reading at 57 C or above after one below it begins nothing anew: the food needs a clock of its own."""
    again = limits(clock("57@0:00 30@1:00 60@1:30"), FOOD_CODE)
    assert moments(again) == [("2:00", 21.0), ("6:00", 5.0)]


def test_a_warmer_reading_while_the_stage_lasts_opens_it_again() -> None:
    """Then the colder one was not of the warmest part; after the stage is over, it is another matter."""
    again = clock("57@0:00 20@1:00 30@1:30")
    assert moments(limits(again, FOOD_CODE)) == [("2:00", 21.0), ("6:00", 5.0)]
    assert verdict(again, FOOD_CODE, at("2:01")).state is State.PASSED
    assert moments(limits(clock("57@0:00 20@1:00 30@1:30 21@1:50"), FOOD_CODE)) == [("6:00", 5.0)]
    assert verdict(clock("57@0:00 20@1:00 5@4:00 9@20:00"), FOOD_CODE, at("21:00")).state is State.MET


def test_a_reading_from_before_the_clock_shortens_it() -> None:
    """Food that was below 57 C before the clock began passed it then at the latest."""
    early = Clock(Kind.COOLING, BEGAN, ((BEGAN - 30 * MINUTE, 50.0),))
    assert moments(limits(early, FOOD_CODE))[0] == ("1:30", 21.0)


def test_the_order_of_readings_makes_no_difference() -> None:
    """Readings are told in any order."""
    one, other = clock("57@0:20 30@1:00 20@1:50"), clock("20@1:50 57@0:20 30@1:00")
    assert limits(one, FOOD_CODE) == limits(other, FOOD_CODE)


def test_food_made_at_room_temperature() -> None:
    """3-501.14(B), FC-03 (read in a copy): 5 C within 4 h of being made, whatever warm reading comes between."""
    assert moments(limits(clock("22@1:00", Kind.AMBIENT), FOOD_CODE)) == [("4:00", 5.0)]
    assert verdict(clock("5@3:59", Kind.AMBIENT), FOOD_CODE, at("5:00")).state is State.MET
    assert verdict(clock("6@4:00", Kind.AMBIENT), FOOD_CODE, at("4:01")).state is State.PASSED


# ---------------------------------------------------------------- cooling by FSIS


def test_option_1_of_appendix_b_counts_each_stage_by_itself() -> None:
    """54.4 C to 26.7 C in 1.5 h (FS-C1), 26.7 C to 4.4 C in 5 h (FS-C2): 1999, read in a copy."""
    assert moments(limits(clock(), APPENDIX_B)) == [("1:30", 26.7), ("6:30", 4.4)]
    assert moments(limits(clock("54.4@0:00 26.7@1:00 20@2:00"), APPENDIX_B)) == [("6:00", 4.4)]
    assert verdict(clock("54.4@0:00 26.7@1:30 4.4@6:30"), APPENDIX_B, at("7:00")).state is State.MET
    late = verdict(clock("54.4@0:00 26.7@1:40 4.4@6:00"), APPENDIX_B, at("7:00"))
    assert [(miss.limit.to_c, miss.by) for miss in late.missed] == [(26.7, 10 * MINUTE)]
    slow = verdict(clock("54.4@0:00 26.7@1:00 4.4@6:05"), APPENDIX_B, at("7:00"))
    assert [(miss.limit.to_c, miss.by) for miss in slow.missed] == [(4.4, 5 * MINUTE)]


def test_option_2_of_appendix_b() -> None:
    """48.9 C to 12.8 C in 6 h (FS-C3), with at most 1 h down to 26.7 C: 1999, read in a copy."""
    assert moments(limits(clock("48.9@0:10 40@0:30"), OTHER_OPTION)) == [("1:10", 26.7), ("6:10", 12.8)]


def test_the_stricter_keeps_both() -> None:
    """By default the limits of the Food Code and of FSIS all hold, in order of their moments."""
    assert moments(limits(clock(), STRICTER)) == [
        ("1:30", 26.7),
        ("2:00", 21.0),
        ("6:00", 5.0),
        ("6:30", 4.4),
    ]


# ---------------------------------------------------------------- standing out


def test_time_in_place_of_temperature() -> None:
    """3-501.19(B), FC-07: 4 h; (C), FC-08: 6 h from cold (both read in a copy); FSIS at home: 2 h (from memory)."""
    assert moments(limits(clock(kind=Kind.OUT), FOOD_CODE)) == [("4:00", None)]
    assert moments(limits(clock(kind=Kind.OUT_COLD), FOOD_CODE)) == [("6:00", None)]
    assert moments(limits(clock(kind=Kind.OUT), AT_HOME)) == [("2:00", None)]
    assert moments(limits(clock(kind=Kind.OUT), STRICTER)) == [("2:00", None), ("4:00", None)]


def test_four_hours_are_four_hours() -> None:
    """At the limit it has not been passed, a minute later it has; then the rule says to throw it away."""
    out = clock(kind=Kind.OUT)
    three = verdict(out, FOOD_CODE, at("3:00"))
    assert (three.state, three.left, three.until, three.then) == (State.WITHIN, HOUR, at("4:00"), None)
    assert verdict(out, FOOD_CODE, at("4:00")).state is State.WITHIN
    over = verdict(out, FOOD_CODE, at("4:01"))
    assert over.state is State.PASSED and over.then is not None
    assert (over.then.says, over.then.again, over.missed[0].by) == ("throw it away", False, MINUTE)


def test_nothing_read_ends_the_time_out() -> None:
    """By 3-501.19 what stood out is eaten or thrown away; a cold reading does not put it back."""
    assert moments(limits(clock("4@1:00", Kind.OUT), FOOD_CODE)) == [("4:00", None)]


def test_food_out_of_the_cold_that_gets_warm_is_over_at_once() -> None:
    """3-501.19(C), FC-08: discarded above 21 C, or at 6 h; 21 C itself is allowed."""
    assert verdict(clock("21@3:00", Kind.OUT_COLD), FOOD_CODE, at("3:00")).state is State.WITHIN
    warm = verdict(clock("21.5@3:00", Kind.OUT_COLD), FOOD_CODE, at("3:00"))
    assert warm.state is State.PASSED and moments((warm.missed[0].limit,)) == [("3:00", None)]


def test_the_stricter_says_which_limit_was_passed_and_which_is_to_come() -> None:
    """Three hours out: past what FSIS tells people at home, an hour within what the Food Code gives kitchens."""
    found = verdict(clock(kind=Kind.OUT), STRICTER, at("3:00"))
    assert [(miss.limit.source.name, miss.by) for miss in found.missed] == [
        ("FSIS advice to people at home", HOUR)
    ]
    assert found.next is not None and found.next.source.name == "FDA Food Code 2013" and found.left == HOUR


# ---------------------------------------------------------------- what was passed


def test_what_was_not_read_is_not_shown() -> None:
    """Past the hour, not at it: passed, and told apart from what a reading shows was missed."""
    assert verdict(clock(), FOOD_CODE, at("2:00")).state is State.WITHIN
    unread = verdict(clock(), FOOD_CODE, at("2:30")).missed
    seen = verdict(clock("57@0:00 30@2:10"), FOOD_CODE, at("2:30")).missed
    assert [(miss.by, miss.shown) for miss in (*unread, *seen)] == [(30 * MINUTE, False), (30 * MINUTE, True)]


def test_between_the_limits_it_may_be_heated_again_and_after_both_it_may_not() -> None:
    """Inspectors' practice for the first stage (from memory); the second leaves nothing but throwing it away."""
    first, both = verdict(clock(), FOOD_CODE, at("2:30")), verdict(clock(), FOOD_CODE, at("6:30"))
    assert first.then is not None and first.then.again and "74 C for 15 s" in first.then.says
    assert both.then is not None and not both.then.again and both.then.says == "throw it away"


def test_what_is_read_later_is_not_known_yet() -> None:
    """A verdict as of an earlier moment does not count a later reading."""
    assert verdict(clock("57@0:00 20@1:30"), FOOD_CODE, at("1:00")).until == at("2:00")


# ---------------------------------------------------------------- clock changes


@pytest.mark.parametrize(
    ("zone", "began", "limit"),
    [
        (
            "Europe/Paris",
            "2026-10-24 23:30",
            "2026-10-25 04:30",
        ),  # an hour comes twice: read on the clock it is 5 h
        ("Europe/Paris", "2026-03-28 23:30", "2026-03-29 06:30"),  # an hour is left out: it reads as 7 h
        ("America/New_York", "2026-10-31 23:30", "2026-11-01 04:30"),
        ("America/New_York", "2026-03-07 23:30", "2026-03-08 06:30"),
    ],
)
def test_six_hours_over_a_clock_change_are_six_hours(zone: str, began: str, limit: str) -> None:
    """Elapsed time, on both weekends of the year at which the clocks change (IANA tz data)."""
    since = instant(datetime.fromisoformat(began), zone)
    assert limits(clock(began=since), FOOD_CODE)[-1].at == instant(datetime.fromisoformat(limit), zone)
    stood = Clock(Kind.OUT_COLD, since)
    assert verdict(stood, FOOD_CODE, instant(datetime.fromisoformat(limit), zone)).left == timedelta(0)


# ---------------------------------------------------------------- always

A_READING = st.tuples(st.integers(0, 8 * 60), st.integers(-20, 990).map(lambda tenths: tenths / 10))
READINGS = st.lists(A_READING, max_size=5, unique_by=lambda reading: reading[0])
FEW = settings(max_examples=60, deadline=None)


def with_readings(readings: list[tuple[int, float]], kind: Kind = Kind.COOLING) -> Clock:
    return Clock(kind, BEGAN, tuple((BEGAN + minutes * MINUTE, celsius) for minutes, celsius in readings))


def by_rule(found: tuple[Limit, ...]) -> dict[str, datetime]:
    return {limit.rule: limit.at for limit in found}


@FEW
@given(READINGS, A_READING, st.floats(0, 30))
def test_a_limit_never_moves_later_through_a_worse_reading(
    readings: list[tuple[int, float]], reading: tuple[int, float], warmer: float
) -> None:
    """By the Food Code: a reading that is warmer, though no longer hot, drops no stage and puts off no limit."""
    minutes, celsius = reading
    others = [each for each in readings if each[0] != minutes]
    cool = min(celsius, 56.9)
    better = by_rule(limits(with_readings([*others, (minutes, cool)]), FOOD_CODE))
    worse = by_rule(limits(with_readings([*others, (minutes, min(cool + warmer, 56.9))]), FOOD_CODE))
    assert all(rule in worse and worse[rule] <= better[rule] for rule in better)


@FEW
@given(READINGS, st.sampled_from(SETS), st.sampled_from(Kind), st.integers(0, 10 * 60))
def test_the_stricter_is_never_laxer_than_any_set(
    readings: list[tuple[int, float]], rules: Rules, kind: Kind, minutes: int
) -> None:
    """What is past a limit of some set is past one of the default, and no limit comes later there."""
    running, now = with_readings(readings, kind), BEGAN + minutes * MINUTE
    if verdict(running, rules, now).state is State.PASSED:
        assert verdict(running, STRICTER, now).state is State.PASSED
    own, stricter = by_rule(limits(running, rules)), by_rule(limits(running, STRICTER))
    assert all(stricter[rule] <= moment for rule, moment in own.items())


@FEW
@given(
    READINGS,
    st.sampled_from(list(RULES.values())),
    st.sampled_from(Kind),
    st.integers(0, 600),
    st.integers(0, 600),
)
def test_what_was_passed_stays_passed(
    readings: list[tuple[int, float]], rules: Rules, kind: Kind, minutes: int, later: int
) -> None:
    """With no new reading, time alone never makes anything better, and what is left grows shorter."""
    known = [each for each in readings if each[0] <= minutes]
    running, now = with_readings(known, kind), BEGAN + minutes * MINUTE
    first, then = verdict(running, rules, now), verdict(running, rules, now + later * MINUTE)
    assert len(then.missed) >= len(first.missed)
    if first.state is State.MET:
        assert then.state is State.MET
    if first.left is not None and first.state is State.WITHIN:
        assert (then.state is State.PASSED) == (timedelta(minutes=later) > first.left)


@FEW
@given(READINGS, st.sampled_from(list(RULES.values())), st.sampled_from(Kind))
def test_limits_come_in_order(readings: list[tuple[int, float]], rules: Rules, kind: Kind) -> None:
    """The first is the next to come, and none falls before the readings and the clock allow."""
    found = [limit.at for limit in limits(with_readings(readings, kind), rules)]
    assert found == sorted(found) and all(moment >= BEGAN for moment in found)
