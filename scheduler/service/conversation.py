"""One turn of the conversation: who is speaking, about which plan, and what is to be done about it."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from typing import Any

from scheduler.commands import Command, Context, Target, Understand, Understood
from scheduler.domain.nudges import Policy
from scheduler.domain.stages import About
from scheduler.ports import Clock, Planner, Store, UnitOfWork
from scheduler.records import Chat, ChatStage, Incoming, PlanRow, PlanStatus
from scheduler.service import (
    clock_keeping,
    clocking,
    doing,
    drafts,
    first_contact,
    following,
    intake,
    learning,
    menu,
    questions,
    timers,
    ways,
)
from scheduler.service.answers import AskServe, Help, Unclear
from scheduler.service.deeds import Deed, Verb
from scheduler.service.first_contact import Waking, Zones
from scheduler.service.letters import readdress
from scheduler.service.scene import Scene
from scheduler.service.setting import led_by_plan, scene_of, with_what_is_over
from scheduler.service.turn import Turn
from scheduler.service.view import View

AMOUNTS = frozenset({Command.AMOUNT, Command.SUM})
"""Questions that every plan under way may have an answer to: that of the plan spoken of counts."""


class Conversation:
    """Thinks out turns. Reads the store, writes nothing: what is to be stored is in the Turn.

    `zones` and `waking` read what a cook says of where and when they are, at first contact.
    """

    def __init__(
        self,
        store: Store,
        clock: Clock,
        understand: Understand,
        policy: Policy,
        zones: Zones,
        planner: Planner,
        waking: Waking = first_contact.as_a_plan_has_it,
    ) -> None:
        self.store = store
        self.clock = clock
        self.understand = understand
        self.policy = policy
        self.zones = zones
        self.planner = planner
        self.waking = waking

    def think(self, chat: Chat, incoming: Incoming, document: bytes | None, batch: str) -> Turn:
        now = self.clock.now()
        turn = Turn(replace(chat), now=now)
        if incoming.kind == "other":
            return turn
        if incoming.moved_to is not None:
            turn.change(partial(self._move, turn, incoming.moved_to))
            return turn
        if incoming.kind == "left":
            drafts.leave(turn, self._rows(turn, PlanStatus.ACTIVE), "left")
            return turn
        scene = scene_of(self.store, replace(chat), incoming, now, batch, self.planner)
        if turn.chat.barred is not None:
            drafts.come_back(turn, self._rows(turn, PlanStatus.PAUSED), scene, self.policy)
        if incoming.kind != "joined":
            self._hear(turn, scene, intake.plan_in(incoming.text, document))
        return turn

    @staticmethod
    def _move(turn: Turn, address: str, uow: UnitOfWork) -> None:
        readdress(uow, turn.chat, address)

    def _rows(self, turn: Turn, status: PlanStatus) -> list[PlanRow]:
        with self.store() as uow:
            return uow.plans.of_chat(turn.chat_id, status)

    def _hear(self, turn: Turn, scene: Scene, source: bytes | None) -> None:
        if turn.chat.stage is not ChatStage.READY:
            first_contact.meet(turn, scene, source, self.zones, self.waking)
        elif source is not None:
            turn.chat.question = None
            drafts.take_plan(turn, scene, source, learning.own_times(self.store, scene))
        elif scene.incoming.data is not None:
            self._press(turn, scene, scene.incoming.data)
        elif scene.incoming.text.strip():
            self._read(turn, scene)

    # ------------------------------------------------------------ buttons

    def _press(self, turn: Turn, scene: Scene, data: str) -> None:
        try:
            deed = Deed.decode(data)
        except ValueError:
            turn.say(Unclear(data))
            return
        turn.chat.question = None
        if deed.plan is None and deed.verb in clocking.PRESSED:
            clocking.press_loose(turn, scene, deed, self.policy)
        elif deed.plan is None and scene.view is None:
            timers.say_next(turn, scene, self.policy)
        else:
            doing.do(turn, self._about(scene, deed.plan), (deed,), self.policy)

    def _about(self, scene: Scene, plan: int | None) -> Scene:
        return led_by_plan(self.store, scene, plan)

    # ------------------------------------------------------------ words

    def _read(self, turn: Turn, scene: Scene) -> None:
        """A command of the menu, else a button by its label, else the answer to a question, else anything."""
        command = menu.command_in(scene.incoming.text)
        data = None if command is not None else _label_said(scene) or _ways_said(scene)
        if data is not None:
            self._press(turn, scene, data)
        elif command is not None or not self._answers(turn, scene):
            self._follow(turn, scene, command)

    def _answers(self, turn: Turn, scene: Scene) -> bool:
        """Whether this answered what was asked last."""
        if scene.chat.question is None:
            return False
        about = self._about(scene, questions.plan_of(scene.chat.question))
        said = self.understand(scene.incoming.text, _context(about, about.view, None))
        return questions.answered(turn, about, said, self.policy)

    def _follow(self, turn: Turn, scene: Scene, command: Understood | None) -> None:
        understood, scene = (command, scene) if command is not None else self._understood(scene)
        question, turn.chat.question = turn.chat.question or {}, None
        waits = self._waits_for_its_hour(scene, question)
        if waits is not None and not _stands_alone(understood, scene):
            turn.say(AskServe(waits.plan.title))
        elif understood.command is Command.UNDO:
            self._undo(turn, scene, understood, question)
        elif scene.words in menu.GREETINGS:
            turn.say(Help()) if scene.view is None else timers.say_next(turn, scene, self.policy)
        else:
            following.follow(turn, scene, understood, self.policy)
        still_open = waits is not None or understood.command is Command.ACK
        if still_open and turn.chat.question is None:
            turn.chat.question = question or None

    def _waits_for_its_hour(self, scene: Scene, question: dict[str, Any]) -> View | None:
        """The plan that came without a serving hour and was asked for it."""
        view = self._about(scene, int(question["plan"])).view if question.get("kind") == "serve" else None
        return view if view is not None and view.row.status is PlanStatus.DRAFT else None

    def _understood(self, scene: Scene) -> tuple[Understood, Scene]:
        """What was said, about the first plan in which it makes sense."""
        first: Understood | None = None
        asked_for: list[tuple[int, Understood, View]] = []
        for view in scene.views or (None,):
            asked = scene.asked if view is scene.view else None
            understood = self.understand(scene.incoming.text, _context(scene, view, asked))
            if view is not None and len(scene.views) > 1 and understood.command in AMOUNTS:
                found = understood.steps or understood.command is Command.SUM
                asked_for += [(_spoken_of(view, scene.words), understood, view)] if found else []
                first = first or understood
                continue
            guessed = understood.steps == (asked,) and self._is_guess(scene, understood)
            if understood.sure and (understood.steps or view is None) and not guessed:
                return understood, scene.led_by(view)
            first = first or understood
        if asked_for:
            _, understood, view = max(asked_for, key=lambda each: each[0])
            return understood, scene.led_by(view)
        return first or Understood(Command.UNCLEAR, sure=False), scene

    def _is_guess(self, scene: Scene, understood: Understood) -> bool:
        """Whether a question names nothing here, and is only taken to be about what was asked last."""
        if understood.command not in (Command.WHY, Command.WHEN) or len(scene.views) < 2:
            return False
        return not self.understand(scene.incoming.text, _context(scene, scene.view, None)).steps

    def _undo(self, turn: Turn, scene: Scene, understood: Understood, question: dict[str, Any]) -> None:
        """A plan stopped a moment ago goes on; else the last mark, also one that ended a plan, is taken back."""
        if question.get("kind") == "stopped":
            plan = int(question["plan"])
            doing.do(turn, self._about(scene, plan), (Deed(Verb.USE, plan),), self.policy)
        elif question.get("kind") == clock_keeping.UNDONE:
            clocking.take_back(turn, scene, question, self.policy)
        else:
            following.follow(turn, with_what_is_over(self.store, scene), understood, self.policy)


def _spoken_of(view: View, words: str) -> int:
    """How many of the words are in the names of a plan: which of several an amount is asked of."""
    steps = view.plan.steps
    names = {word for step in steps for word in f"{step.component} {step.name}".casefold().split()}
    things = {word for step in steps for amount in step.amounts for word in amount.name.casefold().split()}
    return len((names - things) & {word for word in words.casefold().split() if len(word) > 3})


def _context(scene: Scene, view: View | None, asked: Target | None) -> Context:
    if view is None:
        return Context(scene.now, scene.chat.zone or "UTC")
    letter = scene.asked_letter if view is scene.view else None
    of_clock = letter is not None and letter.about is About.CLOCK
    about = letter.about if letter is not None and (asked is not None or of_clock) else None
    return Context(scene.now, view.zone, view.plan, view.row.timetable, view.progress, asked, about)


def _label_said(scene: Scene) -> str | None:
    """The data of the button whose label was said, on the message in hand.

    What was just said of a clock that is no plan's has no button to take it back: "undo" is about that all the same.
    """
    if (scene.chat.question or {}).get("kind") == clock_keeping.UNDONE and scene.words == "undo":
        return None
    buttons = () if scene.shown is None else scene.shown.buttons
    said = [button.data for button in buttons if button.label.strip(" .,!?").casefold() == scene.words]
    return said[0] if said else None


def _ways_said(scene: Scene) -> str | None:
    """What asks for the ways out, in words: of the plan that the message in hand offers some for, or of any.

    Where the words may mean other things as well, that message must offer ways out itself.
    """
    words = scene.words.removesuffix(" please")
    if words not in menu.WAYS_OUT | menu.WHAT_ELSE or (scene.chat.question or {}).get("kind") == "serve":
        return None
    deeds = [Deed.decode(button.data) for button in (scene.shown.buttons if scene.shown else ())]
    offering = [deed.plan for deed in deeds if deed.verb in ways.OFFERING]
    known = bool(offering) or words in menu.WAYS_OUT
    return Deed(Verb.WAYS, next(iter(offering), None)).encode() if known else None


def _stands_alone(understood: Understood, scene: Scene) -> bool:
    """Whether words make sense by themselves, where the hour of another plan is asked for."""
    if scene.view is None:
        return understood.command in following.ALWAYS
    return understood.sure
