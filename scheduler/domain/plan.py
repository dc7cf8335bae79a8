"""What the cook wrote: components, steps and the kitchen, with their invariants.

A plan is immutable. It holds wall-clock hours as written and durations as elapsed time; nothing here
knows what time it is.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from enum import StrEnum
from functools import cached_property

from scheduler.domain.hours import Hours, Weekly
from scheduler.domain.kitchen.amounts import Amount
from scheduler.domain.kitchen.core import Core
from scheduler.domain.kitchen.starter import Ripens

MINUTE = timedelta(minutes=1)
FIVE_MINUTES = timedelta(minutes=5)
NO_TIME = timedelta(0)


class PlanError(ValueError):
    """A plan that contradicts itself; the text says where and how."""


class Attention(StrEnum):
    """What a step asks of the people in the kitchen."""

    HANDS_ON = "hands-on"
    NEARBY = "nearby"
    UNATTENDED = "unattended"


@dataclass(frozen=True, slots=True)
class Range:
    """The shortest and longest a step may last; `longest` None is "at least".

    `until` names the sign by which nature ends the step; then it is planned at `usually`, or else at its
    longest. Without it the planner chooses within the range.
    """

    shortest: timedelta
    longest: timedelta | None
    until: str | None = None
    usually: timedelta | None = None

    def __post_init__(self) -> None:
        if self.shortest <= NO_TIME:
            raise PlanError("a step must last longer than nothing")
        if self.longest is not None and self.longest < self.shortest:
            raise PlanError("the longest time is shorter than the shortest")
        if self.until is not None and self.longest is None and self.usually is None:
            raise PlanError("a step that ends by itself needs a longest time or a usual one")
        if self.usually is not None and not self.allows(self.usually):
            raise PlanError("the usual time lies outside the range")

    @property
    def by_nature(self) -> bool:
        return self.until is not None

    def allows(self, lasted: timedelta) -> bool:
        return self.shortest <= lasted and (self.longest is None or lasted <= self.longest)

    def planned(self) -> tuple[timedelta, timedelta | None]:
        """The shortest and longest a *timetable* may give it, in whole minutes.

        Parts of a minute are rounded up: people read clocks, and a thirty-second blanch takes up its
        minute of the kitchen.
        """
        if self.by_nature:
            length = whole_minutes(self.usually or self.longest or self.shortest)
            return length, length
        shortest = whole_minutes(self.shortest)
        return shortest, None if self.longest is None else max(shortest, self.longest // MINUTE * MINUTE)


def whole_minutes(length: timedelta) -> timedelta:
    """Rounded up to whole minutes."""
    return -(-length // MINUTE) * MINUTE


@dataclass(frozen=True, slots=True)
class Tend:
    """A short touch that repeats `every` so long from the start of a wait, `lasting` so long in all."""

    name: str
    every: timedelta
    lasting: timedelta | None
    hands_on: timedelta

    @property
    def tolerance(self) -> timedelta:
        """How far one touch may move to fall in waking, at-home hours: a quarter of its interval."""
        return self.every / 4


@dataclass(frozen=True, slots=True)
class Step:
    """One thing to do or wait for. `number` is its place in `Plan.steps`.

    `oven` is a temperature in whole degrees Celsius, `at` one in degrees Celsius. `gear` repeats a name once per
    piece used. `follows` holds the numbers of the steps it comes after, the one before it in its component
    included. `between` bounds the start, and for a hands-on step the end too. `core` is to be heated right through,
    `ripens` is how a starter was fed, `ferment` a kind. Nothing makes it shorter than `floor`, a published limit.
    """

    number: int
    component: str
    name: str
    attention: Attention
    range: Range
    follows: tuple[int, ...] = ()
    keeps: timedelta | None = None
    wait: tuple[timedelta, timedelta | None] | None = None
    gear: tuple[str, ...] = ()
    oven: int | None = None
    at: float | None = None
    cook: str | None = None
    optional: bool = False
    between: tuple[Weekly, ...] = ()
    on: tuple[int | date, ...] = ()
    tend: Tend | None = None
    amounts: tuple[Amount, ...] = ()
    buy: timedelta | None = None
    caution: str | None = None
    core: Core | None = None
    ripens: Ripens | None = None
    ferment: str | None = None
    floor: timedelta | None = None
    line: int | None = None

    @property
    def grain(self) -> timedelta:
        """Planned starts fall on five-minute marks, on one-minute marks for steps shorter than that."""
        longest = self.range.longest
        return MINUTE if longest is not None and longest < FIVE_MINUTES else FIVE_MINUTES

    @property
    def fresh_for(self) -> timedelta:
        return self.keeps or NO_TIME


@dataclass(frozen=True, slots=True)
class Link:
    """`after` starts between `shortest` and `longest` (None: no limit) after `before` ends.

    `after` None stands for the table: the serving hour.
    """

    before: int
    after: int | None
    shortest: timedelta
    longest: timedelta | None

    @property
    def tied(self) -> bool:
        """No gap at all: the one starts the moment the other ends."""
        return self.longest == NO_TIME


@dataclass(frozen=True, slots=True)
class Component:
    """A part of the meal made on its own."""

    name: str
    steps: tuple[Step, ...]
    optional: bool = False


@dataclass(frozen=True, slots=True)
class Cook:
    """One pair of hands, awake and away by the wall clock.

    `home` holds stretches in which the cook is up and at home whatever the other two say: a late evening, an
    hour off work.
    """

    name: str
    awake: Hours
    away: Hours = ()
    home: Hours = ()


@dataclass(frozen=True, slots=True)
class Kitchen:
    """Who and what there is to cook with; gear by name and count."""

    cooks: tuple[Cook, ...]
    gear: dict[str, int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        if not self.cooks:
            raise PlanError("a kitchen needs a cook")
        if len({cook.name for cook in self.cooks}) < len(self.cooks):
            raise PlanError("two cooks have one name")

    @property
    def ovens(self) -> int:
        return self.gear.get("oven", 0)


@dataclass(frozen=True)
class Plan:
    """A whole plan. `serve` is an aware UTC instant, or None when it is given later."""

    title: str
    zone: str
    kitchen: Kitchen
    components: tuple[Component, ...]
    serve: datetime | None = None
    serves: int | None = None
    remarks: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if not self.components or not all(component.steps for component in self.components):
            raise PlanError("a plan needs components, and every component a step")
        if [step.number for step in self.steps] != list(range(len(self.steps))):
            raise PlanError("steps must be numbered in the order they are written")
        self._check_gear()
        tuple(self.order)  # raises on a cycle

    def _check_gear(self) -> None:
        names = {cook.name for cook in self.kitchen.cooks}
        for step in self.steps:
            for piece in set(step.gear):
                if step.gear.count(piece) > self.kitchen.gear.get(piece, 0):
                    raise PlanError(f"{step.name!r} needs more of {piece!r} than the kitchen has")
            if step.oven is not None and not self.kitchen.ovens:
                raise PlanError(f"{step.name!r} needs an oven and the kitchen has none")
            if step.cook is not None and step.cook not in names:
                raise PlanError(f"{step.name!r} names a cook who is not in the kitchen")

    @cached_property
    def steps(self) -> tuple[Step, ...]:
        return tuple(step for component in self.components for step in component.steps)

    @cached_property
    def links(self) -> tuple[Link, ...]:
        """Every "comes after", and the links from last steps to the table."""
        return tuple(self._links())

    def _links(self) -> Iterator[Link]:
        for step in self.steps:
            for before in step.follows:
                yield self.link(self.steps[before], step)
        followed = {before for step in self.steps for before in step.follows}
        for component in self.components:
            last = component.steps[-1]
            if last.number not in followed:
                yield Link(last.number, None, NO_TIME, last.fresh_for)

    @staticmethod
    def link(before: Step, after: Step) -> Link:
        """How the gap between two steps is bounded, by what the first keeps and the second waits."""
        if after.wait is None:
            return Link(before.number, after.number, NO_TIME, before.fresh_for)
        shortest, longest = after.wait
        if before.keeps is not None:
            longest = before.keeps if longest is None else min(longest, before.keeps)
        if longest is not None and longest < shortest:
            raise PlanError(f"{after.name!r} waits longer than {before.name!r} keeps")
        return Link(before.number, after.number, shortest, longest)

    @cached_property
    def links_into(self) -> tuple[tuple[Link, ...], ...]:
        return tuple(tuple(link for link in self.links if link.after == step.number) for step in self.steps)

    @cached_property
    def links_out_of(self) -> tuple[tuple[Link, ...], ...]:
        return tuple(tuple(link for link in self.links if link.before == step.number) for step in self.steps)

    @cached_property
    def order(self) -> tuple[int, ...]:
        """Step numbers so that each comes after all it follows; raises PlanError on a cycle."""
        waiting = {step.number: set(step.follows) for step in self.steps}
        ordered: list[int] = []
        while waiting:
            free = [number for number, follows in waiting.items() if not follows & waiting.keys()]
            if not free:
                names = ", ".join(repr(self.steps[number].name) for number in sorted(waiting))
                raise PlanError(f"these steps wait for one another: {names}")
            ordered += free
            for number in free:
                del waiting[number]
        return tuple(ordered)

    def cooks_of(self, step: Step) -> tuple[Cook, ...]:
        """The cooks who may do it: the one it names, or any."""
        return tuple(cook for cook in self.kitchen.cooks if step.cook in (None, cook.name))

    def horizon(self) -> timedelta:
        """A stretch long enough to hold every step one after another, with a week to spare."""
        total = timedelta(days=7)
        for step in self.steps:
            total += step.range.longest or step.range.usually or step.range.shortest
            total += step.wait[0] if step.wait else NO_TIME
        return total
