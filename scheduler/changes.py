"""What can be changed about a meal: the hour, the kitchen's hours, hands and gear, its parts, how many it serves.

A change is plain data, so that it can be offered, stored and done again. What is offered so that a meal fits never
touches what a step takes. Only what the cook says does that, of a warmer kitchen or a starter of their own, and never
under a published limit. None touches how long anything keeps.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from enum import StrEnum
from typing import Any, ClassVar

from pydantic import ConfigDict, TypeAdapter

from scheduler.domain import hours
from scheduler.domain.kitchen.hazards.guards import oil_kept_too_long, unguarded
from scheduler.domain.plan import Cook, Kitchen, Plan, Range
from scheduler.domain.progress import Progress, Standing, State
from scheduler.domain.scaling import for_so_many, with_step

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
    SERVES = "serves"
    LASTS = "lasts"


AT_HOME = frozenset({ChangeKind.BED, ChangeKind.ALARM, ChangeKind.OFF})
"""What keeps a cook up, or in, for a stretch."""

OF_THE_KITCHEN = AT_HOME | {ChangeKind.HELPER, ChangeKind.GEAR}
"""What changes who and what there is to cook with. The plan is read with these, and with OF_THE_STEPS."""

OF_THE_STEPS = frozenset({ChangeKind.SERVES, ChangeKind.LASTS})
"""What changes the amounts or the lengths of steps, whatever the hour."""


@dataclass(frozen=True, slots=True)
class Change:
    """One change. `serve` is another hour at the table (HOUR); every time an aware UTC instant.

    `cook` stays up, gets up or stays in from `start` to `end` (BED, ALARM, OFF); somebody lends a hand then
    (HELPER). `gear` is the name of what there is one more of (GEAR). `step` is left out (SKIP), or all of its
    component that is not done yet (LEAVE_OUT). `serves` is how many there are at the table (SERVES). `step`
    lasts from `shortest` to `longest` minutes, as a rule `usually` (LASTS): said by the cook, or worked out from
    what the cook said, for `at_c` degrees Celsius where a temperature is why; never offered as a way out, and
    never shorter than a published limit. Where it is the cook's own starter that says so, the last one took `took`
    minutes, at `took_at_c` degrees Celsius.
    """

    __pydantic_config__: ClassVar[ConfigDict] = ConfigDict(extra="forbid")

    kind: ChangeKind
    cook: str | None = None
    start: datetime | None = None
    end: datetime | None = None
    gear: str | None = None
    step: int | None = None
    serve: datetime | None = None
    serves: int | None = None
    shortest: int | None = None
    longest: int | None = None
    usually: int | None = None
    at_c: float | None = None
    took: int | None = None
    took_at_c: float | None = None

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
        """The steps this leaves out. ValueError where food would be kept that one of them guards."""
        if self.kind not in (ChangeKind.SKIP, ChangeKind.LEAVE_OUT):
            return frozenset()
        step = plan.steps[_of(plan, self.step)]
        whole = self.kind is ChangeKind.LEAVE_OUT
        gone = frozenset(each.number for each in plan.steps if whole and each.component == step.component)
        found = unguarded(plan, gone or frozenset({step.number}), progress.dropped)
        if found is not None and found.hard:
            raise ValueError(f"{found.step.name!r} may not be left out while the rest is kept")
        left = frozenset(number for number in gone if progress.state(number) is not State.DONE)
        return left if whole else frozenset({step.number})

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
    """The plan with what it is read with changed, one after another; other changes leave it as it is.

    ValueError for a change that the plan has no room for.
    """
    for change in changes:
        if change.kind in OF_THE_KITCHEN:
            plan = replace(plan, kitchen=_kitchen(plan.kitchen, change, plan.zone))
        elif change.kind is ChangeKind.SERVES:
            plan = for_so_many(plan, change.serves or 0)
        elif change.kind is ChangeKind.LASTS:
            plan = _lasting(plan, change)
    return plan


def _lasting(plan: Plan, change: Change) -> Plan:
    step = plan.steps[_of(plan, change.step)]
    shortest = timedelta(minutes=change.shortest or 0)
    if step.floor is not None and shortest < step.floor:
        raise ValueError(f"{step.name!r} may not be shorter than {step.floor}")
    if step.core is not None and change.at_c is not None:
        raise ValueError(f"how long {step.name!r} heats is worked out for the temperature the plan says")
    longest = None if change.longest is None else timedelta(minutes=change.longest)
    usually = None if change.usually is None else timedelta(minutes=change.usually)
    lasts = Range(shortest, longest, step.range.until, usually)
    after = with_step(plan, replace(step, range=lasts, at=step.at if change.at_c is None else change.at_c))
    if oil_kept_too_long(after, after.steps[step.number]):
        raise ValueError(f"{step.name!r} may not keep garlic or herbs in oil for so long")
    return after


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
