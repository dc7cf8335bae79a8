"""Commands put in words: each turned into deeds, a question back, or an answer."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta

from scheduler.commands import Command, Target, Understood
from scheduler.domain import hours
from scheduler.domain.nudges import Policy
from scheduler.domain.progress import Mark, MarkKind
from scheduler.ports import UnitOfWork
from scheduler.service import acting, doing, explaining, marking, timers
from scheduler.service.answers import (
    AmountIs,
    Answer,
    AsItWas,
    AskServe,
    Caution,
    DayIs,
    Help,
    Noted,
    PlanIs,
    Shopping,
    WhenIs,
)
from scheduler.service.deeds import Deed, Verb
from scheduler.service.marking import Follow, target_of
from scheduler.service.scene import Scene
from scheduler.service.turn import Turn
from scheduler.service.view import View


def follow(turn: Turn, scene: Scene, understood: Understood, policy: Policy) -> None:
    """Do, ask or answer what was understood; nothing is done that is not certain."""
    command = understood.command
    if command is Command.ACK:
        return
    if scene.view is None and command not in WITHOUT_PLAN:
        turn.say(timers.no_plan(scene))
    elif command in (Command.UNCLEAR, Command.ASK_WHICH) or not understood.sure:
        marking.ask_which(turn, scene, understood)
    else:
        FOLLOW[command](turn, scene, understood, policy)


def _view(scene: Scene) -> View:
    if scene.view is None:
        raise ValueError("there is no plan under way")
    return scene.view


# ---------------------------------------------------------------- the meal, what was said


def _serve(turn: Turn, scene: Scene, understood: Understood, policy: Policy) -> None:
    view = _view(scene)
    if understood.at is None:
        turn.ask(kind="serve", plan=view.id)
        turn.say(AskServe(view.plan.title))
        return
    deed = Deed(Verb.SERVE, view.id, at=understood.at)
    tried = acting.another_hour(view, deed, scene.said, scene.planner, agreed=False)
    doing.keep(turn, tried, view, policy)


def _undo(turn: Turn, scene: Scene, understood: Understood, policy: Policy) -> None:
    """Of several plans, the one last spoken of."""
    last = max(scene.views, key=lambda view: view.marks[-1].said if view.marks else view.row.created)
    doing.do(turn, scene.led_by(last), (Deed(Verb.UNDO, last.id),), policy)


def _stop(turn: Turn, scene: Scene, understood: Understood, policy: Policy) -> None:
    view = _view(scene)
    asked = f"Stop “{view.plan.title}”, and say no more about it?"
    doing.confirm(turn, view, asked, Deed(Verb.STOP, view.id))


def _note(turn: Turn, scene: Scene, understood: Understood, policy: Policy) -> None:
    view = _view(scene)
    step = understood.steps[0].step if understood.steps else None
    text = understood.detail or scene.incoming.text
    at = understood.at or scene.now
    mark = Mark(MarkKind.NOTE, at, scene.now, scene.batch, step, by=scene.incoming.sender, text=text)

    def note(uow: UnitOfWork) -> Answer:
        uow.marks.add(view.id, [mark])
        return Noted(view, text, step)

    turn.change(note)


# ---------------------------------------------------------------- questions


def _day(turn: Turn, scene: Scene, understood: Understood, policy: Policy) -> None:
    turn.say(DayIs(_view(scene), _day_meant(scene, understood)))


def _day_meant(scene: Scene, understood: Understood) -> date:
    if understood.at is not None:
        return hours.local(understood.at, scene.zone).date()
    today = hours.local(scene.now, scene.zone).date()
    return today + timedelta(days=1) if understood.detail == "tomorrow" else today


def _next(turn: Turn, scene: Scene, understood: Understood, policy: Policy) -> None:
    timers.say_next(turn, scene)


def _when(turn: Turn, scene: Scene, understood: Understood, policy: Policy) -> None:
    target = target_of(scene, understood)
    if "timer" in scene.words:
        timers.say_timers(turn, scene)
    elif understood.detail == "serve":
        turn.say(PlanIs(_view(scene)))
    elif target is None:
        timers.say_next(turn, scene)
    else:
        turn.say(WhenIs(_view(scene), target))


def _why(turn: Turn, scene: Scene, understood: Understood, policy: Policy) -> None:
    view, target = _view(scene), target_of(scene, understood)
    first = next(iter(view.upcoming()), None)
    if target is None and first is not None:
        target = Target(first.step, view.step(first.step).name)
    if target is None:
        timers.say_next(turn, scene)
    else:
        turn.say(explaining.why(view, target, scene.planner))


def _answer(make: Callable[[Scene, Understood], Answer]) -> Follow:
    return lambda turn, scene, understood, policy: turn.say(make(scene, understood))


ALWAYS = frozenset(
    {
        Command.ACK,
        Command.TIMER,
        Command.CANCEL_TIMER,
        Command.QUIET,
        Command.SAFETY,
        Command.AMOUNT,
        Command.HELP,
        Command.UNDO,
    }
)
"""What can be asked for at any time, plan or no plan."""

WITHOUT_PLAN = ALWAYS - {Command.UNDO} | {Command.UNCLEAR, Command.NEXT, Command.NO}
"""What has an answer of its own where no plan is under way."""

FOLLOW: dict[Command, Follow] = {
    Command.DONE: marking.mark,
    Command.STARTED: marking.mark,
    Command.SKIP: marking.mark,
    Command.RUINED: marking.ruined,
    Command.LATER: marking.later,
    Command.LATE: marking.late,
    Command.SERVE: _serve,
    Command.UNDO: _undo,
    Command.NOTE: _note,
    Command.TIMER: timers.set_timer,
    Command.CANCEL_TIMER: timers.cancel_timer,
    Command.QUIET: timers.be_quiet,
    Command.STOP: _stop,
    Command.DAY: _day,
    Command.WHEN: _when,
    Command.WHY: _why,
    Command.NEXT: _next,
    Command.YES: _next,
    Command.NO: _answer(lambda scene, understood: AsItWas()),
    Command.HELP: _answer(lambda scene, understood: Help()),
    Command.PLAN: _answer(lambda scene, understood: PlanIs(_view(scene))),
    Command.SHOP: _answer(lambda scene, understood: Shopping(_view(scene), understood.detail)),
    Command.AMOUNT: _answer(lambda scene, understood: AmountIs(scene.view, scene.incoming.text)),
    Command.SAFETY: _answer(lambda scene, understood: Caution(scene.view, scene.incoming.text)),
}
