"""The reasons for a step, worked out for a question in the chat: the one place where they are asked for."""

from __future__ import annotations

from scheduler.commands import Target
from scheduler.domain.progress import State
from scheduler.ports import Planner
from scheduler.service.answers import WhyIs
from scheduler.service.view import View


def why(view: View, target: Target, planner: Planner) -> WhyIs:
    """Why a step is when it is; a step that is over or left out needs no reasons."""
    over = view.progress.state(target.step) in (State.DONE, State.DROPPED)
    if over or view.timetable.slot(target.step) is None:
        return WhyIs(view, target)
    return WhyIs(view, target, planner.why(view.plan, view.timetable, target.step, view.now, view.progress))
