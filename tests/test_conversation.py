"""The conversation as a whole: plans that come, buttons, replies, the menu, and who is speaking."""

from __future__ import annotations

import pytest

from scheduler.domain.marks import MarkKind
from scheduler.records import PlanStatus
from tests.talk_kit import HERE, SUPPER, Talk, at_the_radishes, button, number, on

EVENING = on(5, "20:00")
NO_HOUR = SUPPER.replace("serve: 2026-05-09 19:30\n", "")


# ---------------------------------------------------------------- a plan comes


@pytest.mark.parametrize(
    "source",
    [
        SUPPER,
        "\ufeff" + SUPPER,
        SUPPER.replace("\n", "\r\n"),
        "# For Saturday.\n# Four of us.\n\n" + SUPPER,
        "---\n" + SUPPER,
    ],
    ids=["plain", "byte order mark", "line ends of Windows", "remarks first", "document mark"],
)
@pytest.mark.parametrize("pasted", [True, False])
def test_a_plan_comes_as_a_file_or_pasted(source: str, pasted: bool) -> None:
    """Either way the answer is the timetable in brief and the choice to use it."""
    talk = Talk(EVENING)
    answer = talk.say(source) if pasted else talk.send(source, "plan.txt")
    assert answer.startswith("Supper for four fits: served on Saturday at 19:30")
    assert talk.labels == ["Use this plan", "Not this one"]


def test_a_bad_plan_is_refused_whole_with_every_problem() -> None:
    """Nothing is stored, and the lines to put right are named."""
    talk = Talk(EVENING)
    answer = talk.send(SUPPER.replace("hands-on: 15 min", "hands-on: soon").replace("zone:", "zoen:"))
    assert answer.startswith("Put right 3 things in this plan") and "Line 4" in answer
    assert talk.plans() == []


@pytest.mark.parametrize(
    ("content", "told"),
    [
        (b"\x89PNG\r\n\x1a\n" + bytes(40), "which is not UTF-8"),
        (b"# " + b"x" * 300_000, "at most 262144 bytes"),
        (b"dear Crockbell", "expected keys with their values"),
    ],
    ids=["a picture", "too large", "a letter"],
)
def test_a_file_that_is_no_plan_is_told_apart(content: bytes, told: str) -> None:
    """A picture sent as a file, a file too large, prose: each is refused in words."""
    talk = Talk(EVENING)
    assert told in talk.send(content, "plan.yaml") and talk.plans() == []


def test_a_plan_without_its_hour_asks_for_it_until_it_is_named() -> None:
    """Whatever else is said meanwhile is answered or asked again; the hour then times the plan."""
    talk = Talk(EVENING)
    assert talk.send(NO_HOUR).startswith("Say when it is to be on the table: Supper for four")
    assert talk.say("someday").startswith("Say when it is to be on the table")
    assert talk.say("timer 5 min tea").startswith("Tea: 5 min")
    assert talk.say("2026-05-01 19:30").startswith("That time has passed already.")
    assert talk.say("saturday 7pm").startswith("Supper for four fits: served on Saturday at 19:00")
    assert talk.say("ok").startswith("Supper for four is in use")


def test_the_hour_of_a_plan_is_on_the_plans_own_clock() -> None:
    """A cook in Lisbon plans a meal in Warsaw: 19:30 is Warsaw's."""
    talk = Talk(EVENING)
    talk.send(NO_HOUR.replace("Europe/Lisbon", "Europe/Warsaw"))
    talk.say("2026-05-09 19:30")
    assert talk.plans()[0].serve == on(9, "18:30")


def test_a_plan_that_does_not_fit_says_why_and_offers_the_earliest_hour() -> None:
    """A yes takes the hour offered, then another the plan."""
    talk = Talk(on(8, "20:00"))
    answer = talk.send(SUPPER)
    assert answer.startswith("Supper for four cannot be served on Sat 9 May at 19:30")
    assert "the earliest hour that fits" in answer and talk.labels[-1] == "Not this plan"
    assert talk.say("yes").startswith("Supper for four fits: served on")
    assert talk.say("use this plan").startswith("Supper for four is in use")


def test_a_plan_can_be_put_aside() -> None:
    """No is no; a stale button of it does nothing."""
    talk = Talk(EVENING)
    talk.send(SUPPER)
    proposal = talk.last
    assert talk.say("no").startswith("Put aside: Supper for four")
    assert talk.press("Use this plan", proposal).startswith("Supper for four is in use")


