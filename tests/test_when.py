"""When can we eat: the earliest hour, the first that is wanted, the most comfortable."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from scheduler import when
from scheduler.domain.check import check
from scheduler.domain.comfort import comfort
from scheduler.domain.hours import Interval, local
from scheduler.domain.plan import MINUTE, Plan
from scheduler.domain.progress import at_the_start
from scheduler.domain.timetable import Timetable
from scheduler.domain.wanted import ANY_HOUR, QUARTER, NoHours, Wanted, on_any_day
from scheduler.explain import Misfit
from scheduler.planfile.wanted import wanted
from scheduler.planning import time_out
from scheduler.solver import Answer, Task, Verdict, fits, solve
from tests.plans_for_tests import NOW, PARIS, at, component, cook, plan, plans, step

HOUR = timedelta(hours=1)
EVERY = on_any_day(ANY_HOUR)
slow_machine = settings(max_examples=12, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def fitting(found: Timetable | Misfit) -> Timetable:
    assert isinstance(found, Timetable)
    return found


def clock(found: Timetable | Misfit) -> str:
    return f"{local(found.serve, PARIS):%a %d %H:%M}"


def quarters(windows: tuple[Interval, ...]) -> list[datetime]:
    """Every quarter hour of them, one by one."""
    return [a + n * QUARTER for a, b in windows for n in range((b - a) // QUARTER + 1)]


def fits_at(made: Plan, serve: datetime, now: datetime) -> bool:
    """Whether anything fits that one hour: asked of it alone, without explaining why not."""
    return fits(Task(made, at_the_start(made), now, serve)) is not Verdict.INFEASIBLE


BEANS = plan(
    component(
        "Beans", step("Soak", unattended="12 h to 14 h"), step("Simmer", nearby="90 min", keeps="30 min")
    ),
    component("Salad", step("Dress", hands_on="15 min", keeps="20 min")),
)
"""Begun one day, eaten the next: a soak that has to end while Ada is up."""


# ---------------------------------------------------------------- the earliest


@pytest.mark.parametrize(
    ("now", "serve"),
    [
        ("2026-12-10 08:00", "Thu 10 21:30"),
        ("2026-12-10 12:00", "Fri 11 08:30"),
        ("2026-12-10 18:00", "Fri 11 08:30"),
        ("2026-12-10 21:03", "Fri 11 10:45"),
        ("2026-12-10 23:00", "Fri 11 20:30"),
    ],
)
def test_the_earliest_hour_by_hand(now: str, serve: str) -> None:
    """Twelve hours of soaking, ninety minutes of simmering, the next quarter; nothing begins or ends in the night.

    Begun at six in the evening the soak lasts thirteen hours, to seven in the morning.
    """
    found = fitting(when.earliest(BEANS, at(now)))
    assert clock(found) == serve and found.proven
    assert check(BEANS, found, at(now)) == ()


@pytest.mark.parametrize("now", ["2026-12-10 08:00", "2026-12-10 18:00", "2026-12-10 23:00"])
def test_no_quarter_hour_before_the_earliest_can_be_timed(now: str) -> None:
    """Each of them asked for by itself is a misfit."""
    found = when.earliest(BEANS, at(now))
    before = quarters(EVERY.windows(BEANS, at(now), found.serve - QUARTER))
    assert len(before) > 10
    assert all(isinstance(time_out(BEANS, hour, at(now)), Misfit) for hour in before[-6:])
    assert not any(fits_at(BEANS, hour, at(now)) for hour in before)


@slow_machine
@given(plans(), st.integers(0, 47))
def test_the_earliest_is_verified_and_nothing_fits_before_it(made: Plan, half_hours: int) -> None:
    """Random plans: the timetable keeps every rule, and no quarter hour before it fits when asked for alone."""
    now = NOW + half_hours * 30 * MINUTE
    found = when.earliest(made, now)
    assume(isinstance(found, Timetable))
    assert isinstance(found, Timetable)
    assert check(made, found, now) == ()
    before = quarters(EVERY.windows(made, now, found.serve - QUARTER))
    assert not found.proven or not any(
        fits_at(made, hour, now) for hour in before[-20:] + before[:: len(before) // 20 + 1]
    )


def test_no_meal_is_put_on_the_table_in_the_night_or_an_empty_house() -> None:
    """What is ready when Ada is about to leave for work is for the evening; before six, for six."""
    away = cook("Ada", ["05:00-22:30"], ["mon-fri 08:30-17:45"])
    made = plan(component("Bread", step("Prove", unattended="10 h to 11 h", keeps="2 d")), cooks=[away])
    assert clock(when.earliest(made, at("2026-12-10 22:25"))) == "Fri 11 17:45"
    assert clock(when.earliest(made, at("2026-12-10 18:00"))) == "Fri 11 06:00"


@pytest.mark.parametrize(
    ("now", "serve"),
    [
        ("2026-10-24 20:00", "Sun 25 08:30"),
        ("2027-03-27 20:00", "Sun 28 10:30"),
        ("2026-12-12 20:00", "Sun 13 09:30"),
    ],
    ids=["back", "forward", "neither"],
)
def test_a_soak_over_a_clock_change_lasts_its_elapsed_time(now: str, serve: str) -> None:
    """Twelve hours from eight in the evening: to seven when the clocks go back, to nine when they go forward."""
    found = fitting(when.earliest(BEANS, at(now)))
    assert clock(found) == serve
    soak = found.slot(0)
    assert soak is not None and soak.end - soak.start == 12 * HOUR


def test_the_earliest_of_a_plan_that_fits_nowhere_is_a_misfit() -> None:
    """A pot to be watched for ten hours by someone who is at home for five: the last hour looked at says why."""
    brief = cook("Ada", ["17:00-22:00"])
    made = plan(component("Stock", step("Simmer", nearby="10 h", keeps="1 h")), cooks=[brief])
    found = when.earliest(made, at("2026-12-10 08:00"))
    assert isinstance(found, Misfit) and found.because
    assert found.serve > at("2026-12-10 08:00") + when.AHEAD


# ---------------------------------------------------------------- the first that is wanted


@pytest.mark.parametrize(
    ("wish", "serve"),
    [
        ("sat or sun, 12:00-14:00 or 18:00-21:00", "Sat 12 12:00"),
        ("sun, 12:00-14:00", "Sun 13 12:00"),
        ("thu 20:00-21:15 or fri 07:00-09:00", "Fri 11 08:30"),
        ("thu 20:00-21:30 or fri 07:00-09:00", "Thu 10 21:30"),
        ("mon", "Mon 14 08:30"),
        ("2026-12-20, 13:10-14:00", "Sun 20 13:15"),
        ("2027-11-20 lunch", "Sat 20 12:00"),
    ],
)
def test_the_first_of_the_hours_wanted(wish: str, serve: str) -> None:
    """Both ends of the hours count; a date may lie months ahead."""
    now = at("2026-12-10 08:00")
    found = fitting(when.first_within(BEANS, now, wanted(wish)))
    assert clock(found) == serve and check(BEANS, found, now) == ()
    assert found.slots == fitting(time_out(BEANS, found.serve, now)).slots


@slow_machine
@given(plans(), st.integers(0, 6), st.integers(0, 22), st.integers(1, 4))
def test_the_first_is_the_first_of_any_hours(made: Plan, day: int, begins: int, long: int) -> None:
    """Asked for one by one, no quarter hour wanted before it fits; and where none was found, none does."""
    name = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")[day]
    wish = wanted(f"{name}, {begins:02}:00-{(begins + long) % 24:02}:00")
    found = when.first_within(made, NOW, wish)
    hours = quarters(when.windows(made, NOW, wish))
    assume(found.proven)
    assert found.serve in hours
    if isinstance(found, Timetable):
        hours = [hour for hour in hours if hour < found.serve]
    assert not any(fits_at(made, hour, NOW) for hour in hours[-25:])


def test_nothing_wanted_fits() -> None:
    """The misfit is that of the last hour wanted, with its reasons and a way out."""
    found = when.first_within(BEANS, at("2026-12-10 18:00"), wanted("2026-12-10, 19:00-21:10"))
    assert isinstance(found, Misfit) and clock(found) == "Thu 10 21:00"
    assert found.because and found.remedies


@pytest.mark.parametrize("wish", ["2026-12-09", "2030-12-09", "sat 13:05-13:10", "2026-12-10, 07:00-07:59"])
def test_hours_of_which_none_is_to_come(wish: str) -> None:
    """Gone by, too far ahead, or no quarter hour at all."""
    with pytest.raises(NoHours):
        when.first_within(BEANS, at("2026-12-10 08:00"), wanted(wish))


@pytest.mark.parametrize(
    ("now", "wish", "serve"),
    [
        ("2026-10-24 20:00", "2026-10-25, 08:00-08:30", "Sun 25 08:30"),
        ("2027-03-27 20:00", "2027-03-28, 08:00-11:00", "Sun 28 10:30"),
    ],
    ids=["back", "forward"],
)
def test_hours_wanted_on_the_morning_after_a_clock_change(now: str, wish: str, serve: str) -> None:
    """They are hours of that morning's clock."""
    assert clock(fitting(when.first_within(BEANS, at(now), wanted(wish)))) == serve


