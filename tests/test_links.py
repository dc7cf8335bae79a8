"""What binds the steps that are left, and which of them cannot keep to marks of the clock."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.domain.links import live_links
from scheduler.domain.plan import NO_TIME, Link, Plan
from scheduler.domain.progress import MarkKind, at_the_start, fold, may_miss_mark
from tests.plans_for_tests import Draft, component, mark, number_of, plan, plans, span, step, tend, utc

PICKLE = plan(
    component(
        "Pickle",
        step("Salt", hands_on="20 min"),
        step("Ferment", unattended="2 d to 4 d", until="sour", tend=tend("Vent", "1 d")),
        step("Chill", unattended="at least 4 h", keeps="30 d"),
        step("Slice", hands_on="10 min", keeps="1 h"),
    ),
    component("Beans", step("Soak", unattended="12 h to 18 h"), step("Drain", hands_on="5 min", keeps="1 h")),
    component("Table", step("Plate", hands_on="15 min", after=["Pickle", "Beans"])),
)

# ---------------------------------------------------------------- links when steps are left out


def linked(made: Plan, *dropped: str) -> set[tuple[str, str]]:
    links = live_links(made, frozenset(number_of(made, name) for name in dropped))
    named = [each.name for each in made.steps]
    return {(named[link.before], "table" if link.after is None else named[link.after]) for link in links}


def test_neighbours_close_up_around_a_step_left_out() -> None:
    """In the middle, at the end and at the start of a component its order stays whole."""
    assert ("Ferment", "Slice") in linked(PICKLE, "Chill")
    assert ("Chill", "Plate") in linked(PICKLE, "Slice")
    assert linked(PICKLE, "Salt") == linked(PICKLE) - {("Salt", "Ferment")}
    assert ("Salt", "Slice") in linked(PICKLE, "Ferment", "Chill")


def test_what_nothing_follows_any_more_goes_to_the_table() -> None:
    """Without the plating, pickle and beans are served by themselves."""
    assert {("Slice", "table"), ("Drain", "table")} <= linked(PICKLE, "Plate")
    assert {after for _, after in linked(PICKLE)} & {"table"} == {"table"}


def test_what_came_from_elsewhere_closes_up_too() -> None:
    """A step left out hands what it came after to the next step of its component."""
    made = plan(
        component("Stock", step("Simmer", nearby="1 h", keeps="2 d")),
        component(
            "Soup",
            step("Skim", hands_on="5 min", after=["Stock"]),
            step("Heat", nearby="10 min", keeps="1 h"),
        ),
    )
    assert linked(made, "Skim") == {("Simmer", "Heat"), ("Heat", "table")}
    assert Link(0, 2, NO_TIME, span("2 d")) in live_links(made, frozenset({1}))


def test_a_wait_wins_over_what_keeps_too_briefly_for_it() -> None:
    """Closing up never makes a plan that contradicts itself."""
    made = plan(
        component(
            "A",
            step("Boil", nearby="10 min", keeps="1 h"),
            step("Cool", unattended="2 h"),
            step("Peel", hands_on="5 min", wait="3 h to 5 h", keeps="1 h"),
        )
    )
    assert Link(0, 2, span("3 h"), span("3 h")) in live_links(made, frozenset({1}))


@given(plans(), st.data())
@settings(max_examples=40, deadline=None)
def test_whatever_is_left_out_the_rest_hangs_together(made: Plan, data: st.DataObject) -> None:
    """Links join only steps that are left, in order; and each component's last one leads somewhere."""
    dropped = data.draw(st.frozensets(st.sampled_from(range(len(made.steps)))))
    links = live_links(made, dropped)
    place = {number: index for index, number in enumerate(made.order)}
    ends = {number for link in links for number in (link.before, link.after) if number is not None}
    assert not ends & dropped
    assert all(link.after is None or place[link.before] < place[link.after] for link in links)
    assert len({(link.before, link.after) for link in links}) == len(links)
    for part in made.components:
        left = [each.number for each in part.steps if each.number not in dropped]
        pairs = {(link.before, link.after) for link in links}
        assert all(pair in pairs for pair in pairwise(left))
        assert not left or any(link.before == left[-1] for link in links)


