"""Food out of temperature control, spoken of in the chat: started, measured, put off, stopped, asked about.

The limits are those of the default set, the stricter of the Food Code and FSIS: for what cools, 26.7 C within
1 h 30 min, 21 C within 2 h, 5 C within 6 h, 4.4 C by half an hour later; out for 2 h (see kitchen.rules).
"""

from __future__ import annotations

import pytest

from scheduler.domain.kitchen.hazards import DEFERRAL
from scheduler.domain.marks import MarkKind
from scheduler.domain.stages import About, Stage
from scheduler.records import Kind, Letter, PlanStatus
from tests.talk_kit import Talk, on, with_supper

DUCK = """\
crockbell: 1
title: Duck for four
serve: 2026-05-09 19:30
zone: Europe/Lisbon
kitchen:
  awake: 07:00-23:00
  gear: {burner: 2, oven: 1}
components:
  - name: Duck legs
    steps:
      - name: Cook the duck legs in fat
        nearby: 2 h to 3 h
        until: a skewer slides in
        oven: 110 C
      - name: Cool under the fat
        nearby: 1 h
        caution: cooling
      - name: Rest the duck in the fridge
        unattended: at least 12 h
        keeps: 5 d
      - name: Crisp the duck
        hands-on: 20 min
        oven: 220 C
        keeps: 30 min
"""
_COOLING: list[Talk] = []


def cooling() -> Talk:
    """Friday, 10:00: the duck is cooked and was just set to cool."""
    if not _COOLING:
        talk = with_supper(on(7, "10:00"), DUCK)
        talk.wait_until(on(8, "07:00"))
        talk.press("Started")
        talk.wait_until(on(8, "09:59"))
        talk.say("the duck is cooked")
        talk.wait_until(on(8, "10:00"))
        talk.say("started cooling")
        _COOLING.append(talk)
    return _COOLING[0].fork()


def of_clocks(letters: list[Letter]) -> list[tuple[Stage | None, str]]:
    """Stage and heading of every message about a clock."""
    return [
        (letter.stage, letter.text.splitlines()[0])
        for letter in letters
        if letter.about is About.CLOCK or "clock" in letter.facts
    ]


# ---------------------------------------------------------------- by itself


def test_it_starts_with_the_step_that_cools() -> None:
    """The answer to "started" says by when, and so does what is next."""
    talk = cooling()
    assert "Clock: Duck legs, 26.7 C or below in the middle by 11:30" in talk.texts[-1]
    assert "Clock: Duck legs, 26.7 C or below in the middle by 11:30" in talk.say("what's next")


def test_unanswered_it_warns_before_each_limit_and_tells_each() -> None:
    """From ten in the morning to the last limit at half past four, with the step done long before."""
    talk = cooling()
    heard = of_clocks(talk.wait_until(on(8, "23:00")))
    assert heard == [
        (Stage.CLOSING, "Duck legs: 26.7 C or below in the middle by 11:30"),
        (Stage.MISSED, "Duck legs: 26.7 C or below in the middle was due by 11:30"),
        (Stage.MISSED, "Duck legs: 21 C or below in the middle was due by 12:00"),
        (Stage.CLOSING, "Duck legs: 5 C or below in the middle by 16:00"),
        (Stage.MISSED, "Duck legs: 5 C or below in the middle was due by 16:00"),
        (Stage.MISSED, "Duck legs: 4.4 C or below in the middle was due by 16:30"),
    ]


def test_every_message_names_its_source_and_defers_to_the_food_code() -> None:
    """And offers what can be answered: down to it, cold, warm, the rule."""
    talk = cooling()
    told = [letter for letter in talk.wait_until(on(8, "23:00")) if letter.about is About.CLOCK]
    assert all(letter.text.endswith(DEFERRAL) for letter in told)
    assert all("FSIS" in letter.text or "FDA Food Code" in letter.text for letter in told)
    assert [button.label for button in told[0].buttons] == [
        "26.7 C or below", "Cold now", "Still warm", "What's the rule",
    ]  # fmt: skip
    assert "And 21 C or below in the middle by 12:00 (FDA Food Code 2013, 3-501.14)." in told[0].text
    assert "Next: 21 C or below in the middle by 12:00, 30 min left" in told[1].text
    assert "reheat every part to 74 C for 15 s" in told[2].text
    assert not any("safe" in letter.text.casefold() for letter in told)


