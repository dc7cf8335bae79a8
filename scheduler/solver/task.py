"""What the solver is asked, and what it answers."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from scheduler.domain.plan import Plan
from scheduler.domain.progress import Progress
from scheduler.domain.timetable import Slot, Timetable
from scheduler.facts import Fact


@dataclass(frozen=True, slots=True)
class Bound:
    """A start kept between two instants, each of them allowed; None: no limit on that side."""

    step: int
    not_before: datetime | None = None
    not_after: datetime | None = None


@dataclass(frozen=True)
class Task:
    """What is to be timed: `serve` is the serving hour asked for, `previous` the timetable in force.

    With `latest_serve` later than `serve` the hour itself is sought: the earliest between them. `dropped`
    names facts to leave out, to find which of them conflict. `from_now`: look at all the time from now on, not
    only at as much of it as the steps take. `bounds` narrow down starts of steps not begun, beyond the plan.
    """

    plan: Plan
    progress: Progress
    now: datetime
    serve: datetime
    latest_serve: datetime | None = None
    previous: Timetable | None = None
    dropped: frozenset[Fact] = frozenset()
    from_now: bool = False
    bounds: tuple[Bound, ...] = ()


class Verdict(StrEnum):
    OPTIMAL = "optimal"
    FEASIBLE = "feasible"
    INFEASIBLE = "infeasible"
    UNKNOWN = "unknown"


@dataclass(frozen=True)
class Answer:
    """A verdict, with slots (windows not yet worked out) and the serving hour where there is one.

    `cost` is what the first preferences cost, `bound` what they cost at least; None where nothing was sought.
    """

    verdict: Verdict
    slots: tuple[Slot, ...] = ()
    serve: datetime | None = None
    cost: int | None = None
    bound: int | None = None

    @property
    def fits(self) -> bool:
        return self.verdict in (Verdict.OPTIMAL, Verdict.FEASIBLE)
