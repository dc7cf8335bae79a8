"""What the parts of a unit of work share: its one session, and plain words for a broken rule."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager

from sqlalchemy import Table, inspect
from sqlalchemy.exc import IntegrityError
from sqlmodel import Session

from storage.mapping import columns
from storage.tables import Base


class Repository:
    """A part of a unit of work. `live` gives its session, or raises RuntimeError when it is over."""

    def __init__(self, live: Callable[[], Session]) -> None:
        self._live = live

    def _insert(self, rows: Sequence[Base]) -> None:
        """Insert many rows of one table at once, in order."""
        if rows:
            session = self._live()
            with plainly(session):
                session.connection().execute(table_of(type(rows[0])).insert(), [columns(row) for row in rows])


def table_of(kind: type[Base]) -> Table:
    table = inspect(kind).local_table
    if not isinstance(table, Table):
        raise TypeError(f"{kind.__name__} is not a table")
    return table


@contextmanager
def plainly(session: Session) -> Iterator[None]:
    """Do all of it or nothing. What the database refuses (a chat or plan that is not there, a second of
    its kind) becomes ValueError, and the unit of work can go on.
    """
    try:
        with session.begin_nested():
            yield
    except IntegrityError as error:
        raise ValueError(f"the database refused it: {error.orig}") from error
