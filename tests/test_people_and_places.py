"""People and places, from plan file to timetable: each thing a plan can say, where it decides what comes out.

Every plan is looked at with and without what it is about; the times are worked out by hand beside it. The
meal is on a Saturday evening, so that what must be done at once is done backwards from 19:30.
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from bot.main import main
from scheduler.domain.progress import MarkKind, fold
from scheduler.domain.timetable import Timetable
from scheduler.planfile import read
from scheduler.service.intake import warnings
from tests.plan_texts import fits, text, unfit
from tests.plans_for_tests import PARIS, at, mark, number_of
from tests.talk_kit import ZONE, on, with_supper

MORNING = "2026-12-12 08:00"
"""The Saturday itself; what has to begin earlier is looked at from the first of the month."""

BEFORE = "2026-12-01 09:00"

# ---------------------------------------------------------------- cooks

DUET = ("Roast\n name: Carve the roast, hands-on: 20 min", "Salad\n name: Dress the salad, hands-on: 20 min")
"""Neither keeps, so both run from 19:10 to 19:30."""


def test_two_things_at_once_need_two_cooks() -> None:
    """One cook cannot do both; of two, each does one."""
    assert any("Ada" in reason for reason in unfit(text("cooks: [Ada]", *DUET), MORNING))
    found = fits(text("cooks: [Ada, Noor]", *DUET), MORNING)
    assert found.when("Carve the roast") == found.when("Dress the salad") == "Sat 12 19:10 to Sat 12 19:30"
    assert {found.slot("Carve the roast").cook, found.slot("Dress the salad").cook} == {"Ada", "Noor"}


def test_a_step_that_names_its_cook_is_done_by_no_other() -> None:
    """With both named for Ada the second pair of hands helps nothing; with one, Noor gets the other."""
    both = [part.replace("name:", "cook: Ada, name:") for part in DUET]
    assert any("Ada" in reason for reason in unfit(text("cooks: [Ada, Noor]", *both), MORNING))
    found = fits(text("cooks: [Ada, Noor]", DUET[0], both[1]), MORNING)
    assert (found.slot("Carve the roast").cook, found.slot("Dress the salad").cook) == ("Noor", "Ada")


LOAF = """Loaf
 name: Mix the dough, hands-on: 30 min, cook: {mixes}
 name: Dough rises, unattended: 8 h to 12 h
 name: Shape the loaf, hands-on: 30 min, cook: {shapes}
 name: Bake the loaf, nearby: 2 h, cook: {shapes}"""
TWO_DAYS = "cooks: {Ada: {awake: 06:00-21:00}, Noor: {awake: 09:00-23:30, away: fri 09:00-22:00}}"
BREAKFAST = "2026-12-12 09:00"


def test_a_component_that_two_cooks_share_keeps_to_the_hours_of_each() -> None:
    """Bake 7 to 9, shape from 6:30: Ada's, who is up at six. The dough rises at least 8 h, so it is mixed by
    22:30 on Friday at the latest; Noor is home from 22:00, so half past ten is when her 30 minutes end. Were
    Ada to mix it, it would be in bed by nine, and were Noor to shape it, she would still be asleep.
    """
    shared = fits(text(TWO_DAYS, LOAF.format(mixes="Noor", shapes="Ada"), serve=BREAKFAST), BEFORE)
    assert shared.when("Mix the dough") == "Fri 11 22:00 to Fri 11 22:30"
    assert shared.when("Shape the loaf") == "Sat 12 06:30 to Sat 12 07:00"
    assert (shared.slot("Mix the dough").cook, shared.slot("Shape the loaf").cook) == ("Noor", "Ada")
    alone = fits(text(TWO_DAYS, LOAF.format(mixes="Ada", shapes="Ada"), serve=BREAKFAST), BEFORE)
    assert at("2026-12-11 18:00") <= alone.slot("Mix the dough").start <= at("2026-12-11 20:30")
    why = unfit(text(TWO_DAYS, LOAF.format(mixes="Noor", shapes="Noor"), serve=BREAKFAST), BEFORE)
    assert any("Noor" in reason for reason in why)


STEW = "Stew\n name: Stew simmers, nearby: 4 h"
SHIFTS = (
    "cooks: {{Ada: {{awake: 07:00-22:00, away: sat {ada}}}, Noor: {{awake: 07:00-22:00, away: sat {noor}}}}}"
)


def test_someone_nearby_may_be_one_cook_after_another() -> None:
    """From 15:30 to 19:30: Ada until she leaves at five, Noor from when she comes at five, not at half past."""
    found = fits(text(SHIFTS.format(ada="17:00-23:00", noor="09:00-17:00"), STEW), MORNING)
    assert found.when("Stew simmers") == "Sat 12 15:30 to Sat 12 19:30"
    assert unfit(text(SHIFTS.format(ada="17:00-23:00", noor="09:00-17:30"), STEW), MORNING)


# ---------------------------------------------------------------- ovens and gear

HOT = "Roast\n name: Roast the roots, nearby: 40 min, oven: 200 C"
CAKE = "Cake\n name: Bake the cake, nearby: 1 h, oven: {heat}, keeps: 20 min"
"""Both need the oven at 19:00: the cake may come out at 19:10 at the earliest."""


def test_an_oven_has_one_temperature_at_a_time() -> None:
    """At one heat they bake together in one oven; at two heats it takes two, or a cake that keeps longer:
    with 2 h it is out by 18:50, when the roots go in.
    """
    together = fits(text("gear: {oven: 1}", HOT, CAKE.format(heat="200 C")), MORNING)
    cake, roots = together.slot("Bake the cake"), together.slot("Roast the roots")
    assert cake.start < roots.end and roots.start < cake.end
    why = unfit(text("gear: {oven: 1}", HOT, CAKE.format(heat="160 C")), MORNING)
    assert any("oven" in reason for reason in why)
    fits(text("gear: {oven: 2}", HOT, CAKE.format(heat="160 C")), MORNING)
    longer = fits(text("gear: {oven: 1}", HOT, CAKE.format(heat="160 C").replace("20 min", "2 h")), MORNING)
    assert longer.when("Roast the roots") == "Sat 12 18:50 to Sat 12 19:30"
    assert longer.slot("Bake the cake").end <= longer.slot("Roast the roots").start


POTS = [f"Pot {n}\n name: Simmer pot {n}, nearby: 30 min, gear: [burner], keeps: 25 min" for n in (1, 2, 3)]
"""Each ends at 19:05 or later and begins by 19:00: between the two all three are on at once."""


@pytest.mark.slow
def test_gear_is_shared_as_far_as_there_is_of_it() -> None:
    """Three pots take three burners, and one that takes up two of them makes it four; one that keeps for an hour
    can go first: it is over by 19:00, when the others go on at the latest.
    """
    assert any("burner" in reason for reason in unfit(text("gear: {burner: 2}", *POTS), MORNING))
    found = fits(text("gear: {burner: 3}", *POTS), MORNING)
    moment = at("2026-12-12 19:04")
    assert all(slot.start <= moment < slot.end for slot in found.table.slots)
    wide = [*POTS[:2], POTS[2].replace("[burner]", "[burner, burner]")]
    assert unfit(text("gear: {burner: 3}", *wide), MORNING)
    fits(text("gear: {burner: 4}", *wide), MORNING)
    first = fits(text("gear: {burner: 2}", *POTS[:2], POTS[2].replace("25 min", "1 h")), MORNING)
    others = [first.slot(name) for name in ("Simmer pot 1", "Simmer pot 2")]
    assert first.slot("Simmer pot 3").end <= max(slot.start for slot in others)


# ---------------------------------------------------------------- hours and days of a step

SALSA = "Salsa\n name: Chop the salsa, hands-on: 20 min, keeps: 8 h{more}"


def test_between_keeps_a_step_to_its_hours() -> None:
    """It keeps 8 h, so it is over at 11:30 at the earliest and begins at 11:10 or later; by noon it has to be
    over, so it begins at 11:40 at the latest. Left to itself it would be made fresher, in the afternoon.
    """
    found = fits(text("", SALSA.format(more=", between: 09:00-12:00")), MORNING)
    assert found.window("Chop the salsa") == "Sat 12 11:10 to Sat 12 11:40"
    free = fits(text("", SALSA.format(more="")), MORNING)
    assert free.slot("Chop the salsa").start > at("2026-12-12 12:00")


TART = "Tart\n name: Roll the tart, hands-on: 30 min, keeps: 2 d{more}"


@pytest.mark.parametrize("day", ["fri", "2026-12-11", "[mon-wed, fri]"])
def test_on_keeps_a_step_to_its_days(day: str) -> None:
    """It keeps 2 d, so it may be rolled from Thursday evening on: of the days named only Friday is left."""
    found = fits(text("", TART.format(more=f", on: {day}")), BEFORE)
    assert found.window("Roll the tart") == "Fri 11 07:00 to Fri 11 22:00"
    assert unfit(text("", TART.format(more=", on: wed")), BEFORE)


def test_hours_hold_the_end_of_hands_on_work_too_and_days_only_its_start() -> None:
    """Kneading for 30 to 90 min up to the table at 13:00 is not over by noon; at noon it is, and begins by 11:30.
    On a Friday, kneading for an hour from half past eleven is allowed to end on Saturday.
    """
    knead = "Dough\n name: Knead the dough, hands-on: {}"
    morning = knead.format("30 min to 1 h 30 min, between: 09:00-12:00")
    assert unfit(text("", morning, serve="2026-12-12 13:00"), MORNING)
    found = fits(text("", morning, serve="2026-12-12 12:00"), MORNING)
    assert at("2026-12-12 10:30") <= found.slot("Knead the dough").start <= at("2026-12-12 11:30")
    friday = text("awake: 07:00-02:00", knead.format("1 h, on: fri"), serve="2026-12-12 00:30")
    assert fits(friday, BEFORE).when("Knead the dough") == "Fri 11 23:30 to Sat 12 00:30"


# ---------------------------------------------------------------- a trip in the middle

PICKLE = """Pickle
 name: Salt the roots, hands-on: 20 min
 name: "Roots ferment", unattended: 5 d, tend: {name: Vent the jar, every: 1 d, hands-on: 2 min}
 name: Drain the roots, hands-on: 10 min"""
"""Drained from 19:20, so fermenting from Monday 7 at 19:20, vented at that hour each day, and salted before."""


def away(trip: str) -> str:
    return f"away: {trip}"


def test_a_wait_goes_on_while_the_cook_is_away_and_its_touches_move_or_are_told() -> None:
    """Away from Wednesday 14:00 to Friday 18:00. Wednesday's touch may come 6 h early, from 13:20 on: at 13:55
    its two minutes are over before two o'clock. Thursday's cannot, and says so. Friday's is as due.
    """
    found = fits(text(away("2026-12-09 14:00 - 2026-12-11 18:00"), PICKLE), BEFORE)
    assert found.when("Roots ferment") == "Mon 07 19:20 to Sat 12 19:20"
    assert found.touches() == [
        ("Tue 08 19:20", None), ("Wed 09 13:55", None), ("Thu 10 19:20", "nobody is at home"), ("Fri 11 19:20", None),
    ]  # fmt: skip
    assert warnings(found.plan, found.table)[-1].endswith("Thu 10 Dec 19:20, nobody is at home")


def test_a_trip_that_begins_too_early_for_a_touch_leaves_it_in_trouble() -> None:
    """From 13:20 on, that is, as the touch's six hours of leave begin. A friend who stays does them all."""
    trip = "2026-12-09 13:20 - 2026-12-11 18:00"
    alone = fits(text(away(trip), PICKLE), BEFORE)
    assert [trouble for _, trouble in alone.touches()] == [
        None,
        "nobody is at home",
        "nobody is at home",
        None,
    ]
    friend = fits(text(f"cooks: {{Ada: {{away: {trip}}}, Noor: {{awake: 07:00-22:30}}}}", PICKLE), BEFORE)
    assert all(trouble is None for _, trouble in friend.touches())


