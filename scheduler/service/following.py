"""Commands put in words: each turned into deeds, a question back, or an answer."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta

from scheduler.commands import Command, Target, Understood
from scheduler.domain import hours
from scheduler.domain.nudges import Policy
from scheduler.domain.progress import Mark, MarkKind
from scheduler.ports import UnitOfWork
from scheduler.service import (
    acting,
    clock_keeping,
    clocking,
    company,
    doing,
    explaining,
    marking,
    timers,
    warmth,
)
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
    Refused,
    Shopping,
    SumIs,
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
        if understood.rest:
            turn.say(
                Refused(f"One thing at a time: say “{understood.rest}” by itself\nIt is not taken down yet.")
            )


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
    """Of several plans, the one last spoken of. "Undo that", after an undo, is what its button says: not undone."""
    last = max(scene.views, key=lambda view: view.marks[-1].said if view.marks else view.row.created)
    undone = bool(last.marks) and last.marks[-1].kind is MarkKind.UNDONE
    verb = Verb.REDO if undone and scene.words == "undo that" else Verb.UNDO
    doing.do(turn, scene.led_by(last), (Deed(verb, last.id),), policy)


def _stop(turn: Turn, scene: Scene, understood: Understood, policy: Policy) -> None:
    view = _view(scene)
    asked = f"Stop “{view.plan.title}”, and say no more about it?"
    doing.confirm(turn, view, asked, Deed(Verb.STOP, view.id))


def _note(turn: Turn, scene: Scene, understood: Understood, policy: Policy) -> None:
    if scene.view is None:
        turn.change(
            lambda uow: clocking.loose_reading(uow, turn, scene, understood, policy) or timers.no_plan(scene)
        )
        return
    view = scene.view
    step = understood.steps[0].step if understood.steps else None
    text = understood.detail or scene.incoming.text
    if warmth.is_no_kitchens(text):
        turn.say(Refused(f"{text} is no temperature of a kitchen\nNothing was noted. Say it again?"))
        return
    at = understood.at or scene.now
    mark = Mark(MarkKind.NOTE, at, scene.now, scene.batch, step, by=scene.incoming.sender, text=text)
    found = warmth.told(view, text, step)
    maybe = None if found or step is not None else clocking.maybe_of(view, text, scene.words)
    if maybe is not None and scene.asked is not None and view.step(scene.asked.step).component == maybe[0]:
        clocking.press(turn, scene, view, maybe[1], policy)  # said to a message about that very food
        return

    def note(uow: UnitOfWork) -> Answer:
        if (
            step is None
            and (read := clocking.loose_reading(uow, turn, scene, understood, policy)) is not None
        ):
            return read
        uow.marks.add(view.id, [mark])
        clock_keeping.owe_after_note(uow, view, policy)
        return Noted(view, text, step, found, maybe)

    turn.change(note)
    if maybe is not None:
        turn.ask(kind="offer", yes=maybe[1].encode(), choices=[])
    agreed = warmth.asks(view, found, step)
    if agreed is not None:
        turn.ask(kind="offer", yes=agreed.encode(), choices=[])


# ---------------------------------------------------------------- questions


def _day(turn: Turn, scene: Scene, understood: Understood, policy: Policy) -> None:
    turn.say(DayIs(_view(scene), _day_meant(scene, understood)))


def _day_meant(scene: Scene, understood: Understood) -> date:
    if understood.at is not None:
        return hours.local(understood.at, scene.zone).date()
    today = hours.local(scene.now, scene.zone).date()
    return today + timedelta(days=1) if understood.detail == "tomorrow" else today


def _next(turn: Turn, scene: Scene, understood: Understood, policy: Policy) -> None:
    timers.say_next(turn, scene, policy)


def _when(turn: Turn, scene: Scene, understood: Understood, policy: Policy) -> None:
    target = target_of(scene, understood)
    if "timer" in scene.words:
        timers.say_timers(turn, scene)
    elif understood.detail == "serve":
        turn.say(PlanIs(_view(scene)))
    elif target is None:
        timers.say_next(turn, scene, policy)
    else:
        turn.say(WhenIs(_view(scene), target))


def _why(turn: Turn, scene: Scene, understood: Understood, policy: Policy) -> None:
    view, target = _view(scene), target_of(scene, understood)
    first = next(iter(view.upcoming()), None)
    if target is None and first is not None:
        target = Target(first.step, view.step(first.step).name)
    if target is None:
        timers.say_next(turn, scene, policy)
    else:
        turn.say(explaining.why(view, target, scene.planner))


def _sum(turn: Turn, scene: Scene, understood: Understood, policy: Policy) -> None:
    said, name = scene.incoming.text, understood.detail
    turn.say(SumIs(scene.view, name, said, scene.now, scene.zone, policy.rules))


def _safety(turn: Turn, scene: Scene, understood: Understood, policy: Policy) -> None:
    turn.say(Caution(scene.view, scene.incoming.text, scene.now, scene.zone, policy.rules))


def _shop(turn: Turn, scene: Scene, understood: Understood, policy: Policy) -> None:
    """For every plan under way: who goes to the shop goes for all of them."""
    for view in scene.views:
        turn.say(Shopping(view, understood.detail))


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
        Command.SUM,
        Command.HELP,
        Command.UNDO,
        Command.CLOCK,
    }
)
"""What can be asked for at any time, plan or no plan."""

WITHOUT_PLAN = ALWAYS - {Command.UNDO} | {
    Command.UNCLEAR,
    Command.NEXT,
    Command.NO,
    Command.NOTE,
    Command.SERVES,
}
"""What has an answer of its own where no plan is under way."""

FOLLOW: dict[Command, Follow] = {
    Command.DONE: marking.mark,
    Command.STARTED: marking.mark,
    Command.SKIP: marking.mark,
    Command.RUINED: marking.ruined,
    Command.LATER: marking.later,
    Command.LATE: marking.late,
    Command.SERVE: _serve,
    Command.SERVES: company.so_many,
    Command.UNDO: _undo,
    Command.NOTE: _note,
    Command.CLOCK: clocking.follow,
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
    Command.SHOP: _shop,
    Command.AMOUNT: _answer(lambda scene, understood: AmountIs(scene.view, scene.incoming.text)),
    Command.SUM: _sum,
    Command.SAFETY: _safety,
}
