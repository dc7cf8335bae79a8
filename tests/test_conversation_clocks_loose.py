"""Clocks of food that is no plan's, in the chat: kept with no plan under way, and with buttons of their own."""

from __future__ import annotations

import pytest

from scheduler.domain.kitchen.hazards import DEFERRAL
from tests.talk_kit import SUPPER, Talk, on, with_supper
from tests.test_conversation_clocks import of_clocks


def nothing_running(now: str = "14:30") -> Talk:
    return Talk(on(7, now))


def test_without_a_plan_it_is_kept_all_the_same() -> None:
    """Soup taken off at two, measured, cold by eight."""
    talk = nothing_running()
    assert talk.say("took the soup off at 2").startswith("The clock runs: soup, cooling since 14:00")
    talk.wait_until(on(7, "15:20"))
    assert "Met: 54.4 C to 26.7 C within 1 h 30 min" in talk.say("soup 25 C")
    assert "Clock: soup, 21 C or below in the middle by 16:00" in talk.say("what's next")
    talk.wait_until(on(7, "15:50"))
    assert "Clock stopped: soup, after 1 h 50 min" in talk.say("the soup is cold")
    assert of_clocks(talk.wait_until(on(8, "07:00"))) == []


def test_without_a_plan_its_buttons_know_which_it_is() -> None:
    """Two that run at once: the button of one's message is about that one."""
    talk = nothing_running()
    talk.say("rice is cooling since 14:10")
    talk.say("took the soup off at 2")
    talk.wait_until(on(7, "15:18"))
    first = next(letter for letter in talk.heard if "clock" in letter.facts)
    assert "Clock stopped: soup" in talk.press("Cold now", first)
    assert "Which clock" not in talk.say("stop the clock")


def test_without_a_plan_what_has_passed_is_answered_at_once() -> None:
    """Out since ten, told at half past two: the limit is over, and nothing is owed."""
    talk = nothing_running()
    answer = talk.say("the duck is out since 10")
    assert "Its time was up at 12:00: throw it away (FSIS advice to people at home, from memory)." in answer
    assert of_clocks(talk.wait_until(on(8, "07:00"))) == []


def test_which_of_several_is_asked() -> None:
    """Nothing is stopped while it is not clear which."""
    talk = nothing_running()
    talk.say("start the clock for the rice")
    talk.say("start the clock for the soup")
    assert talk.say("stop the clock").startswith("Which clock do you mean? Rice and soup")
    assert len(of_clocks(talk.wait_until(on(7, "16:31")))) == 4


def test_clocks_are_no_timers() -> None:
    """They are not among the timers, and taking off a timer takes off none of them."""
    talk = nothing_running()
    talk.say("start the clock for the rice")
    talk.say("timer 10 min eggs")
    assert "rice" not in talk.say("which timers are running?")
    assert "Timer taken off: eggs" in talk.say("cancel the timer")
    assert "No such timer" in talk.say("cancel the timer")
    assert len(of_clocks(talk.wait_until(on(7, "16:30")))) == 2


@pytest.mark.parametrize("said", ["stop the clock", "it is eaten", "the rice is cold"])
def test_where_none_runs_that_is_said(said: str) -> None:
    """With a word on how to start one."""
    assert nothing_running().say(said).startswith("No clock is running")


def test_what_sat_out_is_a_question_of_safety_as_before() -> None:
    """ "The duck sat out for three hours" starts nothing."""
    talk = nothing_running()
    assert DEFERRAL in talk.say("the duck sat out for three hours")
    assert of_clocks(talk.wait_until(on(8, "07:00"))) == []


def test_how_long_is_left_and_which_run() -> None:
    """With no plan under way: the one that is named, and all of them."""
    talk = nothing_running()
    talk.say("the soup is out since 14:00")
    assert talk.say("how long has the soup left").startswith("Soup: out since 14:00, 30 min")
    assert "Clock: soup, eaten or thrown away by 16:00" in talk.say("which clocks are running")


def test_what_was_just_said_of_it_is_taken_back() -> None:
    """Started, measured or stopped by mistake: undo makes it as it was, and never reaches into a plan instead."""
    talk = with_supper(on(5, "14:30"), SUPPER.replace("serve:", "serves: 4\nserve:", 1))
    talk.say("we are ten now")
    talk.say("the soup is out since 14:00")
    assert talk.say("undo") == "Taken back: the clock of soup"
    assert "Clock:" not in talk.say("what's next") and talk.view().plan.serves == 10
    talk.say("the soup is cooling since 14:00")
    talk.say("the soup is at 20 C")
    assert talk.say("undo").startswith("Taken back. The clock runs: soup, cooling since 14:00\nNext: 26.7 C")
    talk.say("stop the clock")
    talk.say("undo")
    assert "Clock: soup, 26.7 C or below in the middle by 15:30" in talk.say("what's next")
    assert of_clocks(talk.wait_until(on(5, "15:30")))
