"""How many there are at the table, and one amount in another measure: which words mean that, and which do not."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.sums.scale import in_words
from bot.understand import understand
from bot.understanding.given import given_in
from bot.understanding.patterns import listed
from scheduler.commands import Command, Context
from scheduler.domain.progress import at_the_start
from scheduler.planfile import read
from tests.talk_kit import SUPPER, ZONE, on

PLAN = read(SUPPER, zone="UTC")
CONTEXT = Context(on(6, "12:00"), ZONE, PLAN, None, at_the_start(PLAN))


@pytest.mark.parametrize(
    ("said", "detail"),
    [
        ("we are ten now", "10"),
        ("We're now ten!", "10"),
        ("ok so we are 6", "6"),
        ("there will be 12 of us", "12"),
        ("there'll be twelve people at the table", "12"),
        ("turns out we will be only five tonight", "5"),
        ("cook for 6", "6"),
        ("we're cooking for eight people", "8"),
        ("make that ten people", "10"),
        ("10 people now", "10"),
        ("dinner is for 9 people", "9"),
        ("scale everything to 12", "12"),
        ("scale the plan from 8 to 12", "12"),
        ("we'll be a dozen", "12"),
        ("2 more are coming", "+2"),
        ("two more people are coming for dinner", "+2"),
        ("one more guest", "+1"),
        ("another two are coming", "+2"),
        ("another guest is coming", "+1"),
        ("we have three more guests", "+3"),
        ("one guest cancelled", "-1"),
        ("two of the guests have cancelled", "-2"),
        ("3 people can't make it", "-3"),
        ("a guest dropped out", "-1"),
        ("one isn't coming", "-1"),
        ("two fewer people", "-2"),
    ],
)
def test_how_many_at_the_table(said: str, detail: str) -> None:
    """In all, or so many more or fewer than before."""
    found = understand(said, CONTEXT)
    assert (found.command, found.detail, found.sure) == (Command.SERVES, detail, True)


@pytest.mark.parametrize(
    "said",
    [
        "we are 10 minutes late",
        "we are two hours behind",
        "we are done",
        "cook for 6 minutes",
        "cook for 6 hours more",
        "make it 8",
        "dinner for 7",
        "one more minute",
        "2 more eggs",
        "two are done",
        "one is not done yet",
        "another hour",
        "there are 4",
        "we have two more",
        "one less",
        "are we ten now?",
        "at 12",
        "24 degrees",
    ],
)
def test_what_is_not_about_the_table(said: str) -> None:
    """Times, things, and what is too vague to change a whole meal by."""
    assert understand(said, CONTEXT).command is not Command.SERVES


@pytest.mark.parametrize(
    "said",
    [
        "scale 900 g from 8 to 12",
        "scale 900 g of turnips from 8 to 12 people",
        "900 g for 8, how much is that for 12?",
        "how many grams is 2 cups of flour",
        "how many grams are in a cup of sugar?",
        "how much does half a cup of honey weigh",
        "what is 3 lb in grams",
        "what's 1/4 tsp of table salt in grams",
        "convert 500 g of flour to cups",
        "2 pints in ml",
    ],
)
def test_one_amount_in_other_words(said: str) -> None:
    """A sum, with a plan under way and without one."""
    assert understand(said, CONTEXT).command is Command.SUM
    assert understand(said, Context(on(6, "12:00"), ZONE)).detail == "scale"


@pytest.mark.parametrize(
    "said",
    [
        "how much salt for 1 kg of radishes",
        "how many grams of salt",
        "how many eggs",
        "scale the plan from 8 to 12",
        "turn the heat from 8 to 4",
        "put 500 g in the oven",
        "soaked 2 cups of beans",
        "done",
        "?",
    ],
)
def test_what_is_no_sum_of_this_kind(said: str) -> None:
    """Questions about the plan, and what is told, are left to others."""
    assert in_words(said, PLAN) is None


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        ("2 cups in grams", "Of what?"),
        ("2 cups of moon dust in grams", "I know no weight for a volume of “moon dust”"),
        ("how many cups is 500 g of brown sugar", "say which, such as sugar, brown, unpacked"),
        ("500 g of salt in cups", "A weight of salt has no volume"),
        ("what is 3 lb in stone", "I answer in g, kg"),
        ("scale 900 g from 0 to 12", "from '0': expected a number above 0"),
    ],
)
def test_what_cannot_be_worked_out_is_said(asked: str, told: str) -> None:
    """It was asked all the same: the answer says what is missing."""
    found = in_words(asked, None)
    assert found is not None and found.refused and told in found.heading


@pytest.mark.parametrize(
    ("words", "grams", "name"),
    [
        ("for 850 g of turnips", "850", "turnips"),
        ("1,5 kg cabbage", "1500", "cabbage"),
        ("2 cups of flour", "250", "flour"),
        ("2 lb", "907.18474", ""),
        ("3 L of stock", None, "stock"),
        ("1 stone of beets", "6350.2932", "beets"),
    ],
)
def test_a_weight_or_a_volume_is_read_in_one_place(words: str, grams: str | None, name: str) -> None:
    """A volume only where its density is known (USDA SR28 for flour, read in a copy)."""
    found = given_in(words)
    assert found is not None and found.name == name
    assert found.grams == (None if grams is None else Decimal(grams))


@settings(max_examples=150, deadline=None)
@given(
    st.lists(
        st.sampled_from(
            listed(
                "scale what is how many much 900 0 1/0 2,5 g cups of flour salt in to from for 8 12 weigh half a ?"
            )
        ),
        max_size=12,
    ).map(" ".join)
    | st.text(max_size=40)
)
def test_no_words_are_too_much(said: str) -> None:
    """Whatever is said, the answer is a sum or nothing, never an error."""
    found = in_words(said, None)
    assert found is None or found.heading
