"""What is said about steps under way and ahead of time."""

from __future__ import annotations

from dataclasses import replace
from datetime import time

import pytest

from bot.wording import Wording
from scheduler.domain.hours import Weekly
from scheduler.domain.kitchen.hazards import DEFERRAL
from scheduler.domain.marks import MarkKind
from scheduler.domain.plan import Kitchen as Room
from scheduler.domain.stages import About, Stage
from scheduler.service.deeds import Verb
from tests.wording_kit import CARROTS, LOAF, deeds, labels, lines, said
from tests.wording_kitchen import Kitchen, mark, nudge, supper


def test_a_pot_is_taken_off_at_its_end() -> None:
    """Time is up, since when, what then; more time is offered."""
    view = Kitchen().view("11-21 09:50", mark(MarkKind.STARTED, LOAF, "11-21 09:00"))
    message = said(nudge(About.END, Stage.NOW, LOAF, "11-21 09:50"), view)
    assert lines(message) == [
        "Time is up: Bake the loaf",
        "Under way since 09:00, planned until 09:50, then “Cool the loaf”.",
    ]
    assert labels(message) == ["Done", "5 min more", "10 min more", "What follows"]


def test_a_step_with_a_caution_is_not_made_longer() -> None:
    """Where something dangerous stands on it, no more time is offered, and the caution comes with it."""
    made = supper()
    careful = tuple(
        replace(
            part,
            steps=tuple(
                replace(each, caution="hot oil") if each.name == LOAF else each for each in part.steps
            ),
        )
        for part in made.components
    )
    view = Kitchen(replace(made, components=careful)).view(
        "11-21 09:50", mark(MarkKind.STARTED, LOAF, "11-21 09:00")
    )
    message = said(nudge(About.END, Stage.NOW, LOAF, "11-21 09:50"), view)
    assert labels(message) == ["Done", "What follows"]
    assert "(US Fire Administration, from memory)." in message.text and lines(message)[-1] == DEFERRAL


def test_work_of_the_hands_is_asked_after() -> None:
    """Hands that should be free again are asked, not told."""
    view = Kitchen().view("11-21 16:10", mark(MarkKind.STARTED, "Brown the lamb", "11-21 15:30"))
    message = said(nudge(About.END, Stage.WAITING, "Brown the lamb", "11-21 16:00"), view)
    assert lines(message)[0] == "Done yet? Brown the lamb (Stew)"


def test_a_look_names_the_sign_the_time_it_had_and_the_limit() -> None:
    """From its shortest time on: the sign asked for, how long it has had, how long the plan gives it."""
    view = Kitchen().view("11-17 18:20", mark(MarkKind.STARTED, CARROTS, "11-10 18:20"))
    message = said(nudge(About.LOOK, Stage.NOW, CARROTS, "11-17 18:20"), view)
    assert lines(message)[:4] == [
        "Have a look: Carrots ferment",
        "Ready when: sour and still crisp.",
        "It has had 7 d, since Tue 10 Nov 18:20; the plan gives it until Friday 18:20.",
        "When it is ready: “Chill the jar”, planned for Friday 18:20.",
    ]
    assert lines(message)[-1] == DEFERRAL
    assert [deed.verb for deed in deeds(message)] == [Verb.DONE, Verb.NOT_YET, Verb.WHY]


@pytest.mark.parametrize(
    ("stage", "now", "heading"),
    [
        (Stage.WAITING, "11-18 18:20", "Have another look: Carrots ferment"),
        (Stage.CLOSING, "11-20 17:20", "Have a look before 18:20: Carrots ferment"),
        (Stage.MISSED, "11-20 18:40", "Past its longest time, 18:20: Carrots ferment"),
    ],
)
def test_looks_grow_more_pressing(stage: Stage, now: str, heading: str) -> None:
    """Another look, a look before the longest time, and past it."""
    view = Kitchen().view(now, mark(MarkKind.STARTED, CARROTS, "11-10 18:20"))
    assert lines(said(nudge(About.LOOK, stage, CARROTS, "11-17 18:20"), view))[0] == heading


