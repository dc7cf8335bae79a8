"""The inbox, on SQLite: every raw update once, until it is handled."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from sqlalchemy import bindparam, func, or_
from sqlalchemy.dialects.sqlite import insert
from sqlmodel import col, select

from scheduler.ports import Inbox
from scheduler.records import Received, ReceivedState
from storage.columns import UtcDateTime, utc
from storage.mapping import columns, to_update, update_row
from storage.repository import Repository, table_of
from storage.tables import StoredUpdate

OUTCOME = ("state", "attempts", "not_before", "error")

_held_until = col(StoredUpdate.not_before)
_free = or_(_held_until.is_(None), _held_until <= bindparam("now", type_=UtcDateTime()))
_NEW = (
    select(StoredUpdate)
    .where(col(StoredUpdate.state) == ReceivedState.NEW, _free)
    .order_by(col(StoredUpdate.received), col(StoredUpdate.id))
    .limit(bindparam("limit"))
)


class SqlInbox(Repository, Inbox):
    def take(self, rows: Sequence[Received]) -> int:
        connection = self._live().connection()
        once = insert(table_of(StoredUpdate)).on_conflict_do_nothing(index_elements=["source", "update"])
        fresh = [columns(update_row(row)) for row in rows]
        return sum(connection.execute(once, values).rowcount for values in fresh)

    def new(self, now: datetime, limit: int = 100) -> list[Received]:
        asked = {"now": utc(now), "limit": limit}
        return [to_update(row) for row in self._live().exec(_NEW, params=asked)]

    def save(self, row: Received) -> None:
        """Raises LookupError for an update that is not stored."""
        session, wanted = self._live(), update_row(row)
        stored = session.get(StoredUpdate, row.id) if row.id is not None else None
        if stored is None:
            raise LookupError(f"there is no update {row.id}")
        for name in OUTCOME:
            setattr(stored, name, getattr(wanted, name))
        session.flush()

    def offset(self, source: str) -> int | None:
        highest = select(func.max(col(StoredUpdate.update))).where(StoredUpdate.source == source)
        return self._live().exec(highest).one()
