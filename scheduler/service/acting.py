"""Deeds done to a plan: marks, and what they do to the timetable.

Pure but for the planner: no transaction is open while this runs.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime

from scheduler.domain.plan import MINUTE, Attention, Step
from scheduler.domain.progress import Mark, MarkKind, State, overdue
from scheduler.domain.timetable import Timetable, next_mark
from scheduler.explain import Misfit
from scheduler.planning import carried_on
from scheduler.ports import Planner
from scheduler.service.answers import (
    ChangeMade,
    HourFits,
    HourMoved,
    Moved,
    NoFit,
    Reckoned,
    Refused,
    ServesChanged,
    Taken,
    Undone,
)
from scheduler.service.deeds import Deed, Verb
from scheduler.service.refusing import refusal
from scheduler.service.view import View

Outcome = Taken | Refused | HourFits | HourMoved | ChangeMade | Reckoned | ServesChanged | NoFit | Undone

KIND_OF = {
    Verb.DONE: MarkKind.DONE,
    Verb.START: MarkKind.STARTED,
    Verb.LATER: MarkKind.LATER,
    Verb.SKIP: MarkKind.SKIPPED,
    Verb.LEAVE_OUT: MarkKind.SKIPPED,
    Verb.RUINED: MarkKind.RUINED,
    Verb.AGAIN: MarkKind.AGAIN,
    Verb.BACK: MarkKind.AGAIN,
}


@dataclass(frozen=True)
class Said:
    """Who said it, when, and under which batch it can be taken back."""

    batch: str
    by: str = ""


@dataclass(frozen=True)
class Result:
    """The view with everything done, the marks to store, and the answer. `save`: the plan row changed."""

    view: View
    answer: Outcome
    marks: tuple[Mark, ...] = ()
    save: bool = False


@dataclass(frozen=True)
class Retimed:
    """What marks do to a view: the timetable that follows, or `misfit` and the old one carried on."""

    view: View
    moved: tuple[Moved, ...] = ()
    misfit: Misfit | None = None


def act(view: View, deeds: tuple[Deed, ...], said: Said, planner: Planner) -> Result:
    """Do what was asked, all of it or nothing."""
    for deed in deeds:
        if refused := refusal(view, deed):
            return Result(view, refused)
    marks = tuple(mark for deed in deeds for mark in _marks(view, deed, said))
    retimed = retime(view, marks, planner)
    if retimed.misfit is not None and (held := _held_back(view, marks, planner)):
        marks, retimed = held, replace(retime(view, held, planner), misfit=retimed.misfit)
    return Result(retimed.view, _taken(view, deeds, retimed, planner), marks, save=True)


def _taken(before: View, deeds: tuple[Deed, ...], retimed: Retimed, planner: Planner) -> Taken:
    view = retimed.view
    late = tuple(view.step(link.before).name for link in overdue(view.plan, view.progress, view.now))
    again = retimed.misfit is not None and _was_told(before, planner)
    return Taken(deeds, before, view, retimed.moved, retimed.misfit, late, again)


def _was_told(view: View, planner: Planner) -> bool:
    """Whether nothing fitted any more when the cook last said something, and so was told."""
    if not view.marks:
        return False
    then = view.marks[-1].said
    return retime(replace(view, now=then).with_marks(()), (), planner).misfit is not None


def retime(view: View, marks: tuple[Mark, ...], planner: Planner, serve: datetime | None = None) -> Retimed:
    """The view with marks added, timed afresh (for `serve`, or else the hour in force)."""
    hour = serve or view.serve
    after = view.with_marks(marks)
    previous = view.timetable if hour == view.serve else replace(view.timetable, serve=hour)
    timing = planner.time_out(view.plan, hour, view.now, after.progress, previous)
    if isinstance(timing, Misfit):
        kept = carried_on(view.plan, view.timetable, view.now, after.progress)
        carried = after.with_timetable(kept, view.serve)
        offer = planner.lasting(timing, view.plan, view.now, after.progress)
        return Retimed(carried, moves(view.timetable, kept, carried), offer)
    return Retimed(after.with_timetable(timing, hour), moves(view.timetable, timing, after))


def _held_back(view: View, marks: tuple[Mark, ...], planner: Planner) -> tuple[Mark, ...]:
    """The marks with nothing put off past its last call; none when that does not help.

    What a meal allows cannot be snoozed away: it is asked after again before then, and the hour stands.
    """
    held = tuple(_not_past_last_call(view, mark) for mark in marks)
    if held == marks or retime(view, held, planner).misfit is not None:
        return ()
    return held


def _not_past_last_call(view: View, mark: Mark) -> Mark:
    waiting = mark.step is not None and view.progress.state(mark.step) is State.WAITING
    slot = view.timetable.slot(mark.step) if mark.step is not None and waiting else None
    if mark.kind is not MarkKind.LATER or mark.occurrence is not None or slot is None or mark.until is None:
        return mark
    return replace(mark, until=min(mark.until, max(slot.last_call, next_mark(view.now, MINUTE))))


def moves(before: Timetable, after: Timetable, view: View) -> tuple[Moved, ...]:
    """The steps not begun yet that start at another time, in order of their new start."""
    return tuple(
        Moved(slot.step, was.start, slot.start)
        for slot in after.slots
        if view.progress.state(slot.step) is State.WAITING
        and (was := before.slot(slot.step)) is not None
        and was.start != slot.start
    )


# ---------------------------------------------------------------- marks


def _marks(view: View, deed: Deed, said: Said) -> list[Mark]:
    kind = KIND_OF[_meant(view, deed)]
    about = (deed.at or view.now).replace(second=0, microsecond=0)
    until = None if deed.until is None else next_mark(deed.until, MINUTE)
    base = Mark(kind, about, view.now, said.batch, deed.step, deed.occurrence, until, said.by)
    return [replace(base, step=step.number) for step in _concerned(view, deed)]


def _concerned(view: View, deed: Deed) -> list[Step]:
    """The steps a deed is about: one, or those of the whole component that it can be about."""
    step = view.step(_step(deed))
    whole, state = view.part_of(step), view.progress.state
    if deed.verb in (Verb.RUINED, Verb.AGAIN):
        return whole
    if deed.verb is Verb.LEAVE_OUT:
        return [other for other in whole if state(other.number) is not State.DONE]
    if deed.verb is Verb.BACK:
        return [other for other in whole if state(other.number) is State.DROPPED]
    return [step]


def _step(deed: Deed) -> int:
    if deed.step is None:
        raise ValueError(f"{deed.verb} names no step")
    return deed.step


def _meant(view: View, deed: Deed) -> Verb:
    """ "Done", said of a wait that cannot have lasted its shortest time, means that it was begun.

    It began when it was planned, or else when what it follows at once was over.
    """
    if deed.verb is not Verb.DONE or deed.occurrence is not None:
        return deed.verb
    step, standing = view.step(_step(deed)), view.progress.of(_step(deed))
    slot = view.timetable.slot(step.number)
    if standing.state is not State.WAITING or step.attention is Attention.HANDS_ON or slot is None:
        return deed.verb
    over = deed.at or view.now
    at_once = [
        view.progress.of(link.before).ended for link in view.links if link.after == step.number and link.tied
    ]
    begun = min([slot.start, over, *(ended for ended in at_once if ended is not None)])
    return Verb.START if over - begun < step.range.shortest else deed.verb


# ---------------------------------------------------------------- the serving hour


def another_hour(view: View, deed: Deed, said: Said, planner: Planner, agreed: bool) -> Result:
    """Whether the meal can move to the hour of `deed`; moved only when the cook has agreed.

    A step that the deed names is put off until then besides: what made the other hour necessary.
    """
    if deed.at is None:
        raise ValueError("another serving hour was asked for, but which was not said")
    if deed.at == view.serve:
        return Result(view, Refused(f"The meal is at {view.brief(view.serve)} as it is."))
    marks = _put_off_besides(view, deed, said)
    retimed = retime(view, marks, planner, deed.at)
    if retimed.misfit is not None:
        return Result(view, NoFit(view.id, view.plan, retimed.misfit, view.now, under_way=True))
    if not agreed:
        return Result(view, HourFits(view, deed.at, retimed.view.timetable, retimed.moved))
    moved = Mark(MarkKind.MOVED, deed.at, view.now, said.batch, until=view.serve, by=said.by)
    with_mark = replace(retimed.view, marks=(*retimed.view.marks, moved))
    return Result(with_mark, HourMoved(with_mark, retimed.moved), (*marks, moved), save=True)


def _put_off_besides(view: View, deed: Deed, said: Said) -> tuple[Mark, ...]:
    if deed.step is None or deed.until is None:
        return ()
    later = Deed(Verb.LATER, view.id, deed.step, until=deed.until)
    return () if refusal(view, later) else tuple(_marks(view, later, said))