def test_pressed_that_it_is_down_to_it_the_next_limit_is_all_that_is_left() -> None:
    """A button is a reading: the stage it meets is said to be met, and not spoken of again."""
    talk = cooling()
    talk.wait_until(on(8, "11:20"))
    answer = talk.press("26.7 C or below")
    assert "Met: 54.4 C to 26.7 C within 1 h 30 min (FSIS Appendix B 1999, option 1)." in answer
    assert "Next: 21 C or below in the middle by 12:00" in answer
    headings = [heading for _, heading in of_clocks(talk.wait_until(on(8, "12:00")))]
    assert headings == [
        "Duck legs: 21 C or below in the middle by 12:00",
        "Duck legs: 21 C or below in the middle was due by 12:00",
    ]


@pytest.mark.parametrize("said", ["the duck is cold", "cold now", "it is cold"])
def test_cold_is_the_end_of_it(said: str) -> None:
    """Nothing more is said, and what is next no longer speaks of it."""
    talk = cooling()
    talk.wait_until(on(8, "11:20"))
    assert "Clock stopped: Duck legs, after 1 h 20 min" in talk.say(said)
    assert of_clocks(talk.wait_until(on(8, "23:00"))) == []
    assert "Clock:" not in talk.say("what's next")


def test_a_temperature_said_of_it_is_judged() -> None:
    """In time so far; too warm at the limit; and what the rule says then."""
    talk = cooling()
    talk.wait_until(on(8, "10:40"))
    assert "Next: 26.7 C or below in the middle by 11:30, 50 min left." in talk.say("duck is at 40 degrees")
    talk.wait_until(on(8, "12:05"))
    late = talk.say("the duck is at 25 C")
    assert "21 C or below in the middle by 12:00 was not met: reheat every part to 74 C for 15 s" in late


def test_still_warm_asks_how_warm_and_a_bare_number_answers() -> None:
    """The number is the temperature of that food, not a time or a choice."""
    talk = cooling()
    talk.wait_until(on(8, "11:20"))
    assert "How warm is it in the middle? Duck legs" in talk.press("Still warm")
    assert "Noted: Duck legs at 24 C, 11:20" in talk.say("24")


def test_an_answer_without_a_name_is_about_the_clock_just_spoken_of() -> None:
    """ "28 degrees" and "what's the rule", after its message."""
    talk = cooling()
    talk.wait_until(on(8, "11:10"))
    assert "Noted: Duck legs at 28 C" in talk.say("it's 28 degrees")
    rule = talk.say("what's the rule")
    assert "57 C to 5 C within 6 h (FDA Food Code 2013, 3-501.14). Else throw it away." in rule


def test_it_cannot_be_put_off_past_the_limit() -> None:
    """ "In 30 minutes" is answered with how long remains, and at most a word before the limit."""
    talk = cooling()
    talk.wait_until(on(8, "11:10"))
    answer = talk.say("in 30 minutes")
    assert answer.startswith("Duck legs: 20 min left, until 11:30")
    assert "I will say so again at 11:20." in answer
    heard = of_clocks(talk.wait_until(on(8, "11:29")))
    assert heard == [(Stage.WAITING, "Duck legs: 26.7 C or below in the middle by 11:30")]
    talk.say("in 30 minutes")
    heard = of_clocks(talk.wait_until(on(8, "11:45")))
    assert (Stage.MISSED, "Duck legs: 26.7 C or below in the middle was due by 11:30") in heard


def test_in_the_fridge_it_goes_on_until_it_is_cold() -> None:
    """Set to rest in the fridge it is not cold yet: the step begins, and the clock runs on."""
    talk = cooling()
    talk.wait_until(on(8, "11:01"))
    assert "Started: Rest the duck in the fridge" in talk.say("the duck is in the fridge")
    assert of_clocks(talk.wait_until(on(8, "11:20")))
    assert "runs on until it is 4.4 C" in talk.say("it is back in the fridge")