def test_nothing_that_needs_a_cook_falls_into_a_trip() -> None:
    """Stock that has to simmer 3 h on Friday, and a rub of 15 min that keeps from Wednesday evening on: with
    the cook back at 18:00 the stock is on at 18:00 or later, by 19:30 so that it is done before bed, and the
    rub, kept to Thursday, has no time at all.
    """
    stock = "Stock\n name: Simmer the stock, nearby: 3 h, keeps: 2 d, on: fri"
    rub = "Meat\n name: Rub the meat, hands-on: 15 min, keeps: 3 d, on: thu"
    trip = away("2026-12-09 14:00 - 2026-12-11 18:00")
    assert fits(text(trip, stock), BEFORE).window("Simmer the stock") == "Fri 11 18:00 to Fri 11 19:30"
    assert fits(text("", stock, rub), BEFORE).window("Rub the meat") == "Thu 10 07:00 to Thu 10 22:15"
    assert any("Rub the meat" in reason for reason in unfit(text(trip, stock, rub), BEFORE))


# ---------------------------------------------------------------- what can be left out

DINNER = "Dinner\n name: Fry the fish, hands-on: 30 min\n name: Rest the fish, unattended: 10 min"
TRIFLE = "Trifle, optional\n name: Whip the cream, hands-on: 20 min, keeps: 15 min"
"""The fish is fried from 18:50 to 19:20. The cream, whipped by 19:30 and no earlier than 18:55, is over at
19:15 at the earliest, in the middle of it; or it is whipped after it, which is too late by ten minutes.
"""


