"""Which night, which hours out and which market day is told of: the one that stops the step, not another."""

from __future__ import annotations

import pytest

from scheduler.reasons import Because, Reason
from tests.plans_for_tests import at, component, cook, number_of, plan, step
from tests.reasons_kit import Case, assert_links, fitting

WORKS = cook("Ada", ("07:00-22:30",), ("mon-fri 08:30-17:45",))

BREAD = fitting(
    plan(
        component(
            "Loaf",
            step("Feed the starter", hands_on="5 min"),
            step("Starter ripens", unattended="10 h", until="domed"),
            step("Mix the dough", hands_on="15 min"),
            step("Dough proves", unattended="10 h to 16 h"),
            step("Bake the loaf", nearby="50 min", keeps="1 d"),
        ),
        cooks=[WORKS],
        serve="2026-10-24 18:15",
    ),
    at("2026-10-23 20:00"),
)
CREAM = fitting(
    plan(
        component(
            "Cream",
            step("Stir in the culture", hands_on="5 min"),
            step("Cream sets", unattended="18 h to 24 h"),
            step("Chill the cream", unattended="6 h to 2 d", keeps="1 d"),
        ),
        cooks=[WORKS],
        serve="2026-12-12 12:30",
    ),
    at("2026-12-07 12:30"),
)
BUNS = fitting(
    plan(
        component(
            "Buns",
            step("Make the dough", hands_on="20 min"),
            step("Dough rises", unattended="9 h to 12 h"),
            step("Shape the buns", hands_on="20 min"),
            step("Bake the buns", nearby="25 min", keeps="30 min"),
        ),
        serve="2026-12-13 08:00",
    ),
    at("2026-12-11 09:00"),
)
STOCK = fitting(
    plan(
        component(
            "Stock",
            step("Chop and brown", hands_on="30 min"),
            step("Simmer the stock", nearby="2 h to 4 h"),
            step("Strain it", hands_on="10 min"),
            step("Cool the stock", unattended="at least 3 h", keeps="2 d"),
        ),
        cooks=[cook("Ada", ("07:00-22:30",))],
        serve="2026-11-21 20:00",
    ),
    at("2026-11-07 20:00"),
)


def hours_of(case: Case, asked: str, about: str, later: bool) -> Reason:
    """The only reason among those for one step that speaks of the hours of another."""
    found = case.named(asked)
    side, number = found.no_later if later else found.no_earlier, number_of(case.plan, about)
    (only,) = (each for each in side if each.because is Because.HOURS and each.step == number)
    return only


@pytest.mark.parametrize("asked", ["Feed the starter", "Starter ripens"])
def test_the_night_in_which_a_wait_would_end_is_told_of(asked: str) -> None:
    """The starter ripens for ten hours and nobody is up before seven: it is not the hours at work before that."""
    night = hours_of(BREAD, asked, "Starter ripens", later=False)
    assert (night.until, night.asleep, night.end) == (at("2026-10-24 07:00"), True, True)


def test_the_night_next_to_the_limit_is_told_of() -> None:
    """The cream may be begun a night later than is planned, so the night planned around is no reason."""
    found = CREAM.named("Cream sets")
    night = hours_of(CREAM, "Cream sets", "Cream sets", later=True)
    assert found.start.date() < found.latest.date()
    assert night.since is not None and night.since >= found.latest


def test_the_night_of_another_step_is_the_one_that_stops_it() -> None:
    """Stock that could be begun two weeks ahead is stopped by a night of two weeks ahead."""
    found = STOCK.named("Cool the stock")
    night = hours_of(STOCK, "Cool the stock", "Strain it", later=False)
    assert (found.earliest, night.until) == (at("2026-11-08 09:40"), at("2026-11-08 07:00"))


def test_what_waits_for_the_meal_is_told_with_its_hour() -> None:
    """Also where it is one of several facts that only together stop a step."""
    waits = [each for each in BUNS.named("Bake the buns").no_earlier if each.because is Because.KEEPS]
    assert {each.at for each in waits if each.other is None} == {at("2026-12-13 08:00")}


def test_days_and_hours_of_a_market_are_told_once() -> None:
    """A market on Tuesday and Friday mornings, for Saturday evening: one fact, one sentence."""
    fish = fitting(
        plan(
            component(
                "Fish",
                step("Fetch the fish", hands_on="1 h", between=["08:00-13:00"], on=[1, 4], keeps="2 d"),
                step("Cook the fish", nearby="1 h", keeps="1 h"),
            ),
            serve="2026-12-12 19:30",
        )
    )
    told = [each.because for each in fish.named("Fetch the fish").no_later]
    assert told.count(Because.ONLY) == 1


@pytest.mark.parametrize("case", [BREAD, CREAM, BUNS, STOCK])
def test_every_number_can_be_worked_out_again(case: Case) -> None:
    """Lengths, gaps, nights, the meal and the present, for every step."""
    for each in case.plan.steps:
        assert_links(case, case.why(each.number))
