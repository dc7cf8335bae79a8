"""What can be changed about a meal so that it fits: the hour, the kitchen's hours, hands and gear, its parts.

A change is plain data, so that it can be offered, stored and done again. None of them touches what a step
takes, how long anything keeps, or how it is heated or cooled.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime
from enum import StrEnum
from typing import Any, ClassVar

from pydantic import ConfigDict, TypeAdapter

from scheduler.domain import hours
from scheduler.domain.plan import Cook, Kitchen, Plan
from scheduler.domain.progress import Progress, Standing, State

HELPER = "Helper"


class ChangeKind(StrEnum):
    HOUR = "hour"
    BED = "bed"
    ALARM = "alarm"
    OFF = "off"
    HELPER = "helper"
    GEAR = "gear"
    LEAVE_OUT = "leave out"
    SKIP = "skip"


AT_HOME = frozenset({ChangeKind.BED, ChangeKind.ALARM, ChangeKind.OFF})
"""What keeps a cook up, or in, for a stretch."""

OF_THE_KITCHEN = AT_HOME | {ChangeKind.HELPER, ChangeKind.GEAR}
"""What the plan is read with from then on; the others move the hour or leave steps out."""


@dataclass(frozen=True, slots=True)
class Change:
    """One change. `serve` is another hour at the table (HOUR); every time an aware UTC instant.

    `cook` stays up, gets up or stays in from `start` to `end` (BED, ALARM, OFF); somebody lends a hand then
    (HELPER). `gear` is the name of what there is one more of (GEAR). `step` is left out (SKIP), or all of its
    component that is not done yet (LEAVE_OUT).
    """

    __pydantic_config__: ClassVar[ConfigDict] = ConfigDict(extra="forbid")

    kind: ChangeKind
    cook: str | None = None
    start: datetime | None = None
    end: datetime | None = None
    gear: str | None = None
    step: int | None = None
    serve: datetime | None = None

    def __post_init__(self) -> None:
        if any(at is not None and at.utcoffset() is None for at in (self.start, self.end, self.serve)):
            raise ValueError("a time without a zone is not an instant")

    def apply(self, plan: Plan, progress: Progress) -> tuple[Plan, Progress]:
        """The plan and where it stands with this change made; the serving hour is not part of either.

        Raises ValueError for a cook, a piece of gear or a step that the plan does not have.
        """
        if self.kind in (ChangeKind.LEAVE_OUT, ChangeKind.SKIP):
            return plan, _without(progress, self.left_out(plan, progress))
        return changed(plan, (self,)), progress

    def left_out(self, plan: Plan, progress: Progress) -> frozenset[int]:
        """The steps this leaves out."""
        if self.kind is ChangeKind.SKIP:
            return frozenset({_of(plan, self.step)})
        if self.kind is not ChangeKind.LEAVE_OUT:
            return frozenset()
        name = plan.steps[_of(plan, self.step)].component
        steps = [step.number for step in plan.steps if step.component == name]
        return frozenset(number for number in steps if progress.state(number) is not State.DONE)

    def as_json(self) -> dict[str, Any]:
        """The fields that are set; instants as ISO 8601 in UTC."""
        found: dict[str, Any] = _ADAPTER.dump_python(self, mode="json", exclude_none=True)
        return found

    @staticmethod
    def from_json(data: Any) -> Change:
        """Raises ValueError for anything that `as_json` does not write."""
        return _ADAPTER.validate_python(data)


_ADAPTER = TypeAdapter(Change)


def changed(plan: Plan, changes: Iterable[Change]) -> Plan:
    """The plan with changes of the kitchen made, one after another; others leave it as it is."""
    for change in changes:
        if change.kind in OF_THE_KITCHEN:
            plan = replace(plan, kitchen=_kitchen(plan.kitchen, change, plan.zone))
    return plan


def _kitchen(kitchen: Kitchen, change: Change, zone: str) -> Kitchen:
    if change.kind is ChangeKind.GEAR:
        if change.gear not in kitchen.gear:
            raise ValueError(f"the kitchen has no {change.gear!r}")
        return replace(kitchen, gear={**kitchen.gear, change.gear: kitchen.gear[change.gear] + 1})
    stretch = _stretch(change, zone)
    if change.kind is ChangeKind.HELPER:
        return replace(kitchen, cooks=_with_a_helper(kitchen.cooks, stretch))
    if change.cook not in [cook.name for cook in kitchen.cooks]:
        raise ValueError(f"the kitchen has no cook named {change.cook!r}")
    return replace(
        kitchen,
        cooks=tuple(
            replace(cook, home=(*cook.home, stretch)) if cook.name == change.cook else cook
            for cook in kitchen.cooks
        ),
    )


def _stretch(change: Change, zone: str) -> hours.Dated:
    """By the wall clock, as all hours of a kitchen are."""
    if change.start is None or change.end is None or change.end <= change.start:
        raise ValueError(f"a change of hours needs a start and an end after it: {change}")
    start, end = (hours.local(at, zone).replace(tzinfo=None, fold=0) for at in (change.start, change.end))
    return hours.Dated(start, end)


def on_the_clock(at: datetime, zone: str) -> bool:
    """Whether the wall clock names this instant, and not the other of a time that comes twice."""
    return hours.instant(hours.local(at, zone).replace(tzinfo=None), zone) == at


def _with_a_helper(cooks: tuple[Cook, ...], stretch: hours.Dated) -> tuple[Cook, ...]:
    """One helper, who has nothing but dated hours, whatever number of them."""
    for cook in cooks:
        if cook.name.startswith(HELPER) and all(isinstance(span, hours.Dated) for span in cook.awake):
            more = replace(cook, awake=(*cook.awake, stretch))
            return tuple(more if each is cook else each for each in cooks)
    return (*cooks, Cook(_free_name(cooks), (stretch,)))


def _free_name(cooks: tuple[Cook, ...]) -> str:
    taken = {cook.name.casefold() for cook in cooks}
    names = [HELPER, *(f"{HELPER} {number}" for number in range(2, len(taken) + 2))]
    return next(name for name in names if name.casefold() not in taken)


def _of(plan: Plan, step: int | None) -> int:
    if step is None or not 0 <= step < len(plan.steps):
        raise ValueError(f"the plan has no step {step}")
    return step


def _without(progress: Progress, steps: frozenset[int]) -> Progress:
    gone = Standing(State.DROPPED)
    standings = [gone if number in steps else each for number, each in enumerate(progress.standings)]
    return replace(progress, standings=tuple(standings))
