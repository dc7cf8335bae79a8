"""Why a step is when it is: limits reached and not passed, minimal facts, and every number worked out again."""

from __future__ import annotations

import pytest
from hypothesis import given, settings

from scheduler.domain.plan import Plan
from scheduler.domain.progress import MarkKind, State, fold
from scheduler.facts import Fact, FactKind
from scheduler.reasons import Because, refute
from tests.plans_for_tests import (
    NOW,
    SERVED,
    at,
    mark,
    plans,
)
from tests.reasons_kit import (
    BUNDLED,
    SHORT,
    STEW,
    Case,
    assert_links,
    assert_minimal,
    bundled,
    fitting,
    timed,
)

# ---------------------------------------------------------------- limits and minimal facts


@pytest.mark.parametrize("later", [True, False], ids=["later", "earlier"])
@pytest.mark.parametrize("name", SHORT)
def test_where_things_are_short_any_fact_left_out_lets_the_step_move(name: str, later: bool) -> None:
    """One casserole, one oven, one pair of hands, a shop with hours: each limit holds by each of its facts."""
    case = fitting(SHORT[name])
    for slot in case.timetable.slots:
        assert_minimal(case, case.why(slot.step), later)


@pytest.mark.slow
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


@pytest.mark.slow
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
