"""Which step a reply is about: what was asked, where the steps stand, and when it is better to ask."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

import pytest
from phrases_own import PHRASES
from sample_plan import NOW, PLAN, ZONE, context, labels, target

from bot.understand import to_json, understand
from scheduler.commands import Command, Target
from scheduler.domain.hours import instant
from scheduler.domain.progress import Progress, Standing, State, at_the_start
from scheduler.domain.stages import About
from scheduler.domain.timetable import Timetable

# ---------------------------------------------------------------- what was asked


@pytest.mark.parametrize("about", [About.BUY, About.EARLY, About.DAY, About.TIMER])
def test_done_is_not_about_a_step_that_was_only_mentioned(about: About) -> None:
    """After a nudge to buy, or the day card, a bare "done" does not mark the step named in it."""
    found = understand("done", context("Rub the pork", about=about))
    assert not found.sure and found.command is Command.ASK_WHICH


def test_a_named_step_wins_over_the_one_asked() -> None:
    """A report that names another step is about that one."""
    found = understand("refreshed the levain", context("Rub the pork"))
    assert (found.command, labels(found), found.sure) == (Command.DONE, ["Refresh the levain"], True)


def test_yes_and_no_without_a_question_stay_yes_and_no() -> None:
    """Nothing was asked about a step, so that they answer whatever else was asked."""
    assert understand("yes", context()).command is Command.YES
    assert understand("no thanks", context()).command is Command.NO


def test_the_next_step_is_meant_where_several_stand_in_one_place() -> None:
    """After "rub the pork" was asked, "in the fridge" means the cure that follows it."""
    found = understand("it's in the fridge now", context("Rub the pork"))
    assert found.command is Command.STARTED and labels(found) == ["Cure in the fridge"] and found.sure


# ---------------------------------------------------------------- where the steps stand


def standing_at(**states: State) -> Progress:
    """Progress with the named steps (underscores for spaces) in these states."""
    by_name = {name.replace("_", " "): state for name, state in states.items()}
    return Progress(tuple(Standing(by_name.get(step.name, State.WAITING), NOW) for step in PLAN.steps))


def test_what_runs_tells_two_steps_apart() -> None:
    """ "The chickpeas are done" is about their boiling once only that is under way."""
    boiling = standing_at(
        Soak_the_chickpeas=State.DONE,
        Strain_and_rinse_the_chickpeas=State.DONE,
        Boil_the_chickpeas=State.RUNNING,
    )
    assert not understand("the chickpeas are done", context()).sure
    found = understand("the chickpeas are done", context(standing=boiling))
    assert found.sure and labels(found) == ["Boil the chickpeas"]


def test_a_step_already_over_is_asked_about() -> None:
    """A second "refreshed the levain" does not count by itself."""
    over = standing_at(Refresh_the_levain=State.DONE, Levain_peaks=State.RUNNING)
    found = understand("refreshed the levain", context(standing=over))
    assert not found.sure and labels(found) == ["Refresh the levain"]


def test_done_with_nothing_asked_offers_what_runs_or_is_due() -> None:
    """The candidates for a bare "done" are under way, or have everything before them over."""
    under_way = standing_at(Rub_the_pork=State.RUNNING, Infuse_the_milk=State.DONE)
    found = understand("done", context(standing=under_way))
    assert found.command is Command.ASK_WHICH and not found.sure
    assert labels(found) == ["Rub the pork", "Whisk the yolks"]


def test_an_untouched_plan_tells_nothing() -> None:
    """Before anything was said the standings make no step likelier than another."""
    assert understand("the pork is done", context(standing=at_the_start(PLAN))).command is Command.ASK_WHICH


# ---------------------------------------------------------------- particulars


def test_a_half_done_step_is_asked_about() -> None:
    """ "Wiped the skin" leaves it to be scored, so the step is not marked by itself."""
    found = understand("wiped the skin", context())
    assert labels(found) == ["Wipe and score the skin"] and not found.sure


def test_an_oven_that_is_on_for_something_else() -> None:
    """While the pork was asked about, "the oven's on" may be for the pork, so the rye's heating is not marked."""
    assert understand("the oven's on", context()).sure
    assert not understand("the oven's on", context("Roast the pork")).sure


def test_a_word_that_only_describes_tells_nothing() -> None:
    """ "Rubbed pork is in the fridge" begins the cure; it does not tell of the rubbing."""
    found = understand("rubbed pork is in the fridge", context())
    assert (found.command, labels(found)) == (Command.STARTED, ["Cure in the fridge"])


