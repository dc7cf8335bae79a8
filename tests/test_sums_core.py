"""`crockbell core` and the same question in plain words: times, reductions by name, and what is refused."""

from __future__ import annotations

import json
from datetime import timedelta

import pytest

from bot import main as composition
from bot.cli import FITS, MISFIT, WRONG, run
from bot.sums.core import in_words
from bot.sums.core_words import question
from bot.understand import understand
from bot.wiring import Wiring
from scheduler.commands import Command, Context
from scheduler.domain.heats import heated
from scheduler.domain.kitchen.core import Core, Food, Shape
from scheduler.domain.kitchen.hazards import DEFERRAL
from scheduler.domain.kitchen.heat.heating import Heated, oven, water_bath
from scheduler.domain.kitchen.heat.reductions import asked
from tests.fakes import FakeClock
from tests.talk_kit import Talk, on

Captured = pytest.CaptureFixture[str]
MINUTE = timedelta(minutes=1)
BREAST = ("--shape", "slab", "--thickness", "40 mm", "--at", "60 C", "--start", "4 C", "--food", "poultry")


def core(*argv: str) -> int:
    wiring = Wiring(
        FakeClock(on(5, "20:00")), composition.open_store, composition.make_worker, composition.open_planner
    )
    try:
        return run(("core", *argv), lambda: wiring)
    except SystemExit as end:
        return int(end.code or 0)


def worked(food: Food | None = Food.POULTRY, thickness_mm: float = 40, at_c: float = 60) -> Heated:
    return heated(Core(Shape.SLAB, thickness_mm, at_c, 4, food), water_bath(at_c))


# ---------------------------------------------------------------- the command


def test_the_command_says_how_long_and_what_for(capsys: Captured) -> None:
    """How long at least, when its middle is hot, every reduction asked for with its source, and the deferral."""
    assert core(*BREAST) == FITS
    heading, *lines = capsys.readouterr().out.splitlines()
    assert heading.startswith("At least ") and heading.endswith(
        "for a 40 mm slab from 4 C, in a water bath at 60 C"
    )
    assert lines[0].startswith("Its middle is within 0.5 C of 60 C after ")
    assert all(each.name in lines[1] and each.source.name in lines[1] for each in asked(Food.POULTRY))
    assert lines[-1] == DEFERRAL and not any("safe" in line.lower() for line in lines)


def test_as_json_the_units_are_in_the_keys(capsys: Captured) -> None:
    """Minutes and degrees as numbers; each reduction with its organism, its logarithm and its source."""
    assert core(*BREAST, "--json") == FITS
    facts, heat = json.loads(capsys.readouterr().out), worked()
    assert (facts["shape"], facts["thickness_mm"], facts["at_c"], facts["start_c"]) == ("slab", 40, 60, 4)
    assert facts["heats_min"] == heat.heats / MINUTE and facts["shortest_min"] == heat.shortest / MINUTE
    assert facts["pasteurised_min"] == heat.pasteurised / MINUTE and facts["warnings"] == list(heat.warnings)
    salmonella = next(each for each in facts["met"] if each["organism"] == "Salmonella")
    assert salmonella["log10"] == 7 and salmonella["source"] and not facts["refused"]


def test_half_the_time_meets_less(capsys: Captured) -> None:
    """With --for: the reductions that are not met by then come first, and nothing is met twice."""
    assert core(*BREAST, "--for", "1 h", "--json") == FITS
    facts = json.loads(capsys.readouterr().out)
    names = {each["name"] for each in facts["not_met_by_then"]}
    assert facts["for_min"] == 60 and names == {each.name for each in asked(Food.POULTRY)}
    core(*BREAST, "--for", "1 h")
    assert capsys.readouterr().out.startswith("After 1 h, not met: 7-log Salmonella")


def test_long_enough_says_what_was_met(capsys: Captured) -> None:
    """With --for and time to spare, the reductions that are met by then, by name."""
    assert core(*BREAST, "--for", "6 h") == FITS
    said = capsys.readouterr().out
    assert said.startswith("After 6 h, met: 7-log Salmonella") and "not met" not in said


def test_an_oven_heats_slower_than_its_heat(capsys: Captured) -> None:
    """The middle is to reach one temperature, the oven has another."""
    assert core("--thickness", "5 cm", "--at", "60 C", "--oven", "150 C", "--food", "meat", "--json") == FITS
    facts = json.loads(capsys.readouterr().out)
    heat = heated(Core(Shape.SLAB, 50, 60, 4, Food.MEAT), oven(150))
    assert (facts["heated_by"], facts["heated_by_c"], facts["start_c"]) == ("oven", 150, 4)
    assert facts["shortest_min"] == heat.shortest / MINUTE


@pytest.mark.parametrize("at", ["54.3 C", "50 C", "129 F"])
def test_below_the_lowest_published_temperature_it_is_refused(capsys: Captured, at: str) -> None:
    """54.4 C, 130 F, is the first row of FSIS Appendix A (read in a copy): exit 1, and the source is named."""
    assert core("--thickness", "40 mm", "--at", at) == MISFIT
    heading = capsys.readouterr().out.splitlines()[0]
    assert heading.startswith("Refused: ") and "54.4 C" in heading and "FSIS" in heading
    core("--thickness", "40 mm", "--at", at, "--json")
    assert json.loads(capsys.readouterr().out)["refused"]


