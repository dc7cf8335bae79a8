""" "The duck sat out three hours", in the chat: how long, what the limits say of it, and what it depends on."""

from __future__ import annotations

import re
from datetime import UTC, datetime

import pytest

from bot.config import HOLDING, BadSettings
from bot.understand import understand
from scheduler.commands import Command, Context
from scheduler.domain.kitchen.hazards import DEFERRAL
from scheduler.domain.kitchen.rules import FOOD_CODE, STRICTER, Rules
from scheduler.service import answers as say
from tests.talk_kit import Talk, at, fermenting
from tests.wording_kit import KITCHEN, lines

NOON_AND_A_HALF = datetime(2026, 11, 25, 14, 30, tzinfo=UTC)
"""Half past two in London."""

CODE = "FDA Food Code 2013, 3-501.19"


def told(said: str, rules: Rules = STRICTER, now: datetime = NOON_AND_A_HALF) -> list[str]:
    return lines(say.Caution(None, said, now, "Europe/London", rules))


@pytest.mark.parametrize(
    "said",
    [
        "The duck sat out three hours",
        "it sat out for an hour",
        "the soup sat at room temperature for an hour",
        "the duck sat out for three hours",
        "it's been on the counter since noon",
        "been on the counter since noon",
        "the custard was left out overnight",
        "left out overnight",
        "the stock has been sitting out since this morning",
        "the soup stood at room temperature for 5 hours",
        "the cake has been on the side for an hour",
        "can we eat this after 5 hours on the side",
        "is the duck ok after three hours out",
        "the stock was left on the stove overnight",
        "the dough was out for 20 minutes",
        "the duck was left out from noon till three",
        "can the rice stay out overnight",
        "is the chicken ok after 3 hours at room temperature",
        "mayonnaise has been on the table for an hour and a half",
    ],
)
def test_it_is_understood_and_answered(said: str) -> None:
    """All of it is a question of safety; the answer says how long it was, and ends with the deferral."""
    assert understand(said, Context(NOON_AND_A_HALF, "Europe/London")).command is Command.SAFETY
    answer = told(said)
    assert answer[0].startswith("Out for ") and answer[-1] == DEFERRAL
    assert any(CODE in line for line in answer) and len(answer) <= 8 and sum(map(len, answer)) < 700
    assert not re.search(r"\bsafe", "\n".join(answer), re.IGNORECASE)


@pytest.mark.parametrize(
    ("said", "heading"),
    [
        ("the duck sat out three hours", "Out for 3 h: past the limit of 2 h; throw it away"),
        ("the duck sat out for an hour", "Out for 1 h: 1 h left, until 15:30"),
        ("the duck sat out for two hours", "Out for 2 h: that is the limit"),
        ("it has been on the counter since noon", "Out for 2 h 30 min: past the limit of 2 h; throw it away"),
        ("it sat out 5 hours", "Out for 5 h: past the limits of 2 h and 4 h; throw it away"),
        (
            "out on the side overnight, been out since 10pm",
            "Out for 16 h 30 min: past the limits of 2 h and 4 h; throw it away",
        ),
        ("left out overnight", "Out for a night: past the limits of 2 h and 4 h; throw it away"),
        ("it was left out all day", "Out for the day: past the limits of 2 h and 4 h; throw it away"),
        (
            "it's been sitting out since this morning",
            "Out for up to 9 h 30 min: past the limits of 2 h and 4 h; throw it away",
        ),
    ],
)
def test_the_first_line_says_how_it_stands(said: str, heading: str) -> None:
    """By the stricter: 2 h from memory, 4 h read in a copy. A part of the day counts from its first hour."""
    assert told(said)[0] == heading


def test_by_the_food_code_three_hours_leave_one() -> None:
    """3-501.19(B): four hours; what is left, until when, and what then."""
    answer = told("the duck sat out three hours", FOOD_CODE)
    assert answer[0] == "Out for 3 h: 1 h left, until 15:30"
    assert answer[1].startswith(f"- At most 4 h ({CODE}")
    assert answer[1].endswith("eaten or thrown away by 15:30, in 1 h.")
    assert answer[2] == f"- 6 h from cold, if readings show it never got above 21 C ({CODE})."


def test_a_limit_from_memory_says_so_beside_the_one_that_was_read() -> None:
    """Both are told, each with its source, the one that was passed first."""
    answer = told("the duck sat out three hours")
    assert "FSIS advice to people at home, from memory" in answer[1] and "over since 13:30" in answer[1]
    assert CODE in answer[2] and "from memory" not in answer[2] and "by 15:30, in 1 h" in answer[2]


def test_six_hours_from_the_cold_are_not_offered_after_seven() -> None:
    """3-501.19(C) is told only while it could still apply."""
    assert any("never got above 21 C" in line for line in told("it sat out 5 hours"))
    assert not any("never got above 21 C" in line for line in told("it sat out 7 hours"))


def test_what_it_depends_on_is_said() -> None:
    """Where nobody said what it was like when it came out, that is said, and from when time counts."""
    answer = told("the duck sat out three hours")
    assert "Whether it was hot, cold or raw, I do not know." in answer
    assert any(line.startswith("Time counts from when it was last at 60 C or above") for line in answer)


