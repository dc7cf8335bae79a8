"""What is due goes out: claimed, put into words as true now, sent, and recorded."""

from __future__ import annotations

import logging
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta

from scheduler import words as plain
from scheduler.domain.nudges import Policy
from scheduler.domain.stages import About
from scheduler.ports import (
    Barred,
    Clock,
    Messenger,
    Moved,
    Planner,
    Rejected,
    Store,
    TryLater,
    Unauthorised,
    Uncertain,
    UnitOfWork,
)
from scheduler.records import Kind, Letter, PlanStatus
from scheduler.service import outcomes
from scheduler.service.answers import CatchUp, ClockDue, Said, Undelivered, Words
from scheduler.service.catching_up import Owed, is_late
from scheduler.service.choosing import Choosing, Parcel
from scheduler.service.consequences import consequence
from scheduler.service.letters import answer_letter, nudge_of, readdress
from scheduler.service.loose_clocks import LooseClock, clock_of
from scheduler.service.pacing import Holds, Paces

log = logging.getLogger(__name__)

WITHOUT_TOKEN = timedelta(minutes=10)
"""How long what could not be sent for want of a good token waits; until then somebody has to act."""

Also = Callable[[UnitOfWork, Letter], None]
"""What else an outcome changes, in the same transaction."""


