"""Cores in plan files: what a step says of its middle, the length that is worked out, and what is refused."""

from __future__ import annotations

from datetime import timedelta

import jsonschema
import pytest
import yaml

from scheduler.domain.heats import heat_of, heated
from scheduler.domain.kitchen.core import Core, Food, Shape
from scheduler.domain.kitchen.heat.foods import food_in
from scheduler.domain.kitchen.heat.heating import oven, water_bath
from scheduler.domain.plan import Attention, Plan, Step
from scheduler.planfile import read, schema
from tests.refusals import problems, the_problem
from tests.samples import with_steps

GEAR = "gear: {water bath: 1, oven: 1, burner: 1}"
DUCK = "core: {shape: slab, thickness: 40 mm, at: 58 C, start: 4 C, food: poultry}"
BATH = "gear: [water bath]"
HOURS = timedelta(hours=1)


def plan(*steps: str) -> Plan:
    return read(with_steps(*steps, kitchen=GEAR), zone="Europe/Paris")


def only(step: str) -> Step:
    return plan(step).steps[0]


def said(plan: Plan) -> list[str]:
    """The remarks that are about lengths and heat."""
    return [remark for remark in plan.remarks if "keeping" not in remark]


DUCK_CORE = Core(Shape.SLAB, 40, 58, 4, Food.POULTRY)
DUCK_HEAT = heated(DUCK_CORE, water_bath(58))


# ---------------------------------------------------------------- how long


def test_a_core_stands_in_place_of_a_length() -> None:
    """Without a length the step takes at least what was worked out, by itself, and no less ever."""
    step = only(f"name: Heat the duck, {BATH}, {DUCK}")
    assert (step.core, step.attention) == (DUCK_CORE, Attention.UNATTENDED)
    assert (step.range.shortest, step.range.longest, step.floor) == (
        DUCK_HEAT.shortest, None, DUCK_HEAT.shortest,
    )  # fmt: skip
    assert step.floor is not None and step.floor >= 2 * HOURS


def test_what_is_all_but_hot_takes_a_minute() -> None:
    """A plant that starts half a degree from its end asks for no reduction, and is a step all the same."""
    step = only(
        f"name: Warm it, {BATH}, core: {{shape: slab, thickness: 40 mm, at: 60 C, start: 59.6 C, food: plant}}"
    )
    assert step.range.shortest == timedelta(minutes=1)


def test_in_an_oven_someone_is_near() -> None:
    """An oven is not left alone, and heats by the oven's own temperature."""
    core = "core: {shape: cylinder, thickness: 9 cm, at: 65 C, start: 5 C, food: meat}"
    step = only(f"name: Roast it, oven: 150 C, {core}")
    worked = heated(Core(Shape.CYLINDER, 90, 65, 5, Food.MEAT), oven(150))
    assert (step.attention, step.range.shortest) == (Attention.NEARBY, worked.shortest)


@pytest.mark.parametrize(("bath", "at_c"), [("at: 62 C", 62), (f"at: 62 C, {BATH}", 62), (BATH, 58)])
def test_the_bath_is_as_hot_as_the_step_says_and_else_as_the_core(bath: str, at_c: float) -> None:
    """A bath hotter than the middle is to be heats it sooner."""
    step = only(f"name: Heat the duck, {bath}, {DUCK}")
    assert step.range.shortest == heated(DUCK_CORE, water_bath(at_c)).shortest


def test_a_length_that_is_long_enough_stays() -> None:
    """Nothing is remarked on, and what is worked out is still the least."""
    made = plan(f"name: Heat the duck, unattended: 12 h to 18 h, {BATH}, {DUCK}")
    assert made.steps[0].range.planned() == (12 * HOURS, 18 * HOURS)
    assert made.steps[0].floor == DUCK_HEAT.shortest
    assert said(made) == [f"“Heat the duck”: {warning}" for warning in DUCK_HEAT.warnings]


def test_a_shorter_length_is_made_longer_with_a_remark() -> None:
    """The remark says how long, in place of what, for which published reduction and by which source."""
    made = plan(f"name: Heat the duck, unattended: 1 h to 9 h, {BATH}, {DUCK}")
    assert made.steps[0].range.planned() == (DUCK_HEAT.shortest, 9 * HOURS)
    remark = said(made)[0]
    assert remark.startswith("“Heat the duck” lasts at least ") and ", not 1 h, for " in remark
    assert any(each.name in remark and each.source.name in remark for each in DUCK_HEAT.met)


def test_a_longest_that_is_too_short_refuses_the_file() -> None:
    """At the length that was written, with what would do and by which published limit."""
    step = f"name: Heat the duck, unattended: 30 min to 1 h 30 min, {BATH}, {DUCK}"
    problem = the_problem(with_steps(step, kitchen=GEAR))
    assert (problem.line, problem.found) == (7, "'30 min to 1 h 30 min'")
    assert problem.column == len("      - {name: Heat the duck, unattended: ") + 1
    assert problem.expected.startswith("at least ") and DUCK_HEAT.met[0].source.name in problem.expected


