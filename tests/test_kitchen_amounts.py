"""Amounts scaled, rounded and turned: units against pint, sums that come out again, what a plan file makes of them."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pint import UnitRegistry

from bot.wording.amounts import amount_line, amounts_line, fine_scale, fraction, quantity
from scheduler import units
from scheduler.domain.kitchen.amounts import (
    GRAMS_PER,
    MILLILITRES_PER,
    UNITS,
    Amount,
    as_measured,
    as_weighed,
    measuring_step,
    resolve,
    step_of,
    whole_ones,
)
from scheduler.domain.plan import Plan, PlanError
from scheduler.domain.scaling import for_so_many, times
from scheduler.planfile import BadPlan, read

PINT: UnitRegistry[float] = UnitRegistry()
NAMES = {"tsp": "teaspoon", "tbsp": "tablespoon", "L": "liter", "fl oz": "fluid_ounce"}
FEW = settings(max_examples=60, deadline=None)


# ---------------------------------------------------------------- units, against pint


@pytest.mark.parametrize("unit", [*GRAMS_PER, *MILLILITRES_PER])
def test_every_factor_of_ours_is_that_of_pint(unit: str) -> None:
    """pint's registry is the outside reference for each exact factor, NIST's definitions behind both."""
    into = "gram" if unit in GRAMS_PER else "milliliter"
    ours = GRAMS_PER.get(unit) or MILLILITRES_PER[unit]
    theirs = PINT.Quantity(1.0, NAMES.get(unit, unit)).to(into).magnitude
    assert float(ours) == pytest.approx(float(theirs), rel=1e-12)


@pytest.mark.parametrize(
    ("written", "unit", "comes_to"),
    [
        ("1 fl oz", "ml", "29.5735"),  # NIST Handbook 44, appendix C (from memory): 29.57353 ml
        ("2 fluid ounces", "ml", "59.1471"),
        ("1 pint", "ml", "473.1765"),  # 473.1765 ml
        ("1 quart", "ml", "946.3529"),  # 946.3529 ml
        ("1 gallon", "ml", "3785.4118"),  # 3785.412 ml
        ("1 stone", "g", "6350.2932"),  # 14 avoirdupois pounds
    ],
)
def test_units_beyond_the_tables_come_through_pint(written: str, unit: str, comes_to: str) -> None:
    """As grams or millilitres, United States measures, and a remark says what they were read as."""
    plan = _mixed(f"{{milk: {written}}}")
    amount = plan.steps[0].amounts[0]
    assert (amount.quantity, amount.unit) == (Decimal(comes_to), unit)
    assert any(f"“milk”, {written}, is read as" in remark for remark in plan.remarks)
    assert "." not in quantity(amount).split()[0]


def test_every_way_of_writing_a_unit_is_one_of_the_tables() -> None:
    """No name stands for a unit that has no factor, and none of pint's names is one of ours."""
    assert set(UNITS.values()) == {*GRAMS_PER, *MILLILITRES_PER}
    assert not UNITS.keys() & units.OTHERS.keys()


# ---------------------------------------------------------------- scaling

AMOUNTS = st.builds(
    Amount,
    st.just("turnips"),
    st.decimals("0.01", "9999", places=2),
    st.sampled_from([*GRAMS_PER, *MILLILITRES_PER, "", "pieces"]),
)
SERVED = st.integers(1, 500)


@FEW
@given(AMOUNTS, SERVED, SERVED, SERVED)
def test_scaling_composes(amount: Amount, first: int, second: int, third: int) -> None:
    """From 8 to 12 and on to 20 is as from 8 to 20."""
    by_steps = times(times(amount, first, second), second, third)
    at_once = times(amount, first, third)
    assert by_steps.quantity == pytest.approx(at_once.quantity, rel=Decimal("1e-20"))


@FEW
@given(AMOUNTS, SERVED, SERVED)
def test_scaled_back_it_is_as_it_was_written(amount: Amount, first: int, second: int) -> None:
    """Thirds and sevenths too."""
    assert times(times(amount, first, second), second, first) == amount


@FEW
@given(st.lists(AMOUNTS, min_size=1, max_size=5), SERVED, SERVED)
def test_scaling_is_linear(amounts: list[Amount], first: int, second: int) -> None:
    """The scaled sum is the sum of what was scaled, and twice as many eat twice as much."""
    total = sum((each.quantity for each in amounts), Decimal(0))
    whole = times(Amount("all", total, "g"), first, second).quantity
    parts = sum((times(each, first, second).quantity for each in amounts), Decimal(0))
    assert whole == pytest.approx(parts, rel=Decimal("1e-20"))
    twice = times(amounts[0], first, 2 * second).quantity
    assert twice == pytest.approx(2 * times(amounts[0], first, second).quantity, rel=Decimal("1e-20"))


