"""The reading half of the outbox, on SQLite: what was sent, and the timers still to go off."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import ColumnElement, bindparam, func
from sqlmodel import col, select

from scheduler.domain.stages import About
from scheduler.records import Kind, Letter, LetterState
from storage.columns import UtcDateTime, utc
from storage.mapping import to_letter
from storage.repository import Repository
from storage.tables import StoredLetter

_sent = col(StoredLetter.sent)
_in_order = (_sent, col(StoredLetter.id))
_SENT_SINCE = select(_sent).where(_sent >= bindparam("since", type_=UtcDateTime())).order_by(_sent)
_SENT_TO = _SENT_SINCE.where(col(StoredLetter.chat) == bindparam("chat"))


class SqlLetters(Repository):
    """The questions of `scheduler.ports.Outbox` that change nothing and concern no claim."""

    def sent_since(self, since: datetime, chat: int | None = None) -> list[datetime]:
        asked: dict[str, object] = {"since": utc(since)}
        if chat is None:
            found = self._live().exec(_SENT_SINCE, params=asked)
        else:
            found = self._live().exec(_SENT_TO, params=asked | {"chat": chat})
        return [sent for sent in found if sent is not None]

    def by_receipt(self, chat: int, receipt: str) -> Letter | None:
        """The letter that became the message; not the one that took its buttons off."""
        wanted = select(StoredLetter).where(
            StoredLetter.chat == chat, StoredLetter.receipt == receipt, StoredLetter.kind != Kind.UNBUTTON
        )
        row = self._live().exec(wanted.order_by(col(StoredLetter.id).desc())).first()
        return None if row is None else to_letter(row)

    def latest_nudge(self, chat: int) -> Letter | None:
        found = self._live().exec(
            select(StoredLetter)
            .where(StoredLetter.chat == chat, StoredLetter.kind == Kind.NUDGE, _was_sent())
            .where(col(StoredLetter.step).is_not(None))
            .order_by(_sent.desc(), col(StoredLetter.id).desc())
        )
        row = found.first()
        return None if row is None else to_letter(row)

    def with_buttons(self, plan: int, step: int) -> list[Letter]:
        """In the order they were sent."""
        return self._letters(
            StoredLetter.plan == plan,
            StoredLetter.step == step,
            _was_sent(),
            func.json_array_length(col(StoredLetter.buttons)) > 0,
        )

    def history(self, chat: int, since: datetime) -> list[Letter]:
        return self._letters(StoredLetter.chat == chat, _was_sent(), _sent >= utc(since))

    def timers(self, chat: int) -> list[Letter]:
        wanted = select(StoredLetter).where(
            StoredLetter.chat == chat,
            StoredLetter.kind == Kind.NUDGE,
            StoredLetter.about == About.TIMER,
            StoredLetter.state == LetterState.PENDING,
        )
        by_due_time = wanted.order_by(col(StoredLetter.due), col(StoredLetter.id))
        return [to_letter(row) for row in self._live().exec(by_due_time)]

    def _letters(self, *conditions: ColumnElement[bool] | bool) -> list[Letter]:
        wanted = select(StoredLetter).where(*conditions).order_by(*_in_order)
        return [to_letter(row) for row in self._live().exec(wanted)]


def _was_sent() -> ColumnElement[bool]:
    return col(StoredLetter.state) == LetterState.SENT
