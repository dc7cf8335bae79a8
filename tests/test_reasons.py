"""Why a step is when it is: limits reached and not passed, minimal facts, and every number worked out again."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
from hypothesis import given, settings

from scheduler.domain.plan import Plan
from scheduler.domain.progress import MarkKind, State, at_the_start, fold
from scheduler.domain.timetable import Timetable
from scheduler.facts import NOW as THE_PRESENT
from scheduler.facts import SERVE, Fact, FactKind
from scheduler.planning import time_out
from scheduler.reasons import Because, reasons, refute
from tests.plans_for_tests import (
    NOW,
    SERVED,
    at,
    component,
    mark,
    number_of,
    plan,
    plans,
    step,
    timetable,
)
from tests.plans_for_tests import slot as placed
from tests.reasons_kit import (
    BUNDLED,
    FISH,
    PIE,
    SALAD,
    SHORT,
    STEW,
    Case,
    assert_links,
    assert_minimal,
    bundled,
    fitting,
    timed,
)

EARLY = at("2026-12-10 09:00")
EVENING = "2026-12-12 19:30"

# ---------------------------------------------------------------- limits and minimal facts


@pytest.mark.parametrize("later", [True, False], ids=["later", "earlier"])
@pytest.mark.parametrize("name", SHORT)
def test_where_things_are_short_any_fact_left_out_lets_the_step_move(name: str, later: bool) -> None:
    """One casserole, one oven, one pair of hands, a shop with hours: each limit holds by each of its facts."""
    case = fitting(SHORT[name])
    for slot in case.timetable.slots:
        assert_minimal(case, case.why(slot.step), later)


@pytest.mark.parametrize(
    ("name", "steps"),
    [
        ("rye-and-beet-supper", ["Strain and bottle the beet drink", "Rye loaf sets", "Steam the buckwheat"]),
        ("terrace-lunch", ["Hang the yoghurt", "Griddle the flatbreads"]),
    ],
)
def test_on_a_bundled_plan_any_fact_left_out_lets_the_step_move(name: str, steps: list[str]) -> None:
    """With the facts told it can start no further; with any one of them left out it can."""
    case = bundled(name)
    for each in steps:
        found = case.named(each)
        assert_minimal(case, found, later=True)
        assert_minimal(case, found, later=False)


@pytest.mark.slow
@pytest.mark.parametrize("name", BUNDLED)
def test_on_every_step_of_a_bundled_plan_any_fact_left_out_lets_it_move(name: str) -> None:
    """The same for every step of the bundled plans."""
    case = bundled(name)
    for slot in case.timetable.slots:
        assert_minimal(case, case.why(slot.step), later=True)
        assert_minimal(case, case.why(slot.step), later=False)


@settings(max_examples=4, deadline=None, derandomize=True)
@given(plans())
def test_on_random_plans_any_fact_left_out_lets_the_step_move(made: Plan) -> None:
    """The same for the first step and the last of plans of every kind."""
    case = timed(made, NOW, SERVED)
    if case is not None:
        for slot in (case.timetable.slots[0], case.timetable.slots[-1]):
            assert_minimal(case, case.why(slot.step), later=True)
            assert_minimal(case, case.why(slot.step), later=False)


def test_the_solver_finds_the_facts_where_the_orders_are_too_many(monkeypatch: pytest.MonkeyPatch) -> None:
    """Without a look at any order of the two dishes the same limit is found, and facts as few."""
    monkeypatch.setattr(refute, "MOST_NODES", 0)
    case = fitting(STEW)
    found = case.named("Braise the stew")
    assert found.latest == at("2026-12-12 15:45")
    assert Fact(FactKind.GEAR, name="casserole") in found.facts_later
    assert_minimal(case, found, later=True)


# ---------------------------------------------------------------- every number


@pytest.mark.parametrize("name", BUNDLED)
def test_every_number_of_a_bundled_plan_follows_from_plan_and_timetable(name: str) -> None:
    """Lengths, gaps, hours, the meal and the present, worked out again link by link."""
    case = bundled(name)
    for slot in case.timetable.slots[::5]:
        found = case.why(slot.step)
        assert found.earliest <= slot.start <= found.latest
        assert_links(case, found)


@settings(max_examples=10, deadline=None, derandomize=True)
@given(plans())
def test_every_number_of_random_plans_follows_from_plan_and_timetable(made: Plan) -> None:
    """The same for plans of every kind; the planned start lies between the limits."""
    case = timed(made, NOW, SERVED)
    for slot in case.timetable.slots if case is not None else ():
        assert case is not None
        found = case.why(slot.step)
        assert found.earliest <= slot.start <= found.latest
        assert_links(case, found)


@pytest.mark.parametrize("name", SHORT)
def test_every_number_where_things_are_short(name: str) -> None:
    """What has the casserole, the oven or the hands has them in the timetable too."""
    case = fitting(SHORT[name])
    for slot in case.timetable.slots:
        assert_links(case, case.why(slot.step))


def test_a_chain_runs_from_the_step_to_the_table() -> None:
    """Each link begins where the one before it ended, up to a mark of the clock."""
    found = bundled("rye-and-beet-supper").named("Steam the buckwheat")
    chain = found.no_later
    assert [reason.because for reason in chain] == [Because.LENGTH, Because.LENGTH, Because.SERVE]
    assert [reason.at for reason in chain[:-1]] == [reason.by for reason in chain[1:]]
    assert chain[0].by == found.latest


def test_in_the_middle_of_a_plan_the_same_holds() -> None:
    """On the evening before, with some steps done and some under way: links, limits and minimal facts."""
    case = bundled("rye-and-beet-supper")
    now = at("2027-02-19 22:32", case.plan.zone)
    marks = [
        mark(MarkKind.STARTED, slot.step, slot.start) for slot in case.timetable.slots if slot.start <= now
    ]
    marks += [mark(MarkKind.DONE, slot.step, slot.end) for slot in case.timetable.slots if slot.end <= now]
    progress = fold(case.plan, sorted(marks, key=lambda each: each.about), now, case.timetable)
    middle = Case(case.plan, now, case.timetable, progress)
    waiting = [slot.step for slot in case.timetable.slots if progress.state(slot.step) is State.WAITING]
    assert len(waiting) >= 5
    for number in waiting:
        assert_links(middle, middle.why(number))
    assert_minimal(middle, middle.why(waiting[0]), later=True)
    assert_minimal(middle, middle.why(waiting[0]), later=False)


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
