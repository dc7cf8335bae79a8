"""Reading good plan files: what each key comes to."""

from __future__ import annotations

import subprocess
import sys
from datetime import UTC, date, datetime, time, timedelta
from decimal import Decimal

import pytest

from scheduler.domain.hours import Dated, Weekly
from scheduler.domain.plan import Attention, Plan, Range, Step, Tend
from scheduler.planfile import read
from tests.samples import EVERY_KEY, SMALL, with_steps

MINUTE, HOUR, DAY = timedelta(minutes=1), timedelta(hours=1), timedelta(days=1)
EVERY_DAY = frozenset(range(7))


@pytest.fixture(scope="module")
def plan() -> Plan:
    return read(EVERY_KEY, zone="UTC")


def wall(text: str) -> datetime:
    """A naive local date-time."""
    return datetime.fromisoformat(text)


def named(plan: Plan, name: str) -> Step:
    return next(step for step in plan.steps if step.name == name)


def follows(plan: Plan, name: str) -> list[str]:
    return [plan.steps[number].name for number in named(plan, name).follows]


def the_step(text: str) -> Step:
    """The last step of a small plan whose steps are given."""
    return read(with_steps(*text.split(" | ")), zone="UTC").steps[-1]


def test_the_head_of_a_plan(plan: Plan) -> None:
    """Title, guests, zone and serving hour; the hour is local to the zone."""
    assert (plan.title, plan.serves, plan.zone) == ("Lunch in the garden", 6, "Europe/Madrid")
    assert plan.serve == datetime(2026, 6, 20, 11, 0, tzinfo=UTC)  # Madrid is two hours ahead in June


def test_components_and_steps_in_the_order_written(plan: Plan) -> None:
    """Steps are numbered through the plan and know the line they begin on."""
    assert [component.name for component in plan.components] == [
        "Carrot pickle",
        "Flatbread",
        "Soup",
        "Table",
    ]
    assert [component.optional for component in plan.components] == [True, False, False, False]
    assert [len(component.steps) for component in plan.components] == [3, 3, 2, 2]
    lines = EVERY_KEY.splitlines()
    assert all(lines[(step.line or 0) - 1].strip() == f"- name: {step.name}" for step in plan.steps)


def test_a_step_that_nature_ends(plan: Plan) -> None:
    """until, usually, at (in Fahrenheit), tend and caution."""
    step = named(plan, "Carrots ferment")
    assert step.attention is Attention.UNATTENDED
    assert step.range == Range(5 * DAY, 9 * DAY, "sour and crisp", 7 * DAY)
    assert step.at == 18.9  # (66 - 32) * 5 / 9 = 18.88...
    assert step.tend == Tend("Vent the lid", DAY, 4 * DAY, 2 * MINUTE)
    assert step.caution == "mould"


def test_at_least_has_no_longest(plan: Plan) -> None:
    """ "at least 4 h" may last any longer, and keeps says for how long it can be used."""
    step = named(plan, "Chill the carrots")
    assert (step.range, step.keeps) == (Range(4 * HOUR, None), 30 * DAY)


def test_gear_oven_cook_and_days(plan: Plan) -> None:
    """A lone word of gear, one in a list, an oven in Fahrenheit, hours and days to start in."""
    assert named(plan, "Mix the dough").gear == ("mixer",)
    assert named(plan, "Mix the dough").cook == "Noor"
    assert named(plan, "Simmer the soup").gear == ("burner", "burner")
    bake = named(plan, "Bake the flatbread")
    assert bake.oven == 232  # (450 - 32) * 5 / 9 = 232.2...
    assert bake.between == (
        Weekly(frozenset({5}), time(9), time(13)),
        Weekly(frozenset({6}), time(9), time(12)),
    )
    assert bake.on == (5, date(2026, 6, 20))
    assert named(plan, "Lay the table").on == (5, 6)
    assert named(plan, "Salt the carrots").buy == 2 * DAY


def test_a_tend_without_a_name_is_named_after_its_step(plan: Plan) -> None:
    """A touch can be spoken of even when the file doesn't name it."""
    assert named(plan, "Dough rises").tend == Tend(
        "Tend: Dough rises", 30 * MINUTE, None, timedelta(seconds=90)
    )


def test_waits(plan: Plan) -> None:
    """A range, and an exact wait."""
    assert named(plan, "Rest the soup").wait == (30 * MINUTE, 2 * HOUR)
    assert named(plan, "Lay the table").wait == (5 * MINUTE, 5 * MINUTE)


