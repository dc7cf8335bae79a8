"""The sums at their edges: numbers as people write them, options that go against each other, parts that add up."""

from __future__ import annotations

import re
from decimal import Decimal

import pytest

from bot import sums
from bot.cli import parser
from bot.sums import salt, starter
from bot.sums.core import of_options as core_of
from bot.sums.numbers import decimal, in_figures, pointed, tenths
from bot.sums.told import Told, WrongFigure
from scheduler.domain.kitchen.loaf import loaves
from scheduler.planfile import read
from tests.starter_plans import LOAF, ZONE

PLAN = read(LOAF, zone=ZONE)


def told(*options: str) -> Told:
    """What a command of the sums answers to these options."""
    answer = {"salt": salt.of_options, "starter": starter.of_options, "core": core_of}[options[0]]
    return answer(parser().parse_args(options))


def asked(name: str, said: str) -> str:
    """The first line of what a sum answers to plain words; "" where it leaves them."""
    found = sums.by_words(name, said, PLAN, None)
    return "" if found is None else found.heading


# ---------------------------------------------------------------- numbers


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("1,5 kg", "1.5 kg"),
        ("1,500 g", "1500 g"),
        ("1.500 g", "1500 g"),
        ("0,500 kg", "0.500 kg"),
        ("1,500 kg", "1.500 kg"),
        ("1,200,000 ml", "1200000 ml"),
        ("2.125 %", "2.125 %"),
        ("1:2,5:2,5", "1:2.5:2.5"),
    ],
)
def test_commas_are_decimal_but_in_thousands_of_grams(written: str, meant: str) -> None:
    """A kilo and a half is never taken for a gram and a half."""
    assert pointed(written) == meant


def test_fractions_and_words_are_figures() -> None:
    """Of a half, a quarter and a half said in words; a fraction of nothing is left."""
    assert (decimal("1 3/4 lb"), decimal("1½ in"), decimal("1/0 kg")) == ("1.75 lb", "1.5 in", "1/0 kg")
    assert in_figures("Half a kilo and two pounds, a litre") == "0.5 kilo and 2 pounds, 1 litre"
    assert (tenths(Decimal("226.796185")), tenths(Decimal("0.125"))) == (Decimal("226.8"), Decimal("0.12"))


@pytest.mark.parametrize(
    ("said", "heading"),
    [
        ("how much salt for 1,500 g of cabbage", "Salt: 36 g for 1.5 kg of cabbage"),
        ("how much salt for 1 1/2 lb of carrots", "Salt: 17 g for 680 g of carrots"),
        ("how much salt for half a kilo of cabbage", "Salt: 12 g for 500 g of cabbage"),
        ("how much salt for two kilos of cabbage", "Salt: 48 g for 2 kg of cabbage"),
        ("how much salt for 1 gallon of water at 5 percent", "Salt: 189 g for 3.785 kg of water (5 %"),
        ("how much salt for a quart of 5% brine", "Salt: 49 g in 930 g of water, for 946 ml of brine at 5 %"),
        ("how much salt for a litre of 5 % brine", "Salt: 52 g in 982 g of water, for 1 L of brine at 5 %"),
        ("how much salt does 1 kg of cabbage need", "Salt: 24 g for 1 kg of cabbage ("),
        (
            "how much salt for 1 kg cabbage, 200 g carrots and 300 g turnips",
            "Salt: 36 g for 1.5 kg of cabbage, c",
        ),
    ],
)
def test_salt_for_weights_as_they_are_said(said: str, heading: str) -> None:
    """The middle of the usual band, of the weight that was meant."""
    assert asked("salt", said).startswith(heading)


@pytest.mark.parametrize(
    ("said", "heading"),
    [
        (
            "how do I feed the starter to get 1,000 g at 1:5:5",
            "91 g starter, 455 g flour, 454 g water: 1000 g",
        ),
        (
            "how do I feed the starter to get 220 g at 1:2,5:2,5",
            "37 g starter, 92 g flour, 91 g water: 220 g",
        ),
        ("how do I make 8 oz of starter at 1:2:2", "45.4 g starter, 90.7 g flour, 90.7 g water: 226.8 g"),
        ("how do I feed 20 g of starter at 1:5:5", "20 g starter, 100 g flour, 100 g water: 220 g"),
        ("I have 20 g of starter, how do I feed it 1:5:5", "20 g starter, 100 g flour, 100 g water: 220 g"),
        ("how long does a 1:5:5 starter take in the fridge", "At 4 C it does not ripen"),
        ("if I feed the starter 1:1:1 at 9, when is it ripe", "Fed 1:1:1: ripe in 4 h 10 min"),
        ("what hydration is 350 g water in 500 g bread flour", "Hydration 70 %"),
        ("how wet is a dough of 500 g flour, 350 g water and 100 g starter", "Hydration 72.7 %"),
    ],
)
def test_starters_as_they_are_asked_about(said: str, heading: str) -> None:
    """Weights in grams or ounces, what is fed rather than wanted, cold, and an hour that is no temperature."""
    assert asked("starter", said).startswith(heading)


