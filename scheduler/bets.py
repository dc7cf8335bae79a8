"""The promise of a timetable together with what would mend it, every mend tried out."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from scheduler.domain.plan import Plan
from scheduler.domain.progress import Progress, at_the_start
from scheduler.domain.promise import Bet, Promise, promise
from scheduler.domain.timetable import Timetable
from scheduler.mending import Mend, mends
from scheduler.planning import within
from scheduler.solver import Bound

LARGE, MENDED = 60, 6
"""Beyond so many steps a mend is sought for the first bet alone: each takes a second or more to try out."""


@dataclass(frozen=True)
class Bets:
    """`mends` has one entry for each of the promise's breaks, empty where nothing was found to mend it."""

    promise: Promise
    mends: tuple[tuple[Mend, ...], ...] = ()


def bets_on(plan: Plan, timetable: Timetable, now: datetime, progress: Progress | None = None) -> Bets:
    """Whether the promise is kept; if it is a bet, on what, and what would mend each."""
    progress = progress or at_the_start(plan)
    found = promise(plan, timetable, now, progress)
    if not found.breaks:
        return Bets(found)
    bet = Bet(plan, timetable, now, progress)

    def solve(changed: Plan, bounds: tuple[Bound, ...]) -> Timetable | None:
        return within(changed, timetable.serve, now, progress, bounds)

    worth = MENDED if len(timetable.slots) <= LARGE else 1
    looked = tuple(mends(bet, lost, solve) for lost in found.breaks[:worth])
    return Bets(found, looked + ((),) * (len(found.breaks) - len(looked)))
