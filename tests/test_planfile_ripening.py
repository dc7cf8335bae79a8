"""`ripens` in a plan file: in place of a duration, beside one, and where it makes no sense."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal

import pytest
import yaml
from jsonschema import Draft202012Validator

from bot.wording import Wording
from scheduler.domain.kitchen.ripeness import ripe
from scheduler.domain.kitchen.starter import Feed, Ripens
from scheduler.domain.plan import Attention, Plan, Range, Step
from scheduler.domain.progress import at_the_start
from scheduler.domain.stages import About, Nudge, Stage
from scheduler.domain.timetable import Timetable
from scheduler.planfile import BadPlan, Problem, read, schema
from scheduler.planfile.ripening import UNTIL
from scheduler.planning import time_out
from scheduler.records import PlanRow
from scheduler.service.view import View
from tests.starter_plans import LOAF, ZONE, on_day, with_ripens

NOW = on_day(8, "20:00")
HOUR = timedelta(hours=1)
ONE_TO_ONE = Feed(Decimal(1), Decimal(1), Decimal(1))
RIPENS = "        ripens: {ratio: 1:1:1, at: 22 C}\n"


def step_of(text: str) -> Step:
    """The starter of the loaf, written like that."""
    return plan_of(text).steps[1]


def plan_of(text: str) -> Plan:
    return read(with_ripens(text), zone=ZONE)


def problem_of(text: str) -> Problem:
    """The one problem of the loaf with a starter written like that."""
    with pytest.raises(BadPlan) as refused:
        plan_of(text)
    assert len(refused.value.problems) == 1
    return refused.value.problems[0]


def test_a_starter_needs_no_duration() -> None:
    """Unattended, by nature, from the shortest to the longest of the sum, planned at what is usual."""
    step, found = read(LOAF, zone=ZONE).steps[1], ripe(ONE_TO_ONE, 22)
    assert step.ripens == Ripens(ONE_TO_ONE, 22.0)
    assert step.attention is Attention.UNATTENDED and step.range.by_nature
    assert step.range == Range(found.shortest, found.longest, UNTIL, found.usually)
    assert step.at == 22.0


def test_own_words_for_the_sign_stay() -> None:
    """And so does how long it takes as a rule, where the cook says."""
    step = step_of(f"{RIPENS}        until: it floats\n        usually: 6 h\n")
    assert step.range.until == "it floats" and step.range.usually == 6 * HOUR


def test_a_starter_is_told_to_be_from_memory() -> None:
    """The remark says how it is fed, how long that takes, and where that comes from."""
    assert (
        "“Starter ripens” takes 4 h 10 min to 7 h 15 min, fed 1:1:1 at 22 C, by growth rates and a rule of thumb, "
        "from memory." in plan_of(RIPENS).remarks
    )


def test_what_is_written_wins() -> None:
    """With nothing to remark where the two overlap."""
    plan = plan_of(f"        unattended: 5 h to 9 h\n{RIPENS}")
    assert plan.steps[1].range == Range(5 * HOUR, 9 * HOUR) and plan.steps[1].ripens is not None
    assert not any("Starter ripens" in remark for remark in plan.remarks)


@pytest.mark.parametrize("written", ["1 h to 2 h", "20 h to 23 h", "at least 8 h"])
def test_what_is_written_far_from_the_sum_is_remarked_on(written: str) -> None:
    """It counts all the same."""
    plan = plan_of(f"        unattended: {written}\n{RIPENS}")
    (remark,) = (remark for remark in plan.remarks if "Starter ripens" in remark)
    assert remark.startswith(f"“Starter ripens”: your {written} counts; it would be 4 h 10 min to 7 h 15 min")


@pytest.mark.parametrize("written", ["at least 2 h", "7 h to 20 h", "1 h to 4 h 10 min"])
def test_touching_ranges_are_no_contradiction(written: str) -> None:
    """The longest of one may be the shortest of the other."""
    remarks = plan_of(f"        unattended: {written}\n{RIPENS}").remarks
    assert not any("Starter ripens" in remark for remark in remarks)


@pytest.mark.parametrize(
    ("text", "line", "column", "found", "expected"),
    [
        (
            "{ratio: 1:1:1, at: 4 C}",
            15,
            36,
            "'4 C'",
            "a temperature at which a starter ripens: at 4 C it does not",
        ),
        (
            "{ratio: 1:1:1, at: 40 C}",
            15,
            36,
            "'40 C'",
            "a temperature at which a starter ripens: at 40 C it does not",
        ),
        (
            "{ratio: 1:1:1, at: 10 C}",
            15,
            36,
            "'10 C'",
            "a temperature at which a starter ripens: at 10 C it would",
        ),
        (
            "{ratio: 1:900:900, at: 22 C}",
            15,
            25,
            "'1:900:900'",
            "a feed that somebody makes: fed 1:900:900, ",
        ),
        ("{ratio: 1:5:1, at: 22 C}", 15, 25, "'1:5:1'", "a feed that somebody makes: fed 1:5:1, "),
        ("{ratio: 1:5, at: 22 C}", 15, 25, "'1:5'", "parts of starter, flour and water by weight"),
        ("{ratio: 1:5:5}", 15, 17, "no 'at'", "the key 'at'"),
    ],
)
def test_what_cannot_ripen_is_refused_where_it_stands(
    text: str, line: int, column: int, found: str, expected: str
) -> None:
    """The fridge, the oven, a crumb in a bucket: with line, column and the reason."""
    problem = problem_of(f"        ripens: {text}\n")
    assert (problem.line, problem.column, problem.found) == (line, column, found)
    assert problem.expected.startswith(expected)


@pytest.mark.parametrize(
    ("besides", "found", "expected"),
    [
        ("        at: 24 C\n", "'24 C'", "22 C, as 'ripens' has it, or nothing"),
        ("        hands-on: 5 h\n", "'ripens' on a hands-on step", "a step that is 'nearby' or 'unattended'"),
        ("        usually: 6 h\n", "'usually'", "'until' and the sign it ends by beside it"),
        (
            "        until: it floats\n        usually: 20 h\n",
            "'20 h'",
            "a time within 4 h 10 min to 7 h 15 min",
        ),
    ],
)
def test_what_contradicts_it_is_refused(besides: str, found: str, expected: str) -> None:
    """Another temperature, work of the hands, a time outside the sum."""
    problem = problem_of(RIPENS + besides)
    assert (problem.found, problem.expected) == (found, expected)


def test_a_starter_has_no_core() -> None:
    """A step is worked out by one sum."""
    with pytest.raises(BadPlan) as refused:
        plan_of(f"{RIPENS}        core: {{shape: slab, thickness: 40 mm, at: 60 C, start: 4 C}}\n")
    first = refused.value.problems[0]
    assert (first.found, first.expected) == ("'ripens' beside 'core'", "one of 'core' and 'ripens'")
    with pytest.raises(BadPlan, match="'ripens' beside 'ferment', expected one of 'ferment' and 'ripens'"):
        plan_of(f"{RIPENS}        ferment: cabbage\n")


def test_a_written_duration_does_not_make_a_fridge_warm() -> None:
    """What is refused is refused whatever else is written."""
    assert problem_of("        unattended: 12 h\n        ripens: {ratio: 1:5:5, at: 4 C}\n").found == "'4 C'"


def test_weights_of_another_feed_are_remarked_on() -> None:
    """The step before weighs out 1:1:1; 1:5:5 is another thing, 1:1:1.1 is not."""
    remarks = plan_of("        ripens: {ratio: 1:5:5, at: 22 C}\n").remarks
    assert "“Feed the starter” weighs out 1:1:1, and “Starter ripens” counts on 1:5:5." in remarks
    nearly = plan_of("        ripens: {ratio: 1:1:1.1, at: 22 C}\n").remarks
    assert not any("weighs out" in remark for remark in nearly)


def test_fahrenheit_and_another_spelling() -> None:
    """ "72 F" is 22.2 C, and spaces in a ratio are none."""
    step = step_of("        ripens:\n          ratio: '1 : 1 : 1'\n          at: 72 F\n")
    assert step.at == 22.2 and step.ripens is not None and str(step.ripens.feed) == "1:1:1"


def test_editors_know_the_key() -> None:
    """The JSON Schema takes a step with `ripens` alone, and refuses one that says nothing of how long."""
    validator = Draft202012Validator(schema())
    assert validator.is_valid(yaml.load(LOAF, yaml.BaseLoader))
    assert not validator.is_valid(yaml.load(with_ripens(""), yaml.BaseLoader))


# ---------------------------------------------------------------- to a timetable and a nudge


def timed() -> tuple[Plan, Timetable]:
    plan = read(LOAF, zone=ZONE)
    assert plan.serve is not None
    found = time_out(plan, plan.serve, NOW)
    assert isinstance(found, Timetable)
    return plan, found


def test_it_is_planned_at_what_is_usual() -> None:
    """The dough is mixed when the starter is ripe, within the hour that it keeps."""
    plan, timetable = timed()
    fed, ripens, mixed = (timetable.slot(number) for number in range(3))
    assert fed and ripens and mixed
    assert ripens.start == fed.end and ripens.end - ripens.start == plan.steps[1].range.usually
    assert timedelta(0) <= mixed.start - ripens.end <= HOUR


def test_the_nudges_say_how_it_was_fed_and_that_it_is_from_memory() -> None:
    """At its start and when it is time to look."""
    plan, timetable = timed()
    ripens = timetable.slot(1)
    assert ripens is not None and plan.serve is not None
    row = PlanRow(1, plan.title, LOAF, ZONE, "06:30-23:00", plan.serve, NOW, 1, timetable=timetable)
    for about, at in ((About.START, ripens.start), (About.LOOK, ripens.end)):
        view = View(row, plan, (), at_the_start(plan), at)
        said = Wording().nudge(Nudge(about, Stage.NOW, at, at + HOUR, at, 1), view).text.splitlines()
        assert "Starter ripens" in said[0]
        assert "Fed 1:1:1, at 22 C. How long is a rule of thumb, from memory." in said
    assert f"Ready when: {UNTIL}." in said
