"""Making the change that a button offered: to a plan under way, or to a draft."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import replace

from scheduler.change_words import made
from scheduler.changes import Change, ChangeKind
from scheduler.domain.progress import Mark, MarkKind, standing_marks
from scheduler.explain import Misfit
from scheduler.ports import Planner
from scheduler.records import PlanStatus
from scheduler.service import acting, ways
from scheduler.service.acting import Result, Said
from scheduler.service.answers import ChangeMade, NoFit, Refused, Taken
from scheduler.service.deeds import Deed, Verb
from scheduler.service.view import View

LEAVES_OUT = {ChangeKind.SKIP: Verb.SKIP, ChangeKind.LEAVE_OUT: Verb.LEAVE_OUT}

OVERTAKEN = "That was worked out for the plan as it stood then, and it has changed since."
NO_MORE = "That cannot be done any more."


def change_meant(view: View, deed: Deed) -> Change | Refused:
    """What a WAY stands for, unless the plan has moved on since it was offered, or its time has passed."""
    again = (("Look again", Deed(Verb.WAYS, view.id)),)
    if deed.occurrence != view.row.revision:
        return Refused(OVERTAKEN, again)
    try:
        change = ways.change_of(deed, view.plan)
        change.apply(view.plan, view.progress)
    except ValueError:
        return Refused(NO_MORE, again)
    if change.start is not None and change.start < view.now:
        return Refused(NO_MORE, again)
    return change


def make(view: View, deed: Deed, said: Said, planner: Planner) -> Result:
    """Change a plan under way, if it then fits; solved and verified afresh."""
    change = change_meant(view, deed)
    if isinstance(change, Refused):
        return Result(view, change)
    if change.kind in LEAVES_OUT:
        return _left_out(view, change, said, planner)
    mark = Mark(
        MarkKind.CHANGED, view.now, view.now, said.batch, by=said.by, text=json.dumps(change.as_json())
    )
    retimed = acting.retime(view.with_changes((*view.row.changes, change)), (mark,), planner)
    if retimed.misfit is not None:
        return Result(view, no_fit(view, planner) or Refused(NO_MORE))
    answer = ChangeMade(retimed.view, made(change, view.plan), retimed.moved)
    return Result(retimed.view, answer, (mark,), save=True)


def _left_out(view: View, change: Change, said: Said, planner: Planner) -> Result:
    deed = Deed(LEAVES_OUT[change.kind], view.id, change.step)
    result = acting.act(view, (deed,), said, planner)
    if isinstance(result.answer, Taken) and result.answer.misfit is not None:
        return Result(view, no_fit(view, planner) or Refused(NO_MORE))
    return result


def no_fit(view: View, planner: Planner, shown: int = 0) -> NoFit | None:
    """Why a plan does not fit as it stands, and the ways out after the first `shown`; None when it fits."""
    previous = view.row.timetable
    timing = planner.time_out(view.plan, view.serve, view.now, view.progress, previous)
    if not isinstance(timing, Misfit):
        return None
    offered = ways.out_of(timing, view.plan, view.now, planner, view.progress)
    under_way, shown = view.row.status is PlanStatus.ACTIVE, shown if shown < len(offered.remedies) else 0
    return NoFit(view.id, view.plan, offered, view.now, under_way, view.row.revision, shown)


# ---------------------------------------------------------------- taking back


def in_force(view: View, marks: Sequence[Mark]) -> tuple[Change, ...]:
    """The changes that follow from these marks: those made before the plan was in use, and those that stand."""
    before = len(_changes(view.marks))
    early = view.row.changes[: len(view.row.changes) - before]
    return (*early, *_changes(marks))


def _changes(marks: Sequence[Mark]) -> list[Change]:
    return [change_in(mark) for mark in standing_marks(marks) if mark.kind is MarkKind.CHANGED]


def change_in(mark: Mark) -> Change:
    """What a CHANGED mark changed."""
    return Change.from_json(json.loads(mark.text))


def to_draft(view: View, change: Change, said: Said) -> tuple[View, tuple[Mark, ...]]:
    """A plan not in use yet with the change made, and the marks of what was left out for it; not timed yet."""
    if change.kind not in LEAVES_OUT:
        return view.with_changes((*view.row.changes, change)), ()
    base = Mark(MarkKind.SKIPPED, view.now, view.now, said.batch, by=said.by)
    left_out = sorted(change.left_out(view.plan, view.progress))
    marks = tuple(replace(base, step=number) for number in left_out)
    return view.with_marks(marks), marks
