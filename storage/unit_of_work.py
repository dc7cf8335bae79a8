"""One transaction on SQLite."""

from __future__ import annotations

import sqlite3
from contextlib import ExitStack
from types import TracebackType
from typing import Self

from sqlalchemy import Engine
from sqlalchemy.exc import DBAPIError
from sqlalchemy.exc import TimeoutError as PoolTimeout
from sqlmodel import Session

from scheduler.ports import UnitOfWork
from storage.chats import SqlChats
from storage.inbox import SqlInbox
from storage.marks import SqlMarks
from storage.outbox import SqlOutbox
from storage.plans import Known, SqlPlans


class SqlUnitOfWork(UnitOfWork):
    """Entered once, used by the thread that entered it, over at `commit` or on leaving.

    Entering takes the write lock, so that what is read stays true until the end. TimeoutError when that
    takes longer than the engine waits; RuntimeError for use before entering or after the end.
    """

    def __init__(self, engine: Engine, known: Known | None = None) -> None:
        self._engine = engine
        self._session: Session | None = None
        self._used = False
        self.chats = SqlChats(self._live)
        self.plans = SqlPlans(self._live, {} if known is None else known)
        self.marks = SqlMarks(self._live)
        self.outbox = SqlOutbox(self._live)
        self.inbox = SqlInbox(self._live)

    def __enter__(self) -> Self:
        if self._used:
            raise RuntimeError("a unit of work is entered once")
        self._used = True
        self._session = Session(self._engine, close_resets_only=False)
        with ExitStack() as failing:
            failing.callback(self._end)
            self._begin(self._session)
            failing.pop_all()
        return self

    @staticmethod
    def _begin(session: Session) -> None:
        try:
            session.connection()  # begins the transaction, as a writer: see engine.py
        except (PoolTimeout, DBAPIError) as error:
            if is_busy(error):
                raise TimeoutError("the database is in use by another writer") from error
            raise

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._end()

    def commit(self) -> None:
        self._live().commit()
        self._end()

    def _live(self) -> Session:
        if self._session is None:
            raise RuntimeError("this unit of work is over, or was never entered")
        return self._session

    def _end(self) -> None:
        if self._session is not None:
            session, self._session = self._session, None
            session.close()


def is_busy(error: PoolTimeout | DBAPIError) -> bool:
    """Whether it says that somebody else has the database or its connections (SQLITE_BUSY, any kind)."""
    if isinstance(error, PoolTimeout):
        return True
    cause = error.orig
    return isinstance(cause, sqlite3.Error) and cause.sqlite_errorcode & 0xFF == sqlite3.SQLITE_BUSY
