"""What a plan refuses to be, and what follows from what was written."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.domain.plan import (
    FIVE_MINUTES,
    MINUTE,
    NO_TIME,
    Component,
    Cook,
    Kitchen,
    Link,
    Plan,
    PlanError,
    Range,
    whole_minutes,
)
from tests.plans_for_tests import (
    Draft,
    Part,
    component,
    cook,
    lasting,
    number_of,
    plan,
    plans,
    span,
    step,
    tend,
)

LENGTHS = st.integers(1, 10_000).map(lambda seconds: timedelta(seconds=seconds))

# ---------------------------------------------------------------- ranges


@pytest.mark.parametrize(
    ("shortest", "longest", "until", "usually", "complaint"),
    [
        (NO_TIME, None, None, None, "longer than nothing"),
        (-MINUTE, MINUTE, None, None, "longer than nothing"),
        (2 * MINUTE, MINUTE, None, None, "shorter than the shortest"),
        (MINUTE, None, "soft", None, "needs a longest time or a usual one"),
        (MINUTE, 3 * MINUTE, "soft", 4 * MINUTE, "outside the range"),
        (2 * MINUTE, None, "soft", MINUTE, "outside the range"),
    ],
)
def test_a_range_that_contradicts_itself_is_refused(
    shortest: timedelta,
    longest: timedelta | None,
    until: str | None,
    usually: timedelta | None,
    complaint: str,
) -> None:
    """Each impossible range is refused with words that say what is wrong."""
    with pytest.raises(PlanError, match=complaint):
        Range(shortest, longest, until, usually)


@pytest.mark.parametrize(
    ("text", "until", "usually", "planned"),
    [
        ("25 min", None, None, ("25 min", "25 min")),
        ("12 h to 18 h", None, None, ("12 h", "18 h")),
        ("at least 4 h", None, None, ("4 h", None)),
        ("7 d to 10 d", "sour", None, ("10 d", "10 d")),
        ("7 d to 10 d", "sour", "8 d", ("8 d", "8 d")),
        ("at least 2 h", "risen", "9 h", ("9 h", "9 h")),
        ("30 s", None, None, ("1 min", "1 min")),
        ("90 s to 200 s", None, None, ("2 min", "3 min")),
    ],
)
def test_what_a_timetable_may_give_a_step(
    text: str, until: str | None, usually: str | None, planned: tuple[str, str | None]
) -> None:
    """By choice the whole range, in whole minutes; by nature one length: the usual, or else the longest."""
    shortest, longest = planned
    assert lasting(text, until, usually).planned() == (span(shortest), span(longest) if longest else None)


@given(LENGTHS, LENGTHS)
@settings(max_examples=60)
def test_planned_lengths_are_whole_minutes_and_never_too_short(one: timedelta, other: timedelta) -> None:
    """Whatever the range, its planned lengths are whole minutes in order, not less than its shortest."""
    shortest, longest = Range(min(one, other), max(one, other)).planned()
    assert longest is not None
    assert min(one, other) <= shortest <= longest
    assert shortest % MINUTE == longest % MINUTE == NO_TIME
    assert longest <= whole_minutes(max(one, other))


def test_a_range_allows_what_lies_in_it() -> None:
    """Both its ends are allowed, and beyond them only what has no longest."""
    soak = lasting("12 h to 18 h")
    assert soak.allows(span("12 h")) and soak.allows(span("18 h"))
    assert not soak.allows(span("11 h 59 min")) and not soak.allows(span("18 h 1 min"))
    assert lasting("at least 12 h").allows(span("90 d"))


# ---------------------------------------------------------------- plans that are none

SOAK = step("Soak", unattended="12 h to 18 h")
FRY = step("Fry", hands_on="10 min", gear=["pan"])


@pytest.mark.parametrize(
    ("make", "complaint"),
    [
        (lambda: plan(), "needs components"),
        (lambda: plan(Part("Beans", ())), "every component a step"),
        (lambda: plan(component("A", FRY)), "needs more of 'pan'"),
        (lambda: plan(component("A", FRY), gear={"pan": 0}), "needs more of 'pan'"),
        (lambda: plan(component("A", step("Bake", nearby="1 h", oven=180))), "needs an oven"),
        (lambda: plan(component("A", step("Fry", hands_on="5 min", cook="Bo"))), "not in the kitchen"),
        (lambda: plan(component("A", SOAK), cooks=[cook("Ada"), cook("Ada")]), "two cooks have one name"),
    ],
)
def test_a_plan_that_contradicts_itself_is_refused(make: Callable[[], Plan], complaint: str) -> None:
    """Missing steps, gear, ovens and cooks are each refused in words that name them."""
    with pytest.raises(PlanError, match=complaint):
        make()


def test_a_kitchen_without_a_cook_is_refused() -> None:
    """Somebody has to cook."""
    with pytest.raises(PlanError, match="needs a cook"):
        Kitchen(())


def test_steps_have_to_be_numbered_in_the_order_written() -> None:
    """A step's number is its place, since everything else refers to it so."""
    good = plan(component("A", SOAK))
    wrong = Component("A", (replace(good.steps[0], number=1),))
    with pytest.raises(PlanError, match="numbered"):
        Plan("A meal", "UTC", good.kitchen, (wrong,))


