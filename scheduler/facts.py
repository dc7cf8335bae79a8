"""The facts of a plan that can stand in each other's way, each of which can be left out of a search."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from scheduler.domain.plan import Link, Plan
from scheduler.domain.progress import Progress, State, live_links


class FactKind(StrEnum):
    NOW = "now"
    SERVE = "serve"
    LENGTH = "length"
    KEEPS = "keeps"
    HOURS = "hours"
    ONLY = "only"
    COOK = "cook"
    GEAR = "gear"
    PUT_OFF = "put off"


@dataclass(frozen=True, slots=True)
class Fact:
    """One fact: of a step, of the gap after a step (`step` before `other`, or before the meal), of a cook or of
    gear.
    """

    kind: FactKind
    step: int | None = None
    other: int | None = None
    name: str | None = None


NOW = Fact(FactKind.NOW)
SERVE = Fact(FactKind.SERVE)


def facts_of(plan: Plan, progress: Progress) -> tuple[Fact, ...]:
    """Every fact a search can do without, the most telling first."""
    live = [step for step in plan.steps if progress.state(step.number) in (State.WAITING, State.RUNNING)]
    waiting = [step for step in live if progress.state(step.number) is State.WAITING]
    found = [SERVE, NOW]
    found += [Fact(FactKind.LENGTH, step=step.number) for step in live]
    found += [
        Fact(FactKind.KEEPS, step=link.before, other=link.after)
        for link in live_links(plan, progress.dropped)
        if link.longest is not None and _still_binds(link, progress)
    ]
    found += [Fact(FactKind.HOURS, step=step.number) for step in live]
    found += [Fact(FactKind.ONLY, step=step.number) for step in waiting if step.between or step.on]
    found += [
        Fact(FactKind.PUT_OFF, step=step.number) for step in waiting if progress.of(step.number).not_before
    ]
    found += [Fact(FactKind.COOK, name=cook.name) for cook in plan.kitchen.cooks]
    found += [Fact(FactKind.GEAR, name=name) for name in sorted(plan.kitchen.gear)]
    return tuple(found)


def _still_binds(link: Link, progress: Progress) -> bool:
    """What went to the table already waits for nothing."""
    return link.after is not None or progress.state(link.before) is not State.DONE