@FEW
@given(st.decimals("0.1", "5000", places=1), st.decimals("0.1", "100", places=1))
def test_percents_convert_back(grams: Decimal, percent: Decimal) -> None:
    """So many percent of a weight, as a share of that weight, is so many percent again."""
    base = Amount("turnips", grams, "g")
    worked = resolve(Amount("salt", percent, "%", ("turnips",)), {"turnips": base}).grams
    assert worked is not None
    assert worked * 100 / grams == pytest.approx(percent, rel=Decimal("1e-20"))


def test_a_percentage_stays_one_and_comes_to_more() -> None:
    """2.5 % of the turnips for eight is 2.5 % for twelve, of half as many turnips again."""
    salt = Amount("salt", Decimal("2.5"), "%", ("turnips",), Decimal("22.5"))
    for_twelve = times(salt, 8, 12)
    assert (for_twelve.quantity, for_twelve.worked) == (Decimal("2.5"), Decimal("33.75"))
    assert amount_line(for_twelve).startswith("salt 34 g (2.5 % of")


def test_nobody_and_nobody_knows() -> None:
    """A plan that does not say how many it serves is not scaled, and none is scaled to nobody."""
    plan = _mixed("{flour: 500 g}")
    assert for_so_many(plan, 12).steps[0].amounts[0].grams == Decimal(750)
    with pytest.raises(PlanError):
        for_so_many(plan, 0)
    with pytest.raises(PlanError):
        for_so_many(replace(plan, serves=None), 12)


def test_only_amounts_differ_in_a_scaled_plan() -> None:
    """Every length, order and temperature is the same."""
    plan = _mixed("{flour: 500 g, salt: 2 % of flour, eggs: 3}")
    scaled = for_so_many(plan, 12)
    without = [replace(step, amounts=()) for step in scaled.steps]
    assert without == [replace(step, amounts=()) for step in plan.steps]
    assert (scaled.serves, scaled.kitchen, scaled.serve) == (12, plan.kitchen, plan.serve)


# ---------------------------------------------------------------- rounding


@FEW
@given(st.decimals("0.0001", "100000", places=4))
def test_a_scale_is_never_off_by_more_than_half_a_step(grams: Decimal) -> None:
    """Hundredths below 1 g, tenths below 10 g, whole grams above."""
    assert abs(as_weighed(grams) - grams) <= step_of(grams) / 2


@FEW
@given(
    st.decimals("0.0001", "10000", places=4), st.sampled_from([*GRAMS_PER, *MILLILITRES_PER, "", "pieces"])
)
def test_no_measure_is_off_by_more_than_half_a_step(number: Decimal, unit: str) -> None:
    """Spoons in eighths, ounces in tenths, metric as a scale shows it."""
    step = measuring_step(number, unit)
    assert abs(as_measured(number, unit) - number) <= step / 2
    assert as_measured(number, unit) % step == 0


@pytest.mark.parametrize(
    ("amount", "before", "after", "told"),
    [
        (Amount("eggs", Decimal(3)), 8, 12, "4.5, so 4 or 5"),
        (Amount("eggs", Decimal(4)), 8, 12, "6"),
        (Amount("eggs", Decimal(1)), 8, 4, "0.5, so one or part of one"),
        (Amount("bay leaves", Decimal(3), "pieces"), 8, 12, "4.5 pieces, so 4 or 5"),
        (Amount("lemons", Decimal("1.5")), 8, 12, "2.25"),
        (Amount("turnips", Decimal(900), "g"), 8, 10, "1125 g"),
        (Amount("salt", Decimal("12.5"), "g"), 8, 8, "12.5 g"),
        (Amount("salt", Decimal("12.5"), "g"), 8, 12, "19 g"),
        (Amount("yeast", Decimal(1), "g"), 8, 3, "0.38 g"),
        (Amount("cumin", Decimal(3), "tsp"), 8, 10, "3 3/4 tsp"),
        (Amount("milk", Decimal(2), "cup"), 8, 12, "3 cups"),
        (Amount("butter", Decimal(1), "lb"), 8, 12, "1.5 lb"),
        (Amount("saffron", Decimal("0.25"), "tsp"), 8, 1, "under 1/8 tsp"),
        (Amount("stock", Decimal("1.5"), "L"), 8, 10, "1.875 L"),
    ],
)
def test_a_scaled_amount_in_words(amount: Amount, before: int, after: int, told: str) -> None:
    """As it can be weighed, measured or counted; what was written so is left as it was written."""
    assert quantity(times(amount, before, after)) == told


def test_whole_ones_on_either_side() -> None:
    """4.5 eggs lie between 4 and 5; 6 is 6, also where thirds made it."""
    assert whole_ones(Decimal("4.5")) == (4, 5)
    assert whole_ones(times(times(Amount("eggs", Decimal(6)), 3, 7), 7, 3).quantity) == (6, 6)


