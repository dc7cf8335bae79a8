"""Which steps bring cooked food from hot to cold, heat it, or keep it cold: what the clocks of food go by.

A step cools cooked food where its caution says so; or where it is recognised by what it is (kitchen.attached), and what
follows is the cold. What is cooled for the table only is none, nor is milk that cools to the heat of its culture.
"""

from __future__ import annotations

import re

from scheduler.domain.kitchen.hazards import hazard, stepwords
from scheduler.domain.kitchen.hazards.attached import hazards_of
from scheduler.domain.plan import Attention, Plan, Step

COOLED = frozenset({"cooling", "rice"})
"""The hazards of food that has to get cold fast."""

FRIDGE_C = 8.0
"""A step kept at or below this stands in the fridge (our reading of plans: fridges are set at 1 C to 7 C)."""

IN_THE_FRIDGE = re.compile(r"\bin(?:to)? the (?:fridge|refrigerator|freezer)\b", re.IGNORECASE)
COLD = re.compile(
    r"\b(?:fridge|refrigerat\w*|chill(?:s|ing|ed)?|cold|ice (?:water|bath)|freez\w*)\b", re.IGNORECASE
)
ICE = re.compile(r"\bice(?:d)? (?:water|bath)\b", re.IGNORECASE)
OVEN_FOR_LATER = re.compile(r"\b(?:pre)?heat(?:s|ing)? (?:up )?(?:the |an )?oven\b", re.IGNORECASE)


def heats(step: Step) -> bool:
    """Whether food is heated in it; an oven that is only heated for later is none."""
    return stepwords.heats(step) and OVEN_FOR_LATER.search(step.name) is None


def is_cold(step: Step) -> bool:
    """Whether what it is about stands in the cold."""
    if step.at is not None:
        return step.at <= FRIDGE_C
    if step.oven is None and IN_THE_FRIDGE.search(step.name):
        return True
    return not heats(step) and COLD.search(step.name) is not None


def cools(plan: Plan, step: Step) -> bool:
    """Whether cooked food has to go from hot to cold in it."""
    written = hazard(step.caution) if step.caution else None
    if written is not None and written.word == "cooling":
        return True
    if not stepwords.cools(step) or not _goes_to_the_cold(plan, step):
        return False
    return _lies_in_ice(plan, step) or any(each.word in COOLED for each in hazards_of(step, plan))


def _lies_in_ice(plan: Plan, step: Step) -> bool:
    """A wait in ice water after heat; vegetables that are only dipped in it are work of the hands."""
    hot_before = any(heats(each) for each in stepwords.earlier(plan.components, step))
    return hot_before and step.attention is not Attention.HANDS_ON and ICE.search(step.name) is not None


def _goes_to_the_cold(plan: Plan, step: Step) -> bool:
    """Whether it stands in the cold, or goes there with no more than work of the hands in between."""
    for each in (step, *stepwords.later(plan.components, step)):
        if is_cold(each):
            return True
        if each is not step and each.attention is not Attention.HANDS_ON:
            return False
    return False
