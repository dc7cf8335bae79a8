"""What one update comes to: filled while thinking, stored in one go, all of it or nothing."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime

from scheduler.ports import UnitOfWork
from scheduler.records import Chat, Letter
from scheduler.service.answers import Answer

Change = Callable[[UnitOfWork], Answer | None]
"""Runs inside the storing transaction, may raise Stale, and may have an answer of its own."""


@dataclass
class Turn:
    """`chat` is stored as it stands in the end; `changes` run in order, then answers and letters follow.

    `now` is when the turn began; a question asked in it carries that time.
    """

    chat: Chat
    changes: list[Change] = field(default_factory=list)
    letters: list[Letter] = field(default_factory=list)
    now: datetime | None = None

    @property
    def chat_id(self) -> int:
        if self.chat.id is None:
            raise ValueError("the chat was never stored")
        return self.chat.id

    def say(self, answer: Answer) -> None:
        self.changes.append(lambda uow: answer)

    def change(self, change: Change) -> None:
        self.changes.append(change)

    def ask(self, **question: object) -> None:
        """Remember what was asked, so that plain words can answer it."""
        at = None if self.now is None else self.now.isoformat()
        self.chat.question = {**question, "at": at}