def test_the_usual_time_is_no_shorter_either() -> None:
    """What ends by a sign is planned no shorter, and looked at no sooner."""
    step = f"name: Heat the duck, unattended: 1 h to 9 h, until: tender, usually: 1 h 30 min, {BATH}, {DUCK}"
    assert the_problem(with_steps(step, kitchen=GEAR)).expected.startswith("a time within ")


def test_plants_are_heated_with_no_published_limit() -> None:
    """Reaching the temperature says how long it takes; no reduction is asked for, so there is no floor."""
    step = only(
        "name: Beets, at: 85 C, core: {shape: sphere, thickness: 6 cm, at: 84 C, start: 20 C, food: plant}"
    )
    heat = heat_of(step)
    assert heat is not None and not heat.met
    assert (step.range.shortest, step.floor) == (heat.heats, None)


def test_food_that_is_not_said_is_remarked_on() -> None:
    """The strictest counts then, which is longer than for meat; the remark names the words that would tell."""
    unsaid = plan(f"name: Heat the parcel, {BATH}, {DUCK.replace(', food: poultry', '')}")
    meat = plan(f"name: Heat the pork, {BATH}, {DUCK.replace('poultry', 'meat')}")
    assert any("so the strictest counts" in remark for remark in said(unsaid))
    assert not any("strictest" in remark for remark in said(meat))
    assert unsaid.steps[0].range.shortest > meat.steps[0].range.shortest


@pytest.mark.parametrize("load", [yaml.BaseLoader, yaml.SafeLoader])
def test_what_is_read_passes_the_schema(load: type[yaml.BaseLoader | yaml.SafeLoader]) -> None:
    """A core in place of a length and beside one; a core without its thickness fails."""
    check = jsonschema.Draft202012Validator(schema())
    source = with_steps(
        f"name: a, {BATH}, {DUCK}", f"name: b, unattended: 9 h, at: 58 C, {DUCK}", kitchen=GEAR
    )
    assert list(check.iter_errors(yaml.load(source, load))) == []
    assert list(check.iter_errors(yaml.load(source.replace("thickness: 40 mm, ", "", 1), load)))


# ---------------------------------------------------------------- against published tables


@pytest.mark.parametrize(
    ("at", "minutes"),
    [("57.8 C", 81.4), ("58.9 C", 52.9), ("60 C", 35), ("61.1 C", 23.5), ("62.2 C", 16.6), ("65.6 C", 4.9)],
)
def test_no_poultry_step_is_shorter_than_the_published_hold(at: str, minutes: float) -> None:
    """USDA FSIS, ready-to-eat poultry, 12 % fat, 7-log Salmonella, the longer of chicken and turkey (2007, read
    in a copy): even a thin piece gets the whole hold, for which the middle has to be hot first.
    """
    core = f"core: {{shape: slab, thickness: 6 mm, at: {at}, start: 5 C, food: poultry}}"
    step = only(f"name: Heat it, {BATH}, {core}")
    assert step.floor is not None and step.floor >= timedelta(minutes=minutes)


@pytest.mark.parametrize(
    ("thickness", "at", "food", "minutes"),
    [
        (20, 58, "poultry", 120), (20, 60, "poultry", 75), (25, 57, "poultry", 180), (40, 58, "poultry", 195),
        (40, 60, "poultry", 150), (25, 55, "meat", 165), (25, 57, "meat", 120), (30, 59, "meat", 105),
        (45, 55, "meat", 240), (50, 57, "meat", 195),
    ],
)  # fmt: skip
def test_no_bath_step_is_shorter_than_the_published_table(
    thickness: int, at: int, food: str, minutes: int
) -> None:
    """Baldwin, A Practical Guide (2009 to 2012, read in a copy): from 5 C until the middle has had it."""
    core = f"core: {{shape: slab, thickness: {thickness} mm, at: {at} C, start: 5 C, food: {food}}}"
    step = only(f"name: Heat it, {BATH}, {core}")
    assert step.floor is not None and step.floor >= timedelta(minutes=minutes)


# ---------------------------------------------------------------- what is refused


