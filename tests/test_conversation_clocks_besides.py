"""Food that cools, spoken of in passing: its step left out, a bare temperature, out of a fridge it never was in."""

from __future__ import annotations

import pytest

from tests.talk_kit import on, with_supper
from tests.test_conversation_clocks import DUCK, cooling, of_clocks


def test_leaving_out_the_step_that_cools_ends_no_clock() -> None:
    """Whether it had begun or not: what is kept cools since it came off the heat, and must get cold all the same."""
    begun, not_begun = cooling(), with_supper(on(7, "10:00"), DUCK)
    not_begun.wait_until(on(8, "07:00"))
    not_begun.press("Started")
    not_begun.wait_until(on(8, "10:00"))
    not_begun.say("the duck is cooked")
    for talk in (begun, not_begun):
        talk.say("skip the cooling")
        assert talk.say("yes").startswith("Left out: Cool under the fat")
        assert "Clock: Duck legs, 26.7 C or below in the middle by 11:" in talk.say("what's next")
        talk.wait_until(on(8, "10:06"))
        assert "It can wait until" in (told := talk.nudge("Rest the duck").text)
        assert "until 11:59 today." in told or "until 12:00 today." in told
        assert of_clocks(talk.wait_until(on(8, "11:30")))


def test_all_of_the_food_left_out_has_no_clock() -> None:
    """With nothing of it kept there is nothing to get cold."""
    talk = cooling()
    talk.say("skip the cooling")
    talk.press("Leave out Duck legs")
    assert of_clocks(talk.wait_until(on(8, "23:00"))) == []


def test_out_of_the_fridge_begins_no_step_that_puts_it_there() -> None:
    """Before it was ever in, it is food that is out; the clock that runs for it is told."""
    talk = cooling()
    talk.wait_until(on(8, "11:02"))
    assert talk.say("the duck is out of the fridge").startswith("The clock runs already: Duck legs, cooling")
    assert talk.state("Rest the duck in the fridge") == "waiting"


def test_a_bare_temperature_is_asked_about_while_one_clock_runs() -> None:
    """Asked about something else last, it may be the food's, or anything's: only a yes makes it a reading."""
    salad = (
        "  - name: Salad\n    steps:\n"
        "      - {name: Wash the salad, hands-on: 10 min, between: 10:30-11:00, on: fri, keeps: 2 d}\n"
    )
    talk = with_supper(on(7, "10:00"), DUCK + salad)
    talk.wait_until(on(8, "07:00"))
    talk.say("started cooking the duck legs")
    talk.wait_until(on(8, "09:59"))
    talk.say("the duck is cooked")
    talk.wait_until(on(8, "10:00"))
    talk.say("started cooling")
    talk.wait_until(on(8, "10:50"))
    assert talk.nudge("Wash the salad")
    assert "Is that Duck legs? Then say yes, and I count it." in talk.say("26 degrees")
    assert talk.say("yes").startswith("Noted: Duck legs at 26 C, 10:50\nMet: 54.4 C to 26.7 C")
    assert "Is that" not in talk.say("kitchen is 24 degrees")


def test_said_to_a_message_about_the_food_it_is_the_foods() -> None:
    """The step that cools it is over its time; "still 25 degrees" is no question then."""
    talk = cooling()
    talk.wait_until(on(8, "11:11"))
    assert talk.reply("still 25 degrees", talk.nudge("Cool under the fat")).startswith(
        "Noted: Duck legs at 25 C"
    )


def test_a_temperature_that_nothing_has_is_not_noted() -> None:
    """600 C for 60 C: said to be none, and no mark is made."""
    talk = cooling()
    before = talk.view().marks
    assert talk.say("the duck is at 600 degrees").startswith("600 C is no temperature of a kitchen")
    assert talk.view().marks == before


def test_it_is_cooling_is_said_of_what_was_cooked_last() -> None:
    """Not of the other thing that cools tomorrow."""
    rice = (
        "  - name: Rice\n    steps:\n      - {name: Boil the rice, nearby: 20 min, gear: [burner]}\n"
        "      - {name: Cool the rice, nearby: 1 h, keeps: 2 h}\n"
    )
    talk = with_supper(on(7, "10:00"), DUCK + rice)
    talk.wait_until(on(8, "07:00"))
    talk.press("Started")
    talk.wait_until(on(8, "09:40"))
    assert talk.say("it's cooling").startswith("Started: Cool under the fat (Duck legs), 09:40")


@pytest.mark.parametrize(
    ("said", "besides"),
    [
        ("it is 24 degrees in the kitchen and the duck is at 30 C", "it is 24 degrees in the kitchen"),
        ("the duck is at 30 C and the kitchen is at 22 degrees", "the kitchen is at 22 degrees"),
    ],
)
def test_of_two_temperatures_the_food_has_its_own(said: str, besides: str) -> None:
    """The kitchen's is never put down as the food's; it is to be said by itself."""
    talk = cooling()
    talk.wait_until(on(8, "10:50"))
    answer = talk.say(said)
    assert answer.startswith("Noted: Duck legs at 30 C, 10:50") and f"say “{besides}” by itself" in answer


def test_how_long_it_took_is_no_temperature() -> None:
    """ "2 hours" is not 2 C, which would meet every limit."""
    talk = cooling()
    talk.wait_until(on(8, "11:20"))
    assert "Noted" not in talk.say("it took 2 hours to cool from 70 to 21")
    assert "26.7 C or below in the middle by 11:30" in talk.say("what's next")
