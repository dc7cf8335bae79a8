"""Which clock is meant: of those that run for a chat's plans and of those that belong to none."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime

from scheduler.commands import Target
from scheduler.domain import clocks
from scheduler.domain.kitchen.holding import Clock, Limit
from scheduler.domain.kitchen.rules import Rules
from scheduler.domain.stages import About
from scheduler.ports import UnitOfWork
from scheduler.records import PlanStatus
from scheduler.service import loose_clocks
from scheduler.service.clock_answers import ClockLine, ClockRef
from scheduler.service.loose_clocks import LooseClock
from scheduler.service.scene import Scene
from scheduler.service.view import View, view_of

STEM = 4
"""So many letters make two words one: "bean" and "beans"."""


@dataclass(frozen=True, slots=True)
class Known:
    """A clock that runs; `loose` where it belongs to no plan."""

    name: str
    clock: Clock
    ref: ClockRef
    zone: str
    loose: LooseClock | None = None


def every_one(uow: UnitOfWork, scene: Scene, rules: Rules) -> list[Known]:
    """All that a cook may speak of, also where the last limit has passed; those of the plan meant first."""
    found: list[Known] = []
    for view in fresh(uow, scene):
        for each in clocks.under_way(view.plan, view.progress, scene.now):
            if clocks.told_limits(each.clock, rules):
                found.append(known(each, view))
    found += [loose(clock, scene) for clock in loose_clocks.running(uow, scene.chat.id or 0)]
    return found


def known(clock: clocks.FoodClock, view: View) -> Known:
    """One of a plan."""
    return Known(clock.name, clock.clock, ClockRef(view.id, clock.step, clock.number), view.zone)


def loose(clock: LooseClock, scene: Scene) -> Known:
    """One that belongs to no plan."""
    return Known(clock.name, clock.clock, ClockRef(loose=clock.id), scene.zone, clock)


def fresh(uow: UnitOfWork, scene: Scene) -> Iterator[View]:
    """The plans under way as they are stored now."""
    for view in scene.views:
        row = uow.plans.get(view.id)
        if row is not None and row.status is PlanStatus.ACTIVE:
            yield view_of(uow, row, scene.now)


def meant(every: Sequence[Known], scene: Scene, name: str, steps: tuple[Target, ...]) -> list[Known]:
    """Those that may be meant: of the food that is named, else the one just spoken of, else any."""
    view = scene.view
    if steps and view is not None:
        part = view.step(steps[0].step).component
        mine = [each for each in every if (each.ref.plan, each.name) == (view.id, part)]
        if mine or not name:
            return mine
    if name:
        return [each for each in every if alike(each.name, name)]
    letter = scene.asked_letter
    if letter is not None and letter.about is About.CLOCK:
        asked = ClockRef(letter.plan, letter.step, letter.occurrence)
        if told := [each for each in every if each.ref == asked]:
            return told
    return list(every)


def alike(one: str, other: str) -> bool:
    """Whether two names have a word in common, as far as its beginning."""
    return bool(_stems(one) & _stems(other))


def _stems(name: str) -> set[str]:
    return {word[:STEM] for word in name.casefold().split() if len(word) > 2}


def lines_of(every: Iterable[Known | clocks.FoodClock], rules: Rules, now: datetime) -> tuple[ClockLine, ...]:
    """What each must come to next; those whose last limit has passed have no line."""
    coming = ((each.name, _next(each.clock, rules, now)) for each in every)
    return tuple((name, limit.says, limit.at) for name, limit in coming if limit is not None)


def _next(clock: Clock, rules: Rules, now: datetime) -> Limit | None:
    return next((limit for limit in clocks.told_limits(clock, rules) if limit.at >= now), None)
