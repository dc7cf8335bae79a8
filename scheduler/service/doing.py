"""Doing what a button or a clear sentence asked for, to the plan it is about."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta

from scheduler import words
from scheduler.commands import Target
from scheduler.domain import clocks, hours
from scheduler.domain.nudges import Policy, owed
from scheduler.domain.progress import State, still_to_do
from scheduler.domain.stages import About
from scheduler.ports import UnitOfWork
from scheduler.records import PlanStatus
from scheduler.service import (
    acting,
    changing,
    clock_search,
    clocking,
    drafts,
    explaining,
    timers,
    undoing,
    warmth,
    ways,
)
from scheduler.service.acting import Result
from scheduler.service.answers import (
    Answer,
    AsItWas,
    AskUntil,
    Confirm,
    DayIs,
    HourFits,
    NoFit,
    NoPlan,
    PlanIs,
    Reckoned,
    Refused,
    StillGoing,
    Taken,
    Undone,
)
from scheduler.service.deeds import Deed, Verb
from scheduler.service.letters import replace_nudges, take_buttons_off
from scheduler.service.scene import Scene
from scheduler.service.turn import Turn
from scheduler.service.view import View

MARKING = frozenset(acting.KIND_OF)
OF_A_STEP = MARKING | {Verb.WHY, Verb.NOT_YET}
TAKING_BACK = frozenset({Verb.UNDO, Verb.REDO})
AHEAD = tuple(timedelta(minutes=minutes) for minutes in (15, 30, 60, 120, 240))
"""How long something is offered to be put off, where there is so long."""

Doing = Callable[[Turn, Scene, View, Deed, Policy], None]


def do(turn: Turn, scene: Scene, deeds: tuple[Deed, ...], policy: Policy) -> None:
    """Do deeds to the first plan of the scene, all of them or none."""
    view, deed = scene.view, deeds[0]
    if view is None:
        turn.say(NoPlan())
    elif deed.verb is Verb.KEEP:
        turn.say(AsItWas())
    elif view.row.status is PlanStatus.DRAFT:
        drafts.to_draft(turn, scene, view, deed, policy)
    elif view.row.status is not PlanStatus.ACTIVE:
        _to_what_is_over(turn, scene, view, deed, policy)
    elif any(one.verb in OF_A_STEP and not _names_a_step(view, one) for one in deeds):
        turn.say(Refused("That is no step of this plan."))
    elif deed.verb in MARKING:
        _mark(turn, scene, view, tuple(_timed(one, scene) for one in deeds), policy)
    else:
        OTHERS[deed.verb](turn, scene, view, deed, policy)


def _names_a_step(view: View, deed: Deed) -> bool:
    return deed.step is not None and deed.step < len(view.plan.steps)


def _to_what_is_over(turn: Turn, scene: Scene, view: View, deed: Deed, policy: Policy) -> None:
    """A plan that has ended: its last mark can be taken back, and one that was stopped can go on."""
    if deed.verb in TAKING_BACK and view.row.status is PlanStatus.FINISHED:
        OTHERS[deed.verb](turn, scene, view, deed, policy)
    elif deed.verb is Verb.USE and view.row.status is PlanStatus.STOPPED:
        drafts.use(turn, scene, view, policy)
    else:
        turn.say(Refused(f"“{view.plan.title}” is over."))


def _timed(deed: Deed, scene: Scene) -> Deed:
    """A deed put off by so many minutes, as one put off until then."""
    if deed.minutes is None:
        return deed
    return replace(deed, until=scene.now + timedelta(minutes=deed.minutes), minutes=None)


# ---------------------------------------------------------------- marks


def _mark(turn: Turn, scene: Scene, view: View, deeds: tuple[Deed, ...], policy: Policy) -> None:
    if deeds[0].verb is Verb.LATER and deeds[0].until is None:
        ask_until(turn, scene, view, deeds[0])
        return
    keep(turn, acting.act(view, deeds, scene.said, scene.planner), view, policy)


def keep(turn: Turn, result: Result, before: View, policy: Policy) -> None:
    """Store what came of a deed, based on the revision it was thought out from."""
    result = _with_clocks(result, before, policy)
    _ask_again(turn, result, before)

    def store(uow: UnitOfWork) -> Answer:
        if result.save:
            store_result(uow, result, before, policy)
        return result.answer

    turn.change(store)


def _with_clocks(result: Result, before: View, policy: Policy) -> Result:
    """With the clocks of food that the marks set going; after an undo those that run otherwise than before, too."""
    if not isinstance(result.answer, Taken | Undone):
        return result
    ran = _clocks(before, policy)
    known = {(each.step, each.number) for each in ran} if isinstance(result.answer, Taken) else set()
    told = [
        each
        for each in _clocks(result.view, policy)
        if each not in ran and (each.step, each.number) not in known
    ]
    lines = clock_search.lines_of(told, policy.rules, before.now)
    return replace(result, answer=replace(result.answer, clocks=lines))


def _clocks(view: View, policy: Policy) -> tuple[clocks.FoodClock, ...]:
    return clocks.running(view.plan, view.progress, policy.rules, view.now)


def _ask_again(turn: Turn, result: Result, view: View) -> None:
    """Where the answer is a question, or offers another hour, a plain yes takes what it offers first."""
    answer = result.answer
    if isinstance(answer, Refused) and answer.why.endswith("?") and answer.instead:
        turn.ask(kind="confirm", yes=answer.instead[0][1].encode())
    elif isinstance(answer, HourFits):
        turn.ask(kind="confirm", yes=Deed(Verb.SERVE, view.id, at=answer.serve).encode())
    elif isinstance(answer, NoFit) and len(answer.misfit.remedies) > 1:
        turn.ask(kind="way", plan=view.id, choices=ways.choices(answer.misfit, view))
    elif isinstance(answer, NoFit | Taken | Undone | Reckoned) and answer.misfit is not None:
        put_off = next((deed for deed in _deeds(answer) if deed.verb is Verb.LATER), Deed(Verb.LATER))
        for remedy in answer.misfit.remedies[:1]:
            offered = ways.deed_of(remedy, view.plan, view.id, view.row.revision)
            if offered.verb is Verb.SERVE:
                offered = replace(offered, step=put_off.step, until=put_off.until)
            choices = ways.choices(answer.misfit, view) if isinstance(answer, NoFit) else []
            turn.ask(kind="offer", yes=offered.encode(), choices=choices)


def _deeds(answer: NoFit | Taken | Undone | Reckoned) -> tuple[Deed, ...]:
    return answer.deeds if isinstance(answer, Taken) else ()


def store_result(uow: UnitOfWork, result: Result, before: View, policy: Policy) -> None:
    """Marks, timetable and nudges of a plan that goes on, or is over with what was said."""
    view = result.view
    uow.marks.add(view.id, result.marks)
    goes_on = still_to_do(view.progress) or _clocks(view, policy)
    status = PlanStatus.ACTIVE if goes_on else PlanStatus.FINISHED
    row = uow.plans.save(replace(view.row, status=status), before.row.revision)
    stored = replace(view, row=row)
    replace_nudges(uow, stored, policy)
    take_buttons_off(uow, stored, _settled(before, stored))


def _settled(before: View, after: View) -> set[int]:
    """Steps whose standing changed: what was asked about them is answered."""
    return {
        step.number
        for step in after.plan.steps
        if before.progress.of(step.number) != after.progress.of(step.number)
    } | {step for step, _ in after.progress.touched ^ before.progress.touched}


# ---------------------------------------------------------------- until when


def ask_until(turn: Turn, scene: Scene, view: View, deed: Deed) -> None:
    """Ask until when something is put off; the choices are moments at which it can still be done."""
    step = deed.step or 0
    last = _latest(view, step, deed.occurrence)
    choices = tuple(scene.now + by for by in AHEAD if scene.now + by <= last)[:3]
    turn.ask(kind="until", plan=view.id, step=step, occurrence=deed.occurrence)
    turn.say(AskUntil(view, step, deed.occurrence, choices))


def _latest(view: View, number: int, occurrence: int | None) -> datetime:
    """How long it can wait, or go on; never past the meal."""
    slot, standing = view.timetable.slot(number), view.progress.of(number)
    if slot is None or occurrence is not None:
        return view.serve
    if standing.state is not State.RUNNING:
        return slot.last_call
    longest = view.step(number).range.longest
    return view.serve if longest is None or standing.started is None else standing.started + longest


# ---------------------------------------------------------------- everything else a button can ask


def _serve(turn: Turn, scene: Scene, view: View, deed: Deed, policy: Policy) -> None:
    if deed.at is None:
        turn.say(Refused("Say at which hour the meal is to be."))
    else:
        moved = acting.another_hour(view, deed, scene.said, scene.planner, agreed=True)
        keep(turn, moved, view, policy)


def _not_yet(turn: Turn, scene: Scene, view: View, deed: Deed, policy: Policy) -> None:
    """Nothing is marked: it goes on, and will be asked after again as it would have been."""
    step = deed.step or 0
    if view.progress.state(step) is not State.RUNNING:
        turn.say(Refused(f"“{view.step(step).name}” is not under way."))
        return
    again = [
        nudge.due
        for nudge in owed(view.plan, view.timetable, view.progress, policy, view.now)
        if nudge.about is About.LOOK and nudge.step == step and nudge.due > view.now
    ]
    turn.say(StillGoing(view, step, min(again, default=None)))


def _undo(turn: Turn, scene: Scene, view: View, deed: Deed, policy: Policy) -> None:
    back = undoing.undo if deed.verb is Verb.UNDO else undoing.redo
    keep(turn, back(view, scene.said, scene.planner), view, policy)


def _why(turn: Turn, scene: Scene, view: View, deed: Deed, policy: Policy) -> None:
    step = view.step(deed.step or 0)
    turn.say(explaining.why(view, Target(step.number, step.name), scene.planner))


def _way(turn: Turn, scene: Scene, view: View, deed: Deed, policy: Policy) -> None:
    keep(turn, changing.make(view, deed, scene.said, scene.planner), view, policy)


def _reckon(turn: Turn, scene: Scene, view: View, deed: Deed, policy: Policy) -> None:
    keep(turn, warmth.make(view, deed, scene.said, scene.planner), view, policy)


def _ways(turn: Turn, scene: Scene, view: View, deed: Deed, policy: Policy) -> None:
    """Of the plan that is named, or else of the first that does not fit."""
    views = scene.views if deed.plan is None else (view,)
    for one in views:
        found = changing.no_fit(one, scene.planner, deed.minutes or 0)
        if found is not None:
            keep(turn, Result(one, found), one, policy)
            return
    fits = words.listed([f"“{one.plan.title}” fits {one.brief(one.serve)}" for one in views])
    why = f"Nothing has to change: {fits} as {'it stands' if len(views) == 1 else 'they stand'}."
    turn.say(Refused(why, (("What's next", Deed(Verb.NEXT, view.id)),)))


def _day(turn: Turn, scene: Scene, view: View, deed: Deed, policy: Policy) -> None:
    turn.say(DayIs(view, hours.local(scene.now, view.zone).date()))


def _next(turn: Turn, scene: Scene, view: View, deed: Deed, policy: Policy) -> None:
    timers.say_next(turn, scene, policy)


OTHERS: dict[Verb, Doing] = {
    Verb.SERVE: _serve,
    Verb.NOT_YET: _not_yet,
    Verb.UNDO: _undo,
    Verb.REDO: _undo,
    Verb.WHY: _why,
    Verb.STOP: drafts.stop,
    Verb.DAY: _day,
    Verb.WAY: _way,
    Verb.WAYS: _ways,
    Verb.RECKON: _reckon,
    Verb.NEXT: _next,
    Verb.USE: _next,
    **dict.fromkeys(clocking.PRESSED, clocking.press),
    Verb.PLAN: lambda turn, scene, view, deed, policy: turn.say(PlanIs(view)),
    Verb.DISCARD: lambda turn, scene, view, deed, policy: confirm(
        turn, view, f"Stop “{view.plan.title}”, and say no more about it?", Deed(Verb.STOP, view.id)
    ),
}


def confirm(turn: Turn, view: View, question: str, deed: Deed) -> None:
    """Ask before something that is not lightly undone."""
    turn.ask(kind="confirm", yes=deed.encode())
    turn.say(Confirm(question, deed, view.id))