@pytest.mark.parametrize(
    ("options", "expected"),
    [
        (("salt", "--brine", "1 L", "--percent", "1", "--kind", "cabbage"), "for cabbage give --produce and"),
        (
            ("salt", "--produce", "1 kg", "--kind", "cucumbers"),
            "cucumbers are counted by a weight that is not",
        ),
        (("salt", "--produce", "0.001 g", "--percent", "2"), "less than a scale shows"),
        (("salt", "--produce", "1 kg", "--percent", "1e1"), "is not a percent such as 2.5"),
        (
            ("salt", "--water", "1 L", "--percent", "2", "--kind", "cabbage"),
            "for cabbage give --produce, with",
        ),
        (
            ("salt", "--produce", "1 kg", "--salt", "25 g", "--of", "water"),
            "is counted by a weight that is not",
        ),
        (("starter", "--loaf-flour", "500 g"), "--loaf-flour: expected --loaf-water as well"),
        (
            ("starter", "--ratio", "1:5:5", "--at", "24 C", "--took", "6 h at 50 C"),
            "--took: at 50 C it does not",
        ),
        (
            ("starter", "--want", "lots", "--ratio", "1:5:5"),
            "--want: found 'lots', expected a weight above zero",
        ),
        (("starter", "--loaf-flour", "1 kg", "--loaf-water", "1 kg", "--loaf-salt", "0 %"), "10 g, or 2 %"),
        (("core", "--thickness", "40", "--at", "60 C"), "found '40', expected a thickness"),
        (("core", "--thickness", "40 mm", "--at", "60 C", "--start", ""), "found '', expected a temperature"),
    ],
)
def test_options_that_say_too_little(options: tuple[str, ...], expected: str) -> None:
    """What is missing or wrong is named, rather than a figure worked out of nothing."""
    with pytest.raises(WrongFigure) as wrong:
        told(*options)
    assert expected in str(wrong.value)


@pytest.mark.parametrize(
    ("options", "heading"),
    [
        (("salt", "--produce", "1,500 g", "--percent", "2,5"), "Salt: 38 g for 1.5 kg of produce"),
        (("salt", "--produce", "1 1/2 lb", "--kind", "Kraut"), "Salt: 16 g for 680 g of cabbage"),
        (("salt", "--produce", "850 g", "--kind", "turnips"), "Salt: 21 g for 850 g of vegetables"),
        (
            ("salt", "--brine", "2 cups", "--percent", "5"),
            "Salt: 24 g in 465 g of water, for 2 cups of brine",
        ),
        (
            ("salt", "--brine", "1 quart", "--percent", "5"),
            "Salt: 49 g in 930 g of water, for 946 ml of brine",
        ),
        (("starter", "--loaf-flour", "500 g", "--loaf-water", "350 ml"), "Hydration 70 %"),
        (
            ("core", "--thickness", '1.5"', "--at", "140 F", "--food", "MEAT"),
            "At least 2 h 32 min for a 38.1 mm",
        ),
        (
            ("core", "--thickness", "1-1/2 in", "--at", "140 F", "--food", "meat"),
            "At least 2 h 32 min for a 38.1",
        ),
        (("core", "--thickness", "4,5 cm", "--at", "60,0 C"), "At least 3 h 15 min for a 45 mm slab"),
    ],
)
def test_options_as_people_write_them(options: tuple[str, ...], heading: str) -> None:
    """Decimal commas, fractions, inches, capitals and the names of vegetables."""
    assert told(*options).heading.startswith(heading)


# ---------------------------------------------------------------- heat

DUCK = """
  - name: Duck
    steps:
      - name: Duck breast in the bath
        gear: [water bath]
        core: {shape: slab, thickness: 30 mm, at: 58 C, start: 4 C, food: poultry}
        keeps: 1 h
"""


