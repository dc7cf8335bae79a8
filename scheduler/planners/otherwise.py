"""What to answer when there is no time to search: the timetable in force if it holds, else one placed step by
step without a search, else an honest misfit.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime

from scheduler.domain.check import check
from scheduler.domain.plan import Plan
from scheduler.domain.progress import Progress, at_the_start
from scheduler.domain.timetable import Timetable
from scheduler.explain import GAVE_UP, Misfit
from scheduler.planning import carried_on, complete
from scheduler.solver import Task, placed


def best_so_far(
    plan: Plan, serve: datetime, now: datetime, progress: Progress | None, previous: Timetable | None
) -> Timetable | Misfit:
    """The first of the timetables at hand that the verifier accepts; never called proven."""
    standing = progress or at_the_start(plan)
    for timetable in _at_hand(plan, serve, now, standing, previous):
        if not check(plan, timetable, now, standing):
            return replace(timetable, proven=False)
    return Misfit(serve, (GAVE_UP,), (), proven=False)


def _at_hand(
    plan: Plan, serve: datetime, now: datetime, progress: Progress, previous: Timetable | None
) -> Iterator[Timetable]:
    """The timetable in force with what really happened, as little moved as can be; then a schedule of our own."""
    if previous is not None and previous.serve == serve:
        yield carried_on(plan, previous, now, progress)
    answer = placed(Task(plan, progress, now, serve))
    if answer.fits:
        yield complete(plan, serve, now, progress, answer.slots, proven=False)
