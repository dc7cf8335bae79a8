"""What follows if a step that was missed is begun now: worked out, never guessed."""

from __future__ import annotations

from scheduler.domain.stages import About, Nudge, Stage
from scheduler.explain import Misfit
from scheduler.ports import Planner
from scheduler.service.acting import moves
from scheduler.service.answers import Consequence
from scheduler.service.view import View


def consequence(nudge: Nudge, view: View, planner: Planner) -> Consequence | None:
    """Only for steps whose window has shut."""
    if nudge.stage is not Stage.MISSED or nudge.about is not About.START:
        return None
    timing = planner.time_out(view.plan, view.serve, view.now, view.progress, view.timetable)
    if isinstance(timing, Misfit):
        return Consequence(None, timing)
    return Consequence(timing, None, moves(view.timetable, timing, view))
