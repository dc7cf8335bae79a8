"""Ways out of a misfit: single changes, each solved and verified before it is shown, the least disturbing first.

What a step takes, how long anything keeps, heat and cooling are never among them: see scheduler.changes.
Disturbance is counted in minutes of people's lives. A later bedtime or an earlier alarm counts its minutes; an
hour at the table twice its distance from the one asked for, since it is everyone's; what has to be found, or
done without, counts as in AS_MINUTES.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from scheduler import words
from scheduler.change_words import offer
from scheduler.changes import Change, ChangeKind
from scheduler.domain.plan import MINUTE, Plan
from scheduler.facts import Fact
from scheduler.seeking import Search, made_to, may_be_too_late
from scheduler.solver import Task

MOST = 5
"""How many remedies are shown."""

AS_MINUTES = {
    ChangeKind.GEAR: 60,
    ChangeKind.HELPER: 90,
    ChangeKind.OFF: 120,
    ChangeKind.SKIP: 150,
    ChangeKind.LEAVE_OUT: 180,
}
"""What has to be found or done without, as so many minutes."""

Timed = Callable[[Task], bool]
"""Whether a task has a timetable that the verifier accepts."""


@dataclass(frozen=True)
class Remedy:
    """A change that was solved and does fit: in words, with the hour the meal is then served, and as data."""

    change: str
    serve: datetime
    what: Change | None = None

    @property
    def moves_the_hour(self) -> bool:
        return self.what is None or self.what.kind is ChangeKind.HOUR


def serving_at(serve: datetime, plan: Plan, why: str = "the earliest hour that fits") -> Remedy:
    """The remedy of another hour; `why` says which one it is."""
    what = Change(ChangeKind.HOUR, serve=serve)
    return Remedy(f"{offer(what, plan)}, {why}", serve, what)


def remedies(
    task: Task, facts: Sequence[Fact], earliest: datetime | None, timed: Timed
) -> tuple[Remedy, ...]:
    """Up to five for a task that does not fit, given the facts in conflict and the earliest hour that fits.

    `timed` solves and verifies.
    """
    search = Search(replace(task, previous=None), facts)
    found = sorted(search.changes(earliest), key=lambda change: disturbance(change, task.serve))
    shown: list[Change] = []
    for change in found:
        if len(shown) < MOST and timed(made_to(task, change)):
            shown.append(change)
    return tuple(
        _remedy(change, task, earliest, facts) for change in _with_an_hour(shown, found, task, timed)
    )


def _with_an_hour(shown: list[Change], found: list[Change], task: Task, timed: Timed) -> list[Change]:
    """Another hour is always among them, if there is one: it asks nothing of the kitchen."""
    if len(shown) < MOST or any(change.kind is ChangeKind.HOUR for change in shown):
        return shown
    hours = (change for change in found if change.kind is ChangeKind.HOUR)
    return [*shown[: MOST - 1], *(hour for hour in list(hours)[:1] if timed(made_to(task, hour)))]


def _remedy(change: Change, task: Task, earliest: datetime | None, facts: Sequence[Fact]) -> Remedy:
    if change.serve is None:
        return Remedy(offer(change, task.plan), task.serve, change)
    if change.serve == earliest:
        return serving_at(change.serve, task.plan, first_after(facts))
    return serving_at(change.serve, task.plan, _how_near(change.serve, task))


def first_after(facts: Sequence[Fact]) -> str:
    """What the first hour that fits from the one asked for on is called; without facts nothing was proven."""
    if not facts:
        return "an hour that fits"
    return "the next hour that fits" if may_be_too_late(facts) else "the earliest hour that fits"


def _how_near(serve: datetime, task: Task) -> str:
    apart = words.days_ahead(serve, task.plan.zone, task.serve)
    if not apart:
        return "the nearest hour that fits"
    return f"the nearest day that fits at {words.clock(serve, task.plan.zone)}"


def disturbance(change: Change, asked: datetime) -> float:
    """By how many minutes it disturbs."""
    if change.serve is not None:
        return 2 * abs(change.serve - asked) / MINUTE
    if change.kind in AS_MINUTES or change.start is None or change.end is None:
        return AS_MINUTES[change.kind]
    return (change.end - change.start) / MINUTE
