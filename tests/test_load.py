"""The work a timetable makes: by day, in the busiest hour, and the hours it keeps people up."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime, timedelta

import pytest
from hypothesis import HealthCheck, assume, given, settings

from scheduler.domain.comfort import Comfort, comfort
from scheduler.domain.hours import DAY
from scheduler.domain.load import HOUR, Piece, load
from scheduler.domain.plan import MINUTE, NO_TIME, Attention, Plan
from scheduler.domain.timetable import Timetable, Touch
from scheduler.planning import time_out
from tests.plans_for_tests import (
    NOW,
    SERVED,
    at,
    component,
    cook,
    number_of,
    plan,
    plans,
    slot,
    step,
    tend,
    timetable,
)  # fmt: skip

slow_machine = settings(max_examples=20, deadline=None, suppress_health_check=[HealthCheck.too_slow])

NOOR_LATE = [cook("Ada"), cook("Noor", ["18:00-02:00"])]


def touch(made: Plan, name: str, when: str, trouble: str | None = None) -> Touch:
    return Touch(number_of(made, name), 1, at(when), at(when), trouble)


# ---------------------------------------------------------------- a day by hand


def supper() -> tuple[Plan, Timetable]:
    """Friday: a jar begun and turned. Saturday: chopped for 40 min, simmered, plated for 20 min."""
    made = plan(
        component(
            "Pickle",
            step("Salt", hands_on="20 min"),
            step("Cure", unattended="1 d", keeps="1 d", tend=tend("Turn", "12 h", hands_on="5 min")),
        ),
        component("Stew", step("Chop", hands_on="40 min"), step("Simmer", nearby="1 h", keeps="30 min")),
        component("Table", step("Plate", hands_on="20 min", after=["Pickle", "Stew"])),
    )
    return made, timetable(
        made, "2026-12-12 19:30",
        slot(made, "Salt", "2026-12-11 08:00", "2026-12-11 08:20"),
        slot(made, "Cure", "2026-12-11 08:20", "2026-12-12 08:20"),
        slot(made, "Chop", "2026-12-12 17:20", "2026-12-12 18:00"),
        slot(made, "Simmer", "2026-12-12 18:00", "2026-12-12 19:00"),
        slot(made, "Plate", "2026-12-12 19:10", "2026-12-12 19:30"),
        touches=[touch(made, "Cure", "2026-12-11 20:20")],
    )  # fmt: skip


def test_days_have_their_work_and_their_first_and_last_moment() -> None:
    """Hands-on work and tends add up; what is simmering keeps someone up; a wait only has to be begun."""
    found = load(*supper())
    assert [(day.day.day, day.hands_on / MINUTE) for day in found.days] == [(11, 25), (12, 60)]
    friday, saturday = found.days
    assert (friday.first, friday.last) == (at("2026-12-11 08:00"), at("2026-12-11 20:25"))
    assert (saturday.first, saturday.last) == (at("2026-12-12 17:20"), at("2026-12-12 19:30"))


def test_the_busiest_hour_is_the_sixty_minutes_with_the_most_work() -> None:
    """Chopping fills 40 min of it; the plating lies too far off. The first of several as busy."""
    busiest = load(*supper()).busiest
    assert busiest is not None
    assert (busiest.start, busiest.hands_on) == (at("2026-12-12 17:20"), 40 * MINUTE)
    assert busiest.by_cook == (("Ada", 40 * MINUTE),)


def test_a_plan_that_takes_no_hands_has_no_busiest_hour() -> None:
    """A wait alone: somebody begins it, and that is all."""
    made = plan(component("Rice", step("Soak", unattended="8 h", keeps="1 h")))
    given = timetable(made, "2026-12-12 19:30", slot(made, "Soak", "2026-12-12 11:00", "2026-12-12 19:00"))
    found = load(made, given)
    assert found.busiest is None and [day.hands_on for day in found.days] == [NO_TIME]
    assert found.days[0].first == found.days[0].last == at("2026-12-12 11:00")


# ---------------------------------------------------------------- several cooks


def test_a_tend_goes_to_a_cook_with_free_hands() -> None:
    """Ada is chopping when the jar is to be turned, and Noor is there."""
    made = plan(
        component(
            "Jar", step("Cure", unattended="8 h", keeps="1 d", tend=tend("Turn", "4 h", hands_on="5 min"))
        ),
        component("Stew", step("Chop", hands_on="1 h", cook="Ada", keeps="1 h")),
        cooks=NOOR_LATE,
    )
    given = timetable(
        made, "2026-12-12 20:00",
        slot(made, "Cure", "2026-12-12 11:00", "2026-12-12 19:00"),
        slot(made, "Chop", "2026-12-12 18:00", "2026-12-12 19:00"),
        touches=[touch(made, "Cure", "2026-12-12 18:30")],
    )  # fmt: skip
    (day,) = load(made, given).days
    assert {share.cook: share.hands_on for share in day.shares} == {"Ada": HOUR, "Noor": 5 * MINUTE}


def test_a_pot_is_handed_over_when_the_first_cook_goes_to_bed() -> None:
    """Ada watches until half past ten, Noor from then until past midnight, which is Saturday's night still."""
    made = plan(component("Stock", step("Simmer", nearby="3 h", keeps="1 d")), cooks=NOOR_LATE[::-1])
    both = [cook("Ada"), cook("Noor", ["22:00-02:00"])]
    lone = plan(component("Stock", step("Simmer", nearby="3 h", keeps="1 d")), cooks=both)
    for each, shares in (
        (made, {"Noor": ("21:30", "00:30")}),
        (lone, {"Ada": ("21:30", "22:30"), "Noor": ("22:30", "00:30")}),
    ):
        given = timetable(
            each, "2026-12-13 12:00", slot(each, "Simmer", "2026-12-12 21:30", "2026-12-13 00:30")
        )
        (day,) = load(each, given).days
        assert day.day == date(2026, 12, 12) and day.hands_on == NO_TIME
        assert {
            share.cook: (f"{share.first + HOUR:%H:%M}", f"{share.last + HOUR:%H:%M}") for share in day.shares
        } == shares


