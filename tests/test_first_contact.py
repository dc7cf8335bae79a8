"""The first words with a cook: where, when awake, and how to send a plan."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.waking import waking_hours
from scheduler.planfile import text as plantext
from scheduler.records import ChatStage, PlanStatus
from tests.talk_kit import HERE, SUPPER, Talk, on

MORNING = on(5, "09:00")


def fresh() -> Talk:
    return Talk(MORNING, settled=False)


# ---------------------------------------------------------------- the conversation


def test_from_hello_to_a_plan_in_use() -> None:
    """Greet, ask the zone, ask the waking hours, say how to send a plan, propose it, use it on a plain yes."""
    talk = fresh()
    assert talk.say("hello", sender="Ada").startswith("Hello, Ada. Tell me where your kitchen is")
    assert talk.say("Lisbon").startswith("Now say when you are awake")
    assert talk.say("7 to half past ten").startswith("Now send me a plan")
    chat = talk.chat()
    assert (chat.stage, chat.zone, chat.awake) == (ChatStage.READY, "Europe/Lisbon", "07:00-22:30")
    assert talk.send(SUPPER).startswith("Supper for four fits: served on Saturday at 19:30")
    assert talk.labels == ["Use this plan", "Not this one"]
    assert talk.say("yes").startswith("Supper for four is in use")
    assert [row.status for row in talk.plans()] == [PlanStatus.ACTIVE]


def test_a_zone_that_is_not_certain_is_asked_again_and_can_be_picked() -> None:
    """The nearest are offered; a yes takes a single one, a number one of several."""
    talk = fresh()
    talk.say("hi")
    assert "Did you mean Europe/Berlin? Say yes" in talk.say("Berlni")
    talk.say("yes")
    assert talk.chat().zone == "Europe/Berlin"
    talk = fresh()
    talk.say("hi")
    offered = talk.say("UTC+2").splitlines()
    talk.say("2")
    assert offered[-2] == f"2. {talk.chat().zone}"


def test_hours_that_are_not_certain_are_asked_again_with_an_example() -> None:
    """What cannot be read is said back, and nothing is kept."""
    talk = fresh()
    talk.say("hi")
    talk.say("Lisbon")
    assert talk.say("when the birds sing").startswith("Say once more when you are awake")
    assert "07:00-22:30" in talk.last.text and talk.chat().awake is None
    talk.say("weekdays 6:30-22, weekends 8 to midnight")
    assert talk.chat().awake == "mon-fri 06:30-22:00, sat-sun 08:00-24:00"


@pytest.mark.parametrize("when", [0, 1, 2])
def test_a_plan_that_comes_too_early_is_kept_and_taken_afterwards(when: int) -> None:
    """At any point of the first contact; the cook is told that it waits."""
    talk = fresh()
    words = ["hi", "Lisbon", "7-23"]
    for said in words[:when]:
        talk.say(said)
    assert "I have your plan" in talk.send(SUPPER)
    for said in words[max(when, 1) :]:
        talk.say(said)
    assert talk.texts[-1].startswith("Supper for four fits")
    assert len(talk.plans(PlanStatus.DRAFT)) == 1


def test_the_start_button_of_a_chat_program_asks_again_and_is_no_zone() -> None:
    """ "/start" repeats the question that is open; "help" says what comes first."""
    talk = fresh()
    talk.say("/start")
    assert talk.say("/start").startswith("Hello. Tell me where your kitchen is")
    assert talk.say("help").startswith("Tell me first where your kitchen is")
    talk.say("Paris")
    assert talk.say("/start").startswith("Now say when you are awake")
    assert talk.chat().zone == "Europe/Paris"


def test_pictures_and_buttons_from_elsewhere_change_nothing() -> None:
    """What has no words in it neither fails nor counts as an answer."""
    talk = fresh()
    talk.say("hi")
    assert talk.say("", kind="other") == ""
    talk.press_data("done:1:2")
    talk.say("   ")
    assert talk.chat().stage is ChatStage.ZONE


def test_being_added_to_a_group_says_nothing_until_spoken_to() -> None:
    """Joining is no message to answer."""
    talk = fresh()
    assert talk.say("", kind="joined", group=True) == ""
    assert talk.chat(HERE).stage is ChatStage.NEW and talk.chat(HERE).group


# ---------------------------------------------------------------- waking hours as they are said


@pytest.mark.parametrize(
    ("said", "written"),
    [
        ("7 to half past ten", "07:00-22:30"),
        ("7-23", "07:00-23:00"),
        ("07:00-22:30", "07:00-22:30"),
        ("from 6:30 till 11pm", "06:30-23:00"),
        ("weekdays 6:30-22, weekends 8 to midnight", "mon-fri 06:30-22:00, sat-sun 08:00-24:00"),
        ("7am - 11 p.m.", "07:00-23:00"),
        ("mon-fri 06:30-22:30, sat-sun 08:00-23:30", "mon-fri 06:30-22:30, sat-sun 08:00-23:30"),
        ("Mon to Fri 6 to 10; Sat and Sun 8-11", "mon-fri 06:00-22:00, sat, sun 08:00-23:00"),
        ("12 pm to 2 am", "12:00-02:00"),
        ("I get up at 6 and go to bed at 10", "06:00-22:00"),
        ("up at 7, bed at 23", "07:00-23:00"),
        ("between 7 and 22:30", "07:00-22:30"),
        ("quarter to seven to half ten", "06:45-22:30"),
        ("7:00 in the morning to 11 at night", "07:00-23:00"),
        ("every day 7h30-22h", "07:30-22:00"),
        ("noon to 2am", "12:00-02:00"),
        ("8 to 1", "08:00-01:00"),
        ("0700-2230", "07:00-22:30"),
    ],
)  # fmt: skip
def test_waking_hours_said_freely(said: str, written: str) -> None:
    """Put as a plan file has them."""
    assert waking_hours(said) == written


@pytest.mark.parametrize(
    "said",
    [
        "", "7", "always", "24/7", "25-30", "9 to 5", "7 to 7", "I sleep from 11 to 7", "asleep 23-7", "mon-fri 7-23",
        "sat 8-23", "7-23, 8-24", "weekdays 7-23, mon 8-22", "7:99-23", "yes", "13 am to 11 pm", "a" * 3000, "7-23 x",
    ],
)  # fmt: skip
def test_waking_hours_that_may_mean_something_else(said: str) -> None:
    """Half a week, a night, one hour: asked again rather than guessed."""
    assert waking_hours(said) is None


@given(st.text(max_size=60) | st.text(alphabet="0123456789:-,;. tofriamps", max_size=30))
@settings(max_examples=150)
def test_waking_hours_never_fail_and_always_read(said: str) -> None:
    """Whatever is said, either nothing is made of it or a plan file could have it, on all seven days."""
    written = waking_hours(said)
    if written is not None:
        assert sorted(day for span in plantext.weekly_hours(written) for day in span.days) == list(range(7))
