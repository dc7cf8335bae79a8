"""The port through which services have timetables worked out."""

from __future__ import annotations

from datetime import datetime
from typing import Protocol

from scheduler.domain.plan import Plan
from scheduler.domain.progress import Progress
from scheduler.domain.timetable import Timetable
from scheduler.domain.wanted import Wanted
from scheduler.explain import Misfit
from scheduler.reasons import Reasons


class Planner(Protocol):
    """Works out timetables. May be asked from any thread; answers one question at a time.

    The same question has the same answer, unless time ran out over it. Every answer is ready within a time
    limit: where there was not enough, it is the best found so far, with `proven` False, or a misfit with
    `proven` False. Lack of time raises nothing. A timetable was accepted by the verifier (`domain.check`);
    Unsound is raised when the only one found was refused. Never asked while a unit of work is open.
    """

    def time_out(
        self,
        plan: Plan,
        serve: datetime,
        now: datetime,
        progress: Progress | None = None,
        previous: Timetable | None = None,
    ) -> Timetable | Misfit:
        """The timetable for a serving hour, or why there is none. With `previous`, the timetable in force,
        as little of it moves as can be. Without `progress` nothing has been done yet.
        """
        ...

    def first_within(
        self, plan: Plan, now: datetime, wanted: Wanted, progress: Progress | None = None
    ) -> Timetable | Misfit:
        """The timetable for the first of the hours wanted that fits, and still will when a cook has read it, or
        why the last of them does not. Raises NoHours (`domain.wanted`) where none is to come. Without `progress`
        nothing has been done yet.
        """
        ...

    def lasting(self, misfit: Misfit, plan: Plan, now: datetime, progress: Progress | None = None) -> Misfit:
        """The misfit with hours to offer that still fit when a cook has read it; as it is when there is none
        nearly as early, or no time to find it.
        """
        ...

    def ways_out(self, misfit: Misfit, plan: Plan, now: datetime, progress: Progress | None = None) -> Misfit:
        """The misfit with up to five remedies, the least disturbing first, that still fit when a cook has read
        them; as it is when there is no time to look for any.
        """
        ...

    def why(
        self, plan: Plan, timetable: Timetable, step: int, now: datetime, progress: Progress
    ) -> Reasons | None:
        """Why a step of the timetable is when it is; None when there was no time to find out. Raises
        ValueError for a step that is not part of it.
        """
        ...