@pytest.mark.parametrize(
    ("step", "spot", "expected"),
    [
        (f"name: Duck, hands-on: 5 h, {BATH}, {DUCK}", "core:", "a 'nearby' or 'unattended' step"),
        (f"name: Duck, unattended: 9 h, {DUCK}", "core:", "a water bath or an oven to heat it"),
        (f"name: Duck, unattended: 9 h, gear: [burner], {DUCK}", "core:", "a water bath or an oven"),
        (f"name: Duck, {BATH}, ferment: cabbage, {DUCK}", "core:", "one of 'core' and 'ferment'"),
        (f"name: Duck, unattended: 1 h to 9 h, until: soft, usually: 61 min, {BATH}, {DUCK}", "61 min", "for its core"),
        (f"name: Duck, at: 52 C, {DUCK.replace('58 C', '52 C')}", "52 C, start", "a temperature for which a time"),
        (f"name: Duck, at: 55 C, {DUCK}", "58 C", "the middle never gets to 58 C"),
        (f"name: Duck, oven: 50 C, {DUCK}", "58 C", "the middle never gets to 58 C"),
        (f"name: Duck, oven: 180 C, {DUCK.replace('58 C', '105 C')}", "105 C", "the middle never gets to 105 C"),
        (f"name: Duck, {BATH}, {DUCK.replace('4 C', '60 C')}", "60 C", "less than 58 C"),
        (f"name: Duck, {BATH}, {DUCK.replace('4 C', '-18 C')}", "-18 C", "thaw it first"),
        (f"name: Duck, {BATH}, {DUCK.replace('40 mm', '900 mm')}", "900 mm", "a thickness from 1 mm to 400 mm"),
        (f"name: Duck, {BATH}, {DUCK.replace('40 mm', 'thick')}", "thick,", "a thickness with its unit"),
        (f"name: Duck, {BATH}, {DUCK.replace('slab', 'cube')}", "cube", "slab, cylinder or sphere"),
        (f"name: Duck, {BATH}, {DUCK.replace('poultry', 'bread')}", "bread", "meat, poultry, ground, fish or plant"),
    ],
)  # fmt: skip
def test_what_makes_no_sense_is_refused_at_its_place(step: str, spot: str, expected: str) -> None:
    """One problem, at the key or the value that is wrong, and nothing else besides."""
    source = with_steps(step, kitchen=GEAR)
    problem = the_problem(source)
    assert problem.line == 7 and expected in problem.expected
    assert problem.column == source.splitlines()[6].index(spot) + 1


def test_below_the_lowest_published_temperature_the_source_is_named() -> None:
    """54.4 C, 130 F, is the first row of FSIS Appendix A (read in a copy)."""
    (problem,) = problems(with_steps(f"name: Duck, {BATH}, {DUCK.replace('58 C', '54.3 C')}", kitchen=GEAR))
    assert "54.4 C" in problem.expected and "FSIS" in problem.expected
    assert only(f"name: Duck, {BATH}, {DUCK.replace('58 C', '54.4 C')}").floor is not None


# ---------------------------------------------------------------- which food


@pytest.mark.parametrize(
    ("name", "amounts", "food"),
    [
        ("Duck legs in the bath", [], Food.POULTRY),
        ("In the bath", ["salt", "turkey breast"], Food.POULTRY),
        ("Heat the burgers", [], Food.GROUND),
        ("In the bath", ["minced pork", "sage"], Food.GROUND),
        ("Tuna steaks in the bath", [], Food.FISH),
        ("In the bath", ["salmon", "olive oil"], Food.FISH),
        ("Roast the beetroots", [], Food.PLANT),
        ("Beans in the bath", ["beans", "goose fat", "chicken stock"], Food.PLANT),
        ("Pork in the bath", ["pork belly", "sage", "beans"], Food.MEAT),
        ("Beef in the bath", ["beef shin", "ground pepper", "fish sauce"], Food.MEAT),
        ("A steak of the house", [], Food.MEAT),
        ("Pork in the bath", ["pork belly", "prawns"], None),
        ("Pork in the bath", ["pork belly", "trout"], None),
        ("Lamb in the bath", ["lamb shoulder", "chicken livers"], Food.POULTRY),
        ("Rabbit in the bath", ["rabbit legs"], None),
        ("Prawns with peas", [], None),
        ("Leeks in the bath", ["leeks", "smoked mackerel"], None),
        ("In the bath", ["potatoes", "short loin"], None),
        ("Steak with potatoes", [], None),
        ("In the bath", [], None),
    ],
)  # fmt: skip
def test_the_food_is_worked_out_from_the_words(name: str, amounts: list[str], food: Food | None) -> None:
    """Poultry and minced meat from any word; fish and plants only where nothing may be meat; else not known."""
    assert food_in([name], amounts) is food


def test_the_words_of_the_component_count_and_what_went_in_before() -> None:
    """The bath itself need not name what is in it; what the plan says counts before what its words say."""
    salted = "name: Salt it, hands-on: 5 min, amounts: {chicken breast: 500 g}"
    core = "core: {shape: slab, thickness: 30 mm, at: 60 C, start: 4 C"
    steps = plan(salted, f"name: In the bath, {BATH}, {core}}}").steps
    assert steps[1].core is not None and steps[1].core.food is Food.POULTRY
    told = plan(salted, f"name: In the bath, {BATH}, {core}, food: meat}}").steps[1].core
    assert told is not None and told.food is Food.MEAT
