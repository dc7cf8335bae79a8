"""Salt asked after: `crockbell salt`, and the same in plain words."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from phrases_never import NEVER
from phrases_own import PHRASES
from sample_plan import context

from bot.cli import FITS, MISFIT, WRONG, parser, run
from bot.main import open_planner, open_store
from bot.sums.salt import in_words, of_options
from bot.sums.told import Told, WrongFigure
from bot.understand import understand
from bot.wiring import Wiring
from scheduler.commands import Command
from scheduler.domain.kitchen.hazards import DEFERRAL
from scheduler.planfile import read
from tests.fakes import FakeClock
from tests.talk_kit import SUPPER, on

RADISHES = read(SUPPER, zone="UTC")


def told(*options: str) -> Told:
    return of_options(parser().parse_args(["salt", *options]))


def facts(*options: str) -> dict[str, Any]:
    return told(*options).facts


def asked(said: str) -> Told:
    found = in_words(said, None)
    assert found is not None, said
    return found


# ---------------------------------------------------------------- options


@pytest.mark.parametrize(
    ("options", "salt_g", "heading"),
    [
        # DS-2, BR-2, EQ-2 and BR: arithmetic definitions, worked out.
        (("--produce", "847 g", "--percent", "3"), 25.41, "Salt: 25 g for 847 g of produce"),
        (("--water", "1000 g", "--percent", "5", "--of", "water"), 50.0, "Salt: 50 g for 1 kg of water"),
        (
            ("--produce", "1 kg", "--water", "1 L", "--percent", "2.5", "--of", "both", "--salt-included"),
            51.28205128205128,
            "Salt: 51 g for 1 kg of produce and 1 kg of water",
        ),
        # The density table of 1974, read: 1034 g a litre at 5 %.
        (("--brine", "1 L", "--percent", "5"), 51.7, "Salt: 52 g in 982 g of water, for 1 L of brine at 5 %"),
        # 5 % by weight is 5 g in 100 g, worked out.
        (
            ("--brine", "1 kg", "--percent", "5"),
            50.0,
            "Salt: 50 g in 950 g of water, for 1 kg of brine at 5 %",
        ),
        # The middle of 2.25 % to 2.5 % (USDA Complete Guide, from memory).
        (("--produce", "2 kg", "--kind", "cabbage"), 47.5, "Salt: 48 g for 2 kg of cabbage (2.38 %"),
    ],
)
def test_salt_for_what_there_is(options: tuple[str, ...], salt_g: float, heading: str) -> None:
    """The weight as data to a millionth, what to weigh in the heading, by the convention that was asked for."""
    found = told(*options)
    assert found.facts["salt_g"] == round(salt_g, 6)
    assert found.heading.startswith(heading) and not found.refused


def test_the_percent_in_every_way_of_counting() -> None:
    """Salt that is there, as a percent of each thing there is, and the brine it makes of the water."""
    found = facts("--produce", "1814 g", "--water", "1893 g", "--salt", "146 g")
    shares = found["percent"]
    assert set(shares) == {
        f"of_{base}{end}" for base in ("produce", "water", "both") for end in ("", "_salt_included")
    }
    # PK-C1, worked out: 7.16 % by weight.
    assert round(shares["of_water_salt_included"], 2) == 7.16 == round(found["brine"]["percent_by_weight"], 2)
    assert shares["of_both"] == pytest.approx(100 * 146 / (1814 + 1893))
    assert 27 < found["brine"]["salometer_degrees"] < 27.3 and found["verdict"] is None


def test_a_kind_without_a_percent_says_where_its_figure_is_from() -> None:
    """The middle of the usual band, with its source; from memory where it is."""
    lines = " ".join(told("--produce", "850 g", "--kind", "cabbage").lines)
    assert "No percent was given: this is the middle of the usual 2.25 % to 2.5 % for cabbage" in lines
    assert "USDA Complete Guide to Home Canning (2015), sauerkraut, from memory" in lines


def test_below_the_published_minimum_is_refused() -> None:
    """No weight to go by: what was asked, the limit and its source, and the least that meets it."""
    found = told("--produce", "1.03 kg", "--kind", "cabbage", "--percent", "1.9")
    assert found.refused and found.facts["salt_g"] is None and found.facts["least_g"] == pytest.approx(20.6)
    assert found.heading.startswith(
        "Too little salt: 1.9 % of the produce's weight is below 2 %, the published"
    )
    assert "from memory" in found.heading and found.lines[-1] == DEFERRAL
    assert "At least 21 g for 1.03 kg of cabbage." in found.lines


def test_the_minimum_itself_is_never_rounded_below() -> None:
    """20.2 g is told as 21 g, for 20 g would be too little."""
    found = told("--produce", "1010 g", "--kind", "cabbage", "--percent", "2")
    assert not found.refused and found.facts["weigh_g"] == 21 and found.heading.startswith("Salt: 21 g")


def test_outside_the_usual_is_a_warning() -> None:
    """It is worked out all the same; the band and its source are named, and the local food code."""
    found = told("--produce", "1 kg", "--kind", "cabbage", "--percent", "4")
    assert not found.refused and any("above the usual 2.25 % to 2.5 %" in line for line in found.lines)
    assert found.lines[-1] == DEFERRAL


def test_no_kind_is_still_warned_of_too_little() -> None:
    """Nothing is refused that was not said to be a ferment, but the minimum is told."""
    found = told("--produce", "1 kg", "--percent", "1")
    assert not found.refused and any("too little: below 2 %" in line for line in found.lines)


def test_more_than_water_takes_up_is_refused() -> None:
    """By its brine or by its water: no such brine can be made."""
    for options in (("--brine", "1 L", "--percent", "27"), ("--water", "1 kg", "--salt", "400 g")):
        found = told(*options)
        assert found.refused and "a brine has at most 26 %" in found.heading


@pytest.mark.parametrize(
    ("options", "expected"),
    [
        (("--percent", "3"), "give a weight to salt"),
        (("--produce", "1 kg"), "give --percent, --salt, or --kind"),
        (("--produce", "1 kg", "--percent", "3", "--salt", "9 g"), "give --percent or --salt"),
        (("--produce", "1 cup", "--percent", "3"), "a weight such as 850 g"),
        (("--produce", "much", "--percent", "3"), "a weight such as 850 g"),
        (("--produce", "1 kg", "--percent", "lots"), "not a percent"),
        (("--produce", "1 kg", "--percent", "NaN"), "not a percent"),
        (("--produce", "1 kg", "--percent", "100"), "above 0 and below 100"),
        (
            ("--produce", "1 kg", "--percent", "3", "--of", "water"),
            "counted by a weight that is not given: --water",
        ),
        (("--produce", "1 kg", "--salt", "1 tbsp"), "8.3 g to 19 g by its crystals: weigh it"),
        (("--produce", "1 kg", "--kind", "fish"), "not a kind of ferment known here: kimchi, cabbage"),
        (("--brine", "1 L"), "--brine goes with --percent"),
        (("--brine", "3", "--percent", "5"), "a volume or a weight such as 1 L"),
    ],
)
def test_options_that_cannot_be_used(options: tuple[str, ...], expected: str) -> None:
    """What was expected is said; salt by the spoon is not guessed at."""
    with pytest.raises(WrongFigure) as wrong:
        told(*options)
    assert expected in str(wrong.value)


def test_the_command(capsys: pytest.CaptureFixture[str]) -> None:
    """It prints the answer, or the same as JSON; 1 for what is refused, 2 for what cannot be used."""

    def wiring() -> Wiring:
        return Wiring(FakeClock(on(5, "20:00")), open_store, lambda *each: None, open_planner)

    assert run(["salt", "--produce", "850 g", "--percent", "2.5"], wiring) == FITS
    assert capsys.readouterr().out.startswith(
        "Salt: 21 g for 850 g of produce (2.5 % of the produce's weight)\n"
    )
    assert (
        run(["salt", "--produce", "850 g", "--percent", "1", "--kind", "cabbage", "--json"], wiring) == MISFIT
    )
    assert json.loads(capsys.readouterr().out)["refused"] is True
    assert run(["salt", "--percent", "3"], wiring) == WRONG
    assert "give a weight to salt" in capsys.readouterr().err


# ---------------------------------------------------------------- in words


@pytest.mark.parametrize(
    ("said", "heading"),
    [
        (
            "how much salt for 850 g of turnips",
            "Salt: 21 g for 850 g of turnips (2.5 % of the produce's weight)",
        ),
        ("salt for 2 kg cabbage at 2.5%", "Salt: 50 g for 2 kg of cabbage"),
        ("How much salt do I need for 1,5 kg of carrots?", "Salt: 38 g for 1.5 kg of carrots"),
        (
            "how much salt for 500 g cucumbers and 500 g water",
            "Salt: 32 g for 500 g of cucumbers and 500 g of water",
        ),
        (
            "salt for 1 kg carrots and 1 kg water at 2.5 % of both",
            "Salt: 50 g for 1 kg of carrots and 1 kg of water",
        ),
        (
            "how much salt for 1 kg carrots and 1 kg water at 4% of the water",
            "Salt: 40 g for 1 kg of carrots",
        ),
        (
            "how much salt for a 5% brine with 1 litre of water",
            "Salt: 53 g for 1 kg of water (5 % of the water's",
        ),
        ("how much salt for 2 litres of 5% brine", "Salt: 103 g in 1.965 kg of water, for 2 L of brine"),
        ("what percent is 20 g salt in 850 g", "20 g of salt is 2.35 % of the produce's weight"),
        ("how salty is 30 g of salt in 1 kg of kimchi", "30 g of salt is 3 % of produce and water together"),
        ("how much salt for 2kg pork at 1.6 %", "Salt: 32 g for 2 kg of pork"),
        (
            "how much salt for 1 kg cucumbers",
            "Say how much water goes over them: cucumbers are salted by their brine",
        ),
        ("salt for 2 kg cabbage at 1 %", "Too little salt: 1 % of the produce's weight is below 2 %"),
        ("how much salt for a 30 % brine with 1 L water", "Too much salt: 30 % is more salt than"),
    ],
)
def test_asked_in_plain_words(said: str, heading: str) -> None:
    """The sum, with its convention, whether or not a plan is under way that says nothing of it."""
    assert asked(said).heading.startswith(heading)
    assert understand(said, context()).command is Command.SUM


def test_both_ways_of_counting_a_brine_are_told() -> None:
    """Five percent of the whole is not five percent of the water: 53 g and 50 g."""
    assert (
        "Not the same: 5 % of the water's weight would be 50 g."
        in asked("how much salt for a 5% brine with 1 litre of water").lines
    )


@pytest.mark.parametrize(
    "said",
    [
        "how much salt",
        "how much salt in the rye",
        "how much salt for 500 g flour",
        "added 20 g of salt to 850 g turnips",
        "salted 2 kg cabbage",
        "how much water for 2 kg of beans",
        "how much salt for a cup of cabbage",
        "how salty is it",
        "the salt is in",
        "timer 20 min for 2 kg of salted cabbage",
        "",
    ],
)
def test_what_asks_for_no_sum(said: str) -> None:
    """Reports, questions without a weight, and things that no band is known for are left to others."""
    assert in_words(said, None) is None


def test_the_plans_own_share_comes_first() -> None:
    """What the plan under way salts by a share of its own is answered from it; another percent is worked out."""
    assert in_words("how much salt for 850 g of radishes", RADISHES) is None
    assert in_words("how salty is the soup", RADISHES) is None
    assert in_words("how much salt for 850 g of carrots", RADISHES) is not None
    other = in_words("how much salt for 850 g of radishes at 3 %", RADISHES)
    assert other is not None and other.heading.startswith("Salt: 26 g")


def test_no_phrase_of_another_kind_is_taken() -> None:
    """None of the phrases that mean something else, or nothing, asks for this sum."""
    plan = context().plan
    others = [row[1] for row in PHRASES if "sum" not in row[2]] + list(NEVER)
    assert [said for said in others if in_words(said, plan) is not None] == []


@given(st.text(max_size=200) | st.text(st.sampled_from("salt 0123456789.,%gkL brinewater"), max_size=80))
@settings(max_examples=120, deadline=None)
def test_any_words_are_answered_or_left(said: str) -> None:
    """Whatever is typed, there is an answer in whole lines, or none."""
    found = in_words(said, RADISHES)
    assert found is None or (found.heading and all(line.strip() for line in found.lines))