def test_the_first_published_row_is_not_refused(capsys: Captured) -> None:
    """130 F itself has a time: 112 min for 6.5-log Salmonella (FSIS Appendix A, read in a copy), and heating."""
    assert core("--thickness", "10 mm", "--at", "130 F", "--food", "meat", "--json") == FITS
    assert json.loads(capsys.readouterr().out)["shortest_min"] >= 112


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (("--thickness", "40", "--at", "60 C"), "a thickness with its unit"),
        (("--thickness", "40 mm", "--at", "60"), "a temperature with its unit"),
        (("--thickness", "40 mm", "--at", "60 C", "--start", "60 C"), "a start colder than 60 C"),
        (("--thickness", "40 mm", "--at", "60 C", "--start", "-18 C"), "thaw it first"),
        (("--thickness", "40 mm", "--at", "60 C", "--oven", "50 C"), "never gets to 60 C"),
        (("--thickness", "40 mm", "--at", "60 C", "--for", "long"), "a duration"),
        (("--at", "60 C", "--for", "2 h"), "--thickness"),
    ],
)
def test_figures_that_cannot_be_used_are_refused(
    capsys: Captured, options: tuple[str, ...], said: str
) -> None:
    """Exit 2, with what was expected."""
    assert core(*options) == WRONG
    assert said in capsys.readouterr().err


# ---------------------------------------------------------------- in words


@pytest.mark.parametrize(
    ("said", "thickness", "at", "start", "food", "lasting"),
    [
        ("how long for a 40 mm steak at 60 C", "40 mm", "60.0 C", None, Food.MEAT, None),
        (
            "how long does 5 cm of pork from the fridge need at 57 degrees",
            "5 cm",
            "57.0 C",
            "4 C",
            Food.MEAT,
            None,
        ),
        ("is 2 hours at 57 enough for a 3 cm chicken breast", "3 cm", "57.0 C", None, Food.POULTRY, "7200 s"),
        (
            "How long should a four cm duck breast stay in at 58°C?",
            "4 cm",
            "58.0 C",
            None,
            Food.POULTRY,
            None,
        ),
        (
            "would an hour and a half be enough for a 2 inch steak at 140F",
            "2 in",
            "140.0 F",
            None,
            Food.MEAT,
            "5400 s",
        ),
        ('how long for a 1.5" steak at 56', "1.5 in", "56.0 C", None, Food.MEAT, None),
        ("how long in a 60 c bath for a 25 mm salmon fillet", "25 mm", "60.0 C", None, Food.FISH, None),
        ("how long for a 3 cm steak from room temperature at 58", "3 cm", "58.0 C", "20 C", Food.MEAT, None),
        (
            "how long for a 3,5 cm steak starting at 12 C, at 58",
            "3.5 cm",
            "58.0 C",
            "12.0 C",
            Food.MEAT,
            None,
        ),
        ("a 4 cm slab at 60, how long?", "4 cm", "60.0 C", None, None, None),
    ],
)
def test_plain_words_ask_the_same(
    said: str, thickness: str, at: str, start: str | None, food: Food | None, lasting: str | None
) -> None:
    """How thick, how hot, from where, which food and for how long, as they are said."""
    found = question(said)
    assert found is not None
    assert (found.thickness, found.at, found.start, found.food, found.lasting) == (
        thickness,
        at,
        start,
        food,
        lasting,
    )
    assert understand(said, Context(on(5, "20:00"), "UTC")).command is Command.SUM


def test_an_oven_has_a_heat_of_its_own() -> None:
    """Of two temperatures the one said of the oven is the oven's; with one alone nothing is answered."""
    asked_of = question("how long in a 150 C oven until a 6 cm pork loin is 65 in the middle")
    assert asked_of is not None and (asked_of.oven, asked_of.at) == ("150.0 C", "65.0 C")
    assert question("how long in the oven for a 6 cm pork loin at 65") is None


def test_a_roll_is_a_cylinder() -> None:
    """The shape is taken from its name, and a slab stands for the rest."""
    roll, steak = question("how long for a 6 cm roulade at 60"), question("how long for a 6 cm steak at 60")
    assert roll is not None and roll.shape is Shape.CYLINDER
    assert steak is not None and steak.shape is Shape.SLAB


@pytest.mark.parametrize(
    "said",
    [
        "how long does the bread need",
        "how long for the duck at 60 C",
        "how long until the 40 mm steak is ready",
        "cut the turnips 5 mm thick",
        "the bath is at 57 degrees",
        "roll the dough 3 mm thick and bake it at 60 C for 2 hours",
        "timer 40 min",
        "dinner at 20:30",
        "how much salt for a 3 cm steak",
        "is 2 hours enough for the soak",
        "it is 4 cm thick and at 60 degrees now",
    ],
)
def test_other_words_ask_something_else(said: str) -> None:
    """Without a thickness, a temperature and a question of how long, nothing is worked out."""
    assert question(said) is None and in_words(said, None) is None


def test_the_chat_answers_and_says_what_it_took_for_granted() -> None:
    """The start from the fridge is said where nobody named another; the answer names what is met."""
    said = Talk(on(5, "20:00")).say("how long for a 40 mm chicken breast at 60 C")
    assert said.startswith("At least ") and "from the fridge (4 C)" in said and "7-log Salmonella" in said
    assert said.endswith(DEFERRAL) and len(said.splitlines()) <= 6


@pytest.mark.parametrize(
    ("said", "answered"),
    [
        ("is 2 hours at 57 enough for a 3 cm chicken breast", "After 2 h, not met: 7-log Salmonella"),
        ("how long for a 40 mm steak at 50 C", "Refused: no time is published"),
        ("how long for a frozen 3 cm steak at 58", "I cannot work that out: what is frozen"),
        ("how long for a 900 mm steak at 58", "I cannot work that out: found '900 mm', expected a thickness"),
    ],
)
def test_what_is_too_little_or_too_cold_is_said_first(said: str, answered: str) -> None:
    """The first line is the answer: not met, refused, or not worked out."""
    assert Talk(on(5, "20:00")).say(said).startswith(answered)
