"""Plans on their way in and out: proposed, timed for another hour, taken into use, put aside, stopped."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime

from scheduler.changes import OF_THE_STEPS
from scheduler.domain.kitchen.ripeness import Observed
from scheduler.domain.nudges import Policy
from scheduler.domain.progress import Mark
from scheduler.explain import Misfit
from scheduler.ports import UnitOfWork
from scheduler.records import PlanRow, PlanStatus
from scheduler.service import changing, intake, ways
from scheduler.service.answers import Answer, Discarded, NoFit, Refused, Stopped
from scheduler.service.deeds import Deed, Verb
from scheduler.service.letters import replace_nudges
from scheduler.service.scene import Scene
from scheduler.service.turn import Turn
from scheduler.service.view import View, view_of


def take_plan(turn: Turn, scene: Scene, source: bytes, own: Sequence[Observed] = ()) -> None:
    """Read and time a plan, keep it as a draft, and propose it; `own` is how long the cook's starters took."""
    arrival = intake.arrive(source, turn.chat, scene.now, scene.planner, own)
    if arrival.row is None:
        if arrival.answer is not None:
            turn.say(arrival.answer)
        return
    row = arrival.row

    def keep(uow: UnitOfWork) -> Answer:
        stored = uow.plans.add(row)
        if arrival.answer is not None:
            turn.ask(kind="serve", plan=stored.id)
            return arrival.answer
        return _propose(turn, scene, view_of(uow, stored, scene.now), arrival.misfit)

    turn.change(keep)


def _propose(turn: Turn, scene: Scene, view: View, misfit: Misfit | None) -> Answer:
    """The proposal of a draft; a plain yes takes it, or the hour offered in its stead."""
    if misfit is None:
        _ask(turn, view, Deed(Verb.USE, view.id))
    else:
        _ask_ways(turn, view, misfit)
    return intake.proposal(view, misfit, _beside(scene, view))


def _ask(turn: Turn, view: View, yes: Deed, choices: ways.Choices = ()) -> None:
    no = Deed(Verb.DISCARD, view.id)
    turn.ask(kind="confirm", yes=yes.encode(), no=no.encode(), choices=choices)


def _ask_ways(turn: Turn, view: View, misfit: Misfit) -> None:
    """A plain yes takes the first of them, a number the one it stands at."""
    if misfit.remedies:
        first = ways.deed_of(misfit.remedies[0], view.plan, view.id, view.row.revision)
        _ask(turn, view, first, ways.choices(misfit, view))


def _beside(scene: Scene, view: View) -> tuple[str, ...]:
    others = [other for other in scene.views if other.id != view.id]
    return tuple(other.plan.title for other in others if other.row.status is PlanStatus.ACTIVE)


def to_draft(turn: Turn, scene: Scene, view: View, deed: Deed, policy: Policy) -> None:
    """Do a deed to a plan that is not in use yet."""
    if deed.verb is Verb.SERVE and deed.at is not None:
        after = _for_the_hour(scene, view, deed.at)
        retime(turn, scene, after, replace(after.row, serve=deed.at))
    elif deed.verb is Verb.USE:
        use(turn, scene, view, policy)
    elif deed.verb is Verb.WAY:
        _change(turn, scene, view, deed)
    elif deed.verb is Verb.WAYS:
        _show_ways(turn, scene, view, deed)
    elif deed.verb in (Verb.DISCARD, Verb.STOP):
        _end(turn, view, Discarded(view.plan.title))
    else:
        use_it = (("Use it", Deed(Verb.USE, view.id)),) if view.row.timetable is not None else ()
        turn.say(Refused(f"“{view.plan.title}” is not in use yet.", use_it))


def _for_the_hour(scene: Scene, view: View, at: datetime) -> View:
    """The draft without the changes that were made for the hour before, where it fits this one as written.

    How many there are at the table and how long steps take have nothing to do with the hour.
    """
    plain = view.with_changes(tuple(change for change in view.row.changes if change.kind in OF_THE_STEPS))
    timing = scene.planner.time_out(plain.plan, at, scene.now, plain.progress)
    return view if isinstance(timing, Misfit) else plain


def _change(turn: Turn, scene: Scene, view: View, deed: Deed) -> None:
    """Make a change that was offered, and propose the plan with it."""
    change = changing.change_meant(view, deed)
    if isinstance(change, Refused):
        turn.say(change)
        return
    after, marks = changing.to_draft(view, change, scene.said)
    retime(turn, scene, after, after.row, marks)


def _show_ways(turn: Turn, scene: Scene, view: View, deed: Deed) -> None:
    found = changing.no_fit(view, scene.planner, deed.minutes or 0)
    if found is None:
        retime(turn, scene, view, view.row)
        return
    _ask_ways(turn, view, found.misfit)
    turn.say(found)


def retime(turn: Turn, scene: Scene, view: View, wanted: PlanRow, marks: tuple[Mark, ...] = ()) -> None:
    """Time a draft afresh, and propose it as it then stands."""
    row, misfit = intake.timed(wanted, view.plan, scene.now, scene.planner, view.progress)

    def store(uow: UnitOfWork) -> Answer:
        uow.marks.add(view.id, marks)
        stored = uow.plans.save(row, view.row.revision)
        return _propose(turn, scene, view_of(uow, stored, scene.now), misfit)

    turn.change(store)


def use(turn: Turn, scene: Scene, view: View, policy: Policy) -> None:
    """Take a plan into use, timed afresh when it has lain about; one that was stopped goes on as it was."""
    timing = scene.planner.time_out(view.plan, view.serve, scene.now, view.progress, view.row.timetable)
    if isinstance(timing, Misfit):
        offer = ways.out_of(timing, view.plan, view.now, scene.planner, view.progress)
        _ask_ways(turn, view, offer)
        turn.say(NoFit(view.id, view.plan, offer, view.now, revision=view.row.revision))
        return
    row = replace(view.row, timetable=timing)

    def taken(uow: UnitOfWork) -> Answer:
        return intake.use(uow, row, scene.now, policy)

    turn.change(taken)


def stop(turn: Turn, scene: Scene, view: View, deed: Deed, policy: Policy) -> None:
    """End a plan. The very next undo lets it go on."""
    turn.ask(kind="stopped", plan=view.id)
    _end(turn, view, Stopped(view.plan.title))


def _end(turn: Turn, view: View, answer: Answer) -> None:
    def end(uow: UnitOfWork) -> Answer:
        uow.plans.save(replace(view.row, status=PlanStatus.STOPPED), view.row.revision)
        uow.outbox.obsolete(view.id)
        return answer

    turn.change(end)


# ---------------------------------------------------------------- leaving and coming back


def leave(turn: Turn, rows: list[PlanRow], why: str) -> None:
    """The cook blocked or left us: their plans wait."""
    turn.chat.barred = why

    def pause(uow: UnitOfWork) -> None:
        for row in rows:
            uow.plans.save(replace(row, status=PlanStatus.PAUSED), row.revision)

    turn.change(pause)


def come_back(turn: Turn, rows: list[PlanRow], scene: Scene, policy: Policy) -> None:
    """They are back: paused plans go on from where they stand."""
    turn.chat.barred = None

    def resume(uow: UnitOfWork) -> None:
        for row in rows:
            stored = uow.plans.save(replace(row, status=PlanStatus.ACTIVE), row.revision)
            replace_nudges(uow, view_of(uow, stored, scene.now), policy)

    turn.change(resume)
