"""Whether a timetable keeps its promise whatever nature does: by cases, by draws, and against the verifier."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from scheduler.domain.plan import Plan
from scheduler.domain.promise import Promise, promise
from scheduler.domain.timetable import Timetable
from tests.plans_for_tests import (
    at,
    component,
    cook,
    plan,
    slot,
    span,
    step,
    timetable,
)
from tests.promise_kit import MORNING, a_rise_till_bedtime, beans, bet_on, of_beans


def lost_at(found: Promise) -> list[tuple[int, timedelta]]:
    return [(one.step, one.lasts) for one in found.breaks[0].draw]


# ---------------------------------------------------------------- by cases


def test_what_keeps_long_enough_is_no_bet() -> None:
    """Planned at the longest, and keeping as long as the range is wide: on time whenever the beans are done."""
    made = of_beans(keeps="1 h")
    assert promise(made, beans(made, "17:10", "19:10"), MORNING) == Promise(True)


def test_what_keeps_a_minute_less_is_a_bet_on_the_shortest_time() -> None:
    """One minute less of keeping, and the beans done at their very soonest stand too long (table after 19:05)."""
    made = of_beans(keeps="54 min")
    found = promise(made, beans(made, "17:10", "19:10"), MORNING)
    (only,) = found.breaks
    assert (found.kept, lost_at(found)) == (False, [(0, span("1 h"))])
    assert (only.trouble.rule, only.towards, only.beyond) == ("kept", -1, span("1 h 1 min"))
    # The meal may be carried out five minutes early, which is why 55 minutes of keeping are just enough.
    made = of_beans(keeps="55 min")
    assert promise(made, beans(made, "17:10", "19:10"), MORNING).kept


def test_what_is_planned_at_its_usual_time_is_a_bet_on_the_longest() -> None:
    """Planned at an hour and twenty of at most two, with ten minutes to spare: late from an hour and a half on."""
    made = of_beans(keeps="1 h", usually="1 h 20 min")
    found = promise(made, beans(made, "17:40", "19:00"), MORNING)
    (only,) = found.breaks
    assert (found.kept, lost_at(found)) == (False, [(0, span("1 h 31 min"))])
    assert (only.trouble.rule, only.towards, only.beyond) == ("late", 1, span("1 h 30 min"))


def ferment(keeps: str | None, longest: str = "6 d") -> Plan:
    return plan(
        component(
            "Pickle",
            step("Salt", hands_on="20 min"),
            step("Ferment", unattended=f"3 d to {longest}", until="sour", keeps=keeps),
            step("Jar it", hands_on="15 min", keeps="30 d"),
        ),
        component("Table", step("Serve", hands_on="10 min", after=["Pickle"], keeps="5 min")),
        cooks=[cook("Ada", ["07:00-22:30"], ["mon-fri 08:30-17:45"])],
    )


def jarred(made: Plan) -> Timetable:
    """Salted on a Sunday evening, jarred six days later."""
    return timetable(
        made,
        "2026-12-12 21:00",
        slot(made, "Salt", "2026-12-06 18:00", "2026-12-06 18:20"),
        slot(made, "Ferment", "2026-12-06 18:20", "2026-12-12 18:20"),
        slot(made, "Jar it", "2026-12-12 18:20", "2026-12-12 18:35"),
        slot(made, "Serve", "2026-12-12 20:50", "2026-12-12 21:00"),
    )


def test_an_end_in_the_night_is_seen_in_the_morning_if_it_keeps_so_long() -> None:
    """A ferment that may end on any of four days, at any hour, keeps its promise through nights and office hours.

    The longest stretch without the cook is from 22:15 (a quarter of an hour's work before bed) to 17:45 next day,
    as the morning before work is long enough: 9 h 15 min from 08:15 to 17:45 is the longest wait.
    """
    made = ferment("9 h 30 min")
    assert promise(made, jarred(made), at("2026-12-06 12:00")).kept


def test_an_end_that_nobody_can_see_in_time_is_named_to_the_minute() -> None:
    """Where it keeps half an hour less, it is lost to the first end from which the cook is away too long."""
    made = ferment("9 h")
    found = promise(made, jarred(made), at("2026-12-06 12:00"))
    bet = bet_on(made, jarred(made), at("2026-12-06 12:00"))
    (only,) = found.breaks
    ended = bet.timetable.slots[1].start + only.draw[0].lasts
    # Going down from Saturday evening, Friday 08:44 is the last end from which 17:45 is more than 9 h away.
    assert ended == at("2026-12-11 08:44")
    assert only.trouble.rule == "kept"


def test_two_who_want_the_same_hands_are_taken_in_the_order_that_the_end_makes_best() -> None:
    """A job that may come before or after another of the cook's is done on whichever side its end allows."""
    made = plan(
        component(
            "Dough",
            step("Knead", hands_on="10 min"),
            step("Rise", unattended="1 h to 5 h", until="doubled", keeps="45 min"),
            step("Shape", hands_on="10 min", keeps="1 d"),
        ),
        component("Stock", step("Skim the stock", hands_on="30 min", keeps="1 d")),
        component("Table", step("Serve", hands_on="10 min", after=["Dough", "Stock"], keeps="5 min")),
    )
    given = timetable(
        made,
        "2026-12-12 19:00",
        slot(made, "Knead", "2026-12-12 09:00", "2026-12-12 09:10"),
        slot(made, "Rise", "2026-12-12 09:10", "2026-12-12 14:10"),
        slot(made, "Shape", "2026-12-12 14:10", "2026-12-12 14:20"),
        slot(made, "Skim the stock", "2026-12-12 12:00", "2026-12-12 12:30"),
        slot(made, "Serve", "2026-12-12 18:50", "2026-12-12 19:00"),
    )
    assert promise(made, given, at("2026-12-12 08:00")).kept


@pytest.mark.parametrize(
    ("gear", "oven"), [(("burner",), None), ((), 180)], ids=["the only burner", "an oven at another heat"]
)
def test_what_runs_on_keeps_its_gear_from_what_is_next(gear: tuple[str, ...], oven: int | None) -> None:
    """A pot that takes longer than planned holds up whatever was to have its place next."""
    made = plan(
        component(
            "Pot",
            step(
                "Boil",
                nearby="30 min to 1 h",
                until="soft",
                usually="30 min",
                keeps="3 h",
                gear=gear,
                oven=oven,
            ),
        ),
        component("Pan", step("Fry", nearby="30 min", keeps="10 min", gear=gear, oven=oven and 200)),
        gear={"burner": 1, "oven": 1},
    )
    given = timetable(
        made,
        "2026-12-12 19:00",
        slot(made, "Boil", "2026-12-12 17:50", "2026-12-12 18:20"),
        slot(made, "Fry", "2026-12-12 18:20", "2026-12-12 18:50"),
    )
    found = promise(made, given, MORNING)
    assert (found.kept, lost_at(found)) == (False, [(0, span("41 min"))])
    assert found.breaks[0].trouble.rule == "late"
    free = replace(made, kitchen=replace(made.kitchen, gear={"burner": 2, "oven": 2}))
    assert promise(free, given, MORNING).kept


def test_bedtime_cuts_off_what_needs_someone_there() -> None:
    """A rise that someone has to be near may not run past bedtime, to the minute."""
    made, given = a_rise_till_bedtime()
    found = promise(made, given, at("2026-12-12 12:00"))
    # The cold step has to be begun while someone is up, and bedtime is 22:30: the last end is 22:29.
    assert (found.kept, lost_at(found)) == (False, [(1, span("2 h 20 min"))])
    assert found.breaks[0].trouble.rule == "hours"


def test_the_night_the_clocks_go_back_is_an_hour_longer() -> None:
    """An end seen in the morning waits nine and a half hours, not eight and a half, on that night (Paris)."""
    made = plan(
        component(
            "Starter",
            step("Feed", hands_on="10 min"),
            step("Ripen", unattended="2 h to 12 h", until="domed", keeps="9 h 15 min"),
            step("Mix", hands_on="20 min", keeps="2 d"),
        )
    )
    for day, next_day, kept in (("17", "18", True), ("24", "25", False)):
        given = timetable(
            made,
            f"2026-10-{next_day} 20:00",
            slot(made, "Feed", f"2026-10-{day} 20:00", f"2026-10-{day} 20:10"),
            slot(made, "Ripen", f"2026-10-{day} 20:10", f"2026-10-{next_day} {'08' if kept else '07'}:10"),
            slot(made, "Mix", f"2026-10-{next_day} 09:00", f"2026-10-{next_day} 09:20"),
        )
        assert promise(made, given, at(f"2026-10-{day} 12:00")).kept is kept


def test_two_steps_that_only_together_take_too_long_are_both_named() -> None:
    """Neither rise alone is late; both at their longest are, and the explanation names both."""
    made = plan(
        component(
            "Loaf",
            step("First rise", nearby="1 h to 2 h", until="doubled", usually="1 h 20 min", keeps="2 h"),
            step("Second rise", nearby="30 min to 1 h", until="puffed", usually="40 min", keeps="2 h"),
            step("Bake", nearby="50 min", keeps="2 h"),
        )
    )
    given = timetable(
        made,
        "2026-12-12 18:00",
        slot(made, "First rise", "2026-12-12 14:00", "2026-12-12 15:20"),
        slot(made, "Second rise", "2026-12-12 15:30", "2026-12-12 16:10"),
        slot(made, "Bake", "2026-12-12 16:20", "2026-12-12 17:10"),
    )
    assert promise(made, given, MORNING).kept
    later = replace(made, components=made.components)
    tight = replace(given, serve=at("2026-12-12 17:35"))
    found = promise(later, tight, MORNING)
    assert found.kept is False
    assert {one.step for one in found.breaks[0].draw} == {0, 1}
    assert found.breaks[0].trouble.rule == "late"


def test_a_plan_without_nature_in_it_is_no_bet() -> None:
    """Where the cook chooses every length there is nothing to lose."""
    made = plan(component("Soup", step("Cook", nearby="1 h", keeps="10 min")))
    given = timetable(made, "2026-12-12 19:30", slot(made, "Cook", "2026-12-12 18:30", "2026-12-12 19:30"))
    assert promise(made, given, MORNING) == Promise(True)