def test_two_things_at_once_keep_one_cook_busy_once() -> None:
    """A tend that finds its cook busy adds to the day, and not to the hour."""
    made = plan(
        component(
            "Jar", step("Cure", unattended="8 h", keeps="1 d", tend=tend("Turn", "4 h", hands_on="5 min"))
        ),
        component("Stew", step("Chop", hands_on="1 h", keeps="1 h")),
    )
    given = timetable(
        made, "2026-12-12 20:00",
        slot(made, "Cure", "2026-12-12 11:00", "2026-12-12 19:00"),
        slot(made, "Chop", "2026-12-12 18:00", "2026-12-12 19:00"),
        touches=[touch(made, "Cure", "2026-12-12 18:30", "Ada is busy with Chop")],
    )  # fmt: skip
    found = load(made, given)
    assert found.days[0].hands_on == 65 * MINUTE and found.busiest is not None
    assert found.busiest.hands_on == HOUR


def test_work_past_midnight_counts_with_the_evening_it_belongs_to() -> None:
    """One day from waking to bedtime, not two."""
    made = plan(component("Dough", step("Knead", hands_on="30 min", keeps="1 d")), cooks=[NOOR_LATE[1]])
    given = timetable(made, "2026-12-13 12:00", slot(made, "Knead", "2026-12-13 01:00", "2026-12-13 01:30"))
    assert [day.day for day in load(made, given).days] == [date(2026, 12, 12)]


# ---------------------------------------------------------------- clock changes


@pytest.mark.parametrize(
    ("start", "end", "elapsed"),
    [("2026-10-25 01:30", "2026-10-25 03:30", 180), ("2027-03-28 01:30", "2027-03-28 03:30", 60)],
    ids=["back", "forward"],
)
def test_minutes_are_elapsed_on_clock_change_days(start: str, end: str, elapsed: int) -> None:
    """From 01:30 to 03:30 by the clock in Paris is three hours of work in autumn, one in spring."""
    night = cook("Ada", ["20:00-06:00"])
    made = plan(component("Dough", step("Knead", hands_on=f"{elapsed} min", keeps="1 d")), cooks=[night])
    given = timetable(made, end.replace("03:30", "12:00"), slot(made, "Knead", start, end))
    found = load(made, given)
    assert [day.hands_on / MINUTE for day in found.days] == [elapsed]
    assert found.days[0].day == at(start).date() - timedelta(days=(at(start).hour < 20))
    assert found.busiest is not None and found.busiest.hands_on == HOUR
    assert found.busiest.end - found.busiest.start == HOUR


