"""Hazards are attached by what a step is, and by nothing else."""

from __future__ import annotations

import pytest
from hypothesis import given, settings

from scheduler.domain.kitchen.hazards import HAZARDS
from scheduler.domain.kitchen.hazards.attached import MOST, RULES, cautions, hazards_of
from scheduler.domain.plan import Plan
from tests.hazard_plans import CHILLI, KRAUT, SLOW, STOCK, part, plan_of, step_of, told, words_of
from tests.planwriting import plans


def test_every_hazard_has_a_rule_in_the_tables_order() -> None:
    """The most serious comes first, in the table and in what is attached."""
    assert [rule.word for rule in RULES] == [hazard.word for hazard in HAZARDS]


# Each: the component's name and its steps; the step spoken of; what it has. Judged by hand, no source.
ATTACHED = [
    (
        ("Garlic oil", "name: Infuse garlic in oil, nearby: 1 h, oven: 110 C, keeps: 3 d"),
        "Infuse garlic in oil",
        ["garlic in oil"],
    ),
    (
        ("Pesto", "name: Pound it, hands-on: 20 min, amounts: {basil: 80 g, olive oil: 150 ml}, keeps: 2 d"),
        "Pound it",
        ["garlic in oil"],
    ),
    (
        (
            "Confit tomatoes",
            "name: Roast in oil, nearby: 2 h, oven: 120 C, keeps: 3 d, "
            "amounts: {tomatoes: 1 kg, garlic: 20 g, oil: 200 ml}",
        ),
        "Roast in oil",
        ["garlic in oil"],
    ),
    (
        (
            "Stock",
            "name: Simmer the bones, nearby: 3 h",
            "name: Cool in an ice bath, nearby: 40 min, keeps: 1 h",
        ),
        "Cool in an ice bath",
        ["cooling"],
    ),
    (
        (
            "Ice cream",
            "name: Heat the custard, nearby: 20 min",
            "name: Chill the custard, unattended: 8 h, keeps: 1 d",
        ),
        "Chill the custard",
        ["cooling"],
    ),
    (
        (
            "Butter chicken",
            "name: Simmer the curry, nearby: 1 h",
            "name: Cool the curry, nearby: 1 h, keeps: 1 d",
        ),
        "Cool the curry",
        ["cooling"],
    ),
    (
        (
            "Meat loaf",
            "name: Bake the loaf, nearby: 1 h, oven: 180 C",
            "name: Cool the loaf, nearby: 1 h, keeps: 1 d",
        ),
        "Cool the loaf",
        ["cooling"],
    ),
    (
        ("Tea", "name: Kombucha ferments, unattended: 8 d", "name: Bottle it, hands-on: 20 min, keeps: 5 d"),
        "Bottle it",
        ["pressure"],
    ),
    (("Tomatoes", "name: Seal the jars, hands-on: 30 min, keeps: 90 d"), "Seal the jars", ["swelling jar"]),
    (
        (
            "Ham",
            "name: Rub it in, hands-on: 20 min, amounts: {pork leg: 3 kg, curing salt: 75 g}, keeps: 1 d",
        ),
        "Rub it in",
        ["cured meat"],
    ),
    (
        ("Dry sausage", "name: Hang the sausages, unattended: 20 d to 30 d, keeps: 30 d"),
        "Hang the sausages",
        ["cured meat"],
    ),
    (
        (
            "Rice",
            "name: Boil the rice, nearby: 20 min, gear: [burner]",
            "name: Cool the rice, unattended: 30 min, keeps: 1 d",
        ),
        "Cool the rice",
        ["rice"],
    ),
    (
        (
            "Salmon",
            "name: Salmon in the water bath, unattended: 40 min, at: 50 C, gear: [water bath], keeps: 10 min",
        ),
        "Salmon in the water bath",
        ["water bath"],
    ),
    (("Roast", "name: Keep the roast warm, nearby: 1 h, keeps: 10 min"), "Keep the roast warm", ["holding"]),
    (("Chips", "name: Fry the potatoes, hands-on: 20 min, keeps: 5 min"), "Fry the potatoes", ["hot oil"]),
    (("Eggs", "name: Cook them, hands-on: 20 min, gear: [fryer], keeps: 5 min"), "Cook them", ["hot oil"]),
    (("Mung", "name: Seeds sprout, unattended: 2 d to 3 d, keeps: 1 d"), "Seeds sprout", ["sprouts"]),
    (
        (
            "Soup",
            "name: Simmer the roots, nearby: 40 min, gear: [burner]",
            "name: Drain them, hands-on: 5 min",
            "name: Blend the soup, hands-on: 10 min, keeps: 1 h",
        ),
        "Blend the soup",
        ["blending hot liquid"],
    ),
    (
        (
            "Turnips",
            "name: Salt them and seal the jar, hands-on: 10 min, amounts: {turnips: 900 g, salt: 20 g}",
            "name: Turnips ferment, unattended: 6 d to 8 d, keeps: 9 d",
        ),
        "Turnips ferment",
        ["mould", "pressure"],
    ),
]