def test_a_touch_says_which_of_how_many() -> None:
    """A tend's own name, its number, when the next one comes; done, later or skipped by its number."""
    message = said(nudge(About.TEND, Stage.NOW, CARROTS, "11-13 18:20", 3), Kitchen().view("11-13 18:20"))
    assert lines(message) == [
        "Vent the lid (Carrot pickle)",
        "3rd of 5, during “Carrots ferment”.",
        "Takes 2 min; the next one comes at 18:20 tomorrow.",
    ]
    assert [(deed.verb, deed.occurrence) for deed in deeds(message)] == [
        (Verb.DONE, 3),
        (Verb.LATER, 3),
        (Verb.SKIP, 3),
    ]


def test_the_first_touch_brings_the_caution() -> None:
    """The step's caution comes with the first touch."""
    message = said(nudge(About.TEND, Stage.NOW, CARROTS, "11-11 18:20", 1), Kitchen().view("11-11 18:20"))
    assert "pH of 4.6 or below" in message.text and lines(message)[-1] == DEFERRAL


def test_shopping_names_what_for_and_by_when() -> None:
    """A day before the bones go on: what, how much, by when, for what."""
    view = Kitchen().view("11-19 07:20")
    assert lines(said(nudge(About.BUY, Stage.HEADS_UP, "Simmer the bones", "11-19 00:00"), view)) == [
        "Buy today: lamb bones and onions",
        "Lamb bones 2 kg, onions 200 g.",
        "Have it by 11:00 today.",
        "It is for “Simmer the bones (Stock)”, which begins at 11:00 tomorrow.",
    ]


def test_an_early_start_is_announced_the_evening_before() -> None:
    """Tomorrow's hour and what it is."""
    view = Kitchen().view("11-20 21:30")
    message = said(nudge(About.EARLY, Stage.HEADS_UP, LOAF, "11-21 09:00"), view)
    assert lines(message)[0] == "Tomorrow starts early, 09:00: Bake the loaf"


def test_a_heads_up_brings_somebody_home() -> None:
    """Where nobody is at home, the message says to be."""
    soon = nudge(About.START, Stage.HEADS_UP, "Brown the lamb", "11-21 15:30")
    assert "Be at home" not in said(soon, Kitchen().view("11-21 14:45")).text
    made, cooks = supper(), supper().kitchen.cooks
    out = replace(cooks[0], away=(Weekly(frozenset(range(7)), time(12), time(18)),))
    away = replace(made, kitchen=Room((out,), made.kitchen.gear))
    message = said(soon, Kitchen(away).view("11-21 14:45"))
    assert lines(message)[:2] == ["In 45 min, at 15:30: Brown the lamb (Stew)", "Be at home by 15:30."]


def test_the_card_of_the_day_lists_it_in_order() -> None:
    """Things by the clock, touches of one kind on one line, what runs on, and the meal."""
    view = Kitchen().view("11-21 07:10")
    assert lines(said(nudge(About.DAY, Stage.HEADS_UP, None, "11-21 00:00"), view)) == [
        "Today, Sat 21 Nov: 8 things, the first at 09:00",
        "09:00 Bake the loaf",
        "13:25 Drain the chickpeas",
        "13:30 Simmer the chickpeas",
        "15:30 Brown the lamb (Stew)",
        "16:00 Bake the stew",
        "16:40 Turn the meat (Stew), 3 times, until 18:00",
        "18:55 Rest the stew",
        "19:10 Slice the bread and dish up",
        "Running: Soak the chickpeas, until 13:25",
        "Done: Cold proof",
        "On the table at 19:30",
    ]


def test_what_runs_for_days_is_counted_in_days() -> None:
    """A ferment on its third day of seven to ten."""
    view = Kitchen().view("11-13 07:10")
    text = said(nudge(About.DAY, Stage.HEADS_UP, None, "11-13 00:00"), view).text
    assert "Running: Carrots ferment, day 3 of 7 to 10" in text


def test_a_timer_says_what_it_was_for() -> None:
    """The label and that time is up; or that alone."""
    assert Wording().timer("onions").text == "Onions: time is up"
    assert Wording().timer("  ").text == "Time is up"
