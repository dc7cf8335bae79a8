"""The JSON Schema of a plan file, and its agreement with the reader."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import date, datetime
from typing import Any

import jsonschema
import pytest
import yaml
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from scheduler.domain.plan import Plan
from scheduler.planfile import figures as figures
from scheduler.planfile import schema
from scheduler.planfile import text as text
from scheduler.planfile.shape import ComponentFile, CookFile, KitchenFile, PlanFile, StepFile, TendFile
from scheduler.planfile.text import TextError
from tests.planwriting import plans, write
from tests.samples import EVERY_KEY, SMALL, with_steps

PRINTABLE = st.characters(min_codepoint=32, max_codepoint=126)
CHECKER = jsonschema.Draft202012Validator(schema())


def faults(file: object) -> list[str]:
    return [error.message for error in CHECKER.iter_errors(file)]


def as_text(source: str) -> Any:
    """Every value a text: the strictest way a loader may read a plan."""
    return yaml.load(source, Loader=yaml.BaseLoader)


def as_resolved(source: str) -> Any:
    """Values of the types YAML gives them, dates as JSON has to write them."""
    return json.loads(json.dumps(yaml.safe_load(source), default=_as_json))


def _as_json(value: object) -> str:
    assert isinstance(value, date | datetime)
    return str(value)


def test_the_schema_is_a_sound_one() -> None:
    """It is valid draft 2020-12, and says so."""
    jsonschema.Draft202012Validator.check_schema(schema())
    assert schema()["$schema"] == "https://json-schema.org/draft/2020-12/schema"


@pytest.mark.parametrize("load", [as_text, as_resolved])
@pytest.mark.parametrize("source", [EVERY_KEY, SMALL, with_steps("name: a, nearby: 1 h", kitchen="cooks: 2")])
def test_good_plans_pass_whatever_loads_them(load: Callable[[str], Any], source: str) -> None:
    """What the reader takes the schema takes, whether a loader makes everything text or resolves types.

    A loader that keeps to YAML 1.1 needs the key `on` in quotes.
    """
    assert faults(load(source.replace(" on:", ' "on":'))) == []


@settings(max_examples=15, deadline=None, suppress_health_check=list(HealthCheck))
@given(plans())
def test_any_plan_passes(plan: Plan) -> None:
    """Files written from plans made at random pass too."""
    assert faults(as_text(write(plan))) == []
    assert faults(as_resolved(write(plan))) == []


@pytest.mark.parametrize(
    ("good", "bad"),
    [
        ("crockbell: 1", "crockbell: 2"),
        ("title: Toast and jam\n", ""),
        ("title:", "titel:"),
        ("nearby: 40 min", "nearby: 40"),
        ("nearby: 40 min", "nearby: soon"),
        ("nearby: 40 min", "nerby: 40 min"),
        ("nearby: 40 min", "nearby: 40 min\n        hands-on: 5 min"),
        ("nearby: 40 min", "nearby: 40 min\n        usually: 30 min"),
        ("nearby: 40 min", "nearby: 40 min\n        tend: {every: 5 min}"),
        ("nearby: 40 min", "nearby: 40 min\n        amounts: {plums: lots}"),
        ("nearby: 40 min", "nearby: 40 min\n        oven: 180"),
        ("keeps: 60 d", "keeps:"),
        ("after: Jam", "after: []"),
        ("after: Jam", "after: {Jam: 1}"),
        ("grill: 1", "grill: -1"),
        ("awake: 06:30-23:00", "awake: early"),
        ("awake: 06:30-23:00", "cooks: 0"),
        ("2026-05-02 09:00", "tomorrow"),
    ],
)
def test_bad_plans_fail(good: str, bad: str) -> None:
    """Wrong keys, shapes and values are caught while the cook is still writing."""
    assert good in SMALL
    assert faults(as_resolved(SMALL.replace(good, bad, 1)))


def test_every_key_says_what_it_is_for() -> None:
    """Editors have something to show for each key of each part."""
    for part in (PlanFile, KitchenFile, CookFile, ComponentFile, StepFile, TendFile):
        assert all(field.description for field in part.model_fields.values())


@pytest.mark.parametrize(
    ("pattern", "grammar", "nonsense"),
    [
        (text.DURATION, text.duration, text.A_DURATION),
        (text.RANGE, text.span_of, text.A_RANGE),
        (text.STRETCH, text.hours, text.SOME_HOURS),
        (text.MOMENT, text.local_datetime, text.A_MOMENT),
        (figures.TEMPERATURE, figures.celsius, figures.A_TEMPERATURE),
        (figures.LEAD, figures.lead, figures.A_LEAD),
        (figures.AMOUNT, figures.quantity, figures.AN_AMOUNT),
    ],
)
@settings(deadline=None, max_examples=40)
@given(data=st.data())
def test_what_the_patterns_admit_makes_sense(
    pattern: str, grammar: Callable[[str], object], nonsense: str, data: st.DataObject
) -> None:
    """What fits a pattern of the schema is read, or refused for being too much, never for making no sense."""
    written = data.draw(st.from_regex(pattern, fullmatch=True, alphabet=PRINTABLE))
    assume(" ".join(written.split()) == written)
    try:
        grammar(written)
    except TextError as error:
        assert error.expected != nonsense