def test_what_is_next_without_a_plan_names_the_one_that_waits() -> None:
    """A proposal that was not answered is one press from use."""
    talk = Talk(EVENING)
    assert talk.say("what's next").startswith("There is no plan under way")
    talk.send(SUPPER)
    assert talk.say("what's next").startswith("“Supper for four” is not in use yet.")
    assert talk.press("Use it").startswith("Supper for four is in use")


# ---------------------------------------------------------------- replies, words, the menu


def test_a_reply_is_about_the_message_replied_to_however_old() -> None:
    """Two things are open; the reply says which, two days later as well."""
    talk = at_the_radishes()
    talk.press("Done", talk.nudge("Salt the radishes"))
    talk.wait_until(on(8, "07:06"))
    look, vent = talk.nudge("Have a look"), talk.nudge("Vent the jar")
    talk.reply("done", vent)
    assert talk.state("Radishes ferment") == "running"
    talk.wait_until(on(9, "07:02"))
    talk.reply("done", look)
    assert talk.state("Radishes ferment") == "done"


def test_a_nudge_of_yesterday_is_not_what_a_bare_done_is_about() -> None:
    """After eighteen hours "done" asks which."""
    talk = at_the_radishes()
    talk.wait_until(on(8, "06:00"))
    assert talk.say("done").startswith("Which one is done?") and talk.view().marks == ()


@pytest.mark.parametrize(
    ("command", "answer"),
    [
        ("/start", "Say it as you would in the kitchen"),
        ("/help", "Say it as you would in the kitchen"),
        ("/next", "Now: Salt the radishes"),
        ("/today", "Today, Wed 6 May"),
        ("/plan", "Supper for four: served on Saturday"),
        ("/undo", "There is nothing to take back"),
        ("/stop", "Stop “Supper for four”"),
        ("/next@crockbell_bot", "Now: Salt the radishes"),
        ("hello", "Now: Salt the radishes"),
    ],
)
def test_the_menu_of_a_chat_program_is_understood_while_something_is_asked(command: str, answer: str) -> None:
    """A command never counts as the answer to a nudge; nothing is marked by it."""
    talk = at_the_radishes()
    assert talk.say(command).startswith(answer)
    assert talk.view().marks == ()


def test_a_command_there_is_not_changes_nothing() -> None:
    """ "/startled" is no command."""
    talk = at_the_radishes()
    talk.say("/startled")
    assert talk.view().marks == ()


@pytest.mark.parametrize("said", ["thanks", "ok", "🙂", "", "   "])
def test_courtesies_need_no_answer_and_mark_nothing(said: str) -> None:
    """What asks nothing and tells nothing is left alone."""
    talk = at_the_radishes()
    talk.say(said)
    assert talk.view().marks == ()


def test_of_two_plans_the_one_that_makes_sense_is_meant() -> None:
    """Words find their plan; "what's next" is about the one last nudged about."""
    talk = at_the_radishes()
    talk.send(TOAST)
    talk.press("Use this plan")
    assert talk.say("sliced the bread").startswith("Done: Slice the bread")
    assert talk.say("salted the radishes").startswith("Done: Salt the radishes")


TOAST = """\
crockbell: 1
title: Toast
serve: 2026-05-06 08:00
zone: Europe/Lisbon
components:
  - name: Toast
    steps:
      - {name: Slice the bread, hands-on: 5 min, keeps: 1 h}
      - {name: Toast the bread, hands-on: 5 min, keeps: 10 min}
"""


# ---------------------------------------------------------------- leaving and coming back


def test_a_cook_who_left_finds_everything_as_it_was() -> None:
    """Plans wait while nothing can be said; the first words after that are heard and done at once."""
    talk = at_the_radishes()
    talk.say("", kind="left")
    assert [row.status for row in talk.plans()] == [PlanStatus.PAUSED]
    assert talk.wait_until(on(6, "10:00")) == []
    assert "Done: Salt the radishes" in talk.say("salted the radishes at 9")
    assert talk.chat().barred is None
    assert [row.status for row in talk.plans()] == [PlanStatus.ACTIVE]


def test_a_group_that_moves_takes_its_plans_along() -> None:
    """The new address is answered, about the same plan."""
    talk = at_the_radishes()
    talk.say("", moved_to="telegram:-100")
    assert "Salt the radishes" in talk.say("what's next", address="telegram:-100")
    with pytest.raises(LookupError):
        talk.chat(HERE)


def test_marks_say_who_said_them() -> None:
    """In a kitchen of several, the log knows who it was."""
    talk = at_the_radishes()
    talk.say("done", sender="Noor")
    (mark,) = talk.view().marks
    assert (mark.kind, mark.by, mark.step) == (
        MarkKind.DONE,
        "Noor",
        number(talk.view(), "Salt the radishes"),
    )
    assert button(talk.last, "Undo").data.startswith("undo:")
