"""Misfits with every way out, and whether a way out really does."""

from __future__ import annotations

from datetime import datetime, timedelta

from scheduler.changes import ChangeKind
from scheduler.domain.check import check
from scheduler.domain.plan import Plan
from scheduler.domain.progress import Progress, at_the_start
from scheduler.domain.timetable import Timetable
from scheduler.explain import Misfit, Remedy
from scheduler.planning import time_out, ways_out
from tests.plans_for_tests import at

NO_LEAD = timedelta(0)


def misfit_of(made: Plan, serve: datetime, now: datetime, progress: Progress | None = None) -> Misfit:
    """Why it does not fit, with every way out."""
    found = time_out(made, serve, now, progress)
    assert isinstance(found, Misfit)
    return ways_out(found, made, now, progress, NO_LEAD)


def told(made: Plan, serve: str, now: str) -> list[str]:
    """The ways out in words, each tried on the plan."""
    found = misfit_of(made, at(serve), at(now))
    for remedy in found.remedies:
        assert sound(remedy, made, at(now), at_the_start(made)), remedy
    return [remedy.change for remedy in found.remedies]


def sound(remedy: Remedy, made: Plan, now: datetime, progress: Progress) -> bool:
    """Whether the change, made to the plan as it was written, gives a timetable with nothing wrong in it."""
    assert remedy.what is not None
    after, standing = made, progress
    if remedy.what.kind is not ChangeKind.HOUR:
        after, standing = remedy.what.apply(made, progress)
    found = time_out(after, remedy.serve, now, standing)
    return isinstance(found, Timetable) and check(after, found, now, standing) == ()