@pytest.mark.parametrize(
    ("said", "heading"),
    [
        ("is 1 hour enough for the duck", "After 1 h, not met: 7-log Salmonella in poultry"),
        (
            "are 4 hours in the bath enough for the duck breast?",
            "After 4 h, met: 7-log Salmonella in poultry",
        ),
        ("is 1 hour enough for the dough", ""),
        ("is 1 hour enough", ""),
        ("is 1 hour enough for the loaf", ""),
    ],
)
def test_a_core_of_the_plan_is_asked_about_by_its_name(said: str, heading: str) -> None:
    """The published limits by then; other steps are left to what answers for them."""
    plan = read(LOAF.replace("gear: {oven: 1}", "gear: {oven: 1, water bath: 1}") + DUCK, zone=ZONE)
    found = sums.by_words("core", said, plan, None)
    assert (found.heading if found else "").startswith(heading) and (found is None) is (not heading)


# ---------------------------------------------------------------- starters and doughs


@pytest.mark.parametrize(
    "options",
    [
        ("--want", "8 oz", "--ratio", "1:5:5"),
        ("--want", "220 g", "--have", "5 g"),
        ("--want", "220.5 g", "--ratio", "1:5:5"),
        ("--want", "220 g", "--ratio", "1:999:999"),
    ],
)
def test_what_is_weighed_comes_to_what_is_told(options: tuple[str, ...]) -> None:
    """The parts in the first line add up to its total, in figures that a scale shows."""
    heading = told("starter", *options).heading
    *parts, total = (Decimal(figure) for figure in re.findall(r"([\d.]+) g", heading))
    assert sum(parts) == total and all(len(str(part)) <= 6 for part in parts)


def test_a_time_that_is_not_believed_is_told_so() -> None:
    """Sixty days counts as three times the rule of thumb, and the answer says that it is cut off there."""
    lines = told("starter", "--ratio", "1:5:5", "--at", "24 C", "--took", "60 d at 22 C").lines
    assert any(
        "3.0 times as long as by the rule of thumb, the most that is believed" in line for line in lines
    )


def test_days_are_told_in_whole_hours() -> None:
    """A starter in a cold room takes days, and no minutes are told of them."""
    heading = told("starter", "--ratio", "1:5:5", "--at", "12 C").heading
    assert heading == "Fed 1:5:5: ripe in 1 d 5 h to 6 d 1 h at 12 C, as a rule 4 d 17 h"


def test_a_refusal_is_data_too() -> None:
    """Whether it is refused stands in the data of every sum under one name."""
    for options, refused in (
        (("starter", "--ratio", "1:5:5", "--at", "40 C"), True),
        (("starter", "--ratio", "1:5:5", "--at", "22 C"), False),
        (("salt", "--produce", "1 kg", "--kind", "cabbage", "--percent", "1"), True),
        (("core", "--thickness", "40 mm", "--at", "54 C"), True),
    ):
        found = told(*options)
        assert found.facts["refused"] is found.refused is refused


def test_bread_flour_is_flour() -> None:
    """A dough of bread flour has a hydration; bread and breadcrumbs bring none."""
    bread = read(
        LOAF.replace("{flour: 800 g", "{bread flour: 800 g").replace("% of flour", "% of bread flour"),
        zone=ZONE,
    )
    assert [loaf.hydration for loaf in loaves(bread)] == [loaf.hydration for loaf in loaves(PLAN)] != []


def test_data_has_no_more_digits_than_mean_anything() -> None:
    """A millionth at most, whatever is divided."""
    found = told("salt", "--produce", "850 g", "--water", "333 g", "--percent", "3", "--salt-included")
    shares = [*found.facts["percent"].values(), *found.facts["brine"].values(), found.facts["salt_g"]]
    assert all(len(f"{share!r}".partition(".")[2]) <= 6 for share in shares)


def test_above_boiling_the_reason_is_told() -> None:
    """No bath and no oven brings a middle beyond 100 C, and the refusal says why."""
    with pytest.raises(WrongFigure, match="never gets to 150 C; food gets no hotter than water boils"):
        told("core", "--thickness", "40 mm", "--at", "150 C")


def test_an_oven_takes_its_article() -> None:
    """ "In an oven", also where it is as hot as the middle is to be."""
    assert (
        "in an oven at 60 C" in told("core", "--thickness", "40 mm", "--at", "60 C", "--oven", "60 C").heading
    )
