"""What holds of the clocks of food whatever is measured, at any hour, by any set of rules."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.domain.clocks import (
    TOGETHER,
    Act,
    FoodClock,
    clocks,
    coldest,
    told_limits,
)
from scheduler.domain.kitchen.holding import Clock, Kind, Limit, limits
from scheduler.domain.kitchen.rules import RULES, STRICTER, Rules
from scheduler.domain.marks import Mark, MarkKind
from scheduler.domain.nudges import Policy
from scheduler.domain.nudges.clocks import limits_of, warning_at
from scheduler.domain.plan import Step
from scheduler.domain.stages import About, Nudge, Stage
from tests.clock_kit import CODE, STARTED, T0, duck, of_clocks, said, stands
from tests.nudge_kitchen import HOUR, MIN, at

# ---------------------------------------------------------------- held back by nothing


def test_neither_night_nor_the_end_of_the_meal_nor_what_was_not_begun_holds_it_back() -> None:
    """Out from eleven at night, after the meal, with a step long overdue: told all the same."""
    kitchen = duck()
    late = at(16, "23:00")
    start = said(kitchen, Act.START, late, 1, Kind.OUT)
    assert of_clocks(kitchen, late, start) == [("closing", "17 02:00"), ("missed", "17 03:00")]


@pytest.mark.parametrize(
    ("day", "limit"),
    [
        ("2026-10-24T23:00:00+02:00", "2026-10-25T02:00:00+01:00"),
        ("2027-03-27T23:00:00+01:00", "2027-03-28T04:00:00+02:00"),
    ],
)
def test_four_hours_are_four_hours_on_either_clock_change(day: str, limit: str) -> None:
    """In the nights on which the clocks change in Paris (IANA 2026b), elapsed time counts."""
    started = datetime.fromisoformat(day)
    clock = FoodClock("Duck", Clock(Kind.OUT, started), 1, 1, started)
    told = list(limits_of(clock, CODE))
    assert [at.isoformat() for _, _, at in told] == [started.__add__(4 * HOUR).isoformat()] * 2
    assert told[0][2] == datetime.fromisoformat(limit)


# ---------------------------------------------------------------- whatever is measured

MINUTES = st.integers(0, 7 * 60)
READINGS = st.lists(st.tuples(MINUTES, st.floats(-2, 95)), max_size=5)
SETS = st.sampled_from(list(RULES.values()))


def clock_of(kind: Kind, readings: list[tuple[int, float]], known: int) -> FoodClock:
    measured = tuple((T0 + timedelta(minutes=minutes), celsius) for minutes, celsius in readings)
    return FoodClock("Duck", Clock(kind, T0, measured), 1, 1, T0 + timedelta(minutes=known))


def asks_as_much(one: Limit, other: Limit) -> bool:
    return one.to_c is None or (other.to_c is not None and one.to_c <= other.to_c)


@given(st.sampled_from(list(Kind)), READINGS, MINUTES, SETS)
@settings(max_examples=150, deadline=None)
def test_every_limit_is_warned_of_before_it_and_told_at_it(
    kind: Kind, readings: list[tuple[int, float]], known: int, rules: Rules
) -> None:
    """Whatever was measured, each limit to come, or one as strict that comes no later, is told twice in time."""
    clock, policy = clock_of(kind, readings, known), Policy(rules=rules)
    said_at = list(limits_of(clock, policy))
    told = told_limits(clock.clock, rules)
    for limit in limits(clock.clock, rules):
        covering = [other for other in told if other.at <= limit.at and asks_as_much(other, limit)]
        assert covering
        for other in covering[:1]:
            if clock.known is not None and other.at > clock.known:
                dues = {stage: due for stage, due, at_ in said_at if at_ == other.at}
                assert dues[Stage.MISSED] == other.at
                warnings = [
                    due
                    for stage, due, at_ in said_at
                    if stage is Stage.CLOSING and other.at - TOGETHER <= at_ <= other.at
                ]
                assert clock.known <= max(warnings) < other.at


@given(st.sampled_from(list(Kind)), READINGS, MINUTES, SETS)
@settings(max_examples=100, deadline=None)
def test_no_more_is_told_than_has_to_be(
    kind: Kind, readings: list[tuple[int, float]], known: int, rules: Rules
) -> None:
    """Each limit that is told asks for more than those before it; one that is met is not told."""
    told = told_limits(clock_of(kind, readings, known).clock, rules)
    strictness = [float("-inf") if limit.to_c is None else limit.to_c for limit in told]
    assert strictness == sorted(strictness, reverse=True)
    assert len(set(strictness)) == len(strictness)
    assert set(told) <= set(limits(clock_of(kind, readings, known).clock, rules))


@given(st.sampled_from([Kind.COOLING, Kind.AMBIENT]), SETS, MINUTES)
@settings(max_examples=60, deadline=None)
def test_cold_meets_every_limit_that_is_to_come(kind: Kind, rules: Rules, when: int) -> None:
    """What "cold" means is cold enough for every stage of the set."""
    clock = Clock(kind, T0)
    cold = FoodClock("Duck", clock, 1).at_reading(T0 + timedelta(minutes=when), coldest(clock, rules))
    now = T0 + timedelta(minutes=when)
    assert all(limit.at < now for limit in limits(cold.clock, rules))


@given(st.integers(0, 6 * 60), SETS)
@settings(max_examples=60, deadline=None)
def test_keys_are_unique_and_do_not_move_as_time_passes(passed: int, rules: Rules) -> None:
    """The same clock owes the same messages at any time, so that each is sent once across restarts."""
    kitchen = replace(duck(), policy=Policy(rules=rules))
    marks = (kitchen.mark(*STARTED), said(kitchen, Act.START, T0, 1, Kind.OUT))

    def keys(now: datetime) -> list[str]:
        nudges: list[Nudge] = [
            n for n in kitchen.owed(now, *marks) if n.about is About.CLOCK and n.due > T0 + 6 * HOUR
        ]
        return [nudge.key for nudge in nudges]

    first = keys(T0)
    assert len(set(first)) == len(first)
    assert keys(T0 + timedelta(minutes=passed)) == first


def test_the_default_is_the_stricter() -> None:
    """Without a choice, the shortest time of any set is the one that is told: two hours out (FSIS, from memory)."""
    (limit,) = told_limits(Clock(Kind.OUT, T0), STRICTER)
    assert limit.at == T0 + 2 * HOUR
    assert warning_at(FoodClock("Duck", Clock(Kind.OUT, T0), 1), limit, Policy()) == T0 + 90 * MIN


def test_a_step_without_heat_has_no_clock() -> None:
    """Every clock of the plan comes of a step that cools."""
    kitchen = duck("Rest the duck")
    begun: Step = kitchen.plan.steps[1]
    assert clocks(kitchen.plan, stands(kitchen, T0, Mark(MarkKind.STARTED, T0, T0, "b", begun.number))) == ()
