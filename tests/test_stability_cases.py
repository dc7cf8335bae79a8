"""Planning again, case by case: what stays and what makes way for it."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from scheduler.domain.plan import MINUTE, Plan
from scheduler.domain.progress import Mark, MarkKind, at_the_start, fold
from scheduler.domain.timetable import Timetable
from scheduler.explain import Misfit
from scheduler.planning import complete, time_out
from scheduler.solver import Task, solve, solve_again
from tests.plans_for_tests import at, component, cook, mark, number_of, plan, slot, step, timetable

HOUR = timedelta(hours=1)


def timed(made: Plan, table: Timetable, now: str, *marks: Mark) -> Timetable | Misfit:
    moment = at(now)
    return time_out(made, table.serve, moment, fold(made, marks, moment, table), table)


def again(made: Plan, table: Timetable, now: str, *marks: Mark) -> Timetable:
    """The timetable after marks; checks that there is one."""
    found = timed(made, table, now, *marks)
    assert isinstance(found, Timetable)
    return found


def start(table: Timetable, made: Plan, name: str) -> datetime:
    found = table.slot(number_of(made, name))
    assert found is not None
    return found.start


LUNCH = plan(
    component("Pastry", step("Line the tin", hands_on="30 min", keeps="1 d")),
    component("Salad", step("Chop", hands_on="30 min", between=("11:00-13:30",), keeps="1 d")),
    component("Soup", step("Peel", hands_on="30 min"), step("Fry", hands_on="30 min", keeps="1 d")),
)
LUNCH_TIMES = timetable(
    LUNCH,
    "2026-12-12 19:30",
    slot(LUNCH, "Chop", "2026-12-12 12:00", "2026-12-12 12:30"),
    slot(LUNCH, "Line the tin", "2026-12-12 12:30", "2026-12-12 13:00"),
    slot(LUNCH, "Peel", "2026-12-12 13:00", "2026-12-12 13:30"),
    slot(LUNCH, "Fry", "2026-12-12 13:30", "2026-12-12 14:00"),
)


def put_off(made: Plan, name: str, said: str, until: str) -> Mark:
    return mark(MarkKind.LATER, number_of(made, name), at(said), until=at(until))


def test_two_others_move_rather_than_one_that_was_announced() -> None:
    """The chopping is put off by half an hour: peeling and frying, more than an hour off, make way, not the tin."""
    said = put_off(LUNCH, "Chop", "2026-12-12 11:50", "2026-12-12 12:30")
    found = again(LUNCH, LUNCH_TIMES, "2026-12-12 11:50", said)
    assert start(found, LUNCH, "Line the tin") == at("2026-12-12 12:30")
    assert start(found, LUNCH, "Chop") == at("2026-12-12 13:00")
    assert len(LUNCH_TIMES.moved(found)) == 3


def test_one_moves_rather_than_two_when_neither_was_announced() -> None:
    """The same said an hour earlier: the tin alone makes way."""
    said = put_off(LUNCH, "Chop", "2026-12-12 10:50", "2026-12-12 12:30")
    found = again(LUNCH, LUNCH_TIMES, "2026-12-12 10:50", said)
    assert set(LUNCH_TIMES.moved(found)) == {number_of(LUNCH, "Chop"), number_of(LUNCH, "Line the tin")}


def test_a_search_with_one_aim_moves_as_few() -> None:
    """What is asked when the search in turn finds nothing in time: the same starts, in one sum."""
    for said_at, moved in (("2026-12-12 11:50", 3), ("2026-12-12 10:50", 2)):
        now = at(said_at)
        progress = fold(LUNCH, [put_off(LUNCH, "Chop", said_at, "2026-12-12 12:30")], now, LUNCH_TIMES)
        answer = solve(Task(LUNCH, progress, now, LUNCH_TIMES.serve, previous=LUNCH_TIMES))
        assert len(LUNCH_TIMES.moved(Timetable(LUNCH_TIMES.serve, answer.slots))) == moved


def test_planning_again_needs_something_to_stay_close_to() -> None:
    """Without a timetable in force there is nothing to move least."""
    now = at("2026-12-12 11:50")
    with pytest.raises(ValueError, match="no timetable in force"):
        solve_again(Task(LUNCH, at_the_start(LUNCH), now, LUNCH_TIMES.serve), now)


EVENING = plan(
    component("Rice", step("Wash the rice", hands_on="10 min", keeps="3 h")),
    component("Herbs", step("Pick the herbs", hands_on="10 min", between=("17:30-18:20",), keeps="3 h")),
    component("Lentils", step("Simmer", nearby="45 min to 60 min", until="soft", keeps="15 min")),
    component("Table", step("Plate", hands_on="15 min", after=("Rice", "Herbs", "Lentils"), keeps="10 min")),
    cooks=(cook("Ada"), cook("Noor")),
)
SERVE = at("2026-12-12 19:30")
EVENING_TIMES = complete(
    EVENING,
    SERVE,
    at("2026-12-12 12:00"),
    at_the_start(EVENING),
    (
        slot(EVENING, "Wash the rice", "2026-12-12 18:00", "2026-12-12 18:10", "Noor"),
        slot(EVENING, "Pick the herbs", "2026-12-12 18:00", "2026-12-12 18:10", "Ada"),
        slot(EVENING, "Simmer", "2026-12-12 18:05", "2026-12-12 19:05"),
        slot(EVENING, "Plate", "2026-12-12 19:10", "2026-12-12 19:25", "Noor"),
    ),
    proven=True,
)


def begun(name: str, when: str) -> Mark:
    return mark(MarkKind.STARTED, number_of(EVENING, name), at(when))


def test_what_is_due_stays_when_something_else_moves() -> None:
    """The pot goes on late, so plating moves: rice and herbs, not spoken of, keep their times and their cooks."""
    found = again(EVENING, EVENING_TIMES, "2026-12-12 18:12", begun("Simmer", "2026-12-12 18:12"))
    assert start(found, EVENING, "Plate") == at("2026-12-12 19:15")
    for name in ("Wash the rice", "Pick the herbs"):
        now, then = (table.slot(number_of(EVENING, name)) for table in (found, EVENING_TIMES))
        assert now and then and (now.start, now.cook) == (then.start, then.cook)


def test_what_is_due_is_not_waited_for_beyond_its_last_call() -> None:
    """The herbs had to be picked by twenty past six; a quarter of an hour after their last call they are not."""
    said = begun("Simmer", "2026-12-12 18:12")
    assert isinstance(timed(EVENING, EVENING_TIMES, "2026-12-12 18:25", said), Timetable)
    assert isinstance(timed(EVENING, EVENING_TIMES, "2026-12-12 18:26", said), Misfit)


def test_the_cook_of_what_moves_stays_the_same() -> None:
    """Noor was to plate, and still is."""
    found = again(EVENING, EVENING_TIMES, "2026-12-12 18:12", begun("Simmer", "2026-12-12 18:12"))
    plate = found.slot(number_of(EVENING, "Plate"))
    assert plate and plate.cook == "Noor"


PASTA = plan(
    component("Pasta", step("Boil", nearby="15 min"), step("Dress", hands_on="5 min", keeps="2 h")),
    component("Sauce", step("Stir", hands_on="30 min", keeps="2 h")),
)


def pasta(dressed: str) -> Timetable:
    """Ada stirs until 18:25; the pasta was over at 18:00 and dressing it is planned for later."""
    end = f"{at(dressed, 'UTC') + 5 * MINUTE:%Y-%m-%d %H:%M}"
    return timetable(
        PASTA,
        "2026-12-12 19:30",
        slot(PASTA, "Boil", "2026-12-12 17:45", "2026-12-12 18:00"),
        slot(PASTA, "Stir", "2026-12-12 17:55", "2026-12-12 18:25"),
        slot(PASTA, "Dress", dressed, end),
    )


def dressing(dressed: str) -> datetime:
    """When it is dressed after a word at 18:20, planned for `dressed` until then."""
    marks = (
        mark(MarkKind.STARTED, number_of(PASTA, "Stir"), at("2026-12-12 17:55")),
        mark(MarkKind.DONE, number_of(PASTA, "Boil"), at("2026-12-12 18:00")),
    )
    return start(again(PASTA, pasta(dressed), "2026-12-12 18:20", *marks), PASTA, "Dress")


def test_what_has_kept_too_long_begins_as_soon_as_it_can() -> None:
    """The pasta has waited twenty minutes already: it is dressed when hands are free, not at its planned time."""
    assert dressing("2026-12-12 18:40") == at("2026-12-12 18:25")


def test_even_what_has_kept_too_long_is_not_moved_by_a_little() -> None:
    """Two minutes sooner are not worth another message; six are worth five."""
    assert dressing("2026-12-12 18:27") == at("2026-12-12 18:27")
    assert dressing("2026-12-12 18:31") == at("2026-12-12 18:26")


DOUGH = plan(
    component(
        "Flatbread", step("Rest the dough", unattended="2 h"), step("Roll", hands_on="15 min", keeps="6 h")
    )
)


def test_where_a_start_has_to_move_five_minutes_are_enough_and_four_are_not() -> None:
    """The dough rests from four minutes later on, and its two hours may run on to a mark of the clock."""
    table = timetable(
        DOUGH,
        "2026-12-12 19:30",
        slot(DOUGH, "Rest the dough", "2026-12-12 14:49", "2026-12-12 16:49"),
        slot(DOUGH, "Roll", "2026-12-12 16:49", "2026-12-12 17:04"),
    )
    rests = mark(MarkKind.STARTED, number_of(DOUGH, "Rest the dough"), at("2026-12-12 14:53"))
    found = again(DOUGH, table, "2026-12-12 14:53", rests)
    assert start(found, DOUGH, "Roll") == at("2026-12-12 16:54")


CAKE = plan(
    component("Cake", step("Bake", nearby="60 min", keeps="2 d")),
    component("Table", step("Carry out", hands_on="15 min", after=("Cake",), keeps="5 min")),
)


def test_what_was_not_in_the_timetable_takes_the_place_it_would_have_had() -> None:
    """The cake is to be baked after all: as fresh as had it been part of the meal all along."""
    now = at("2026-12-09 12:00")
    fresh = time_out(CAKE, SERVE, now)
    assert isinstance(fresh, Timetable)
    without = replace(
        fresh, slots=tuple(each for each in fresh.slots if CAKE.steps[each.step].name != "Bake")
    )
    found = time_out(CAKE, SERVE, now, at_the_start(CAKE), without)
    assert isinstance(found, Timetable)
    waits = SERVE - 20 * MINUTE - start(found, CAKE, "Bake") - HOUR
    assert timedelta(0) <= waits <= 12 * HOUR
    assert without.moved(found) == ()
