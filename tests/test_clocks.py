"""Clocks of food out of temperature control: which run, and what is owed of them.

The limits themselves are tested with kitchen.holding; here that each is warned of and told.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from scheduler.domain.clocks import (
    Act,
    OfClock,
    celsius_in,
    clocks,
    number_of_next,
    running,
)
from scheduler.domain.cooling import cools, is_cold
from scheduler.domain.kitchen.holding import Kind
from scheduler.domain.kitchen.rules import FOOD_CODE
from scheduler.domain.marks import Mark, MarkKind
from tests.clock_kit import SERVE, STARTED, T0, duck, of_clocks, said, stands
from tests.nudge_kitchen import ALONE, DAY, HANDS, HOUR, MIN, NEARBY, Row, at, table

# ---------------------------------------------------------------- which steps cool cooked food


@pytest.mark.parametrize(
    ("name", "does"),
    [
        ("Cool under the fat", True),
        ("Chill the bag in ice water", True),
        ("Chill the duck", True),
        ("Cool the rice", True),
        ("Rest the duck", False),
        ("Salt the duck", False),
    ],
)
def test_cooling_is_recognised_by_its_name(name: str, does: bool) -> None:
    """After heat and before the fridge, a step that cools or chills is one; what only rests is none."""
    kitchen = duck(name)
    assert cools(kitchen.plan, kitchen.plan.steps[1]) is does


def test_what_cools_for_the_table_or_to_another_warmth_is_no_cooling_of_food() -> None:
    """A loaf that cools for the table, and milk that cools to the heat of its culture, start no clock."""
    rows = [
        Row("Loaf", "Bake the loaf", NEARBY, 14, "10:00", HOUR, oven=230),
        Row("Loaf", "Cool the loaf", ALONE, 14, "11:00", 2 * HOUR, keeps=DAY),
        Row("Yoghurt", "Heat the milk", NEARBY, 14, "10:00", HOUR),
        Row("Yoghurt", "Milk cools to blood heat", NEARBY, 14, "11:00", HOUR),
        Row("Yoghurt", "Stir in the culture", HANDS, 14, "12:00", 5 * MIN),
        Row("Yoghurt", "Yoghurt sets", ALONE, 14, "12:05", 8 * HOUR),
        Row("Yoghurt", "Hang the yoghurt in the fridge", ALONE, 14, "20:05", 12 * HOUR, keeps=4 * DAY),
        Row("Pickle", "Salt the turnips", HANDS, 14, "10:00", HOUR),
        Row("Pickle", "Chill the jar", ALONE, 14, "11:00", 12 * HOUR, keeps=4 * DAY),
    ]
    plan = table(rows, SERVE).plan
    assert [step.name for step in plan.steps if cools(plan, step)] == []


def test_a_caution_says_it_whatever_the_name() -> None:
    """A step with the caution "cooling" cools cooked food, also where nothing else tells."""
    kitchen = duck("Stand by the window")
    (heat, step, *rest) = kitchen.plan.steps
    told = replace(step, caution="cooling")
    assert not cools(kitchen.plan, step)
    assert cools(kitchen.plan, told)
    assert not cools(kitchen.plan, heat)
    assert [is_cold(each) for each in rest] == [True, False]


# ---------------------------------------------------------------- a clock that starts by itself


def test_before_each_limit_and_at_it() -> None:
    """Begun at two: half an hour before four, at four, an hour before eight, at eight (Food Code 3-501.14, read)."""
    kitchen = duck()
    owed = of_clocks(kitchen, T0, kitchen.mark(*STARTED))
    assert owed == [
        ("closing", "14 15:30"), ("missed", "14 16:00"), ("closing", "14 19:00"), ("missed", "14 20:00"),
    ]  # fmt: skip


def test_nothing_is_owed_before_it_began_and_nothing_when_it_is_taken_back() -> None:
    """The clock is the step's own: not begun, or marked begun and taken back, there is none."""
    kitchen = duck()
    mark = kitchen.mark(*STARTED)
    undone = Mark(MarkKind.UNDONE, T0, T0 + MIN, "undo", undoes=mark.batch)
    assert of_clocks(kitchen, T0) == []
    assert of_clocks(kitchen, T0 + MIN, mark, undone) == []