def test_quiet_and_sleep_hold_nothing_back() -> None:
    """Set to cool at ten at night, with quiet asked for: told in the night all the same."""
    talk = with_supper(on(7, "10:00"), DUCK)
    talk.wait_until(on(8, "18:50"))
    talk.say("started cooking the duck legs at 18:45")
    talk.wait_until(on(8, "21:50"))
    talk.say("the duck is cooked")
    talk.say("started cooling")
    talk.say("quiet until 7 am")
    headings = [heading for _, heading in of_clocks(talk.wait_until(on(9, "04:30")))]
    assert len(headings) == 6


def test_undo_takes_back_what_was_said_of_it() -> None:
    """A reading taken back, the stage is open again."""
    talk = cooling()
    talk.wait_until(on(8, "10:50"))
    talk.say("duck is at 20 degrees")
    answer = talk.say("undo")
    assert answer.startswith("Taken back: the reading of Duck legs\nClock: Duck legs, 26.7 C or below in")
    assert of_clocks(talk.wait_until(on(8, "11:10")))


def test_undo_of_a_stop_says_that_the_clock_runs_on() -> None:
    """What was taken back is that it stopped, not the clock."""
    talk = cooling()
    talk.wait_until(on(8, "10:50"))
    talk.say("stop the clock")
    answer = talk.say("undo")
    assert answer.startswith("Taken back: that the clock of Duck legs stopped\nClock: Duck legs, 26.7 C or")


def test_what_was_answered_loses_its_buttons() -> None:
    """Said once that it is down to it, the warning cannot be answered again."""
    talk = cooling()
    talk.wait_until(on(8, "11:20"))
    talk.press("26.7 C or below")
    (warned,) = [letter for letter in talk.heard if letter.about is About.CLOCK]
    gone = [letter.receipt for _, letter in talk.messenger.sent if letter.kind is Kind.UNBUTTON]
    assert talk.receipt_of(warned) in gone


# ---------------------------------------------------------------- a plan's food, started by the cook


def test_the_cook_starts_one_for_food_of_the_plan() -> None:
    """Out since half past nine: told at half past eleven, kept as marks of the plan, stopped by a word."""
    talk = with_supper(on(7, "09:40"), DUCK)
    answer = talk.say("start the clock for the duck since 9:30")
    assert answer.startswith("The clock runs: Duck legs, out since 09:30")
    assert [mark.kind for mark in talk.view().marks] == [MarkKind.CLOCK]
    talk.wait_until(on(7, "10:30"))
    assert talk.say("how long has the duck been out").startswith("Duck legs: out since 09:30, 1 h")
    heard = of_clocks(talk.wait_until(on(7, "11:05")))
    assert heard == [(Stage.CLOSING, "Duck legs: eaten or thrown away by 11:30")]
    assert talk.say("the duck is back in the fridge").startswith("Clock stopped: Duck legs, after 1 h 35 min")
    assert of_clocks(talk.wait_until(on(7, "20:00"))) == []


def test_started_twice_it_is_one() -> None:
    """The second time is answered with how long it has run."""
    talk = with_supper(on(7, "09:40"), DUCK)
    talk.say("start the clock for the duck")
    talk.wait_until(on(7, "10:00"))
    assert talk.say("start the clock for the duck").startswith(
        "The clock runs already: Duck legs, out since 09:40"
    )


def test_without_a_name_it_is_what_was_asked_about() -> None:
    """Asked to begin with the duck, "start the clock" is its clock, also while the soup's runs."""
    talk = with_supper(on(8, "06:50"), DUCK)
    talk.say("start the clock for the soup")
    talk.wait_until(on(8, "07:05"))
    assert talk.say("start the clock").startswith("The clock runs: Duck legs, out since 07:05")


def test_a_plan_that_is_done_goes_on_while_food_is_out() -> None:
    """Everything done, the leftovers are still watched; then the plan is over."""
    talk = with_supper(on(7, "10:00"), DUCK)
    talk.wait_until(on(9, "19:20"))
    talk.say("the duck is out")
    for step in ("Cook the duck legs in fat", "Cool under the fat", "Rest the duck in the fridge"):
        talk.say(f"skip: {step}")
    talk.wait_until(on(9, "19:25"))
    talk.say("skip: Crisp the duck")
    rows = talk.plans(PlanStatus.ACTIVE)
    heard = of_clocks(talk.wait_until(on(9, "21:30")))
    assert [stage for stage, _ in heard] == [Stage.CLOSING, Stage.MISSED]
    assert len(rows) == 1
