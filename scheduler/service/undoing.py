"""Taking back what was said last, and taking that back in turn."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from scheduler.change_words import made
from scheduler.changes import ChangeKind
from scheduler.domain.clocks import Act, OfClock
from scheduler.domain.progress import Mark, MarkKind, standing_marks
from scheduler.ports import Planner
from scheduler.service import changing
from scheduler.service.acting import Result, Retimed, Said, retime
from scheduler.service.answers import NoFit, Refused, Undone
from scheduler.service.view import View

SERVING_HOUR = "the serving hour"
OF_CLOCK = {
    Act.START: "the clock of {}",
    Act.STOP: "that the clock of {} stopped",
    Act.READING: "the reading of {}",
    Act.LATER: "that the clock of {} is put off",
}
"""What was said of a clock; taken back, it is as if it had never been said."""


def undo(view: View, said: Said, planner: Planner) -> Result:
    """Take back the last thing that was said and still stands; what it changed about the meal goes back too."""
    standing = standing_marks(view.marks)
    if not standing:
        return Result(view, Refused("There is nothing to take back."))
    batch = standing[-1].batch
    taken = [mark for mark in standing if mark.batch == batch]
    return _take_back(view, said, planner, batch, taken, redone=False)


def redo(view: View, said: Said, planner: Planner) -> Result:
    """Take back an undo, if nothing else was said since."""
    last = view.marks[-1] if view.marks else None
    if last is None or last.kind is not MarkKind.UNDONE:
        return Result(view, Refused("Nothing was taken back just now."))
    again = [mark for mark in view.marks if mark.batch == last.undoes]
    return _take_back(view, said, planner, last.batch, again, redone=True)


def _take_back(
    view: View, said: Said, planner: Planner, batch: str, told: Sequence[Mark], redone: bool
) -> Result:
    mark = Mark(MarkKind.UNDONE, view.now, view.now, said.batch, undoes=batch, by=said.by)
    hour = _hour_in_force(view, (*view.marks, mark))
    after = view.with_changes(changing.in_force(view, (*view.marks, mark)))
    stands = told and all(_moves_nothing(each) for each in told)
    retimed = Retimed(after.with_marks((mark,))) if stands else retime(after, (mark,), planner, hour)
    if retimed.misfit is not None and hour != view.serve:
        return Result(view, NoFit(view.id, view.plan, retimed.misfit, view.now, under_way=True))
    without = view if redone else after
    answer = Undone(retimed.view, _told(without, told), retimed.moved, retimed.misfit, redone)
    return Result(retimed.view, answer, (mark,), save=True)


def _moves_nothing(mark: Mark) -> bool:
    """Whether only amounts hang on it: how many there are at the table."""
    return mark.kind is MarkKind.CHANGED and changing.change_in(mark).kind is ChangeKind.SERVES


def _hour_in_force(view: View, marks: Sequence[Mark]) -> datetime:
    """The serving hour that follows from the moves that stand."""
    moved = [mark for mark in marks if mark.kind is MarkKind.MOVED]
    standing = [mark for mark in standing_marks(marks) if mark.kind is MarkKind.MOVED]
    if standing:
        return standing[-1].about
    return moved[0].until or view.serve if moved else view.serve


def _told(view: View, marks: Sequence[Mark]) -> tuple[str, ...]:
    """ "Drain the beans: done", one for each thing."""
    return tuple(dict.fromkeys(f"{_name(view, mark)}: {mark.kind}" for mark in marks))


def _name(view: View, mark: Mark) -> str:
    if mark.kind is MarkKind.MOVED:
        return SERVING_HOUR
    if mark.kind is MarkKind.CHANGED:
        return made(changing.change_in(mark), view.plan)
    if mark.step is None or mark.kind is MarkKind.NOTE:
        return mark.text
    if mark.kind is MarkKind.CLOCK:
        return OF_CLOCK[OfClock.from_text(mark.text).act].format(view.step(mark.step).component)
    step = view.step(mark.step)
    return step.tend.name if step.tend is not None and mark.occurrence is not None else step.name