@pytest.mark.parametrize(("component", "name", "expected"), ATTACHED)
def test_a_step_has_the_hazards_of_what_it_is(
    component: tuple[str, ...], name: str, expected: list[str]
) -> None:
    """From its words, its heat and its place, without a caution being written."""
    assert words_of(plan_of(part(*component)), name) == expected


# Ordinary steps that share a word with a danger. Judged by hand, no source.
NOTHING = [
    ("Loaf", "name: Bake the loaf, nearby: 50 min, oven: 230 C", "name: Cool the loaf, unattended: 1 h, keeps: 1 d"),
    ("Dough", "name: Dough ferments, unattended: 4 h to 6 h, keeps: 1 h"),
    ("Yoghurt", "name: Heat the milk, nearby: 30 min, gear: [burner]", "name: Milk cools, nearby: 30 min",
     "name: Stir in the culture, hands-on: 5 min, keeps: 5 min"),
    ("Lamb", "name: Sweat the onions and garlic, hands-on: 15 min, gear: [burner], keeps: 1 h, "
     "amounts: {onions: 400 g, garlic: 30 g, oil: 30 ml}"),
    ("Duck", "name: Salt the legs, hands-on: 10 min", "name: Cure in the fridge, unattended: 24 h to 48 h, at: 4 C",
     "name: Roast the legs, nearby: 2 h, oven: 150 C, keeps: 20 min"),
    ("Beans", "name: Boil the green beans, nearby: 8 min, gear: [burner], keeps: 10 min"),
    ("Beans", "name: Warm the tinned kidney beans, nearby: 10 min, gear: [burner], keeps: 10 min"),
    ("Chickpeas", "name: Soak the chickpeas, unattended: 12 h", "name: Simmer them, nearby: 1 h, keeps: 1 h"),
    ("Greens", "name: Roast the Brussels sprouts, nearby: 30 min, oven: 200 C, keeps: 10 min"),
    ("Rice", "name: Steam the rice, nearby: 30 min, gear: [burner], keeps: 20 min"),
    ("Batter", "name: Soak the rice, unattended: 6 h", "name: Grind the batter, hands-on: 30 min, keeps: 1 h"),
    ("Wok", "name: Stir-fry the greens, hands-on: 8 min, gear: [burner], keeps: 5 min"),
    ("Dip", "name: Blend the yoghurt and mint, hands-on: 10 min, gear: [blender], keeps: 2 h"),
    ("Custard", "name: Bake it in a water bath, nearby: 45 min, oven: 150 C, keeps: 1 h"),
    ("Table", "name: Warm the plates, unattended: 15 min, oven: 60 C, keeps: 10 min"),
    ("Venison", "name: Hang the venison, unattended: 7 d, at: 3 C, keeps: 1 d"),
    ("Salmon", "name: Salt the salmon, hands-on: 10 min",
     "name: Cure the salmon, unattended: 2 d, at: 4 C, keeps: 1 d"),
    ("Jam", "name: Boil the jam, nearby: 30 min", "name: Cool the jam, unattended: 2 h, keeps: 30 d"),
    ("Onions", "name: Lie in vinegar, unattended: 4 d, keeps: 9 d, amounts: {vinegar: 300 ml, salt: 10 g}"),
    ("Sourdough", "name: Bulk ferment, unattended: 5 h", "name: Dough in the fridge, unattended: 12 h, keeps: 1 h"),
    ("Eggs", "name: Eggs in the water bath, unattended: 1 h, at: 63 C, gear: [water bath], keeps: 10 min"),
    ("Leaves", "name: Dress them, hands-on: 5 min, keeps: 10 min, amounts: {garlic: 2 g, olive oil: 50 ml}"),
    ("Herbs", "name: Dry the thyme in the oven, unattended: 3 h, oven: 60 C, keeps: 30 d"),
]  # fmt: skip