def test_a_stage_that_was_met_is_not_spoken_of() -> None:
    """20 C at half past three meets the first stage; 5 C at seven the second."""
    kitchen = duck()
    first = said(kitchen, Act.READING, at(14, "15:20"), celsius=20.0)
    second = said(kitchen, Act.READING, at(14, "18:55"), celsius=5.0)
    marks = [kitchen.mark(*STARTED), first]
    assert of_clocks(kitchen, at(14, "15:20"), *marks) == [("closing", "14 19:00"), ("missed", "14 20:00")]
    assert of_clocks(kitchen, at(14, "18:55"), *marks, second) == []


def test_who_has_just_measured_is_not_warned_within_minutes() -> None:
    """Measured ten minutes before the warning at half past three: told then, and warned halfway to the limit."""
    kitchen = duck()
    measured = said(kitchen, Act.READING, at(14, "15:20"), celsius=40.0)
    owed = of_clocks(kitchen, at(14, "15:20"), kitchen.mark(*STARTED), measured)
    assert owed[:2] == [("closing", "14 15:40"), ("missed", "14 16:00")]
    early = said(kitchen, Act.READING, at(14, "15:15"), celsius=40.0)
    assert of_clocks(kitchen, at(14, "15:15"), kitchen.mark(*STARTED), early)[0] == ("closing", "14 15:30")


def test_a_note_about_a_step_of_that_food_counts_and_one_about_another_does_not() -> None:
    """ "30 C" noted of the duck in the fridge is a reading of its clock; a pH is none."""
    kitchen = duck()
    notes = [
        Mark(MarkKind.NOTE, at(14, "15:20"), at(14, "15:20"), text, 2, text=text)
        for text in ("20 C", "pH 4.1")
    ]
    clock = clocks(kitchen.plan, stands(kitchen, at(14, "15:21"), kitchen.mark(*STARTED), *notes))
    assert [each.clock.readings for each in clock] == [((at(14, "15:20"), 20.0),)]


def test_it_goes_on_into_the_fridge_and_ends_when_the_food_is_heated_again() -> None:
    """Done cooling is not cold: the clock runs until a reading, a word, or the pan."""
    kitchen = duck()
    marks = [
        kitchen.mark(*STARTED),
        kitchen.mark(MarkKind.DONE, "Cool under the fat", at(14, "15:00")),
        kitchen.mark(MarkKind.STARTED, "Duck rests in the fridge", at(14, "15:00")),
    ]
    assert len(of_clocks(kitchen, at(14, "15:00"), *marks)) == 4
    crisped = kitchen.mark(MarkKind.STARTED, "Crisp the duck", at(14, "15:10"))
    assert of_clocks(kitchen, at(14, "15:10"), *marks, crisped) == []


def test_left_out_or_lost_it_has_no_clock() -> None:
    """Food that is no part of the meal any more is not watched."""
    kitchen = duck()
    steps = ("Cool under the fat", "Duck rests in the fridge", "Crisp the duck")
    lost = [kitchen.mark(MarkKind.RUINED, step, T0 + MIN) for step in steps]
    assert of_clocks(kitchen, T0 + MIN, kitchen.mark(*STARTED), *lost) == []


def test_of_two_steps_that_cool_one_thing_the_first_has_the_clock() -> None:
    """Cooled on the counter and then chilled, the food has one clock, from when it began to cool."""
    kitchen = duck()
    fridge = replace(kitchen.plan.steps[2], name="Chill the duck")
    part = kitchen.plan.components[0]
    steps = tuple(fridge if step.number == 2 else step for step in part.steps)
    chilled = replace(kitchen, plan=replace(kitchen.plan, components=(replace(part, steps=steps),)))
    marks = [
        kitchen.mark(*STARTED),
        replace(kitchen.mark(*STARTED), step=2, about=at(14, "15:00"), batch="b"),
    ]
    found = clocks(chilled.plan, stands(chilled, at(14, "15:00"), *marks))
    assert [(each.step, each.started) for each in found] == [(1, T0)]


# ---------------------------------------------------------------- one that the cook starts


