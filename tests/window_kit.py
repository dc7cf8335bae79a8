"""Windows in clock times, for tests that work them out by hand."""

from __future__ import annotations

from datetime import datetime, timedelta

from scheduler.domain.hours import local
from scheduler.domain.plan import Plan
from scheduler.domain.presence import Presence
from scheduler.domain.progress import Progress, at_the_start
from scheduler.domain.slack import with_windows
from scheduler.domain.timetable import Slot
from tests.plans_for_tests import PARIS, at, slot

DAY = "2026-12-12"
MORNING = at(f"{DAY} 07:00")
WEEKS = timedelta(days=21)


def windows(
    made: Plan, serve: str, *slots: Slot, now: datetime = MORNING, progress: Progress | None = None
) -> dict[str, str]:
    """The window of each step as local clock times: earliest, latest, last call."""
    progress, hour = progress or at_the_start(made), at(serve)
    presence = Presence(made, now - WEEKS, hour + WEEKS)
    found = with_windows(made, slots, now, hour, progress, presence)
    return {made.steps[each.step].name: words(each) for each in found}


def words(each: Slot) -> str:
    return " ".join(f"{local(t, PARIS):%H:%M}" for t in (each.earliest, each.latest, each.last_call))


def today(made: Plan, name: str, start: str, end: str, by: str | None = None) -> Slot:
    return slot(made, name, f"{DAY} {start}", f"{DAY} {end}", by)
