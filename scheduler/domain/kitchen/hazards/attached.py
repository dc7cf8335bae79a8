"""Which hazards a step has, by what it is: a table of rules, each a hazard and when a step has it.

A rule looks at the step's words and heat (`stepwords`) and at its place in the plan. What a rule leaves out it leaves
out because the danger is not there: bread that cools, a dough that ferments, milk that cools for its culture.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import lru_cache

from scheduler.domain.kitchen import hazards
from scheduler.domain.kitchen.hazards.alive import cured_meat, is_ferment, pressure, sprouts, swelling_jar
from scheduler.domain.kitchen.hazards.hot_and_cold import (
    blending,
    cooling,
    holding,
    hot_oil,
    reheating,
    rice,
    water_bath,
)
from scheduler.domain.kitchen.hazards.kidney import course_of
from scheduler.domain.kitchen.hazards.oils import is_kept
from scheduler.domain.kitchen.hazards.stepwords import Parts, earlier
from scheduler.domain.kitchen.hazards.table import Hazard
from scheduler.domain.plan import Component, Plan, Step

MOST = 2
"""Cautions in one message at most."""

Applies = Callable[[Step, Parts], bool]


@dataclass(frozen=True, slots=True)
class Rule:
    """A hazard by its word, and when a step has it; `each`: told at every such step, not once in a component."""

    word: str
    applies: Applies
    each: bool = False


def _kidney_beans(step: Step, parts: Parts) -> bool:
    course = course_of(parts, step)
    return course is not None and step.number in course.watched


RULES = (
    Rule("garlic in oil", is_kept),
    Rule("swelling jar", swelling_jar),
    Rule("cured meat", cured_meat),
    Rule("kidney beans", _kidney_beans, each=True),
    Rule("cooling", cooling),
    Rule("holding", holding),
    Rule("rice", rice),
    Rule("water bath", water_bath),
    Rule("reheating", reheating),
    Rule("sprouts", sprouts),
    Rule("mould", is_ferment),
    Rule("hot oil", hot_oil),
    Rule("blending hot liquid", blending),
    Rule("pressure", pressure),
)
"""One for each hazard, in the order of the table: the most serious first."""


# ---------------------------------------------------------------- what a step has


def hazards_of(step: Step, where: Plan | Component) -> tuple[Hazard, ...]:
    """The hazards of a step, the one its caution names first, then the most serious first.

    `where` is its plan, or its component where that is all that is known. KeyError for a step that is not there.
    """
    return _found(where.components if isinstance(where, Plan) else (where,))[step.number]


@lru_cache(maxsize=64)
def _found(parts: Parts) -> dict[int, tuple[Hazard, ...]]:
    """Of every step by its number: what a plan is asked for again and again is found once."""
    return {step.number: tuple(_of(step, parts)) for part in parts for step in part.steps}


def _of(step: Step, parts: Parts) -> Iterator[Hazard]:
    written = _written(step)
    if written is not None:
        yield written
    found = (hazards.named(rule.word) for rule in RULES if rule.applies(step, parts))
    yield from (hazard for hazard in found if hazard is not written)


def _written(step: Step) -> Hazard | None:
    return hazards.hazard(step.caution) if step.caution else None


def told_at(step: Step, plan: Plan) -> tuple[Hazard, ...]:
    """Those that are told when it begins: the others were told at an earlier step of its component."""
    found = _found(plan.components)
    before = {hazard for each in earlier(plan.components, step) for hazard in found[each.number]}
    again = {hazards.named(rule.word) for rule in RULES if rule.each} | {_written(step)}
    return tuple(each for each in found[step.number] if each not in before or each in again)


def cautions(step: Step, plan: Plan) -> list[str]:
    """What a cook is told of when the step begins, two sentences at most: the written caution, then the rest."""
    written = [hazards.caution(step.caution)] if step.caution else []
    return list(dict.fromkeys([*written, *(str(each) for each in told_at(step, plan))]))[:MOST]
