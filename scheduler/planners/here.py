"""The planner in this process: for a single command, a rehearsal, and tests.

Its time limit is the solver's own, which counts work rather than seconds: the same on every machine.
"""

from __future__ import annotations

from datetime import datetime

from scheduler import planning, when
from scheduler.domain.plan import Plan
from scheduler.domain.progress import Progress
from scheduler.domain.timetable import Timetable
from scheduler.domain.wanted import Wanted
from scheduler.explain import Misfit
from scheduler.ports import Planner
from scheduler.reasons import Reasons, reasons


class Here(Planner):
    """Answers at once, while the caller waits."""

    def time_out(
        self,
        plan: Plan,
        serve: datetime,
        now: datetime,
        progress: Progress | None = None,
        previous: Timetable | None = None,
    ) -> Timetable | Misfit:
        return planning.time_out(plan, serve, now, progress, previous)

    def first_within(
        self, plan: Plan, now: datetime, wanted: Wanted, progress: Progress | None = None
    ) -> Timetable | Misfit:
        return when.to_offer(plan, now, wanted, progress)

    def lasting(self, misfit: Misfit, plan: Plan, now: datetime, progress: Progress | None = None) -> Misfit:
        return planning.lasting(misfit, plan, now, progress)

    def ways_out(self, misfit: Misfit, plan: Plan, now: datetime, progress: Progress | None = None) -> Misfit:
        return planning.ways_out(misfit, plan, now, progress)

    def why(
        self, plan: Plan, timetable: Timetable, step: int, now: datetime, progress: Progress
    ) -> Reasons | None:
        return reasons(plan, timetable, step, now, progress)

    def close(self) -> None:
        """There is nothing to let go of."""
