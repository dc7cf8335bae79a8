"""What is found to be a reason: gear, heat, hands, hours, preferences, and what has begun."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from scheduler.domain.plan import Plan
from scheduler.domain.progress import MarkKind, State, at_the_start, fold
from scheduler.domain.timetable import Timetable
from scheduler.facts import NOW as THE_PRESENT
from scheduler.facts import SERVE, Fact, FactKind
from scheduler.planning import time_out
from scheduler.reasons import Because, reasons
from tests.plans_for_tests import (
    at,
    component,
    mark,
    number_of,
    plan,
    step,
    timetable,
)
from tests.plans_for_tests import slot as placed
from tests.reasons_kit import (
    FISH,
    PIE,
    SALAD,
    STEW,
    Case,
    fitting,
)

EARLY = at("2026-12-10 09:00")
EVENING = "2026-12-12 19:30"


# ---------------------------------------------------------------- what is found


def facts_about(case: Case, name: str, later: bool) -> set[tuple[str, str | None]]:
    """The kinds of the minimal facts, with the step, cook or gear they are about."""
    found = case.named(name)
    facts = found.facts_later if later else found.facts_earlier
    steps = case.plan.steps
    return {
        (fact.kind.value, fact.name or (steps[fact.step].name if fact.step is not None else None))
        for fact in facts
    }


def test_the_only_casserole_is_a_reason() -> None:
    """The stew has to leave the casserole to the beans, which cannot be cooked sooner: 15:45, not 17:15."""
    case = fitting(STEW)
    found = case.named("Braise the stew")
    assert found.latest == at("2026-12-12 15:45")
    assert facts_about(case, "Braise the stew", later=True) == {
        ("serve", None),
        ("gear", "casserole"),
        ("length", "Braise the stew"),
        ("length", "Cook the beans"),
        ("length", "Plate up"),
    } | {("keeps", "Cook the beans")}
    (casserole,) = (reason for reason in found.no_later if reason.because is Because.GEAR)
    beans = case.timetable.slot(number_of(case.plan, "Cook the beans"))
    assert beans is not None and (casserole.since, casserole.until) == (beans.start, beans.end)


def test_the_heat_of_the_oven_is_a_reason() -> None:
    """The bread wants another heat right before the meal, so the pie comes out before it goes in."""
    case = fitting(PIE)
    found = case.named("Bake the pie")
    assert ("gear", "oven") in facts_about(case, "Bake the pie", later=True)
    assert found.latest < at("2026-12-12 18:00")


def test_one_pair_of_hands_is_a_reason() -> None:
    """The fish waits ten minutes at most, so the salad is dressed before it is fried."""
    case = fitting(SALAD)
    assert ("cook", "Ada") in facts_about(case, "Dress the salad", later=True)
    assert case.named("Dress the salad").latest == at("2026-12-12 18:40")


def test_a_shop_with_hours_is_a_reason() -> None:
    """Saturday morning until twelve, forty minutes: 11:20 at the latest."""
    case = fitting(FISH)
    assert case.named("Fetch the fish").latest == at("2026-12-12 11:20")
    assert ("only", "Fetch the fish") in facts_about(case, "Fetch the fish", later=True)


def test_bedtime_and_the_present_are_reasons() -> None:
    """A soak can be begun until a mark before bedtime, and from now on."""
    made = plan(
        component("Beans", step("Soak the beans", unattended="8 h to 60 h"), step("Cook", nearby="1 h", keeps="1 h")),
        serve="2026-12-12 12:00",
    )  # fmt: skip
    case = fitting(made, at("2026-12-10 18:00"))
    found = case.named("Soak the beans")
    assert found.latest == at("2026-12-11 22:25")
    assert Fact(FactKind.HOURS, step=0) in found.facts_later and SERVE in found.facts_later
    hours = next(reason for reason in found.no_later if reason.because is Because.HOURS)
    assert (hours.since, hours.until, hours.asleep) == (at("2026-12-11 22:30"), at("2026-12-12 07:00"), True)
    assert (found.earliest, found.facts_earlier) == (at("2026-12-10 18:00"), (THE_PRESENT,))


def test_being_put_off_is_a_reason() -> None:
    """Later was said until 10:00: not before that, and that is why."""
    made = plan(
        component("Dip", step("Stir the dip", hands_on="10 min", keeps="2 d")), serve="2026-12-12 19:30"
    )
    now = at("2026-12-12 09:00")
    later = mark(MarkKind.LATER, 0, now, until=at("2026-12-12 10:00"))
    progress = fold(made, [later], now)
    timing = time_out(made, at("2026-12-12 19:30"), now, progress)
    assert isinstance(timing, Timetable)
    found = reasons(made, timing, 0, now, progress)
    assert found.earliest == at("2026-12-12 10:00")
    assert [reason.because for reason in found.no_earlier] == [Because.PUT_OFF]


# ---------------------------------------------------------------- preferences, and what has begun


LUNCH = plan(
    component(
        "Soup",
        step("Chop the leeks", hands_on="10 min"),
        step("Simmer the soup", nearby="50 min", keeps="1 h"),
    ),
    component(
        "Cream",
        step("Whip the cream", hands_on="5 min"),
        step("Chill the cream", unattended="at least 2 h", keeps="1 d"),
    ),
    component("Peas", step("Soak the peas", unattended="2 h to 6 h", keeps="1 d")),
    component("Table", step("Plate up", hands_on="15 min", after=["Soup", "Cream", "Peas"], keeps="5 min")),
    serve=EVENING,
)


ROOMY = plan(
    component("Pie", step("Bake the pie", nearby="1 h", oven=180, keeps="2 h")),
    component("Bread", step("Bake the bread", nearby="50 min", oven=240, keeps="1 h")),
    component("Table", step("Plate up", hands_on="15 min", after=["Pie", "Bread"], keeps="5 min")),
    gear={"oven": 1},
    serve=EVENING,
)


def by_hand(made: Plan, *rows: tuple[str, str, str]) -> Case:
    """The plan at those times of the day of the meal, taken as they are."""
    slots = [placed(made, name, f"2026-12-12 {start}", f"2026-12-12 {end}") for name, start, end in rows]
    return Case(made, EARLY, timetable(made, EVENING, *slots), at_the_start(made))


def test_what_the_planner_prefers_is_told() -> None:
    """It follows at once; earlier, something would wait or go on for longer; and the room that is left."""
    case = by_hand(
        LUNCH,
        ("Chop the leeks", "17:30", "17:40"),
        ("Simmer the soup", "17:40", "18:30"),
        ("Whip the cream", "14:00", "14:05"),
        ("Chill the cream", "14:05", "18:00"),
        ("Soak the peas", "12:00", "15:00"),
        ("Plate up", "19:15", "19:30"),
    )
    told = {each.name: case.named(each.name).preferred for each in LUNCH.steps}
    kinds = {name: [reason.because for reason in found] for name, found in told.items()}
    assert kinds == {
        "Chop the leeks": [Because.FRESH, Because.ROOM],
        "Simmer the soup": [Because.FOLLOWS, Because.ROOM],
        "Whip the cream": [Because.FRESH, Because.ROOM],
        "Chill the cream": [Because.FOLLOWS, Because.ROOM],
        "Soak the peas": [Because.ROOM],
        "Plate up": [Because.FRESH],
    }
    waits, goes_on, room = told["Chop the leeks"][0], told["Whip the cream"][0], told["Simmer the soup"][1]
    assert (waits.step, waits.at, waits.length) == (1, at("2026-12-12 19:15"), timedelta(hours=1))
    assert (goes_on.step, goes_on.length) == (number_of(LUNCH, "Chill the cream"), None)
    assert room.length == at("2026-12-12 18:25") - at("2026-12-12 17:40")


def test_what_has_the_oven_before_and_after_is_told() -> None:
    """The bread waits for the pie to come out, and the pie makes way for the bread: other heats."""
    case = by_hand(
        ROOMY,
        ("Bake the pie", "17:25", "18:25"),
        ("Bake the bread", "18:25", "19:15"),
        ("Plate up", "19:15", "19:30"),
    )
    (before,) = case.named("Bake the bread").preferred
    after = case.named("Bake the pie").preferred[1]
    assert (before.because, before.name, before.until) == (Because.GEAR, "oven", at("2026-12-12 18:25"))
    assert (after.because, after.name, after.since) == (Because.GEAR, "oven", at("2026-12-12 18:25"))
    assert before.facts == after.facts == ()


def test_what_has_begun_says_since_when_and_until_when() -> None:
    """A soak under way has to be over in time for what follows; what is over has its real times alone."""
    made = plan(
        component(
            "Beans",
            step("Sort the beans", hands_on="10 min", keeps="1 h"),
            step("Soak the beans", unattended="8 h to 40 h"),
            step("Cook the beans", nearby="1 h", keeps="1 h"),
        ),
        serve="2026-12-12 12:00",
    )
    begun = at("2026-12-11 19:00")
    marks = [mark(MarkKind.DONE, 0, begun - timedelta(minutes=5)), mark(MarkKind.STARTED, 1, begun)]
    now = at("2026-12-11 20:00")
    progress = fold(made, marks, now)
    timing = time_out(made, at("2026-12-12 12:00"), now, progress)
    assert isinstance(timing, Timetable)
    under_way = reasons(made, timing, 1, now, progress)
    assert (under_way.state, under_way.start, under_way.latest) == (
        State.RUNNING,
        begun,
        at("2026-12-12 11:00"),
    )
    assert [reason.because for reason in under_way.no_later] == [Because.LENGTH, Because.SERVE]
    over = reasons(made, timing, 0, now, progress)
    assert (over.state, over.no_later, over.no_earlier) == (State.DONE, (), ())


def test_a_timetable_that_no_longer_holds_has_no_limits_to_tell() -> None:
    """Kept for want of another, it says nothing that is not so."""
    case = fitting(STEW)
    late = replace(case, now=at("2026-12-12 18:30"))
    found = late.named("Braise the stew")
    assert (found.no_later, found.no_earlier, found.latest) == ((), (), found.start)


def test_a_step_that_is_not_in_the_timetable_is_refused() -> None:
    """Asking for a step that was left out is a mistake, and says so."""
    case = fitting(STEW)
    without = replace(case.timetable, slots=case.timetable.slots[1:])
    with pytest.raises(ValueError, match="has no time"):
        replace(case, timetable=without).why(case.timetable.slots[0].step)
