"""Ferments in a plan file: which steps are taken for one, and what their salt and heat come to."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.domain.fermenting import Batch, batch_with, batches
from scheduler.domain.kitchen.salt import Packed
from scheduler.domain.plan import Plan
from scheduler.domain.scaling import for_so_many
from scheduler.planfile import BadPlan, read
from tests.wording_kitchen import SUPPER

BUNDLED = sorted((Path(__file__).resolve().parents[1] / "bot" / "plans").glob("*.yaml"))
TOO_LITTLE = "the published minimum for cabbage (US grade standards for sauerkraut, from memory)"


def file(
    amounts: str, wait: str = "{name: Cabbage ferments, unattended: 7 d to 10 d}", part: str = "Jar"
) -> str:
    """A plan of one part: something packed, then a wait."""
    return f"""\
crockbell: 1
title: A jar
serves: 4
kitchen: {{cooks: 1, gear: {{oven: 1}}}}
components:
  - name: {part}
    steps:
      - name: Cut, salt and pack
        hands-on: 20 min
        amounts: {{{amounts}}}
      - {wait}
      - {{name: Chill it, unattended: at least 4 h, keeps: 9 d}}
"""


def plan(
    amounts: str, wait: str = "{name: Cabbage ferments, unattended: 7 d to 10 d}", part: str = "Jar"
) -> Plan:
    return read(file(amounts, wait, part), zone="UTC")


def only(found: Plan) -> Batch:
    (batch,) = batches(found)
    return batch


# ---------------------------------------------------------------- refused, remarked on


def test_below_the_minimum_the_file_is_refused_at_the_salt() -> None:
    """At the line of the salt: what was found, the least that is wanted, and the source."""
    with pytest.raises(BadPlan) as refused:
        plan("white cabbage: 1.5 kg, caraway: 5 g, salt: 1.5 % of white cabbage")
    (problem,) = refused.value.problems
    assert problem.line == 10 and file("white cabbage: 1 kg").splitlines()[9].lstrip().startswith("amounts:")
    assert problem.found == "'salt', 22.5 g or 1.5 % of the produce's weight"
    assert problem.expected == f"at least 30 g: 2 %, {TOO_LITTLE}"


@pytest.mark.parametrize(
    "amounts",
    [
        "cabbage: 1 kg, salt: 19.99 g",
        "cabbage: 900 g, carrots: 200 g, salt: 2.2 % of cabbage",  # what is left out of the share counts all the same
        "cabbage: 1 kg, water: 1 L, salt: 2.5 % of cabbage",  # water thins it
        "cabbage: 1 kg, salt: 1 tbsp",  # even the heaviest crystals are too few
        "turnips: 1 kg, salt: 1 % of turnips",
    ],
)
def test_too_little_salt_however_it_is_written(amounts: str) -> None:
    """By weight, as a share of less than is in the jar, thinned, or by a spoon that cannot be enough."""
    wait = "{name: It ferments, unattended: 7 d to 10 d}"
    with pytest.raises(BadPlan, match="published minimum for cabbage"):
        plan(amounts, wait)


def test_cucumbers_are_held_to_their_brine() -> None:
    """PK-06, Hutkins, read in a copy: 5 % by weight of the brine as it is made."""
    wait = "{name: Cucumbers in brine, unattended: 21 d to 28 d}"
    assert plan("cucumbers: 1 kg, water: 1 L, salt: 60 g", wait).remarks == ()
    with pytest.raises(BadPlan, match="at least 53 g: 5 %, the published minimum for cucumbers"):
        plan("cucumbers: 1 kg, water: 1 L, salt: 35 g", wait)


@pytest.mark.parametrize(
    ("amounts", "wait", "said"),
    [
        ("cabbage: 1 kg, salt: 2.25 % of cabbage", "at: 18 C", ()),
        (
            "cabbage: 1 kg, salt: 2 % of cabbage",
            "at: 18 C",
            ("is below the usual 2.25 % to 2.5 % for cabbage",),
        ),
        ("cabbage: 1 kg, salt: 4 % of cabbage", "at: 18 C", ("is above the usual",)),
        ("cabbage: 1 kg, salt: 2.3 % of cabbage", "at: 26 C", ("at 26 C: above 24 C it may become soft",)),
        (
            "cabbage: 1 kg, salt: 4 tsp",
            "at: 18 C",
            (
                "by volume its salt is 1.11 % to 2.53 % of the produce's weight, and it needs 2 %, the published",
            ),
        ),
        ("cabbage: 1 kg", "at: 18 C", ("not known, because no salt is given for it",)),
        ("cabbage: 1, salt: 20 g", "at: 18 C", ("because “cabbage” is not given by weight",)),
        ("cabbage: 1 kg, salt: 2 pinches", "at: 18 C", ("its salt is not given by weight",)),
    ],
)
def test_what_deserves_a_word_is_a_remark(amounts: str, wait: str, said: tuple[str, ...]) -> None:
    """Unusual salt, heat, spoons and what cannot be worked out: the plan is read, and the cook is told why."""
    remarks = plan(amounts, f"{{name: Cabbage ferments, unattended: 7 d to 10 d, {wait}}}").remarks
    own = [remark for remark in remarks if remark.startswith("Cabbage ferments")]
    assert len(own) == len(said)
    assert all(text in remark for text, remark in zip(said, own, strict=True))


def test_salt_that_is_rinsed_off_is_not_counted() -> None:
    """Leaves wilted in strong brine and rinsed: no percent is made up for them."""
    source = file("cabbage: 1 kg, salt: 100 g").replace(
        "      - {name: Cabbage",
        "      - {name: Rinse and drain the leaves, hands-on: 9 min}\n      - {name: Cabbage",
    )
    assert any("because salt is washed off again" in remark for remark in read(source, zone="UTC").remarks)


# ---------------------------------------------------------------- which steps


@pytest.mark.parametrize(
    ("amounts", "wait", "part", "kind"),
    [
        ("turnips: 900 g, salt: 2.5 % of turnips", "name: Turnips ferment", "Turnip pickle", "vegetables"),
        ("red chillies: 600 g, garlic: 40 g, salt: 20 g", "name: They ferment", "Paste", "chillies"),
        ("cabbage: 1 kg, salt: 25 g", "name: It sours, ferment: cabbage", "Jar", "cabbage"),
        ("cabbage: 1 kg, salt: 25 g", "name: It sours, caution: ferment", "Jar", "cabbage"),
        ("leaves: 1 kg, rice flour: 60 g, salt: 25 g", "name: Kimchi ripens, at: 4 C", "Kimchi", "kimchi"),
        ("olives: 1 kg, water: 1 kg, salt: 100 g", "name: Olives in brine", "Olives", "olives"),
        ("cabbage: 1 kg, salt: 25 g", "name: Kraut ferments", "Sausages and kraut", "cabbage"),
        # what is none
        ("pineapple: 1 kg, sugar: 200 g, water: 2 L", "name: It ferments", "Drink", None),
        ("flour: 500 g, kraut: 200 g, salt: 10 g", "name: It ferments", "Kraut loaf", None),
        ("white cabbage: 2 kg, salt: 9 g", "name: Cabbage dough ferments", "Buns", None),
        ("limes: 1 kg, salt: 12 % of limes", "name: Limes soften", "Lime pickle", None),
        ("pork shoulder: 3.2 kg, salt: 1.6 % of pork shoulder", "name: Pork takes the salt", "Pork", None),
        ("pork: 3 kg, salt: 1 % of pork", "name: Pork in brine", "Pork", None),
        ("turkey: 5 kg, water: 5 L, salt: 100 g", "name: The brine works, at: 4 C", "Turkey", None),
        (
            "flour: 900 g, water: 600 g, salt: 1.5 % of flour",
            "name: Dough ferments in the cold",
            "Bread",
            None,
        ),
        ("idli rice: 600 g, urad dal: 200 g, salt: 5 g", "name: Batter ferments", "Batter", None),
        ("milk: 1 L, salt: 2 g", "name: It ferments", "Curd", None),
        ("ginger: 200 g, sugar: 300 g, salt: 1 g", "name: Ginger beer ferments", "Drink", None),
        ("duck legs: 8, coarse salt: 60 g", "name: Cure in the fridge", "Duck legs", None),
    ],
)
def test_which_steps_are_ferments(amounts: str, wait: str, part: str, kind: str | None) -> None:
    """Vegetables that ferment, by the key or their own words; no dry cure, dough, batter, milk or drink."""
    found = batches(plan(amounts, f"{{{wait}, unattended: 3 d to 10 d}}", part))
    assert [batch.kind.name for batch in found] == ([kind] if kind else [])


@pytest.mark.parametrize(
    "wait",
    ["hands-on: 20 min", "nearby: 2 h", "unattended: 20 h", "unattended: 2 d, oven: 40 C"],
)
def test_a_ferment_is_a_long_wait(wait: str) -> None:
    """Work, something stood by, the oven and less than a day are no ferment unless the plan says so."""
    amounts, named = "cabbage: 1 kg, salt: 1 g", "name: Sauerkraut"
    assert batches(plan(amounts, f"{{{named}, {wait}}}")) == ()
    with pytest.raises(BadPlan, match="published minimum"):
        plan(amounts, f"{{{named}, {wait}, ferment: cabbage}}")


def test_what_goes_into_the_jar() -> None:
    """Produce, water, salt and heat, from the amounts of the steps up to it; flavourings do not count."""
    batch = only(
        plan(
            "beets: 1 kg, caraway: 5 g, water: 2 L, salt: 2 % of beets, brine salt: 40 g",
            "{name: Beets ferment, unattended: 5 d to 8 d, at: 20 C}",
        )
    )
    assert batch.packed == Packed(Decimal(1000), Decimal(2000))
    assert batch.salt_g == (60, 60) and batch.at_c == 20 and batch.kind.name == "vegetables"
    assert batch.judged is not None and batch.judged[0].percent == 2


def test_a_step_leads_to_the_ferment_of_its_component() -> None:
    """The salting step and the chilling one belong to it; other parts of the meal to none."""
    supper = read(SUPPER, zone="UTC")
    names = {step.name: step.number for step in supper.steps}
    found = batch_with(supper, names["Salt and pack the carrots"])
    assert found is not None and found.step == names["Carrots ferment"]
    assert batch_with(supper, names["Chill the jar"]) == found
    assert batch_with(supper, names["Mix the dough"]) is None


@pytest.mark.parametrize("path", BUNDLED, ids=lambda path: path.stem)
def test_the_bundled_plans_have_a_usual_ferment_each(path: Path) -> None:
    """Each holds one vegetable ferment, within its band: nothing to remark on, and nothing else taken for one."""
    found = read(path.read_bytes(), zone="UTC")
    judged = only(found).judged
    assert judged is not None and judged[0].verdict == judged[1].verdict == "usual"
    assert found.remarks == ()


@given(st.integers(1, 40), st.integers(1, 200))
@settings(max_examples=30, deadline=None)
def test_more_at_the_table_leaves_the_percent_as_it_is(serves: int, tenths: int) -> None:
    """Scaled to any number, the ferment is refused, remarked on or usual exactly as before."""
    try:
        found = plan(f"turnips: 900 g, salt: {tenths / 10} % of turnips")
    except BadPlan:
        assert tenths < 20
        return
    assert tenths >= 20
    before, after = only(found).judged, only(for_so_many(found, serves)).judged
    assert before is not None and after is not None
    assert abs(before[0].percent - after[0].percent) < Decimal("1e-20")