def test_the_cook_starts_and_stops_one() -> None:
    """Out since one, said at two: told before five and at five (Food Code 3-501.19, read), until it is stopped."""
    kitchen = duck()
    start = said(kitchen, Act.START, at(14, "13:00"), 1, Kind.OUT, known=T0)
    assert of_clocks(kitchen, T0, start) == [("closing", "14 16:00"), ("missed", "14 17:00")]
    stop = said(kitchen, Act.STOP, at(14, "15:00"), 1, Kind.OUT)
    assert of_clocks(kitchen, at(14, "15:00"), start, stop) == []
    assert running(kitchen.plan, stands(kitchen, at(14, "15:00"), start), FOOD_CODE, at(14, "15:00"))
    assert not running(
        kitchen.plan, stands(kitchen, at(14, "15:00"), start, stop), FOOD_CODE, at(14, "15:00")
    )


def test_food_that_is_out_is_under_control_again_in_the_fridge() -> None:
    """A step that keeps it cold ends the clock of food that only stood out."""
    kitchen = duck()
    start = said(kitchen, Act.START, at(14, "13:00"), 1, Kind.OUT)
    rests = kitchen.mark(MarkKind.STARTED, "Duck rests in the fridge", at(14, "14:30"))
    (clock,) = (
        each
        for each in clocks(kitchen.plan, stands(kitchen, at(14, "14:30"), start, rests))
        if each.number == 1
    )
    assert clock.stopped == at(14, "14:30")


def test_cooling_that_was_spoken_of_before_its_step_began_is_one_clock() -> None:
    """Taken off at half past one, its step begun at two: the clock runs from half past one."""
    kitchen = duck()
    start = said(kitchen, Act.START, at(14, "13:30"), 1)
    found = clocks(kitchen.plan, stands(kitchen, T0, start, kitchen.mark(*STARTED)))
    assert [(each.number, each.started) for each in found] == [(1, at(14, "13:30"))]


def test_a_limit_that_had_passed_when_it_was_told_is_not_spoken_of_again() -> None:
    """Out since ten, told at two, when four hours are over: the answer has said so."""
    kitchen = duck()
    start = said(kitchen, Act.START, at(14, "10:00"), 1, Kind.OUT, known=T0)
    assert of_clocks(kitchen, T0, start) == []


def test_told_late_it_is_warned_of_halfway() -> None:
    """Out since ten, told twenty minutes before four hours are over: warned of ten minutes later."""
    kitchen = duck()
    start = said(kitchen, Act.START, at(14, "10:00"), 1, Kind.OUT, known=at(14, "13:40"))
    assert of_clocks(kitchen, at(14, "13:40"), start) == [("closing", "14 13:50"), ("missed", "14 14:00")]


def test_asked_to_say_so_again() -> None:
    """A moment that the cook named comes besides, and the limit as it would have."""
    kitchen = duck()
    later = said(kitchen, Act.LATER, at(14, "15:31"), until=at(14, "15:45"))
    owed = of_clocks(kitchen, at(14, "15:31"), kitchen.mark(*STARTED), later)
    assert ("waiting", "14 15:45") in owed
    assert ("missed", "14 16:00") in owed


def test_numbers_are_never_used_twice() -> None:
    """Also of a clock that was taken back, so that what was sent of it is not taken for the next one's."""
    kitchen = duck()
    start = said(kitchen, Act.START, T0, 1)
    undone = Mark(MarkKind.UNDONE, T0, T0, "undo", undoes=start.batch)
    assert number_of_next([]) == 1
    assert number_of_next([start, undone]) == 2


@pytest.mark.parametrize(
    ("text", "celsius"),
    [("30 C", 30), ("41 F", 5), ("-2.5 C", -2.5), ("pH 4", None), ("180 C", None), ("hot", None)],
)
def test_temperatures_in_notes(text: str, celsius: float | None) -> None:
    """Only a note that is a temperature and nothing else is one."""
    assert celsius_in(text) == celsius


def test_what_a_mark_says_comes_back_from_its_text() -> None:
    """As it was written down, for every act and kind."""
    for act in Act:
        for kind in Kind:
            told = OfClock(act, 3, kind, 12.5)
            assert OfClock.from_text(told.as_text()) == told