# ---------------------------------------------------------------- always


@pytest.mark.slow
@slow_machine
@given(plans())
def test_sums_and_bounds_hold_for_any_timetable(made: Plan) -> None:
    """Days add up to all hands-on work and tends; no cook is busy for more than 60 minutes of an hour; no hour that
    begins on any minute is busier than the busiest.
    """
    table = time_out(made, SERVED, NOW)
    assume(isinstance(table, Timetable))
    assert isinstance(table, Timetable)
    found = load(made, table)
    worked = [s.end - s.start for s in table.slots if made.steps[s.step].attention is Attention.HANDS_ON]
    tended = [t.hands_on for touch in table.touches if (t := made.steps[touch.step].tend) is not None]
    assert sum((day.hands_on for day in found.days), NO_TIME) == sum([*worked, *tended], NO_TIME)
    assert all(day.first == min(s.first for s in day.shares) <= day.last for day in found.days)
    if found.busiest is not None:
        assert all(NO_TIME < busy <= HOUR for _, busy in found.busiest.by_cook)
        begins = found.busiest.start - DAY
        hours = [begins + ahead * 5 * MINUTE for ahead in range(2 * 288)]
        assert max(_busy(found.pieces, hour) for hour in hours) <= found.busiest.hands_on
        assert _busy(found.pieces, found.busiest.start) == found.busiest.hands_on


def _busy(pieces: Iterable[Piece], start: datetime) -> timedelta:
    """Hands-on time in the hour from `start`, counted minute by minute."""
    minutes = {
        (piece.cook, minute)
        for piece in pieces
        if piece.busy
        for minute in range(60)
        if piece.start <= start + minute * MINUTE < piece.end
    }
    return len(minutes) * MINUTE


def test_comfort_is_compared_measure_by_measure() -> None:
    """A tend left over weighs more than any margin, a margin more than any work at odd hours, and so on."""
    best = Comfort(0, 0, NO_TIME, NO_TIME, NO_TIME)
    order = [
        best,
        Comfort(0, 0, NO_TIME, NO_TIME, DAY),
        Comfort(0, 0, NO_TIME, MINUTE, NO_TIME),
        Comfort(0, 0, MINUTE, NO_TIME, NO_TIME),
        Comfort(0, 1, NO_TIME, NO_TIME, NO_TIME),
        Comfort(1, 0, NO_TIME, NO_TIME, NO_TIME),
    ]
    assert sorted([*order[3:], *order[:3]]) == order


def test_the_comfort_of_a_day_by_hand() -> None:
    """20 min within an hour of waking at seven: none, it begins at eight. Ten minutes between stew and table."""
    made, given = supper()
    assert comfort(made, given) == Comfort(
        untended=0, tight=1, odd_hours=NO_TIME, busiest=40 * MINUTE, fullest=60 * MINUTE
    )


def test_work_near_waking_and_bedtime_is_counted_by_the_minute() -> None:
    """Up from 07:00 to 22:30: ten minutes before eight, fifteen after half past nine; and too near to bed."""
    made = plan(
        component("A", step("Early", hands_on="30 min", keeps="1 d")),
        component("B", step("Late", hands_on="45 min", keeps="1 d")),
    )
    given = timetable(
        made, "2026-12-13 12:00",
        slot(made, "Early", "2026-12-12 07:50", "2026-12-12 08:20"),
        slot(made, "Late", "2026-12-12 21:00", "2026-12-12 21:45"),
    )  # fmt: skip
    assert comfort(made, given).odd_hours == 25 * MINUTE
    late = timetable(
        made, "2026-12-13 12:00",
        slot(made, "Early", "2026-12-12 07:50", "2026-12-12 08:20"),
        slot(made, "Late", "2026-12-12 21:40", "2026-12-12 22:25"),
    )  # fmt: skip
    assert comfort(made, late).odd_hours == 55 * MINUTE
    assert (comfort(made, given).tight, comfort(made, late).tight) == (0, 1)
