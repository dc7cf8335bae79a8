"""The planner in a process of its own, for a bot that has to go on answering.

What OR-Tools needs of memory and time stays out of the bot, and a search that does not come to an end is
stopped with its process.
"""

from __future__ import annotations

import atexit
import logging
import threading
from collections.abc import Callable
from datetime import datetime, timedelta
from typing import Any, Self, TypeVar

from scheduler import planning, when
from scheduler.domain.plan import Plan
from scheduler.domain.progress import Progress
from scheduler.domain.timetable import Timetable
from scheduler.domain.wanted import Wanted
from scheduler.explain import GAVE_UP, Misfit
from scheduler.planners.child import Question, Reply
from scheduler.planners.line import Child, NoAnswer
from scheduler.planners.otherwise import best_so_far
from scheduler.planning import TO_AGREE
from scheduler.ports import Planner
from scheduler.reasons import Reasons, reasons

log = logging.getLogger(__name__)

T = TypeVar("T")

LIMIT = timedelta(seconds=20)
"""How long an answer may take by the clock on the wall; the solver's own limits come long before."""


class Apart(Planner):
    """Asks a child process, started at the first question and again when it was lost.

    Safe from any thread; questions wait for one another. Close it, or leave its `with`, to end the child.
    """

    def __init__(self, limit: timedelta = LIMIT) -> None:
        self.limit = limit
        self._one_at_a_time = threading.Lock()
        self._child: Child | None = None

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def time_out(
        self,
        plan: Plan,
        serve: datetime,
        now: datetime,
        progress: Progress | None = None,
        previous: Timetable | None = None,
    ) -> Timetable | Misfit:
        asked = plan, serve, now, progress, previous
        return self.ask(planning.time_out, *asked, otherwise=lambda: best_so_far(*asked), tells=True)

    def first_within(
        self, plan: Plan, now: datetime, wanted: Wanted, progress: Progress | None = None
    ) -> Timetable | Misfit:
        def none_found() -> Misfit:
            return Misfit(when.windows(plan, now + TO_AGREE, wanted)[-1][1], (GAVE_UP,), (), proven=False)

        return self.ask(when.to_offer, plan, now, wanted, progress, otherwise=none_found)

    def lasting(self, misfit: Misfit, plan: Plan, now: datetime, progress: Progress | None = None) -> Misfit:
        return self.ask(planning.lasting, misfit, plan, now, progress, otherwise=lambda: misfit)

    def ways_out(self, misfit: Misfit, plan: Plan, now: datetime, progress: Progress | None = None) -> Misfit:
        return self.ask(planning.ways_out, misfit, plan, now, progress, otherwise=lambda: misfit)

    def why(
        self, plan: Plan, timetable: Timetable, step: int, now: datetime, progress: Progress
    ) -> Reasons | None:
        return self.ask(reasons, plan, timetable, step, now, progress, otherwise=lambda: None)

    def ask(
        self, function: Callable[..., T], *given: Any, otherwise: Callable[[], T], tells: bool = False
    ) -> T:
        """What a function of some module returns when the child calls it. When time runs out, what the child
        told that would do (`tells`: see Question), or else `otherwise`.

        What it raises is raised here, with the child's traceback as a note.
        """
        try:
            with self._one_at_a_time:
                answer, error = self._reply(Question(function, given, tells))
        except NoAnswer as why:
            log.warning("planning: %s; answering with what there is", why)
            so_far: T | None = why.so_far
            return otherwise() if so_far is None else so_far
        if error is not None:
            raise error
        found: T = answer
        return found

    def close(self) -> None:
        """End the child process. A question asked afterwards starts another."""
        with self._one_at_a_time:
            self._end()

    # ------------------------------------------------------------ the child

    def _reply(self, question: Question) -> Reply:
        child, reply = self._started(), None
        try:
            reply = child.reply(question, self.limit)
            return reply
        finally:
            if reply is None:
                # Whatever kept it, what it might still say must not answer a later question.
                self._end()

    def _started(self) -> Child:
        """A child that is running."""
        if self._child is None or not self._child.process.is_alive():
            self._end()
            self._child = Child.started()
            # Before the interpreter waits for its child processes: this one does not go by itself.
            atexit.register(self.close)
        return self._child

    def _end(self) -> None:
        if self._child is not None:
            atexit.unregister(self.close)
            self._child.end()
        self._child = None