def test_after_names_steps_and_components(plan: Plan) -> None:
    """A step follows the one before it and what it names, whatever the capitals."""
    assert follows(plan, "Salt the carrots") == []
    assert follows(plan, "Dough rises") == ["Mix the dough"]
    assert follows(plan, "Lay the table") == [
        "Warm the plates",
        "Chill the carrots",
        "Bake the flatbread",
        "Rest the soup",
    ]


def test_cooks_with_hours_of_their_own(plan: Plan) -> None:
    """A cook's own hours stand in for the kitchen's; a cook without any has the kitchen's."""
    ada, noor = plan.kitchen.cooks
    assert (ada.name, noor.name) == ("Ada", "Noor")
    assert ada.awake == (Weekly(EVERY_DAY, time(6), time(22)),)
    assert ada.away == (Weekly(frozenset({4, 5, 6, 0}), time(10), time(11)),)
    assert noor.awake == (
        Weekly(frozenset(range(5)), time(6, 30), time(22, 30)),
        Weekly(frozenset({5, 6}), time(8), time(23, 30)),
    )
    assert noor.away == (
        Weekly(frozenset(range(5)), time(8, 30), time(17, 45)),
        Dated(wall("2026-06-17 18:00"), wall("2026-06-17 23:00")),
        Dated(wall("2026-06-12 18:00"), wall("2026-06-14 21:00")),
    )


def test_amounts_and_what_percentages_come_to(plan: Plan) -> None:
    """Weights, counts and shares, the shares worked out in grams."""
    amounts = {amount.name: amount for amount in named(plan, "Salt the carrots").amounts}
    assert (amounts["water"].quantity, amounts["water"].unit) == (Decimal("1.2"), "kg")
    assert (amounts["eggs"].quantity, amounts["eggs"].unit) == (Decimal(3), "")
    assert (amounts["bay leaves"].quantity, amounts["bay leaves"].unit) == (Decimal(8), "pieces")
    brine = amounts["brine salt"]
    assert (brine.quantity, brine.unit, brine.of) == (Decimal(3), "%", ("water", "carrots"))
    assert brine.worked == Decimal(60)  # 3 % of 1200 g + 800 g
    assert list(amounts) == ["carrots", "water", "brine salt", "eggs", "bay leaves"]


def test_a_percentage_takes_the_nearest_amount_of_that_name() -> None:
    """Its own step's first, then its component's latest, then the plan's."""
    text = """\
crockbell: 1
title: Bread
components:
  - name: Oil
    steps:
      - {name: Pour, hands-on: 5 min, amounts: {Oil: 10 g, flour: 1 kg}}
  - name: Loaf
    steps:
      - {name: Feed, hands-on: 5 min, amounts: {flour: 100 g}}
      - {name: Mix, hands-on: 5 min, amounts: {yeast: 50 % of salt, salt: 2 % of flour, flour: 800 g}}
      - {name: Fold, hands-on: 5 min, amounts: {nuts: 1 % of flour, glaze: 10 % of oil, seeds: 10 % of salt}}
"""
    mix, fold = read(text, zone="UTC").steps[2:]
    assert {amount.name: amount.grams for amount in mix.amounts} == {"yeast": 8, "salt": 16, "flour": 800}
    assert {amount.name: amount.grams for amount in fold.amounts} == {
        "nuts": 8,
        "glaze": 1,
        "seeds": Decimal("1.6"),
    }
    assert fold.amounts[1].of == ("Oil",)


def test_what_the_file_leaves_out_is_the_cooks_own() -> None:
    """Zone and waking hours come from the caller; one cook, no gear, and a remark that says so."""
    plan = read(
        "crockbell: 1\ntitle: Tea\n"
        "components: [{name: Tea, steps: [{name: Brew, nearby: 4 min, keeps: 5 min}]}]",
        zone="Asia/Kolkata",
        awake="mon-fri 05:30-21:00, sat-sun 07:00-23:00",
    )
    (cook,) = plan.kitchen.cooks
    assert (plan.zone, plan.serve, plan.serves, cook.name) == ("Asia/Kolkata", None, None, "Cook")
    assert cook.awake == (
        Weekly(frozenset(range(5)), time(5, 30), time(21)),
        Weekly(frozenset({5, 6}), time(7), time(23)),
    )
    assert plan.kitchen.gear == {}
    assert plan.remarks == (
        "No kitchen is given: one cook, up mon-fri 05:30-21:00, sat-sun 07:00-23:00, and no gear.",
    )


