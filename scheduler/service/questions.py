"""Plain words that answer what was asked last: yes, no, a name, a time."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any

from scheduler.commands import Command, Understood
from scheduler.domain import hours
from scheduler.domain.nudges import Policy
from scheduler.domain.stages import Stage
from scheduler.domain.wanted import ANY_HOUR, NoHours, Wanted, on_any_day
from scheduler.planfile import text as plantext
from scheduler.planfile.wanted import wanted
from scheduler.records import Kind, PlanStatus
from scheduler.service import clocking, company, doing, following
from scheduler.service.answers import AsItWas, Refused
from scheduler.service.deeds import Deed, Verb
from scheduler.service.scene import Scene
from scheduler.service.turn import Turn
from scheduler.service.view import View

KEPT_OPEN = timedelta(hours=18)
"""How long a question waits for its answer."""

YES = frozenset(
    {"y", "yes please", "do it", "go ahead", "please do", "ok", "okay", "sure", "fine", "all right"}
)
NO = frozenset({"n", "no thanks", "leave it", "keep it", "cancel", "do not", "don't", "never mind"})

PLACES = ("first", "second", "third", "fourth", "fifth")

PASSED = "That time has passed already"
NONE_TO_COME = "There is no such time within 400 days"

SOONEST = frozenset(
    {"as soon as possible", "as soon as it can be", "as soon as it fits", "as early as possible", "asap",
     "earliest", "the earliest", "soonest", "the soonest", "at the earliest", "any time", "whenever",
     "as early as it fits", "whenever it fits", "when it fits", "the first that fits"}
)  # fmt: skip

Question = dict[str, Any]


def is_open(scene: Scene) -> bool:
    """Whether the cook is still answering it, and nothing that came after it."""
    question, letter = scene.chat.question, scene.asked_letter
    if question is None:
        return False
    asked = question.get("at")
    if asked is None or question.get("kind") == "serve":
        return True
    at = datetime.fromisoformat(asked)
    asks = letter is not None and letter.stage is not Stage.HEADS_UP
    overtaken = letter is not None and asks and letter.sent is not None and letter.sent > at
    shown = scene.shown if scene.incoming.reply_to is not None else None
    to_the_question = shown is not None and shown.kind is Kind.ANSWER
    return scene.now - at <= KEPT_OPEN and (to_the_question or not overtaken)


def plan_of(question: Question) -> int | None:
    """The plan a question is about, if it is about one."""
    if "yes" in question:
        return Deed.decode(str(question["yes"])).plan
    return None if question.get("plan") is None else int(question["plan"])


def answered(turn: Turn, scene: Scene, said: Understood, policy: Policy) -> bool:
    """Whether the words answered the open question; then the turn is complete.

    `said` is what they mean by themselves, as if nothing had been nudged about.
    """
    question = scene.chat.question
    handle = ANSWERS.get(str(question.get("kind"))) if question is not None and is_open(scene) else None
    if handle is None or question is None:
        return False
    turn.chat.question = None
    if handle(turn, scene, said, question, policy):
        return True
    turn.chat.question = question
    return False


def _confirm(turn: Turn, scene: Scene, said: Understood, asked: Question, policy: Policy) -> bool:
    if _which(turn, scene, said, asked, policy) or _hour_of_draft(turn, scene, said, asked, policy):
        return True
    if _company_of_draft(turn, scene, said, policy):
        return True
    if said.command is Command.NO or scene.words in NO:
        refuse = asked.get("no")
        if refuse is None:
            turn.say(AsItWas())
        else:
            doing.do(turn, scene, (Deed.decode(str(refuse)),), policy)
        return True
    if said.command is Command.YES or scene.words in YES:
        doing.do(turn, scene, (Deed.decode(str(asked["yes"])),), policy)
        return True
    return False


def _hour_of_draft(turn: Turn, scene: Scene, said: Understood, asked: Question, policy: Policy) -> bool:
    """Another hour, named for a plan that was proposed or does not fit."""
    if said.command is not Command.SERVE or said.at is None or scene.view is None:
        return False
    if scene.view.row.status is not PlanStatus.DRAFT:
        return False
    if said.at <= scene.now:
        turn.ask(**asked)
        turn.say(Refused(f"{PASSED}. Say one that is to come."))
    else:
        doing.do(turn, scene, (Deed(Verb.SERVE, scene.view.id, at=said.at),), policy)
    return True


def _company_of_draft(turn: Turn, scene: Scene, said: Understood, policy: Policy) -> bool:
    """How many there are at the table, of a plan that is asked about."""
    draft = scene.view
    if said.command is not Command.SERVES or draft is None or draft.row.status is not PlanStatus.DRAFT:
        return False
    company.cook_for(turn, scene, draft, said.detail, policy)
    return True


def _offer(turn: Turn, scene: Scene, said: Understood, asked: Question, policy: Policy) -> bool:
    """One hour or change that would do: no more than a plain yes takes it, for "ok" may only mean "I see"."""
    if _which(turn, scene, said, asked, policy):
        return True
    agreed = said.command is Command.YES
    if agreed:
        doing.do(turn, scene, (Deed.decode(str(asked["yes"])),), policy)
    return agreed


def _which(turn: Turn, scene: Scene, said: Understood, asked: Question, policy: Policy) -> bool:
    """The name, or its number or place in the list."""
    for number, (label, data) in enumerate(asked.get("choices", ()), start=1):
        if scene.words in (*_picking(number), str(label).casefold()):
            doing.do(turn, scene, (Deed.decode(str(data)),), policy)
            return True
    return False


def _picking(number: int) -> tuple[str, ...]:
    """ "2", "number 2", "the second one"."""
    place = PLACES[number - 1 : number]
    placed = [form for name in place for form in (name, f"the {name}", f"{name} one", f"the {name} one")]
    return (f"{number}", f"number {number}", f"option {number}", *placed)


def _way(turn: Turn, scene: Scene, said: Understood, asked: Question, policy: Policy) -> bool:
    """One of several ways out of a meal under way: a plain yes does not say which."""
    if _which(turn, scene, said, asked, policy):
        return True
    if said.command is Command.YES:
        turn.ask(**asked)
        turn.say(Refused("Which one? Say its number, or press its button."))
    return said.command is Command.YES


def _until(turn: Turn, scene: Scene, said: Understood, asked: Question, policy: Policy) -> bool:
    until = said.until
    if until is None and said.length is not None:
        until = scene.now + said.length
    if until is None or said.steps or said.command not in (Command.LATER, Command.UNCLEAR, Command.LATE):
        return False
    deed = Deed(Verb.LATER, asked["plan"], asked["step"], asked["occurrence"], until=until)
    doing.do(turn, scene, (deed,), policy)
    return True


def _how_warm(turn: Turn, scene: Scene, said: Understood, asked: Question, policy: Policy) -> bool:
    return clocking.answered(turn, scene, said, asked, policy)


def _how_late(turn: Turn, scene: Scene, said: Understood, asked: Question, policy: Policy) -> bool:
    if said.length is None or scene.view is None or said.steps:
        return False
    following.follow(turn, scene, Understood(Command.LATE, length=said.length), policy)
    return True


def _hour(turn: Turn, scene: Scene, said: Understood, asked: Question, policy: Policy) -> bool:
    """The serving hour: of a plan that came without one, or another than the one in force."""
    if scene.view is None:
        return False
    if _company_of_draft(turn, scene, said, policy):
        return True
    wish = _wish(scene)
    at = _moment(scene, said) if wish is None else _first_of(wish, scene, scene.view)
    if at is None:
        return False
    if at <= scene.now:
        turn.ask(**asked)
        turn.say(Refused(f"{PASSED if wish is None else NONE_TO_COME}. Say one that is to come."))
    elif scene.view.row.timetable is None:
        doing.do(turn, scene, (Deed(Verb.SERVE, scene.view.id, at=at),), policy)
    else:
        following.follow(turn, scene, replace(said, command=Command.SERVE, at=at, sure=True), policy)
    return True


def _first_of(wish: Wanted, scene: Scene, view: View) -> datetime:
    """The first of the hours wished for that fits, or else the last; the present where none is to come."""
    try:
        return scene.planner.first_within(view.plan, scene.now, wish, view.progress).serve
    except NoHours:
        return scene.now


def _wish(scene: Scene) -> Wanted | None:
    """Days and hours any of which would do: "as soon as possible", "sat or sun evening"."""
    words = scene.words.removesuffix(" please")
    if words in SOONEST:
        return on_any_day(ANY_HOUR)
    try:
        return wanted(words)
    except plantext.TextError:
        return None


def _moment(scene: Scene, said: Understood) -> datetime | None:
    """A moment named as a date and a time, or as people say it; nothing where other things are said too."""
    try:
        there = plantext.local_datetime(scene.incoming.text.strip(" ."))
    except plantext.TextError:
        bare = said.command is Command.LATER and not said.steps
        return said.at if said.command is Command.SERVE else said.until if bare else None
    return hours.instant(there, scene.zone) if hours.exists(there, scene.zone) else None


Handle = Callable[[Turn, Scene, Understood, Question, Policy], bool]

ANSWERS: dict[str, Handle] = {
    "confirm": _confirm,
    "offer": _offer,
    "which": _which,
    "way": _way,
    "until": _until,
    "how late": _how_late,
    "clock": _how_warm,
    "serve": _hour,
}
