"""A ferment talked about: its salt, and readings of its acidity and heat."""

from __future__ import annotations

import pytest

from scheduler.domain.kitchen.hazards import DEFERRAL
from tests.talk_kit import SUPPER, Talk, fermenting, on


@pytest.mark.parametrize(
    "said",
    [
        "how salty is it?",
        "is that enough salt",
        "is there enough salt in the radishes",
        "are the radishes salty enough",
    ],
)
def test_how_salty_a_ferment_is(said: str) -> None:
    """From the plan: grams, what for, and how that stands to what is published."""
    talk = fermenting()
    marks = talk.view().marks
    said_back = talk.say(said)
    assert said_back.startswith(
        "Radishes ferment: 10 g of salt for 500 g\n2 % of the produce's weight is within the usual"
    )
    assert talk.view().marks == marks


def test_the_nudge_to_salt_says_grams_percent_and_of_what() -> None:
    """Plain words for the convention, in the nudge, in the answer, and when it is asked how the ferment does."""
    talk = Talk(on(5, "20:00"))
    talk.send(SUPPER)
    talk.press("Use this plan")
    talk.wait_until(on(6, "07:05"))
    assert "salt 10 g (2 % of the radishes' weight)" in talk.nudge("Salt the radishes").text
    assert fermenting().say("how much salt").startswith("Salt: 10 g (2 % of the radishes' weight)")
    assert "Salt 10 g (2 % of the radishes' weight)." in fermenting().say(
        "when are the radishes done fermenting"
    )


def test_readings_are_told_one_after_another() -> None:
    """Each against the published limit; from the second on, those before it too, named or not where one ferments."""
    talk = fermenting()
    first = talk.say("pH 4.8 on the radishes")
    assert "That does not meet the limit of pH 4.6" in first and "so far" not in first
    talk.wait_until(on(8, "07:30"))
    talk.say("pH 4.1")
    talk.wait_until(on(8, "18:00"))
    last = talk.say("ph of the radishes is 3.9")
    assert "That meets the limit of pH 4.6 or below (21 CFR 114.3)" in last
    assert "Readings so far: pH 4.8 on Wed, 4.1 at 07:30, 3.9 now." in last
    assert last.split("\n")[-1] == DEFERRAL


def test_heat_of_the_jar_and_of_the_fridge() -> None:
    """Of the ferment it is judged and told with those before it; of another place neither."""
    talk = fermenting()
    assert "Below 16 C it is slow" in talk.say("the radishes are at 12 degrees")
    assert "Readings so far: 12 C at 07:15, 26 C now." in talk.say("radishes at 26 degrees")
    assert "so far" not in talk.say("fridge at 3 degrees")


def test_ripe_kimchi_near_the_limit() -> None:
    """KM-02, read in a copy: ripe kimchi may be near the limit, and is told so."""
    talk = Talk(on(5, "20:00"))
    talk.send(SUPPER.replace("Radishes ferment", "Radish kimchi ripens"))
    talk.press("Use this plan")
    assert "Ripe kimchi lies at pH 4.2 to 4.5, near the limit" in talk.say("pH 4.4 on the kimchi")


def test_a_kitchen_too_warm_for_what_ferments_in_it() -> None:
    """Above the published limit it is said of the ferment under way; below it nothing is."""
    warm = fermenting().say("it is 27 degrees in the kitchen")
    assert "Radishes ferment" in warm and "above 24 C it may become soft" in warm
    assert "may become soft" not in fermenting().say("kitchen is 22 C")
    assert "may become soft" not in fermenting().say("the oven is at 220 C")


def test_a_ph_that_cannot_be_is_said_to_be_none() -> None:
    """ "pH 39" for 3.9: noted as it was said, with what is wrong about it; no limit is held against it."""
    answer = fermenting().say("pH is 39")
    assert "A pH lies between 0 and 14: measure again, and undo this one." in answer and "4.6" not in answer
