"""Beans through a plan: which steps they pass, and which step boils them for as long as is published."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import timedelta
from functools import cached_property, lru_cache

from scheduler.domain.kitchen.hazards.beans import BOIL, brings_dry_beans, brings_kidney_beans
from scheduler.domain.kitchen.hazards.stepwords import (
    Parts,
    below_boiling,
    has,
    heats,
    may_boil,
    name_and_gear,
    plain,
    says_boil,
    soaks,
)
from scheduler.domain.plan import Component, Step

_BEANS = re.compile(r"\b(?:beans?|kidneys?|cannellini|rajma|pot|pan|everything|them|all)\b")


@dataclass(frozen=True)
class Course:
    """The way of the beans of one component: every step they pass, in order.

    `kidney`: said to be kidney beans. `dry`: said to be dry, or soaked here.
    """

    steps: tuple[Step, ...]
    kidney: bool
    dry: bool

    @cached_property
    def soaking(self) -> tuple[Step, ...]:
        return tuple(step for step in self.steps if soaks(step))

    @cached_property
    def heated(self) -> tuple[Step, ...]:
        """Every heat that may be about them."""
        return tuple(step for step in self.steps if not soaks(step) and heats(step) and _about_them(step))

    @cached_property
    def boiled(self) -> tuple[Step, ...]:
        """Those that say that they boil."""
        return tuple(step for step in self.heated if says_boil(step))

    @cached_property
    def never_boil(self) -> tuple[Step, ...]:
        """Heats that stay below boiling by what they say, whatever else is in the pot."""
        return tuple(step for step in self.steps if not soaks(step) and heats(step) and below_boiling(step))

    @cached_property
    def gate(self) -> Step | None:
        """The step that boils them for as long as is published: one that says so, or else one that may.

        None where a boil is written and is shorter: a long simmer after it does not make up for what it says.
        """
        candidates = self.boiled or tuple(step for step in self.heated if may_boil(step))
        return next((step for step in candidates if step.range.shortest >= BOIL), None)

    @cached_property
    def watched(self) -> frozenset[int]:
        """The steps that the hazard hangs on: the soak, and every heat up to the one that boils them."""
        last = self.gate
        hot = [
            step for step in (*self.heated, *self.never_boil) if last is None or step.number <= last.number
        ]
        return frozenset(step.number for step in (*self.soaking, *hot))

    @cached_property
    def soaked_for(self) -> timedelta:
        """The shortest that they soak in all."""
        return sum((step.range.shortest for step in self.soaking), timedelta())


def _about_them(step: Step) -> bool:
    """Whether a heat is about the beans: its name says so, names its part of the meal, or names nothing else."""
    name = plain(step.name)
    own = {word for word in plain(step.component).split() if len(word) > 3}
    return " the " not in name or has(_BEANS, name_and_gear(step)) or any(word in name for word in own)


@lru_cache(maxsize=64)
def courses(parts: Parts) -> tuple[Course, ...]:
    """One for each component that brings beans."""
    found = (_course(parts, part) for part in parts)
    return tuple(course for course in found if course is not None)


def course_of(parts: Parts, step: Step) -> Course | None:
    """The course that a step is on; None where no beans pass it."""
    return next(
        (course for course in courses(parts) if any(each.number == step.number for each in course.steps)),
        None,
    )


def _course(parts: Parts, part: Component) -> Course | None:
    kidney = any(brings_kidney_beans(step) for step in part.steps)
    dry = any(brings_dry_beans(step) for step in part.steps)
    brings = brings_kidney_beans if kidney else brings_dry_beans
    first = next((step for step in part.steps if brings(step)), None)
    if first is None:
        return None
    mine = tuple(step for step in part.steps if step.number >= first.number)
    return Course((*mine, *_onward(parts, mine)), kidney, dry)


def _onward(parts: Parts, mine: tuple[Step, ...], seen: frozenset[str] = frozenset()) -> Iterator[Step]:
    """Where nothing of their own component heats them: the components they go into, until one does."""
    if any(heats(step) and not soaks(step) for step in mine):
        return
    for part in parts:
        into = [step.number for step in part.steps if mine[-1].number in step.follows]
        if into and part.name not in seen and part.name != mine[-1].component:
            rest = tuple(step for step in part.steps if step.number >= into[0])
            yield from rest
            yield from _onward(parts, rest, seen | {part.name, mine[-1].component})
