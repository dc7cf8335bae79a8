"""A mark or a question arrives: updates from the inbox, each taken in and answered in one transaction."""

from __future__ import annotations

import logging
from collections.abc import Callable
from datetime import datetime, timedelta

from scheduler.ports import Clock, Messenger, Rejected, Stale, Store, TryLater, UnitOfWork
from scheduler.records import Chat, Incoming, Letter, Received, ReceivedState
from scheduler.service.answers import Failed, Refused, Words
from scheduler.service.letters import answer_letter
from scheduler.service.pacing import LONGEST_BACKOFF
from scheduler.service.turn import Turn

log = logging.getLogger(__name__)

TRIES = 5
"""How often a turn is thought out again because the plan moved meanwhile."""

PATIENCE = timedelta(seconds=30)
"""How long an update waits when what it needs could not be fetched; twice as long each time."""

MANY = 100
"""How many updates are taken at once."""

GIVE_UP = timedelta(days=1)
"""How long a document is tried to be fetched."""

NOT_FETCHED = Refused(
    "That file did not reach me. A plan is a text file of at most 256 KiB; please send it again."
)

Think = Callable[[Chat, Incoming, bytes | None, str], Turn]
"""Thinks out one turn: chat, what came in, the document that came with it, and the batch for its marks."""


class Inbound:
    """Takes updates from the inbox, oldest first; one that cannot be handled blocks nobody."""

    def __init__(self, store: Store, messenger: Messenger, clock: Clock, words: Words, think: Think) -> None:
        self.store = store
        self.messenger = messenger
        self.clock = clock
        self.words = words
        self.think = think
        self._none_put_off = False

    def take_all(self) -> int:
        """Handle every update that waits; how many were handled."""
        handled = 0
        while True:
            rows = self._waiting()
            for row in rows:
                self._take(row)
            handled += len(rows)
            if len(rows) < MANY:
                return handled

    def _waiting(self) -> list[Received]:
        with self.store() as uow:
            return uow.inbox.new(self.clock.now(), MANY)

    def _take(self, row: Received) -> None:
        try:
            incoming = self.messenger.read(row.payload, row.received)
        except ValueError as error:
            log.warning("update %s of %s cannot be read: %s", row.update, row.source, error)
            self._bury(row, error)
            return
        if incoming.press is not None:
            self.messenger.acknowledge(incoming.press)
        try:
            document = self._document(incoming)
        except TryLater as error:
            if self.clock.now() - row.received < GIVE_UP:
                self._put_off(row, error)
            else:
                self._bury(row, error, incoming, NOT_FETCHED)
            return
        except Rejected as error:
            self._bury(row, error, incoming, NOT_FETCHED)
            return
        try:
            self._answer(row, incoming, document)
        except TimeoutError:
            # The store is in use by another writer: the update stays where it is, to be taken again.
            raise
        except Exception as error:
            log.exception("update %s of %s failed", row.update, row.source)
            self._bury(row, error, incoming, Failed())

    def _document(self, incoming: Incoming) -> bytes | None:
        return None if incoming.document is None else self.messenger.fetch(incoming.document[1])

    def _answer(self, row: Received, incoming: Incoming, document: bytes | None) -> None:
        for _ in range(TRIES):
            chat = self._chat(incoming)
            turn = self.think(chat, incoming, document, f"{row.source}:{row.update}")
            try:
                self._keep(row, turn, chat)
                return
            except Stale:
                log.info("the plan moved while update %s was thought out; again", row.update)
        raise Stale(f"update {row.update} found the plan moved {TRIES} times")

    def _chat(self, incoming: Incoming) -> Chat:
        with self.store() as uow:
            chat = uow.chats.at(incoming.address)
            if chat is None:
                chat = uow.chats.save(Chat(incoming.address, group=incoming.group))
                uow.commit()
            return chat

    def _keep(self, row: Received, turn: Turn, chat: Chat) -> None:
        """One transaction: marks, timetable, nudges, answers, and the update done."""
        answers: list[Letter] = []
        with self.store() as uow:
            for number, change in enumerate(turn.changes):
                answer = change(uow)
                if answer is not None:
                    said = self.words.answer(answer)
                    key = f"answer/{row.source}/{row.update}/{number}"
                    answers.append(answer_letter(turn.chat_id, said, self.clock.now(), key))
            uow.outbox.put([*answers, *turn.letters])
            if turn.chat != chat:
                uow.chats.save(turn.chat)
            row.state = ReceivedState.DONE
            uow.inbox.save(row)
            uow.commit()

    def _put_off(self, row: Received, error: TryLater) -> None:
        row.attempts += 1
        patience = min((1 << min(row.attempts - 1, 10)) * PATIENCE, LONGEST_BACKOFF)
        row.not_before = self.clock.now() + max(error.wait, patience)
        row.error = str(error)
        self._none_put_off = False
        with self.store() as uow:
            uow.inbox.save(row)
            uow.commit()

    def _bury(
        self,
        row: Received,
        error: Exception,
        incoming: Incoming | None = None,
        answer: Failed | Refused | None = None,
    ) -> None:
        """Set an update aside for good, and say so to whoever sent it."""
        row.state = ReceivedState.DEAD
        row.attempts += 1
        row.error = f"{type(error).__name__}: {error}"
        with self.store() as uow:
            uow.inbox.save(row)
            if incoming is not None and answer is not None:
                self._own_up(uow, incoming, row, answer)
            uow.commit()

    def _own_up(self, uow: UnitOfWork, incoming: Incoming, row: Received, answer: Failed | Refused) -> None:
        chat = uow.chats.at(incoming.address) or uow.chats.save(Chat(incoming.address, group=incoming.group))
        said = self.words.answer(answer)
        key = f"answer/{row.source}/{row.update}/failed"
        uow.outbox.put([answer_letter(chat.id or 0, said, self.clock.now(), key)])

    def next_due(self, after: datetime) -> datetime | None:
        """When an update that was put off can be tried again. Not looked up while none is known to be."""
        if self._none_put_off:
            return None
        with self.store() as uow:
            waiting = uow.inbox.new(after + GIVE_UP)
        due = min((row.not_before for row in waiting if row.not_before), default=None)
        self._none_put_off = due is None
        return due
