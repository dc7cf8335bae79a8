"""A kitchen that is warmer than planned: what is re-estimated, what is asked, and what moves only then."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest

from tests.talk_kit import SUPPER, Talk, number, on, with_supper

DAY = timedelta(days=1)
AT_19 = SUPPER.replace("        usually: 3 d\n", "        usually: 3 d\n        at: 19 C\n", 1)
RADISHES = "Radishes ferment"


def fermenting() -> Talk:
    """The radishes salted at a quarter past seven on Wednesday, a day ago."""
    talk = with_supper(on(5, "20:00"), AT_19)
    talk.wait_until(on(6, "07:15"))
    talk.say("salted the radishes")
    talk.wait_until(on(7, "07:15"))
    return talk


def lasts(talk: Talk) -> tuple[timedelta, timedelta | None, timedelta | None]:
    view = talk.view()
    lasting = view.step(number(view, RADISHES)).range
    return lasting.shortest, lasting.longest, lasting.usually


def times(talk: Talk) -> list[tuple[int, datetime, datetime]]:
    """When every step is."""
    return [(slot.step, slot.start, slot.end) for slot in talk.view().timetable.slots]


def test_a_warm_kitchen_is_asked_about_before_anything_moves() -> None:
    """At 24 C instead of 19 C: an estimate with its range and sources, a question, and the plan as it was."""
    talk = fermenting()
    before = (talk.view().timetable, lasts(talk))
    said = talk.say("kitchen is 24 degrees today")
    assert said.startswith("Noted: 24 C")
    assert "“Radishes ferment (Pickle)” was counted on at 19 C: at 24 C from now on" in said
    assert "not 2 d to 4 d" in said and "from memory" in said and "Nothing is moved until you say so" in said
    assert (talk.view().timetable, lasts(talk)) == before
    assert talk.labels[:2] == ["Count on that", "Leave it"]


@pytest.mark.parametrize("agree", ["yes", "button"])
def test_what_is_agreed_to_is_counted_on(agree: str) -> None:
    """The day behind it counts as it was, what is left goes faster; the timetable follows."""
    talk = fermenting()
    talk.say("kitchen is 24 degrees today")
    said = talk.press("Count on that") if agree == "button" else talk.say("yes")
    assert said.startswith("I count on 24 C from now on")
    shortest, longest, usually = lasts(talk)
    assert DAY < shortest < 2 * DAY and longest is not None and 2 * DAY < longest < 4 * DAY
    assert usually is not None and usually < 3 * DAY
    slot = talk.slot(RADISHES)
    assert slot.end - slot.start == usually


def test_the_same_reading_again_changes_nothing_more() -> None:
    """Once 24 C is counted on it is what the plan stands at."""
    talk = fermenting()
    talk.say("kitchen is 24 degrees today")
    talk.say("yes")
    once = lasts(talk)
    again = talk.say("kitchen is 24 degrees today")
    assert again.startswith("Noted: 24 C") and "Count on that" not in again
    assert lasts(talk) == once


def test_it_is_taken_back_like_everything_else() -> None:
    """Undo: the lengths as they were written, and the timetable of before."""
    talk = fermenting()
    before = (times(talk), lasts(talk))
    talk.say("kitchen is 24 degrees today")
    talk.say("yes")
    assert times(talk) != before[0]
    talk.say("undo")
    assert (times(talk), lasts(talk)) == before


def test_no_leaves_it_as_planned() -> None:
    """A reading that is left at that."""
    talk = fermenting()
    talk.say("kitchen is 24 degrees today")
    before = lasts(talk)
    talk.press("Leave it")
    assert lasts(talk) == before


@pytest.mark.parametrize(
    "said", ["kitchen is 19.5 degrees", "ph 3.9 on the radishes", "kitchen is 19 degrees"]
)
def test_what_changes_little_asks_nothing(said: str) -> None:
    """Half a degree is within any range, and acidity is no temperature."""
    talk = fermenting()
    talk.say(said)
    assert "Count on that" not in talk.labels


def test_a_temperature_beyond_the_figures_is_left_to_the_cook() -> None:
    """At 36 C nothing is estimated, and it says so."""
    talk = fermenting()
    said = talk.say("radishes are at 36 degrees")
    assert "figures for 12 C to 30 C only" in said and "Count on that" not in talk.labels


def test_a_cold_kitchen_that_makes_the_meal_late_says_so() -> None:
    """At 14 C three days become longer than the meal allows: it is told, and ways out are offered."""
    talk = fermenting()
    talk.say("kitchen is 14 degrees")
    said = talk.say("yes")
    assert said.startswith("I count on 14 C from now on")
    assert lasts(talk)[2] is not None and (lasts(talk)[2] or DAY) > 4 * DAY
    assert "19:30" in said and "Other ways" in talk.labels


def test_a_starter_that_is_counted_on_elsewhere_is_told_at_that_temperature() -> None:
    """What is said of its feeding is the temperature counted on by now, not the one in the plan."""
    ripens = (
        "  - name: Loaf\n    steps:\n      - {name: Feed the starter, hands-on: 10 min}\n"
        "      - {name: Starter ripens, ripens: {ratio: '1:1:1', at: 22 C}, keeps: 4 h}\n"
        "      - {name: Mix the dough, hands-on: 20 min, keeps: 10 h}\n"
    )
    talk = with_supper(on(5, "20:00"), SUPPER.replace("  - name: Table\n", ripens + "  - name: Table\n"))
    fed = talk.slot("Feed the starter").end
    talk.wait_until(fed)
    talk.say("fed the starter")
    assert "Starter ripens" in talk.say("kitchen is 18 degrees")
    talk.say("yes")
    talk.wait_until(talk.slot("Starter ripens").end)
    assert "Fed 1:1:1, at 18 C." in talk.nudge("Starter ripens").text
