"""Starters asked about in plain words: what is answered, and what is left to others."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.sums.starter import in_words
from bot.understand import understand
from scheduler.commands import Command, Context
from scheduler.planfile import read
from tests.starter_plans import LOAF, ZONE, on_day, settled

NOW = on_day(8, "20:00")
PLAN = read(LOAF, zone=ZONE)
RULE = "By the rule of thumb that 1:1:1 is ripe in 4 h to 6 h"


def told(said: str) -> list[str]:
    found = in_words(said, PLAN)
    assert found is not None
    return [found.heading, *found.lines]


def test_how_to_feed_it() -> None:
    """By one feed, or by two where there is little to begin with."""
    assert told("how do I feed the starter to get 220 g at 1:5:5")[0].startswith("20 g starter, 100 g flour")
    assert told("How do I get from 5 g of starter to 220 g, at 1:5:5?")[0].startswith(
        "Two feeds: 5 g to 55 g"
    )
    assert told("what do I mix for 0.3 kg of levain 1:4:4")[0].startswith("34 g starter, 133 g flour")


def test_how_long_it_takes() -> None:
    """At the temperature that is named, in either unit."""
    assert told("how long does a 1:5:5 starter take at 24 degrees")[0].startswith(
        "Fed 1:5:5: ripe in 8 h to 13 h 10"
    )
    assert "at 22.2 C" in told("how long does a 1:5:5 levain take at 72 F?")[0]
    assert "at 26 C" in told("how long does the 1 to 2 to 2 starter need to ripen at 26")[0]
    assert told("how long does a 1:5:5 starter take in the fridge at 4 C")[0].startswith(
        "At 4 C it does not ripen"
    )


def test_without_a_temperature_the_plans_own_counts_or_some() -> None:
    """The loaf ripens its starter at 22 C; without a plan three kitchens are told, the sources once."""
    asked = "when is the starter ripe if I feed it 1:2:2 now"
    assert "at 22 C" in told(asked)[0]
    found = in_words(asked, None)
    assert found is not None
    lines = (found.heading, *found.lines)
    assert [at for at in ("20 C", "24 C", "28 C") if sum(f"at {at}," in line for line in lines) == 1] == [
        "20 C",
        "24 C",
        "28 C",
    ]
    assert sum(line.startswith(RULE) for line in lines) == 1


def test_a_feed_that_nobody_makes_is_answered_too() -> None:
    """With what is wrong with it."""
    assert told("how long does a 1:500:1 starter take at 22 degrees") == [
        "Fed 1:500:1, it is not between 1.2 and 200 times as much after it"
    ]


def test_the_loaf_of_the_plan() -> None:
    """Hydration first, or salt first, as it was asked."""
    hydration, salt = told("what's the hydration of the dough?"), told("how much salt is in the loaf")
    assert hydration[0] == "Loaf: hydration 73 %, salt 1.8 % of all the flour"
    assert salt[0] == "Loaf: salt 1.8 % of all the flour, hydration 73 %"
    assert in_words("what's the hydration of the dough?", None) is None


def test_of_several_loaves_the_one_that_is_named() -> None:
    """By a word that not every loaf has; all of them where none is."""
    again = (
        LOAF[LOAF.index("  - name: Loaf") :].replace("name: Loaf", "name: Rye loaf").replace("560 g", "700 g")
    )
    plan = read(LOAF + again, zone=ZONE)
    rye = in_words("what is the hydration of the rye loaf", plan)
    both = in_words("what is the hydration of the loaves", plan)
    assert rye is not None and rye.heading.startswith("Rye loaf: hydration 88") and len(rye.lines) == 2
    assert both is not None and both.heading.startswith("Loaf: ") and both.lines[2].startswith("Rye loaf: ")


@pytest.mark.parametrize(
    "said",
    [
        "can you tell me how long a 1:2:2 starter takes at 24 C",
        "if I feed the starter 1:2:2 now, when is it ripe at 24 degrees",
        "Hey, how long until my levain is ready at 24C if I feed it 1:2:2?",
    ],
)
def test_other_ways_to_ask(said: str) -> None:
    """Politely, or the other way round."""
    assert told(said)[0].startswith("Fed 1:2:2: ripe in 5 h 20 min to 8 h 50 min at 24 C")


@pytest.mark.parametrize(
    "said",
    [
        "fed the starter at 8:40",
        "fed the starter 1:5:5",
        "fed the starter 1:5:5 at 22 C, ripe by noon",
        "starter's ready",
        "feed the starter",
        "when do I feed the starter",
        "how long does the starter take",
        "when is the starter ready",
        "how much starter do I need",
        "how much salt for 850 g of turnips",
        "how much salt for the dough",
        "how much flour for the starter",
        "what's next",
        "what time is it at 8:40:20",
        "why is the starter at 22 C",
        "220 g of starter",
        "the dough's hydration is 75 %",
        "how wet is it outside",
        "",
        "how " * 200,
    ],
)
def test_what_asks_something_else_is_left_alone(said: str) -> None:
    """Reports, questions about the plan, other sums."""
    assert in_words(said, PLAN) is None


WORDS = "how when what the starter dough hydration at from to feed ripe in salt is ? 1:5:5 0:0:0 1:0.01:99"
FIGURES = "1 to 999 to 0.01, 5 g, 0 g, 99999 kg, 0.01 g, 22 degrees, 999 c, -40 f, 5.5 g, at 22"
PIECES = st.sampled_from([*WORDS.split(), *FIGURES.split(", ")])
OPENINGS = st.sampled_from(
    ["", "how long does the starter take ", "what do I feed the starter, from ", "how wet is the "]
)


@settings(max_examples=150, deadline=None)
@given(OPENINGS, st.lists(PIECES | st.text(max_size=5), max_size=12).map(" ".join))
def test_no_words_make_it_stumble(opening: str, said: str) -> None:
    """Whatever is said is answered in a line or left alone."""
    found = in_words(opening + said, PLAN)
    assert found is None or found.heading


def test_a_question_in_the_chat_is_answered_and_marks_nothing() -> None:
    """With and without a plan under way."""
    talk = settled()
    assert talk.say("how do I feed the starter to get 220 g at 1:5:5").startswith("20 g starter, 100 g flour")
    talk.send(LOAF)
    talk.press("Use this plan")
    before = talk.view()
    assert talk.say("what's the hydration of the dough?").startswith("Loaf: hydration 73 %")
    assert talk.view().marks == before.marks and talk.view().row.revision == before.row.revision


def test_it_is_understood_as_a_sum() -> None:
    """And named as this one; told that it was fed, it is a mark as ever."""
    context = Context(NOW, ZONE, PLAN)
    found = understand("how long does a 1:5:5 starter take at 22 degrees", context)
    assert (found.command, found.detail) == (Command.SUM, "starter")
    assert understand("fed the starter", context).command is Command.DONE
