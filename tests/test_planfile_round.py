"""The reader against plans made at random, and against files that are not plans at all."""

from __future__ import annotations

from dataclasses import replace

import pytest
import yaml
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from scheduler.domain.plan import Plan
from scheduler.planfile import BadPlan, read
from tests.planwriting import plans, write
from tests.samples import EVERY_KEY

PATIENT = [HealthCheck.too_slow, HealthCheck.filter_too_much, HealthCheck.data_too_large]

KEYS = [
    "crockbell",
    "title",
    "serves",
    "serve",
    "zone",
    "kitchen",
    "components",
    "name",
    "optional",
    "steps",
    "awake",
    "away",
    "cooks",
    "gear",
    "hands-on",
    "nearby",
    "unattended",
    "until",
    "usually",
    "at",
    "tend",
    "keeps",
    "wait",
    "oven",
    "cook",
    "between",
    "on",
    "buy",
    "caution",
    "amounts",
    "after",
    "every",
    "for",
    "salt",
    "flour",
    "<<",
    "12",
]
VALUES = [
    "1 h",
    "1",
    "2",
    "0",
    "-1",
    "at least 2 h",
    "1 h to 2 h",
    "2 h to 1 h",
    "7 to 10 d",
    "Dish",
    "Step",
    "Dish / Step",
    "burner",
    "oven",
    "180 C",
    "70 F",
    "07:00-22:00",
    "mon-fri 08:00-24:00",
    "2026-03-29 02:30-04:00",
    "2026-12-12",
    "2026-12-12 19:30",
    "2026-03-29 02:30",
    "Europe/Paris",
    "Europe",
    "Ada",
    "3 % of salt",
    "3 % of flour + salt",
    "500 g",
    "1 L",
    "true",
    "no",
    "sat",
    "2 d before",
    "",
    "~",
    "\\u202e",
    "<<",
    "0 min",
    "400 d",
    "999999 d",
    "0.0001 s",
    "99999999 g",
    "2000 % of salt",
]


def outcome(source: str | bytes) -> Plan | BadPlan:
    """What reading comes to; anything but a plan or a BadPlan escapes and fails the test."""
    try:
        return read(source, zone="Europe/Paris")
    except BadPlan as bad:
        return bad


def check(source: str | bytes) -> None:
    """A plan, or problems that each have a place in the file."""
    found = outcome(source)
    if isinstance(found, BadPlan):
        assert found.problems
        places = [(problem.line, problem.column) for problem in found.problems]
        assert places == sorted(places)
        assert min(min(place) for place in places) >= 1
        assert all("\n" not in str(problem) for problem in found.problems)
    else:
        assert found.links  # which raises where a plan contradicts itself


def bare(plan: Plan) -> Plan:
    """The plan without what writing it out does not keep."""
    components = [
        replace(component, steps=tuple(replace(step, line=None) for step in component.steps))
        for component in plan.components
    ]
    return replace(plan, components=tuple(components), remarks=())


@pytest.mark.slow
@settings(max_examples=35, deadline=None, suppress_health_check=PATIENT)
@given(plans())
def test_a_plan_written_out_reads_back_the_same(plan: Plan) -> None:
    """Whatever a plan holds, its file holds too."""
    assert bare(read(write(plan), zone="UTC")) == plan


@settings(max_examples=60, deadline=None)
@given(st.one_of(st.binary(max_size=300), st.text(max_size=300)))
def test_anything_at_all_is_read_or_refused(source: str | bytes) -> None:
    """Arbitrary bytes and text never get anything but BadPlan out of the reader."""
    check(source)


@st.composite
def mangled(draw: st.DrawFn) -> str:
    """The sample with a few stretches of it cut out, doubled, moved or overwritten."""
    text = EVERY_KEY
    for _ in range(draw(st.integers(1, 3))):
        start = draw(st.integers(0, len(text)))
        end = min(len(text), start + draw(st.integers(0, 40)))
        piece = draw(
            st.one_of(
                st.sampled_from(
                    [*KEYS, *VALUES, *":-,[]{}&*!%'\"#|>?@`\t\n\0", "\n  - ", ": ", "&a ", "*a", "! "]
                ),
                st.just(text[start:end] * 2),
                st.text(max_size=5),
            )
        )
        text = text[:start] + piece + text[end:]
    return text


@settings(max_examples=70, deadline=None, suppress_health_check=PATIENT)
@given(mangled())
def test_a_plan_with_accidents_is_read_or_refused(source: str) -> None:
    """A good plan damaged anywhere never gets anything but BadPlan out of the reader."""
    check(source)


# Right keys with values of every kind, right and wrong.
values = st.recursive(
    st.sampled_from(VALUES) | st.none() | st.integers(0, 9),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from(KEYS), inner, max_size=4),
    max_leaves=8,
)
some_step = st.fixed_dictionaries(
    {
        "name": st.sampled_from(VALUES) | values,
        "nearby": st.sampled_from(["1 h", "at least 2 h", "1 h to 9 h"]),
    },
    optional={key: values for key in KEYS if key not in ("name", "nearby")},
)
some_component = st.fixed_dictionaries(
    {
        "name": st.sampled_from(["Dish", "Step"]) | values,
        "steps": st.lists(some_step | values, max_size=4) | values,
    }
)
some_file = st.fixed_dictionaries(
    {"crockbell": st.just(1), "title": st.just("Supper")},
    optional={
        "kitchen": st.dictionaries(st.sampled_from(["awake", "away", "cooks", "gear"]), values) | values,
        "components": st.lists(some_component | values, max_size=3),
        "zone": values,
        "serve": values,
        "serves": values,
    },
)


@settings(max_examples=70, deadline=None, suppress_health_check=PATIENT)
@given(some_file)
def test_known_keys_in_any_shape_are_read_or_refused(tree: dict[str, object]) -> None:
    """Right keys with wrong shapes and values never get anything but BadPlan out of the reader."""
    check(str(yaml.safe_dump(tree, sort_keys=False)))
