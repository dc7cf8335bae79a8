"""Salt at its edges: which salt, of what, counted how, and where a brine ends."""

from __future__ import annotations

import pytest

from bot.cli import parser
from bot.sums.salt import in_words, of_options
from bot.sums.told import Told
from scheduler.domain.kitchen.hazards import DEFERRAL


def told(*options: str) -> Told:
    """What `crockbell salt` answers to these options."""
    return of_options(parser().parse_args(("salt", *options)))


def asked(said: str) -> str:
    """The first line of what is answered to plain words; "" where they are left to others."""
    found = in_words(said, None)
    return "" if found is None else found.heading


@pytest.mark.parametrize(
    "said",
    [
        "how much curing salt for 2 kg pork at 0.25 %",
        "how much pink salt for 2 kg pork belly at 0.25 %",
        "how much salt with cure #1 for 2 kg pork at 2.5 %",
        "how much saltpetre for 1 kg pork at 0.1 %",
    ],
)
def test_nitrite_is_never_worked_out(said: str) -> None:
    """No grams: the maker's tested recipe or a professional, and where the limits stand."""
    found = in_words(said, None)
    assert found is not None and found.refused and found.facts["salt_g"] is None
    assert found.heading.startswith("Curing salt and nitrite are not worked out here")
    assert "21 CFR 172.175" in found.lines[0] and found.lines[-1] == DEFERRAL


def test_salt_for_meat_says_what_it_does_not_cover() -> None:
    """Plain salt is worked out, with a word on curing; nothing of it is said of flour."""
    meat, flour = (asked_lines(f"how much salt for 1 kg {what} at 2 %") for what in ("pork", "flour"))
    assert any("not worked out here" in line for line in meat) and meat[-1] == DEFERRAL
    assert not any("not worked out here" in line for line in flour)


def asked_lines(said: str) -> tuple[str, ...]:
    found = in_words(said, None)
    assert found is not None
    return found.lines


@pytest.mark.parametrize(
    ("said", "heading"),
    [
        (
            "how much salt, by weight of water, for 1 kg turnips and 1 L water at 3 %",
            "Salt: 30 g for 1 kg of turnips and 1 kg of water (3 % of the water's weight)",
        ),
        (
            "how much salt for 1 kg turnips and 500 g water at 3 % of the weight of the water",
            "Salt: 15 g for 1 kg of turnips and 500 g of water (3 % of the water's weight)",
        ),
        # 5 % by weight of a brine of 1034 g a litre (the density table of 1974, read), worked out.
        ("how much salt for 1 L of brine at 5 % by weight", "Salt: 52 g in 982 g of water"),
        ("how salty is 50 g of salt in 1 litre of water", "50 g of salt is 5 % of the water's weight"),
        ("is 15 g of salt enough for 1 kg of cabbage", "Too little salt: 1.5 % of the produce's weight"),
        (
            "how much salt for 1 kg cabbage at 0 %",
            "Too little salt: 0 % of the produce's weight is below 2 %",
        ),
        ("is 1 % salt enough for 1 kg of cabbage", "Too little salt: 1 % of the produce's weight"),
    ],
)
def test_the_way_of_counting_is_the_one_that_was_said(said: str, heading: str) -> None:
    """By the water, by the brine or by the produce; and whether it is enough."""
    assert asked(said).startswith(heading)


@pytest.mark.parametrize(
    "said",
    [
        "the salt for 1200 g cabbage was 27 g",
        "how much epsom salt for 1 L water at 2 %",
        "how much curing salt do I need",
        "is 20 g of salt enough",
        "how much salt for 1 kg cabbage in 500 g jars",
    ],
)
def test_reports_and_what_is_not_clear_are_left_alone(said: str) -> None:
    """What was done, other salts, and a weight of something that is not salted."""
    assert asked(said) == ""


def test_the_strongest_brine_is_made_and_nothing_above_it() -> None:
    """26 % by weight, worked out from weights too; what is refused is never told as 26 %."""
    strongest = told("--water", "1 L", "--percent", "26", "--of", "water", "--salt-included")
    assert not strongest.refused and strongest.facts["salt_g"] == 351.351351
    beyond = told("--water", "1 L", "--percent", "35.14")
    assert beyond.refused and beyond.heading.startswith("Too much salt: 26.01 % is more")


def test_little_water_beside_much_produce_is_no_brine() -> None:
    """What does not dissolve in a spoon of water dissolves in the cabbage's own; as a brine to pour it is refused."""
    packed = ("--produce", "1 kg", "--water", "10 g", "--percent")
    beside = told(*packed, "2.5", "--kind", "cabbage")
    assert beside.heading.startswith("Salt: 25 g") and not beside.refused and beside.facts["brine"] is None
    assert any("dissolves in the vegetables' own" in line for line in beside.lines)
    assert told(*packed, "30", "--of", "water", "--salt-included").refused


def test_salt_that_is_there_is_told_in_the_way_that_was_asked() -> None:
    """As a percent of the water, where that was asked for."""
    found = told("--produce", "1 kg", "--water", "500 g", "--salt", "25 g", "--of", "water")
    assert found.heading.startswith("25 g of salt is 5 % of the water's weight")


def test_two_lines_never_tell_one_percent_differently() -> None:
    """16.9 g in 850 g is 1.988 %: below 2 % in every line that tells it."""
    found = told("--produce", "850 g", "--kind", "cabbage", "--salt", "16.9 g")
    assert found.heading.startswith("Too little salt: 1.98 %")
    assert found.lines[0].startswith("That is 1.98 %")