def test_what_is_optional_is_planned_and_once_left_out_its_time_is_free() -> None:
    """One cook cannot do both, so it does not fit with the cream, and fits as it would without once skipped."""
    assert unfit(text("cooks: [Ada]", DINNER, TRIFLE), MORNING)
    both = fits(text("cooks: [Ada, Noor]", DINNER, TRIFLE), MORNING)
    assert (
        isinstance(both.table, Timetable)
        and both.slot("Whip the cream").cook != both.slot("Fry the fish").cook
    )
    plan = read(text("cooks: [Ada]", DINNER, TRIFLE), zone=PARIS)
    skipped = mark(MarkKind.SKIPPED, number_of(plan, "Whip the cream"), at(MORNING))
    left = fold(plan, (skipped,), at(MORNING))
    without = fits(text("cooks: [Ada]", DINNER, TRIFLE), MORNING, left)
    assert without.when("Fry the fish") == "Sat 12 18:50 to Sat 12 19:20"
    assert without.table.slot(number_of(plan, "Whip the cream")) is None


def test_in_chat_leaving_something_out_makes_an_earlier_meal_possible() -> None:
    """From half past six: whip 20 min, then fry, which with its rest takes 40, is half past seven; with the cream
    left out, ten past.
    """
    trifle = TRIFLE.replace("15 min", "2 h")
    talk = with_supper(
        on(9, "12:00"), text("cooks: [Ada]", DINNER, trifle, serve="2026-05-09 20:30", zone=ZONE)
    )
    talk.clock.move_to(on(9, "18:28"))
    assert talk.say("dinner at 19:10").startswith("A meal cannot be served")
    assert talk.say("leave out the trifle").startswith("Leave “Trifle” out") and talk.say("yes")
    assert talk.say("dinner at 19:10").startswith("Sat 9 May 19:10 fits") and talk.say("yes")
    assert talk.slot("Fry the fish").start == on(9, "18:30") and talk.state("Whip the cream") == "dropped"


# ---------------------------------------------------------------- through the command line


def test_check_prints_people_places_and_touches(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Cook, gear, oven, touches with their trouble, in the zone's own time, and exit code 0."""
    (tmp_path / "plan.yaml").write_text(
        text(
            f"cooks: [Ada, Noor], gear: {{oven: 1}}, {away('2026-12-09 14:00 - 2026-12-11 18:00')}",
            HOT,
            PICKLE,
        )
    )
    assert main(["check", str(tmp_path / "plan.yaml"), "--now", BEFORE, "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    steps = {step["name"]: step for step in told["steps"]}
    assert steps["Roast the roots"]["gear"] == ["oven"] and steps["Roast the roots"]["cook"] is None
    assert steps["Drain the roots"]["cook"] in ("Ada", "Noor")
    assert [(tend["at"], tend["trouble"]) for tend in told["tends"]] == [
        ("2026-12-08T19:20:00+01:00", None),
        ("2026-12-09T13:55:00+01:00", None),
        ("2026-12-10T19:20:00+01:00", "nobody is at home"),
        ("2026-12-11T19:20:00+01:00", None),
    ]
