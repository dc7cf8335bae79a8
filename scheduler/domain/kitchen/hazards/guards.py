"""What nobody may do to a step for the sake of the hour: leave it out, or let what it made stand.

A step guards food where its hazard grows with the step left out: the boil of kidney beans, the cooling of a stock.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from scheduler.domain.kitchen.hazards.attached import hazards_of
from scheduler.domain.kitchen.hazards.kidney import course_of
from scheduler.domain.kitchen.hazards.oils import is_kept, stands_for
from scheduler.domain.kitchen.hazards.stepwords import has, part_of, plain, soaks, words
from scheduler.domain.kitchen.hazards.table import OIL_KEEPS, Hazard
from scheduler.domain.plan import Plan, Step

_DRAINS = words("drain", "draining", "rinse", "rinsing", "change the water")


@dataclass(frozen=True, slots=True)
class Unguarded:
    """`step` would be left out while the food it guards against `hazard` is kept: that of `food`, its first step.

    `hard`: without the step a published limit is surely not met, so nobody is asked about it. (A core that is not
    heated through is asked about, with what is not met.)
    """

    step: Step
    food: Step
    hazard: Hazard
    hard: bool


def unguarded(plan: Plan, gone: frozenset[int], dropped: frozenset[int] = frozenset()) -> Unguarded | None:
    """The most serious thing that leaving out the steps `gone` would do; None where nothing is left unguarded.

    `dropped` were left out before: food of which nothing is left needs no guard.
    """
    kept = frozenset(range(len(plan.steps))) - gone - dropped
    found = (each for number in sorted(gone) for each in _left(plan, plan.steps[number], kept))
    return min(found, key=lambda each: not each.hard, default=None)


def _left(plan: Plan, step: Step, kept: frozenset[int]) -> Iterator[Unguarded]:
    for hazard in _guards_against(plan, step):
        food = _food(plan, step, hazard)
        others = {*part_of(plan.components, step), *part_of(plan.components, food)} - {step}
        if any(other.number in kept for other in others):
            yield Unguarded(step, food, hazard, step.floor is not None and step.core is None)


def _guards_against(plan: Plan, step: Step) -> Iterator[Hazard]:
    yield from (hazard for hazard in hazards_of(step, plan) if hazard.guarded)
    course = course_of(plan.components, step)
    if course is not None and course.soaking and has(_DRAINS, plain(step.name)) and not soaks(step):
        yield from (each for each in hazards_of(course.soaking[0], plan) if each.word == "kidney beans")


def _food(plan: Plan, step: Step, hazard: Hazard) -> Step:
    """The first step of what a step guards: of its own part of the meal, or where its beans come from."""
    course = course_of(plan.components, step) if hazard.word == "kidney beans" else None
    return part_of(plan.components, step)[0] if course is None else course.steps[0]


def oil_kept_too_long(plan: Plan, step: Step) -> bool:
    """Whether garlic or herbs in oil, made in the component of `step`, may stand for longer than is published."""
    made = (each for each in part_of(plan.components, step) if is_kept(each, plan.components))
    lengths = (stands_for(each, plan.components) for each in made)
    return any(length is None or length > OIL_KEEPS for length in lengths)


def may_stand_longer(plan: Plan, step: Step) -> bool:
    """Whether what a step made may be kept longer than the plan says, as far as any hazard goes.

    Not what time makes worse, and not what is to be cooled next: that would wait, hot.
    """
    then = [plan.steps[link.after] for link in plan.links_out_of[step.number] if link.after is not None]
    return not any(hazard.by_time for each in (step, *then) for hazard in hazards_of(each, plan))