# ---------------------------------------------------------------- marks of the clock


def off(made: Plan) -> list[str]:
    return [made.steps[number].name for number in sorted(may_miss_mark(made, at_the_start(made)))]


ODD, EVEN = step("Odd", nearby="33 min"), step("Even", nearby="35 min")
LAST = step("Last", hands_on="10 min", keeps="1 h")


@pytest.mark.parametrize(
    ("drafts", "expected"),
    [
        ([EVEN, LAST], []),
        ([ODD, LAST], ["Last"]),
        ([ODD, EVEN, LAST], ["Even", "Last"]),
        ([ODD, step("Rest", nearby="10 min to 20 min"), LAST], ["Rest"]),
        ([ODD, step("Rest", nearby="10 min", keeps="10 min"), LAST], ["Rest"]),
        ([ODD, step("Rest", nearby="10 min", keeps="2 min"), LAST], ["Rest", "Last"]),
        ([step("Blanch", hands_on="30 s"), LAST], ["Last"]),
        ([EVEN, replace(LAST, step=replace(LAST.step, wait=(span("7 min"), span("7 min"))))], ["Last"]),
    ],
)
def test_what_cannot_reach_a_mark_may_miss_it(drafts: list[Draft], expected: list[str]) -> None:
    """An odd length carries on to whatever moves as one with it, until a choice takes it up."""
    assert off(plan(component("A", *drafts))) == expected


def test_what_is_held_by_the_serving_hour_may_miss_its_mark() -> None:
    """Twelve minutes' work that does not keep starts twelve minutes before serving, and so on back."""
    work = step("Carve", hands_on="12 min")
    assert off(plan(component("A", work))) == ["Carve"]
    assert off(plan(component("A", EVEN, work))) == ["Even", "Carve"]
    assert off(plan(component("A", step("Rest", nearby="10 min to 20 min"), work))) == ["Carve"]


def test_two_that_have_to_end_together_may_miss_their_marks() -> None:
    """Thirty-three and thirty-five minutes cannot both start on a mark and end at one moment."""
    made = plan(component("A", ODD), component("B", EVEN), component("C", replace(LAST, after=("A", "B"))))
    assert off(made) == ["Odd", "Even", "Last"]


def test_real_times_carry_what_is_tied_to_them_off_the_mark() -> None:
    """After a real end there is no mark for what follows at once, but there is for what may wait."""
    made = plan(component("A", EVEN, step("Rest", nearby="10 min", keeps="1 h"), LAST))
    begun = fold(made, [mark(MarkKind.STARTED, 0, utc("2026-12-12 10:02"))], utc("2026-12-12 10:02"))
    assert may_miss_mark(made, begun) == {1}


def test_the_last_minutes_before_a_limit_need_no_mark() -> None:
    """What keeps until two minutes past the mark can still be used in those two minutes."""
    made = plan(component("A", step("Rest", nearby="10 min", keeps="1 h"), LAST))
    rested = fold(made, [mark(MarkKind.DONE, 0, utc("2026-12-12 10:02"))], utc("2026-12-12 10:02"))
    assert may_miss_mark(made, rested, utc("2026-12-12 10:58")) == frozenset()
    to_the_mark = fold(made, [mark(MarkKind.DONE, 0, utc("2026-12-12 10:00"))], utc("2026-12-12 10:00"))
    assert may_miss_mark(made, to_the_mark, utc("2026-12-12 10:58")) == frozenset()
    assert may_miss_mark(made, rested, utc("2026-12-12 11:01")) == {1}
    assert may_miss_mark(made, rested, utc("2026-12-12 11:03")) == frozenset()
    assert may_miss_mark(made, rested) == frozenset()