class Dispatcher:
    """Sends what is due. `token` names this worker's start; a letter it claims is finished by it alone."""

    def __init__(
        self,
        store: Store,
        messenger: Messenger,
        clock: Clock,
        words: Words,
        policy: Policy,
        planner: Planner,
        token: str,
    ) -> None:
        self.store = store
        self.messenger = messenger
        self.clock = clock
        self.words = words
        self.policy = policy
        self.planner = planner
        self.token = token
        self.holds = Holds()

    def send_due(self, meanwhile: Callable[[], object] = lambda: None) -> datetime | None:
        """Send everything that may go now, `meanwhile` called after each; when something falls due next."""
        while True:
            parcel, ahead = self._next()
            if parcel is None:
                return ahead
            self._send(parcel)
            meanwhile()

    def _next(self) -> tuple[Parcel | None, datetime | None]:
        """The most urgent message there is, or, when none may go now, when to look again."""
        now = self.clock.now()
        with self.store() as uow:
            choosing = Choosing(uow, now, self.token, self.policy, Paces(uow.outbox, self.holds, now))
            parcel = choosing.parcel()
            ahead = None if parcel else choosing.ahead()
            if choosing.changed:
                uow.commit()
        return parcel, ahead

    # ------------------------------------------------------------ words

    def _said(self, parcel: Parcel) -> Said:
        """What to say; outside any transaction, because what follows from a missed step has to be solved."""
        head, view = parcel.head, parcel.told[0].view
        if head.kind is not Kind.NUDGE:
            return Said(head.text, head.buttons)
        if head.about is About.TIMER and (clock := clock_of(head)) is not None:
            return self.words.answer(self._clock_due(head, clock, parcel.chat.zone or "UTC"))
        if head.about is About.TIMER:
            return self.words.timer(self._timer_label(parcel))
        if view is None:
            raise ValueError(f"letter {head.key} is a nudge without a plan")
        if len(parcel.told) > 1:
            return self.words.answer(self._catch_up(parcel))
        nudge = nudge_of(head)
        return self.words.nudge(nudge, view, consequence(nudge, view, self.planner))

    def _clock_due(self, letter: Letter, clock: LooseClock, zone: str) -> ClockDue:
        nudge, rules = nudge_of(letter), self.policy.rules
        return ClockDue(clock.name, clock.clock, nudge.stage, nudge.subject, rules, zone, self.clock.now())

    def _catch_up(self, parcel: Parcel) -> CatchUp:
        views = {each.view.id: each.view for each in parcel.told if each.view is not None}
        nudges = tuple((each.letter.plan or 0, nudge_of(each.letter)) for each in parcel.told)
        first = parcel.told[0].view
        follows = None if first is None else consequence(nudges[0][1], first, self.planner)
        return CatchUp(tuple(views.values()), nudges, parcel.since, self.clock.now(), follows)

    def _timer_label(self, parcel: Parcel) -> str:
        """A timer that goes off late says when it should have."""
        letter, label, now = parcel.head, str(parcel.head.facts.get("label", "")), self.clock.now()
        if not is_late(letter, now):
            return label
        return f"{label or 'timer'}, due {plain.brief(letter.due, parcel.chat.zone or 'UTC', now)}"

    # ------------------------------------------------------------ sending

    def _send(self, parcel: Parcel) -> None:
        try:
            said = self._said(parcel)
        except Exception as error:
            # A message that cannot be put into words must not hold up everyone else's.
            log.exception("letter %s could not be put into words", parcel.head.key)
            self._give_up(parcel, f"{type(error).__name__}: {error}", _name(parcel.told[0]))
            return
        text = outcomes.REPEAT + said.text if parcel.repeat else said.text
        self._hand_over(parcel, replace(parcel.head, text=text, buttons=said.buttons))

    def _hand_over(self, parcel: Parcel, message: Letter) -> None:
        try:
            receipt = self.messenger.send(parcel.chat.address, message)
        except TryLater as error:
            self._put_back(parcel, error.wait, error)
        except Uncertain as error:
            why, now = str(error), self.clock.now()
            self._finish(parcel, lambda letter: outcomes.uncertain(letter, now, why))
        except Moved as error:
            self._readdress(parcel, error)
        except Barred as error:
            log.error("nothing can be sent to %s any more: %s", parcel.chat.address, error)
            why = str(error)
            self._finish(parcel, lambda letter: outcomes.not_now(letter, why), _bar)
        except Rejected as error:
            log.error("letter %s was refused: %s", message.key, error)
            self._give_up(parcel, str(error), message.text)
        except Unauthorised as error:
            self._put_back(parcel, WITHOUT_TOKEN, error)
            raise
        else:
            self._sent(parcel, message, receipt)

    def _sent(self, parcel: Parcel, message: Letter, receipt: str) -> None:
        self.holds.lift(message.chat)
        done = outcomes.sent(message, self.clock.now(), receipt)
        told = "told in one message"
        # Not obsolete: an obsolete letter comes back to life when it is owed again, and these were told.
        self._finish(
            parcel,
            lambda letter: done if letter.id == done.id else outcomes.dead(letter, told),
            _buttons_gone,
        )

    def _put_back(self, parcel: Parcel, wait: timedelta, error: Exception, also: Also | None = None) -> None:
        until, why = self.holds.put_off(parcel.head.chat, self.clock.now(), wait), str(error)
        self._finish(parcel, lambda letter: outcomes.put_back(letter, until, why), also)

    def _readdress(self, parcel: Parcel, error: Moved) -> None:
        """To the new address, after the same pause as any failure: an address may move again and again."""
        address = error.address
        self._put_back(
            parcel,
            timedelta(0),
            error,
            lambda uow, letter: readdress(uow, uow.chats.get(letter.chat), address),
        )

    def _give_up(self, parcel: Parcel, why: str, text: str) -> None:
        """A message that was refused is told once more, without anything that could be refused."""

        def say_plainly(uow: UnitOfWork, letter: Letter) -> None:
            if letter.kind is Kind.UNBUTTON or letter.key.endswith("/plainly"):
                return
            heading = text.splitlines()[0] if text else "A message"
            said = self.words.answer(Undelivered(heading.removeprefix(outcomes.REPEAT)))
            uow.outbox.put([answer_letter(letter.chat, said, self.clock.now(), f"{letter.key}/plainly")])

        self._finish(
            parcel,
            lambda letter: (
                outcomes.dead(letter, why) if letter is parcel.head else outcomes.put_back(letter, None, why)
            ),
            say_plainly,
        )

    def _finish(self, parcel: Parcel, outcome: Callable[[Letter], Letter], also: Also | None = None) -> None:
        """Store how a message came out, for every letter it stands for."""
        with self.store() as uow:
            for letter in (parcel.head, *parcel.others):
                done = outcome(letter)
                if not uow.outbox.finish(done):
                    log.warning("letter %s was taken over by another worker", letter.key)
                elif also is not None and letter is parcel.head:
                    also(uow, done)
            uow.commit()


def _name(owed: Owed) -> str:
    """What a letter is about, in the plan's own words."""
    letter, view = owed.letter, owed.view
    if view is None or letter.step is None:
        return letter.text
    return view.step(letter.step).name


def _bar(uow: UnitOfWork, letter: Letter) -> None:
    """Nothing more for this chat; its plans wait until the cook is back."""
    chat = uow.chats.get(letter.chat)
    chat.barred = "blocked"
    uow.chats.save(chat)
    for row in uow.plans.of_chat(letter.chat, PlanStatus.ACTIVE):
        uow.plans.save(replace(row, status=PlanStatus.PAUSED), row.revision)


def _buttons_gone(uow: UnitOfWork, letter: Letter) -> None:
    if letter.kind is Kind.UNBUTTON:
        uow.outbox.forget_buttons(letter.chat, letter.receipt or "")