@pytest.mark.parametrize("asked", ["", "Press the cabbage down", "Whisk the yolks", "Roast the pork"])
def test_what_is_named_is_what_went_in(asked: str) -> None:
    """ "The pork is in the fridge" is about the pork, whatever was asked about before."""
    found = understand("the pork is in the fridge", context(asked))
    assert (found.command, labels(found), found.sure) == (Command.STARTED, ["Cure in the fridge"], True)


def test_two_steps_at_once_are_both_meant() -> None:
    """Both steps of "a and b" are marked when both are certain."""
    found = understand("refreshed the levain and whisked the yolks", context())
    assert found.sure and labels(found) == ["Refresh the levain", "Whisk the yolks"]


def test_a_denial_reaches_what_follows_it() -> None:
    """ "Haven't rubbed the pork and whisked the yolks" marks neither; "but" begins anew."""
    assert understand("haven't rubbed the pork and whisked the yolks", context()).command is Command.LATER
    found = understand("haven't rubbed the pork but whisked the yolks", context())
    assert (found.command, labels(found), found.sure) == (Command.DONE, ["Whisk the yolks"], True)


def test_leaving_out_a_component_is_confirmed() -> None:
    """All of a component is meant, and asked about before it counts."""
    found = understand("skip the labneh", context())
    assert found.confirm and found.steps == (target(PLAN, "Labneh"),) and found.steps[0].whole


def test_breaking_what_is_to_be_broken_is_no_mishap() -> None:
    """A step that asks for it is done when something is split; anything else is ruined."""
    step = replace(PLAN.steps[0], name="Split the logs")
    component = replace(PLAN.components[0], steps=(step, *PLAN.components[0].steps[1:]))
    plan = replace(PLAN, components=(component, *PLAN.components[1:]))
    found = understand("split the logs", context(plan=plan))
    assert found.command is Command.DONE and labels(found) == ["Split the logs"]


def test_the_serving_hour_in_force_is_the_timetables() -> None:
    """ "An hour later" counts from the hour the timetable was made for, not the plan's own."""
    moved = instant(datetime(2027, 3, 14, 15, 0), ZONE)
    found = understand("lunch an hour later", context(timetable=Timetable(moved, ())))
    assert found.command is Command.SERVE and found.at == moved + timedelta(hours=1)


def test_a_bare_time_answers_a_plan_without_its_hour() -> None:
    """Where no serving hour is known, a day and a time are one."""
    found = understand("sunday at 1pm", context(plan=replace(PLAN, serve=None)))
    assert found.command is Command.SERVE and found.at == instant(datetime(2027, 3, 14, 13), ZONE)


def test_the_cooks_names_are_no_strangers() -> None:
    """A report may begin with a cook's name even where only the act is told."""
    assert understand("Ines whisked", context()).sure
    assert not understand("Gregory whisked", context()).sure


def test_slips_of_the_finger() -> None:
    """A letter swapped, dropped or doubled still counts; a letter that is another does so beside a word in full."""
    for text in (
        "refrehsed the levain",
        "whiskd the yolks",
        "whissked the yolks",
        "rinsed the chickpaes",
        "whisked the yplks",
    ):
        found = understand(text, context())
        assert found.command is Command.DONE and found.sure, text


def test_json_names_the_step_in_the_plans_words() -> None:
    """Times carry the zone's offset; the step is the plan's own name; what is unsure names no step of several."""
    found = to_json(understand("refreshed the levain at 18:30", context()), context())
    assert found == {
        "command": "done",
        "step": "Refresh the levain",
        "at": "2027-03-11T18:30:00+00:00",
        "until": None,
        "sure": True,
        "minutes": None,
        "detail": "",
        "confirm": False,
    }
    assert to_json(understand("salted", context()), context())["step"] is None


def test_targets_are_the_plans_own() -> None:
    """Every step understood is a step, a tend or a component of the plan, under its own name."""
    known: set[Target] = {target(PLAN, step.name) for step in PLAN.steps}
    known |= {target(PLAN, step.tend.name) for step in PLAN.steps if step.tend}
    known |= {target(PLAN, component.name) for component in PLAN.components}
    found = {step for row in PHRASES for step in understand(row[1], context(row[0])).steps}
    assert found <= known and len(found) > 20