def test_an_hour_after_one_that_was_not_settled_is_not_called_proven(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the solver ran out of time over an earlier stretch, an earlier hour may fit."""

    def tired(task: Task) -> Answer:
        saturday = local(task.serve, PARIS).weekday() == 5
        return Answer(Verdict.UNKNOWN) if saturday else solve(task)

    monkeypatch.setattr(when, "solve", tired)
    found = fitting(when.first_within(BEANS, at("2026-12-10 08:00"), wanted("sat or sun, 12:00-14:00")))
    assert clock(found) == "Sun 13 12:00" and not found.proven


def test_a_solver_that_settles_nothing_is_not_asked_for_ever(monkeypatch: pytest.MonkeyPatch) -> None:
    """After a few stretches the last hour is timed as any hour is."""
    asked: list[Task] = []

    def tired(task: Task) -> Answer:
        asked.append(task)
        return Answer(Verdict.UNKNOWN)

    monkeypatch.setattr(when, "solve", tired)
    when.first_within(BEANS, at("2026-12-10 08:00"), wanted("18:00-21:00"))
    assert len(asked) == 1 + when.PATIENCE


# ---------------------------------------------------------------- the most comfortable


def test_work_right_after_waking_is_avoided_where_it_can_be() -> None:
    """An hour's work just before the meal: the first hour that fits has Ada begin at seven, the best at eight."""
    made = plan(component("Rolls", step("Shape and bake", hands_on="1 h", keeps="5 min")))
    now, wish = at("2026-12-10 08:00"), wanted("sat or sun, 07:00-11:00")
    assert clock(when.first_within(made, now, wish)) == "Sat 12 08:00"
    assert clock(when.most_comfortable(made, now, wish)) == "Sat 12 09:00"


def test_of_two_as_good_the_earlier_is_taken() -> None:
    """Though there are better weekends' worth of them to come."""
    made = plan(component("Rolls", step("Shape and bake", hands_on="1 h", keeps="5 min")))
    found = when.most_comfortable(made, at("2026-12-10 08:00"), wanted("sat or sun, 12:00-14:00"))
    assert clock(found) == "Sat 12 12:00"


def test_a_later_week_is_taken_for_a_margin() -> None:
    """Ada leaves at 13:05 this Saturday, right after the work; next Saturday she stays."""
    ada = cook("Ada", away=["2026-12-12 13:05-22:30"])
    made = plan(component("Rolls", step("Shape and bake", hands_on="1 h", keeps="5 min")), cooks=[ada])
    now, wish = at("2026-12-10 08:00"), wanted("sat, 13:00-13:10")
    assert clock(when.first_within(made, now, wish)) == "Sat 12 13:00"
    assert clock(when.most_comfortable(made, now, wish)) == "Sat 19 13:00"


def test_without_hours_lunch_or_supper_is_meant() -> None:
    """Not the small hours, nor the middle of the morning."""
    found = when.most_comfortable(BEANS, at("2026-12-10 08:00"))
    assert local(found.serve, PARIS).hour in (11, 12, 13, 14, 18, 19, 20, 21)


def test_three_days_are_tried_however_far_apart() -> None:
    """The third is months away, and the only one on which nobody has to hurry to bed."""
    ada = cook("Ada", away=["2026-12-12 13:05-22:30", "2027-01-16 13:05-22:30"])
    made = plan(component("Rolls", step("Shape and bake", hands_on="1 h", keeps="5 min")), cooks=[ada])
    wish = wanted("2026-12-12, 2027-01-16 or 2027-03-20, 13:00-13:10")
    assert clock(when.most_comfortable(made, at("2026-12-10 08:00"), wish)) == "Sat 20 13:00"


def test_nothing_comfortable_fits_where_nothing_fits() -> None:
    """The same misfit as for the first."""
    now, wish = at("2026-12-10 18:00"), wanted("2026-12-10, 19:00-21:00")
    found = when.most_comfortable(BEANS, now, wish)
    assert isinstance(found, Misfit) and found.serve == when.first_within(BEANS, now, wish).serve


@settings(max_examples=4, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(plans())
def test_the_most_comfortable_is_no_less_so_than_the_first(made: Plan) -> None:
    """Random plans: verified, among the hours wanted, and at least as comfortable by every weightier measure."""
    wish: Wanted = wanted("sat or sun, 12:00-14:00 or 18:00-21:00")
    first, best = when.first_within(made, NOW, wish), when.most_comfortable(made, NOW, wish)
    assert isinstance(first, Timetable) == isinstance(best, Timetable)
    assume(isinstance(first, Timetable))
    assert isinstance(first, Timetable) and isinstance(best, Timetable)
    assert check(made, best, NOW) == () and best.serve in quarters(when.windows(made, NOW, wish))
    assert comfort(made, best) <= comfort(made, first)
    assert best.serve == first.serve or comfort(made, best) < comfort(made, first)
