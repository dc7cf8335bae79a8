"""The outbox, on SQLite: letters owed, claimed by lease, finished by whoever holds the claim.

Statements that every pass needs are built once: building one costs more than SQLite takes to answer it.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta
from functools import cache
from typing import Any

from sqlalchemy import Update, and_, bindparam, case, func, or_, update
from sqlalchemy.dialects.sqlite import Insert, insert
from sqlmodel import col, select

from scheduler.ports import Outbox
from scheduler.records import Kind, Letter, LetterState
from storage.columns import UtcDateTime, utc
from storage.letters import SqlLetters
from storage.mapping import columns, letter_row, to_letter
from storage.repository import plainly, table_of
from storage.tables import StoredLetter

OWED = (LetterState.PENDING, LetterState.UNCERTAIN)
OUTCOME = ("state", "sent", "receipt", "error", "not_before", "attempts", "text", "buttons")

_state = col(StoredLetter.state)
_due = col(StoredLetter.due)
_held_until = col(StoredLetter.not_before)
_lease_ends = col(StoredLetter.lease)

_at = bindparam("at", type_=UtcDateTime())
_ready = and_(_state.in_(OWED), _due <= _at, or_(_held_until.is_(None), _held_until <= _at))
_lapsed = and_(_state == LetterState.SENDING, _lease_ends <= _at)
_ready_at = case((_held_until > _due, _held_until), else_=_due)

_DUE = (
    select(StoredLetter)
    .where(or_(_ready, _lapsed))
    .order_by(col(StoredLetter.priority), _due, col(StoredLetter.id))
)
_NEXT_OWED = select(func.min(_ready_at)).where(_state.in_(OWED), _ready_at > _at)
_NEXT_LAPSING = select(func.min(_lease_ends)).where(_state == LetterState.SENDING, _lease_ends > _at)


_THIS = col(StoredLetter.id) == bindparam("letter")
_CLAIM = (
    update(table_of(StoredLetter))
    .where(_THIS, or_(_state.in_(OWED), _lapsed))
    .values(
        state=LetterState.SENDING,
        attempts=col(StoredLetter.attempts) + 1,
        claim=bindparam("token"),
        lease=bindparam("until", type_=UtcDateTime()),
    )
)
_FINISH = (
    update(table_of(StoredLetter))
    .where(_THIS, _state == LetterState.SENDING, col(StoredLetter.claim) == bindparam("token"))
    .values({name: bindparam(f"new_{name}") for name in OUTCOME} | {"claim": None, "lease": None})
)
_GIVE_UP = (
    update(table_of(StoredLetter))
    .where(
        col(StoredLetter.plan) == bindparam("of_plan"),
        col(StoredLetter.kind) == Kind.NUDGE,
        _state == LetterState.PENDING,
        col(StoredLetter.key).not_in(bindparam("keep", expanding=True)),
    )
    .values(state=LetterState.OBSOLETE)
)


@cache
def _put_once() -> Insert:
    """Stores a letter; one that is stored already only where it waits or was given up."""
    once = insert(table_of(StoredLetter))
    names = [column.name for column in table_of(StoredLetter).columns if column.name != "id"]
    put: dict[str, Any] = {name: once.excluded[name] for name in names}
    put |= {"state": LetterState.PENDING, "claim": None, "lease": None}
    # What a transport asked to wait for still holds for a letter that was already waiting.
    put["not_before"] = case((_state == LetterState.PENDING, _held_until), else_=once.excluded["not_before"])
    put["attempts"] = case((_state == LetterState.PENDING, col(StoredLetter.attempts)), else_=0)
    return once.on_conflict_do_update(
        index_elements=["chat", "key"],
        set_=put,
        where=or_(_state == LetterState.OBSOLETE, _state == LetterState.PENDING),
    )


class SqlOutbox(SqlLetters, Outbox):
    def put(self, letters: Sequence[Letter]) -> None:
        """Raises ValueError for a letter that is `sending`, or whose chat or plan is not stored."""
        if any(letter.state is LetterState.SENDING for letter in letters):
            raise ValueError("a letter is put before it is claimed")
        fresh = [columns(letter_row(letter)) for letter in letters]
        if not fresh:
            return
        session = self._live()
        with plainly(session):
            session.connection().execute(_put_once(), fresh)
        session.expire_all()  # the session may hold what was just overwritten

    def pending(self, plan: int) -> list[Letter]:
        wanted = select(StoredLetter).where(StoredLetter.plan == plan, _state == LetterState.PENDING)
        return [to_letter(row) for row in self._live().exec(wanted.order_by(_due, col(StoredLetter.id)))]

    def obsolete(self, plan: int, keep: Sequence[str] = ()) -> int:
        return self._changed(_GIVE_UP, {"of_plan": plan, "keep": list(keep)})

    def withdraw(self, letter: Letter) -> bool:
        row = self._row(letter)
        if row is None or row.state is not LetterState.PENDING:
            return False
        row.state = LetterState.OBSOLETE
        self._live().flush()
        return True

    def forget_buttons(self, chat: int, receipt: str) -> None:
        message = select(StoredLetter).where(StoredLetter.chat == chat, StoredLetter.receipt == receipt)
        for row in self._live().exec(message):
            row.buttons = []
        self._live().flush()

    def due(self, now: datetime) -> list[Letter]:
        return [_offered(row) for row in self._live().exec(_DUE, params={"at": utc(now)})]

    def next_due(self, after: datetime) -> datetime | None:
        at = {"at": utc(after)}
        found = [self._live().exec(query, params=at).one() for query in (_NEXT_OWED, _NEXT_LAPSING)]
        return min((moment for moment in found if moment is not None), default=None)

    def claim(self, letter: int, token: str, now: datetime, lease: timedelta) -> Letter | None:
        """Raises ValueError for an empty token or a lease that is over as it begins."""
        at = utc(now)
        if not token or lease <= timedelta(0):
            raise ValueError("a claim needs a token and a lease")
        taken = {"letter": letter, "token": token, "at": at, "until": at + lease}
        if self._changed(_CLAIM, taken) != 1:
            return None
        row = self._live().get(StoredLetter, letter)
        return None if row is None else to_letter(row)

    def finish(self, letter: Letter) -> bool:
        """Raises ValueError for a letter still `sending`. Text, buttons and attempts are stored with the
        rest: words are found when a letter is sent, and being held back is no attempt.
        """
        wanted = letter_row(letter)
        if letter.state is LetterState.SENDING:
            raise ValueError("a letter that is still being sent is not finished")
        outcome = {f"new_{name}": getattr(wanted, name) for name in OUTCOME}
        return self._changed(_FINISH, outcome | {"letter": letter.id, "token": letter.claim}) == 1

    def _changed(self, change: Update, values: dict[str, Any]) -> int:
        """How many letters the update changed."""
        session = self._live()
        changed = session.connection().execute(change, values).rowcount
        session.expire_all()  # the session may hold what was just overwritten
        return changed

    def _row(self, letter: Letter) -> StoredLetter | None:
        return None if letter.id is None else self._live().get(StoredLetter, letter.id)


def _offered(row: StoredLetter) -> Letter:
    """The letter as it is offered for sending: one whose lease ran out may have been delivered."""
    if row.state is LetterState.SENDING:
        return to_letter(row, state=LetterState.UNCERTAIN, claim=None, lease=None)
    return to_letter(row)