@pytest.mark.parametrize(
    ("kitchen", "names"),
    [
        ("cooks: 1", ["Cook"]),
        ("cooks: 2", ["Cook 1", "Cook 2"]),
        ("cooks: [Ada, Noor]", ["Ada", "Noor"]),
        ("cooks: Ada", ["Ada"]),
        ("gear: {pot: 1}", ["Cook"]),
    ],
)
def test_cooks_by_number_or_by_name(kitchen: str, names: list[str]) -> None:
    """A count names them, a list takes its names, nothing is one cook."""
    plan = read(with_steps("name: Stir, hands-on: 5 min", kitchen=kitchen), zone="UTC")
    assert [cook.name for cook in plan.kitchen.cooks] == names


def test_a_component_that_says_nothing_about_keeping_is_remarked_on() -> None:
    """Used at once, or ready exactly when served; not where keeps or a wait says otherwise."""
    plain = SMALL.replace("        keeps: 60 d\n", "").replace("        keeps: 5 min\n", "")
    assert read(plain, zone="UTC").remarks == (
        "Jam says nothing about keeping: it is used at once, for Toast the bread.",
        "Toast says nothing about keeping: it must be ready exactly when you serve.",
    )
    assert read(SMALL, zone="UTC").remarks == ()
    waits = plain.replace("after: Jam\n", "after: Jam\n        wait: 1 h to 3 h\n        keeps: 1 min\n")
    assert read(waits, zone="UTC").remarks == ()


@pytest.mark.parametrize(
    ("written", "step"),
    [
        ("Beans", "Drain"),
        ("beans  /  soak", "Soak"),
        ("BEANS/drain", "Drain"),
        ("Soak", "Soak"),
        ("Café", "Grind"),
        ("Cafe\u0301", "Grind"),
    ],
)
def test_names_are_matched_by_what_they_have_in_common(written: str, step: str) -> None:
    """Capitals, spaces, and the two ways Unicode writes an accent make no difference."""
    text = f"""\
crockbell: 1
title: Names
components:
  - {{name: Beans, steps: [{{name: Soak, nearby: 1 h}}, {{name: Drain, nearby: 1 h}}]}}
  - {{name: Café, steps: [{{name: Grind, nearby: 1 h}}]}}
  - {{name: Table, steps: [{{name: Lay, nearby: 1 h, after: "{written}"}}]}}
"""
    assert follows(read(text, zone="UTC"), "Lay") == [step]


def test_a_component_and_its_only_step_may_share_a_name() -> None:
    """Both mean the same step, so there is nothing to ask."""
    text = SMALL.replace("name: Boil the jam", "name: jam")
    assert follows(read(text, zone="UTC"), "Toast the bread") == ["jam"]


def test_nothing_is_read_as_anything_but_text() -> None:
    """What YAML 1.1 would turn into truth values, numbers and sixties stays what was written."""
    step = the_step("name: No, hands-on: 5 min, on: [sat], caution: 18:30, amounts: {yes: 010 g}")
    assert (step.name, step.caution, step.on) == ("No", "18:30", (5,))
    assert (step.amounts[0].name, step.amounts[0].quantity) == ("yes", Decimal(10))


@pytest.mark.parametrize(
    "source", [SMALL.encode(), "\ufeff" + SMALL, ("\ufeff" + SMALL.replace("\n", "\r\n")).encode()]
)
def test_bytes_byte_order_marks_and_line_ends(source: str | bytes) -> None:
    """A file from any editor reads the same."""
    assert read(source, zone="UTC") == read(SMALL, zone="UTC")


def test_texts_on_several_lines_become_one() -> None:
    """A folded caution is read as one line."""
    text = SMALL.replace(
        "        gear: grill\n",
        "        gear: grill\n        caution: >\n          mind\n          the   grill\n",
    )
    assert named(read(text, zone="UTC"), "Toast the bread").caution == "mind the grill"


def test_the_cooks_own_settings_have_to_make_sense() -> None:
    """A bad default is the caller's mistake, not the file's."""
    with pytest.raises(ValueError, match="time zone"):
        read(SMALL, zone="Mars/Olympus")
    with pytest.raises(ValueError, match="hours such as"):
        read(SMALL, zone="UTC", awake="early")


def test_importing_the_reader_does_not_import_pydantic() -> None:
    """Commands that read no plan don't wait for the models."""
    code = "import sys, scheduler.planfile; print('pydantic' in sys.modules)"
    shown = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert shown.stdout.strip() == "False"
