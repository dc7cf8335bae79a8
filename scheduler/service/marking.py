"""Marks put in words: which step or touch is meant, and what is to be asked before it counts."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta

from scheduler.commands import Command, Target, Understood
from scheduler.domain.nudges import Policy
from scheduler.domain.plan import Attention
from scheduler.domain.progress import State
from scheduler.domain.stages import About
from scheduler.domain.timetable import Slot
from scheduler.service import doing, refusing, timers
from scheduler.service.answers import AskHowLate, AskWhich, Unclear, WhenIs
from scheduler.service.deeds import Deed, Verb
from scheduler.service.scene import Scene
from scheduler.service.turn import Turn
from scheduler.service.view import View

VERBS = {
    Command.DONE: Verb.DONE,
    Command.STARTED: Verb.START,
    Command.SKIP: Verb.SKIP,
    Command.RUINED: Verb.RUINED,
    Command.LATER: Verb.LATER,
}
CHOICES = 3
SOON = timedelta(hours=3)
HALF_A_DAY = timedelta(hours=12)
Follow = Callable[[Turn, Scene, Understood, Policy], None]

CONFIRM = {
    Verb.LEAVE_OUT: "Leave “{name}” out of this meal?",
    Verb.RUINED: "Is “{name}” lost, so that all of “{whole}” is?",
    Verb.DONE: "Is “{name}” done?",
    Verb.START: "Has “{name}” begun?",
}


def target_of(scene: Scene, understood: Understood) -> Target | None:
    return understood.steps[0] if understood.steps else scene.asked


# ---------------------------------------------------------------- asking back


def ask_which(turn: Turn, scene: Scene, understood: Understood) -> None:
    """Ask which step was meant; where none can be, say that it was not understood."""
    view = scene.view
    if view is None or (understood.command is Command.UNCLEAR and not understood.steps):
        turn.say(Unclear(scene.incoming.text))
        return
    verb = VERBS.get(understood.command, Verb.DONE)
    targets = (understood.steps or _likely(view))[:CHOICES]
    deeds = [(target.label, _deed(view, scene, verb, target, understood)) for target in targets]
    choices = tuple((label, deed) for label, deed in deeds if deed is not None)
    if not choices:
        turn.say(Unclear(scene.incoming.text))
        return
    if len(choices) == 1:
        _ask_whether(turn, view, targets[0], choices[0][1])
        return
    choices = tuple(sorted(choices, key=lambda choice: _from_now(view, choice[1])))
    turn.ask(kind="which", choices=[[label, deed.encode()] for label, deed in choices])
    turn.say(AskWhich(view, verb, choices))


def _ask_whether(turn: Turn, view: View, target: Target, deed: Deed) -> None:
    """The one thing that can be meant: asked about, unless it is so already, which is said."""
    refused = refusing.refusal(view, deed) if deed.verb in (Verb.DONE, Verb.START, Verb.SKIP) else None
    if refused is not None and (deed.verb is Verb.SKIP or not refused.why.endswith("?")):
        if refused.why.endswith("?"):
            turn.ask(kind="confirm", yes=refused.instead[0][1].encode())
        turn.say(refused)
    else:
        _confirm(turn, view, target, deed)


def _from_now(view: View, deed: Deed) -> timedelta:
    """How far it is from the present: what is nearest is likeliest."""
    slot = view.timetable.slot(deed.step or 0)
    planned = None if slot is None else slot.end if deed.verb is Verb.DONE else slot.start
    for touch in view.timetable.touches:
        if (touch.step, touch.occurrence) == (deed.step, deed.occurrence):
            planned = touch.at
    return timedelta.max if planned is None else abs(planned - view.now)


def _likely(view: View) -> tuple[Target, ...]:
    """What could just have been done: under way, or to be begun next."""
    slots = [*view.running(), *view.upcoming()[:2]]
    return tuple(Target(slot.step, view.step(slot.step).name) for slot in slots if _at_hand(view, slot))


def _at_hand(view: View, slot: Slot) -> bool:
    if slot.start > view.now + SOON:
        return False
    waiting = view.progress.state(slot.step) is State.WAITING
    alone = view.step(slot.step).attention is Attention.UNATTENDED
    return waiting or not alone or slot.end <= view.now + SOON


# ---------------------------------------------------------------- marks


def _deed(view: View, scene: Scene, verb: Verb, target: Target, understood: Understood) -> Deed | None:
    until = _until(scene, understood) if verb is Verb.LATER else None
    if target.whole:
        verb = Verb.LEAVE_OUT if verb is Verb.SKIP else verb
    if target.whole or not target.tend:
        return Deed(verb, view.id, target.step, at=understood.at, until=until)
    occurrence = touch_meant(view, scene, target.step)
    if occurrence is None:
        return None
    verb = Verb.DONE if verb is Verb.START else verb
    return Deed(verb, view.id, target.step, occurrence, understood.at, until)


def touch_meant(view: View, scene: Scene, step: int) -> int | None:
    """The touch that was asked about, else the one not done yet that is nearest to now.

    One that is further ahead than half its interval is another matter: touching twice does not count twice.
    """
    letter, touched = scene.asked_letter, view.progress.touched
    about = (
        letter is not None and letter.about is About.TEND and (letter.plan, letter.step) == (view.id, step)
    )
    if letter is not None and about and (step, letter.occurrence) not in touched:
        return letter.occurrence
    tend = view.step(step).tend
    reach = view.now if tend is None else view.now + tend.every / 2
    left = [
        touch
        for touch in view.timetable.touches
        if touch.step == step and (step, touch.occurrence) not in touched and touch.at <= reach
    ]
    nearest = min(left, key=lambda touch: abs(touch.at - view.now), default=None)
    return None if nearest is None else nearest.occurrence


def mark(turn: Turn, scene: Scene, understood: Understood, policy: Policy) -> None:
    """Done, begun or skipped: one thing or several."""
    view = _view(scene)
    targets = understood.steps or ((scene.asked,) if scene.asked else ())
    deeds = [_deed(view, scene, VERBS[understood.command], target, understood) for target in targets]
    known = tuple(deed for deed in deeds if deed is not None)
    if targets and not known:
        turn.say(WhenIs(view, targets[0]))
    elif not known:
        ask_which(turn, scene, understood)
    elif understood.confirm:
        _confirm(turn, view, targets[0], known[0])
    else:
        doing.do(turn, scene, known, policy)


def _confirm(turn: Turn, view: View, target: Target, deed: Deed) -> None:
    asked = CONFIRM.get(deed.verb, "Skip “{name}”?")
    whole = view.step(target.step).component
    doing.confirm(turn, view, asked.format(name=target.label, whole=whole), deed)


def ruined(turn: Turn, scene: Scene, understood: Understood, policy: Policy) -> None:
    """Something went wrong: asked first, for all of its component goes with it."""
    target, view = target_of(scene, understood), _view(scene)
    if target is None:
        ask_which(turn, scene, understood)
    else:
        _confirm(turn, view, target, Deed(Verb.RUINED, view.id, target.step))


# ---------------------------------------------------------------- put off, late


def _until(scene: Scene, understood: Understood) -> datetime | None:
    if understood.until is None and understood.length is not None:
        return scene.now + understood.length
    return understood.until


def later(turn: Turn, scene: Scene, understood: Understood, policy: Policy) -> None:
    """Put off until a time that was named, or asked for; a look at something that is not ready is no more."""
    target, view = target_of(scene, understood), _view(scene)
    if target is None:
        ask_which(turn, scene, understood)
        return
    until = _until(scene, understood)
    occurrence = touch_meant(view, scene, target.step) if target.tend else None
    letter = scene.asked_letter
    looked = letter is not None and letter.about is About.LOOK and target == scene.asked
    if target.tend and occurrence is None:
        turn.say(WhenIs(view, target))
    elif until is None and looked:
        doing.do(turn, scene, (Deed(Verb.NOT_YET, view.id, target.step),), policy)
    else:
        doing.do(turn, scene, (Deed(Verb.LATER, view.id, target.step, occurrence, until=until),), policy)


def late(turn: Turn, scene: Scene, understood: Understood, policy: Policy) -> None:
    """Behind by so much: the work under way ends later, or what comes next begins later."""
    view = _view(scene)
    if understood.length is None:
        turn.ask(kind="how late", plan=view.id)
        turn.say(AskHowLate(view))
        return
    deeds = [deed for slot in view.running() if (deed := _ends_later(view, slot, understood.length))]
    coming = view.upcoming()[:1]
    if not deeds or (coming and coming[0].start <= view.now):
        deeds += [
            Deed(Verb.LATER, view.id, slot.step, until=max(slot.start, view.now) + understood.length)
            for slot in coming
            if slot.start <= view.now + HALF_A_DAY
        ]
    if deeds:
        doing.do(turn, scene, tuple(deeds), policy)
    else:
        timers.say_next(turn, scene, policy)


def _ends_later(view: View, slot: Slot, by: timedelta) -> Deed | None:
    """Hands-on work takes so much longer; what only needs someone near goes on as long as it may."""
    step, started = view.step(slot.step), view.progress.of(slot.step).started
    until = max(slot.end, view.now) + by
    if step.attention is Attention.UNATTENDED or started is None:
        return None
    if step.attention is Attention.NEARBY and step.range.longest is not None:
        until = min(until, started + step.range.longest)
    return Deed(Verb.LATER, view.id, slot.step, until=until) if until > max(slot.end, view.now) else None


def _view(scene: Scene) -> View:
    if scene.view is None:
        raise ValueError("there is no plan under way")
    return scene.view