@pytest.mark.parametrize(
    ("eighths", "told"), [(1, "1/8"), (2, "1/4"), (4, "1/2"), (6, "3/4"), (7, "7/8"), (8, "1"), (30, "3 3/4")]
)
def test_eighths_as_spoons_are_marked(eighths: int, told: str) -> None:
    """Halves and quarters by their own names."""
    assert fraction(Decimal(eighths) / 8) == told


def test_less_than_a_gram_needs_a_finer_scale() -> None:
    """Said once, for salt or yeast under a gram; not for a spoon, nor for a gram."""
    assert fine_scale([Amount("yeast", Decimal("0.4"), "g")]).startswith("Under 1 g")
    assert fine_scale([Amount("yeast", Decimal(1), "g"), Amount("salt", Decimal(1), "tsp")]) == ""
    assert amounts_line([Amount("yeast", Decimal("0.4"), "g")]).startswith("Yeast 0.4 g. Under 1 g")


# ---------------------------------------------------------------- in a plan file

MIXED = """\
crockbell: 1
title: Bread for eight
serves: 8
zone: UTC
components:
  - name: Bread
    steps:
      - {name: Mix the dough, hands-on: 10 min, keeps: 1 h, amounts: AMOUNTS}
"""


def _mixed(amounts: str) -> Plan:
    return read(MIXED.replace("AMOUNTS", amounts), zone="UTC")


def _problem(amounts: str) -> str:
    with pytest.raises(BadPlan) as refused:
        _mixed(amounts)
    (only,) = refused.value.problems
    return str(only)


def test_a_share_of_a_volume_through_its_density() -> None:
    """2 % of two cups of flour (USDA SR28, 125 g a cup, read in a copy) is 5 g, and the source is named."""
    plan = _mixed("{flour: 2 cups, salt: 2 % of flour}")
    assert plan.steps[0].amounts[1].grams == Decimal(5)
    (told,) = [remark for remark in plan.remarks if "a share of" in remark]
    assert "2 cups, taken as 250 g: wheat flour, all-purpose, 125 g a cup (USDA SR28, NDB 20081)" in told


def test_a_share_of_a_sum() -> None:
    """Of a weight and of a volume whose density is known: 3 % of 763 g and 237 g of water (a cup, from memory)."""
    plan = _mixed("{turnips: 763 g, water: 1 cup, salt: 3 % of turnips + water}")
    assert plan.steps[0].amounts[2].grams == Decimal(30)
    assert for_so_many(plan, 12).steps[0].amounts[2].grams == Decimal(45)


@pytest.mark.parametrize(
    ("amounts", "said"),
    [
        ("{eggs: 3, salt: 2 % of eggs}", "'eggs' given by weight, such as 900 g"),
        ("{stock: 3 L, salt: 2 % of stock}", "a share of 'stock', given as '3 L'"),
        (
            "{brown sugar: 1 cup, x: 1 % of brown sugar}",
            "such as 'sugar, brown, unpacked' or 'sugar, brown, packed'",
        ),
        ("{salt: 2 tbsp, x: 1 % of salt}", "this weighs 17 g to 38 g by its crystals"),
    ],
)
def test_a_share_of_what_has_no_known_weight_is_refused(amounts: str, said: str) -> None:
    """Nothing is guessed; what else could be said is offered."""
    assert said in _problem(amounts)


def test_a_share_of_salt_whose_crystal_is_named() -> None:
    """Coarse sea salt has a figure (a home measurement, read in a copy): 66.8 g a quarter cup."""
    plan = _mixed("{coarse sea salt: 0.25 cup, spice: 10 % of coarse sea salt}")
    assert plan.steps[0].amounts[1].grams == Decimal("6.68")
    assert amount_line(plan.steps[0].amounts[0]) == "coarse sea salt 0.25 cup (about 67 g: weigh it)"


def test_salt_by_the_spoon_is_told_with_its_range() -> None:
    """In the remarks with the sources, in a message with the range: 2 tbsp are 17 g of flakes or 38 g of table salt."""
    plan = _mixed("{salt: 2 tbsp}")
    assert any("2 tbsp, weighs 17 g to 38 g by its crystals" in remark for remark in plan.remarks)
    assert any("USDA SR28 has table salt alone" in remark and "weigh it" in remark for remark in plan.remarks)
    assert amounts_line(plan.steps[0].amounts) == "Salt 2 tbsp (17 g to 38 g by its crystals: weigh it)."


def test_a_plan_in_weights_says_nothing_of_it() -> None:
    """No remark where nothing was turned."""
    quiet = _mixed("{flour: 500 g, milk: 300 ml, salt: 2 % of flour, eggs: 3}")
    assert quiet.remarks == ("No kitchen is given: one cook, up 07:00-22:30, and no gear.",)