def test_steps_that_wait_for_one_another_are_named() -> None:
    """A circle is refused, and the message names the steps in it and not the others."""
    first = component("A", step("Soak", unattended="1 h", after=["Fry"]))
    with pytest.raises(PlanError, match="'Soak', 'Fry'") as refused:
        plan(
            first,
            component("B", step("Fry", hands_on="5 min", after=["Soak"])),
            component("C", step("Rest", nearby="1 h")),
        )
    assert "Rest" not in str(refused.value)


def test_a_wait_longer_than_the_food_keeps_is_refused() -> None:
    """A gap that has to be longer than it may be cannot be planned."""
    made = plan(
        component(
            "A", step("Boil", nearby="10 min", keeps="1 h"), step("Peel", hands_on="5 min", wait="2 h to 3 h")
        )
    )
    with pytest.raises(PlanError, match="'Peel' waits longer than 'Boil' keeps"):
        _ = made.links


# ---------------------------------------------------------------- what follows from it


@pytest.mark.parametrize(
    ("keeps", "wait", "bounds"),
    [
        (None, None, ("0 min", "0 min")),
        ("2 h", None, ("0 min", "2 h")),
        (None, "30 min to 2 h", ("30 min", "2 h")),
        (None, "at least 30 min", ("30 min", None)),
        ("1 h", "30 min to 2 h", ("30 min", "1 h")),
        ("1 h", "at least 30 min", ("30 min", "1 h")),
    ],
)
def test_a_gap_is_only_what_was_allowed(
    keeps: str | None, wait: str | None, bounds: tuple[str, str | None]
) -> None:
    """No gap, so long as the first keeps, so long as the second waits, or the tighter of both."""
    made = plan(
        component("A", step("Boil", nearby="10 min", keeps=keeps), step("Peel", hands_on="5 min", wait=wait))
    )
    shortest, longest = bounds
    expected = Link(0, 1, span(shortest), span(longest) if longest else None)
    assert made.links_into[1] == (expected,)
    assert expected.tied == (longest == "0 min")


def test_last_steps_that_nothing_follows_go_to_the_table() -> None:
    """A component that another comes after is not served by itself; the others are, as long as they keep."""
    made = plan(
        component("Beans", SOAK, step("Simmer", nearby="1 h", keeps="1 h")),
        component("Salad", step("Dress", hands_on="5 min")),
        component("Plate", step("Serve", hands_on="5 min", keeps="10 min", after=["Beans"])),
    )
    table = {(link.before, link.longest) for link in made.links if link.after is None}
    assert table == {(number_of(made, "Dress"), NO_TIME), (number_of(made, "Serve"), span("10 min"))}
    assert [link.after for link in made.links_out_of[number_of(made, "Simmer")]] == [number_of(made, "Serve")]


@pytest.mark.parametrize(
    ("draft", "grain"),
    [
        (step("Blanch", hands_on="30 s"), MINUTE),
        (step("Toast", hands_on="4 min"), MINUTE),
        (step("Fry", hands_on="5 min"), FIVE_MINUTES),
        (step("Toast", nearby="2 min to 6 min"), FIVE_MINUTES),
        (step("Rest", nearby="at least 2 min"), FIVE_MINUTES),
    ],
)
def test_short_steps_start_on_any_minute(draft: Draft, grain: timedelta) -> None:
    """Only a step that is always shorter than five minutes may start between the five-minute marks."""
    assert draft.step.grain == grain


def test_a_step_is_for_the_cook_it_names_or_for_any() -> None:
    """Naming a cook leaves that one alone."""
    made = plan(
        component("A", SOAK, step("Fry", hands_on="5 min", cook="Noor")), cooks=[cook("Ada"), cook("Noor")]
    )
    assert [each.name for each in made.cooks_of(made.steps[0])] == ["Ada", "Noor"]
    assert [each.name for each in made.cooks_of(made.steps[1])] == ["Noor"]


def test_a_touch_may_move_by_a_quarter_of_its_interval() -> None:
    """A daily touch has six hours either way."""
    assert tend("Vent the lid", "1 d").tolerance == span("6 h")


def test_a_kitchen_counts_its_ovens_as_gear() -> None:
    """The oven is a piece of gear like any other, and none is none."""
    ada = Cook("Ada", ())
    assert Kitchen((ada,), {"oven": 2}).ovens == 2
    assert Kitchen((ada,)).ovens == 0


@given(plans())
@settings(max_examples=40, deadline=None)
def test_order_and_links_agree(made: Plan) -> None:
    """Every step comes after all it follows, links are sorted by both ends, and the horizon holds it all."""
    place = {number: index for index, number in enumerate(made.order)}
    assert sorted(made.order) == list(range(len(made.steps)))
    assert all(place[link.before] < place[link.after] for link in made.links if link.after is not None)
    assert sum(len(links) for links in made.links_out_of) == len(made.links)
    assert all(link in made.links_out_of[link.before] for links in made.links_into for link in links)
    shortest = sum((each.range.planned()[0] for each in made.steps), NO_TIME)
    assert made.horizon() >= shortest + span("7 d")
