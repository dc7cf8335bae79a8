"""Timers the cook sets, and quiet: what can be asked for without a plan."""

from __future__ import annotations

from datetime import datetime, timedelta

from scheduler.commands import Understood
from scheduler.domain.nudges import Policy
from scheduler.domain.presence import Presence, holding
from scheduler.ports import UnitOfWork
from scheduler.records import Letter
from scheduler.service.answers import (
    Answer,
    NextIs,
    NoPlan,
    QuietUntil,
    Refused,
    Timer,
    TimerGone,
    TimersAre,
    TimerSet,
)
from scheduler.service.clock_search import every_one, lines_of
from scheduler.service.deeds import Deed, Verb
from scheduler.service.letters import timer_letter
from scheduler.service.loose_clocks import is_loose_clock
from scheduler.service.scene import Scene
from scheduler.service.turn import Turn

A_NIGHT = timedelta(hours=8)
LONGEST = timedelta(days=30)
NOTHING = timedelta(0)
UNITS = ("min", "h", "s", "sec", "d")


def running(uow: UnitOfWork, chat: int) -> tuple[Timer, ...]:
    """The chat's timers still to go off, soonest first."""
    return tuple((str(timer.facts.get("label", "")), timer.due) for timer in _timers(uow, chat))


def _timers(uow: UnitOfWork, chat: int) -> list[Letter]:
    """Those the cook set; what is owed of food out of temperature control is kept beside them."""
    return [timer for timer in uow.outbox.timers(chat) if not is_loose_clock(timer)]


def say_next(turn: Turn, scene: Scene, policy: Policy) -> None:
    """What is next, the timers that run and food that is out; with no plan these alone."""

    def answer(uow: UnitOfWork) -> Answer:
        timers = running(uow, turn.chat_id)
        clocks = lines_of(every_one(uow, scene, policy.rules), policy.rules, scene.now)
        if scene.view is not None:
            return NextIs(scene.view, timers, clocks)
        return TimersAre(timers, scene.zone, scene.now, clocks) if timers or clocks else no_plan(scene)

    turn.change(answer)


def no_plan(scene: Scene) -> Answer:
    """There is none under way; one that was proposed can be taken into use."""
    if scene.draft is None:
        return NoPlan()
    use_it = ("Use it", Deed(Verb.USE, scene.draft.id))
    return Refused(f"“{scene.draft.plan.title}” is not in use yet.", (use_it,))


def say_timers(turn: Turn, scene: Scene) -> None:
    """Which timers run."""
    turn.change(lambda uow: TimersAre(running(uow, turn.chat_id), scene.zone, scene.now))


def set_timer(turn: Turn, scene: Scene, understood: Understood, policy: Policy) -> None:
    """Set a timer; one without a length asks which run."""
    length = understood.length
    if length is None and understood.until is not None:
        length = understood.until - scene.now
    if length is None:
        say_timers(turn, scene)
    elif not NOTHING < length <= LONGEST:
        turn.say(
            Refused("A timer runs for 30 days at most." if length > LONGEST else "That is no time at all.")
        )
    else:
        label, due = _label(understood.detail), scene.now + length
        turn.letters.append(timer_letter(turn.chat_id, label, scene.now, due, f"timer/{scene.batch}"))
        turn.say(TimerSet(label, length, due, scene.zone))


def _label(detail: str) -> str:
    """What the timer is for, without the length that stands before it."""
    words = detail.split()
    while words and (words[0].isdigit() or words[0] in UNITS):
        words.pop(0)
    return " ".join(words)


def cancel_timer(turn: Turn, scene: Scene, understood: Understood, policy: Policy) -> None:
    """Take off the timer of that name, or the one that would go off first."""
    wanted = understood.detail.casefold()

    def cancel(uow: UnitOfWork) -> Answer:
        timers = _timers(uow, turn.chat_id)
        meant = [timer for timer in timers if wanted in str(timer.facts.get("label", "")).casefold()]
        for timer in meant[:1]:
            uow.outbox.withdraw(timer)
        label = str(meant[0].facts.get("label", "")) if meant else understood.detail
        return TimerGone(label, bool(meant))

    turn.change(cancel)


def be_quiet(turn: Turn, scene: Scene, understood: Understood, policy: Policy) -> None:
    """Hold back what can wait until then; an hour that is not to come ends it."""
    until = understood.until or _next_waking(scene)
    turn.chat.quiet_until = until if until > scene.now else None
    turn.say(QuietUntil(until, scene.zone, scene.now))


def _next_waking(scene: Scene) -> datetime:
    """When the house next wakes; without a plan to tell, a night from now."""
    if scene.view is None:
        return scene.now + A_NIGHT
    presence = Presence(scene.view.plan, scene.now - timedelta(days=1), scene.now + timedelta(days=3))
    awake = holding(presence.awake_someone(), scene.now)
    asleep = scene.now if awake is None else awake[1]
    return presence.next_awake(asleep, at_home=False) or scene.now + A_NIGHT