def test_hours_over_a_clock_change_are_elapsed_hours() -> None:
    """Since eleven at night, asked at four on the morning an hour comes twice in London: six hours, not five."""
    morning = at("2026-10-25 04:00", "Europe/London")
    assert told("it has been sitting out since 11pm", now=morning)[0].startswith("Out for 6 h:")


@pytest.mark.parametrize(
    "said",
    [
        "can the garlic oil stand on the counter",
        "can I put hot stew in the fridge",
        "keep the garlic oil for two weeks",
        "what pH should it be",
        "may the duck stay on the counter",
    ],
)
def test_questions_and_wishes_about_keeping_are_answered_with_the_limits(said: str) -> None:
    """They mark nothing and put nothing off."""
    assert understand(said, Context(NOON_AND_A_HALF, "Europe/London")).command is Command.SAFETY
    assert told(said)[-1] == DEFERRAL


def test_what_stood_out_on_a_day_that_is_over_counts_as_long_as_it_was() -> None:
    """Three hours yesterday are past two hours; one hour leaves no time to be counted down now."""
    past, short = told("it sat out for three hours yesterday"), told("it sat out for one hour yesterday")
    assert past[0] == "Out for 3 h: past the limit of 2 h; throw it away"
    assert short[0] == "Out for 1 h: that much is used up" and not any("left" in line for line in short)
    assert past[-1] == short[-1] == DEFERRAL


def test_twice_is_twice_as_long() -> None:
    """Time out of control adds up."""
    assert (
        told("the duck was out for 45 minutes twice")[0]
        == "Out twice, 1 h 30 min in all: 30 min left, until 15:00"
    )


@pytest.mark.parametrize("said", ["I left the stock out", "is this safe to eat"])
def test_without_a_length_the_limits_are_told_as_they_are(said: str) -> None:
    """Nothing is made up about how long it was, or what has been since."""
    answer = told(said)
    assert answer[0] == "If in doubt, leave it out of the meal" and answer[-1] == DEFERRAL


@pytest.mark.parametrize("said", ["I've been out since noon", "the power was out all night"])
def test_the_cook_or_the_power_was_out_and_no_food(said: str) -> None:
    """No length is held against food that nobody said stood out."""
    assert not told(said)[0].startswith("Out for")


# ---------------------------------------------------------------- with a plan


def test_the_plan_says_that_it_was_heated() -> None:
    """The step last under way of what is spoken of, and until when."""
    answer = lines(say.Caution(KITCHEN.view("11-21 15:30"), "the chickpeas sat out three hours"))
    assert (
        "By the plan it was heated in “Simmer the chickpeas”, until 15:15; that it keeps 1 h changes nothing here."
    ) in answer


def test_the_plan_says_that_it_cools() -> None:
    """Food that is cooling has the limits of cooling besides."""
    answer = lines(say.Caution(KITCHEN.view("11-20 16:00"), "the stock sat out an hour"))
    assert any(
        "By the plan it cools in “Cool the stock”" in line and "57 C to 21 C" in line for line in answer
    )


def test_the_plan_says_that_it_was_cold() -> None:
    """What stood in the fridge began cold."""
    answer = lines(say.Caution(KITCHEN.view("11-21 12:00"), "the stock sat out an hour"))
    assert any(line.startswith("By the plan it was cold in “Chill the stock”") for line in answer)


def test_what_is_to_stand_out_is_not_thrown_away() -> None:
    """A ferment under way stands out by the plan: its own caution is told, and no clock is held against it."""
    answer = lines(
        say.Caution(KITCHEN.view("11-15 12:00"), "the carrots have been sitting out for five days")
    )
    assert answer[0] == "Out for 5 d: by the plan it stands out, in “Carrots ferment”"
    assert not any("throw it away" in line for line in answer) and any("fuzzy" in line for line in answer)
    assert answer[-1] == DEFERRAL


def test_words_about_standing_out_name_no_step() -> None:
    """ "Left at room temperature overnight" speaks of no step, though one may be called by such a word."""
    view = KITCHEN.view("11-21 12:00")
    answer = lines(say.Caution(view, "it was left on the counter at room temperature overnight"))
    assert "Whether it was hot, cold or raw, I do not know." in answer


# ---------------------------------------------------------------- in the chat


def test_asked_in_the_chat_with_and_without_a_plan() -> None:
    """The question reaches the rules on the cook's own clock, plan or no plan."""
    for talk in (Talk(at("2026-05-06 12:00")), fermenting()):
        answer = talk.say("the duck sat out three hours")
        assert answer.startswith("Out for 3 h: past the limit of 2 h") and CODE in answer


def test_the_rules_that_are_set_are_those_of_the_chat(monkeypatch: pytest.MonkeyPatch) -> None:
    """CROCKBELL_RULES chooses what answers go by, of what sat out and of what is asked as a sum."""
    monkeypatch.setenv(HOLDING, "food-code-2013")
    talk = Talk(at("2026-05-06 12:00"))
    assert talk.say("the duck sat out three hours").startswith("Out for 3 h: 1 h left, until 13:00")
    assert talk.say("when must the soup be cold if I took it off at 11").startswith(
        "In the middle 21 C by 13:00"
    )


def test_rules_that_do_not_exist_start_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    """The chat is refused with the names there are, rather than run by other rules than were asked for."""
    monkeypatch.setenv(HOLDING, "mine")
    with pytest.raises(BadSettings, match="food-code-2022"):
        Talk(at("2026-05-06 12:00"))
