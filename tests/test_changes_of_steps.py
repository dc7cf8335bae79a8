"""Changes of what is in the plan itself: how many there are at the table, how long a step lasts."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.change_words import made, offer
from scheduler.changes import Change, ChangeKind, changed
from scheduler.domain.kitchen.amounts import Amount
from scheduler.domain.plan import PlanError
from scheduler.domain.scaling import for_so_many, with_step
from tests.plans_for_tests import component, plan, step

DAY = 24 * 60
TURNIPS = (
    Amount("turnips", Decimal(900), "g"),
    Amount("salt", Decimal("2.5"), "%", ("turnips",), Decimal("22.5")),
)
WRITTEN = plan(
    component(
        "Pickle", step("Salt", hands_on="20 min"), step("Ferment", unattended="7 d to 10 d", keeps="9 d")
    ),
)
MEAL = replace(with_step(WRITTEN, replace(WRITTEN.steps[0], amounts=TURNIPS)), serves=8)
FERMENT = MEAL.steps[1]
TWELVE = Change(ChangeKind.SERVES, serves=12)
WARM = Change(ChangeKind.LASTS, step=1, shortest=4 * DAY, longest=6 * DAY)


def test_more_at_the_table_scale_what_goes_in_and_no_time() -> None:
    """For twelve instead of eight: half as much again of everything, the percentage as it was, the steps as long."""
    after = changed(MEAL, (TWELVE,))
    assert [amount.quantity for amount in after.steps[0].amounts] == [Decimal(1350), Decimal("2.5")]
    assert after.steps[0].amounts[1].grams == Decimal("33.75") and after.serves == 12
    assert [each.range for each in after.steps] == [each.range for each in MEAL.steps]
    assert after.links == MEAL.links


@settings(max_examples=50, deadline=None)
@given(st.integers(1, 200), st.integers(1, 200))
def test_scaling_twice_is_scaling_once(first: int, second: int) -> None:
    """However many came in between, only the last number counts, to a millionth of a gram."""
    twice, once = for_so_many(for_so_many(MEAL, first), second), for_so_many(MEAL, second)
    pairs = zip(twice.steps[0].amounts, once.steps[0].amounts, strict=True)
    assert all(abs((a.grams or 0) - (b.grams or 0)) < Decimal("1e-6") for a, b in pairs)


@pytest.mark.parametrize(("written_for", "serves"), [(None, 8), (8, 0)])
def test_a_plan_without_a_number_cannot_be_scaled(written_for: int | None, serves: int) -> None:
    """Neither from nobody knows how many, nor to nobody."""
    with pytest.raises(PlanError):
        for_so_many(replace(MEAL, serves=written_for), serves)


def test_a_step_lasts_as_the_cook_says() -> None:
    """The new lengths count, everything else of the step stays."""
    after = changed(MEAL, (WARM,)).steps[1]
    assert (after.range.shortest, after.range.longest) == (timedelta(days=4), timedelta(days=6))
    assert replace(after, range=FERMENT.range) == FERMENT


def test_no_change_makes_a_step_shorter_than_a_published_limit() -> None:
    """One minute under the floor is refused; the floor itself is not."""
    floored = with_step(MEAL, replace(FERMENT, floor=timedelta(days=4)))
    assert changed(floored, (WARM,)).steps[1].range.shortest == timedelta(days=4)
    with pytest.raises(ValueError, match="may not be shorter"):
        changed(floored, (replace(WARM, shortest=4 * DAY - 1),))


@pytest.mark.parametrize(
    "wrong", [replace(WARM, step=7), replace(WARM, shortest=0), replace(WARM, longest=DAY)]
)
def test_a_length_that_makes_no_sense_is_refused(wrong: Change) -> None:
    """Of a step there is not, of nothing, or longest before shortest."""
    with pytest.raises(ValueError):
        changed(MEAL, (wrong,))


@pytest.mark.parametrize("each", [TWELVE, WARM, replace(WARM, usually=5 * DAY, longest=None)])
def test_such_changes_come_back_from_json(each: Change) -> None:
    """As they were."""
    assert Change.from_json(each.as_json()) == each


def test_such_changes_are_told_in_words() -> None:
    """As something to do, and as something that a timetable counts on."""
    assert offer(TWELVE, MEAL) == "Cook for 12 instead of 8"
    assert made(WARM, MEAL) == "4 d to 6 d for “Ferment”"
    assert made(replace(WARM, longest=None), MEAL) == "at least 4 d for “Ferment”"