@pytest.mark.parametrize("component", NOTHING)
def test_an_ordinary_step_has_none(component: tuple[str, ...]) -> None:
    """No alarm where there is nothing to beware of."""
    plan = plan_of(part(*component))
    assert [(step.name, hazard.word) for step in plan.steps for hazard in hazards_of(step, plan)] == []


def test_beans_not_said_to_be_kidney_beans_are_warned_of_too() -> None:
    """Dried white beans may be kidney beans: the soak and the pot say so, up to the one that boils them."""
    steps = (
        "name: Soak them, unattended: 8 h, amounts: {dried white beans: 500 g}",
        "name: Simmer the beans, nearby: 1 h, gear: [burner]",
        "name: Bake the beans, nearby: 2 h, oven: 150 C, keeps: 1 h",
    )
    plan = plan_of(part("White beans", *steps))
    assert [words_of(plan, step.name) for step in plan.steps] == [["kidney beans"], ["kidney beans"], []]
    assert all(step.floor is None for step in plan.steps)


def test_a_soak_followed_by_a_warm_bath_is_warned_of_at_both() -> None:
    """Beans of unsaid kind that never boil are not refused, and the slow cooker brings the caution."""
    soak = "name: Soak them, unattended: 8 h, amounts: {dried black beans: 500 g}"
    plan = plan_of(part("Pot", soak, SLOW))
    assert [words_of(plan, step.name) for step in plan.steps] == [["kidney beans"], ["kidney beans"]]


def test_a_hazard_is_told_once_in_a_component() -> None:
    """Cooling goes on in the fridge, and is told when it begins; beans are told at the soak and at the boil."""
    plan = plan_of(STOCK, CHILLI)
    assert words_of(plan, "Rest in the fridge") == ["cooling"] and told(plan, "Rest in the fridge") == []
    assert told(plan, "Cool the stock") == ["cooling"]
    assert told(plan, "Soak the kidney beans") == told(plan, "Boil the kidney beans") == ["kidney beans"]


def test_what_was_cooled_is_warmed_again() -> None:
    """Warming is reheating only after a cooling in the same part of the meal."""
    warm = "name: Warm it through, nearby: 20 min, gear: [burner], keeps: 10 min"
    assert words_of(
        plan_of(STOCK.replace("keeps: 3 d", "keeps: 2 d") + f"      - {{{warm}}}\n"), "Warm it through"
    ) == ["reheating"]
    assert words_of(plan_of(part("Milk", warm)), "Warm it through") == []


def test_the_written_caution_comes_first_and_two_are_the_most() -> None:
    """What the cook wrote is told before what was found; a hazard that was written is not told twice."""
    steps = (
        "name: Salt and seal the jar, hands-on: 10 min, amounts: {turnips: 900 g, salt: 20 g}",
        "name: Turnips ferment, unattended: 6 d to 8 d, keeps: 9 d, caution: Mind the cat.",
    )
    plan = plan_of(part("Turnips", *steps))
    said = cautions(plan.steps[1], plan)
    assert len(said) == MOST and said[0] == "Mind the cat." and "pH" in said[1]
    written = plan_of(part("Turnips", *steps).replace("Mind the cat.", "mould"))
    assert words_of(written, "Turnips ferment") == ["mould", "pressure"]


def test_a_component_alone_is_enough() -> None:
    """A step may be asked about with its component in place of its plan."""
    plan = plan_of(KRAUT, STOCK)
    step = step_of(plan, "Cool the stock")
    assert hazards_of(step, plan.components[1]) == hazards_of(step, plan)


@given(plans())
@settings(max_examples=25, deadline=None)
def test_any_plan_has_its_hazards(plan: Plan) -> None:
    """Whatever stands in a plan, every step has an answer, each hazard once, and at most two are told."""
    for step in plan.steps:
        found = hazards_of(step, plan)
        assert len(set(found)) == len(found) and set(found) <= set(HAZARDS)
        assert len(cautions(step, plan)) <= MOST
