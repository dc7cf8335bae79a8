"""A store on SQLite: how its connections are set up, and how one is opened."""

from __future__ import annotations

import sqlite3
from datetime import timedelta
from pathlib import Path

from sqlalchemy import URL, Connection, Engine, create_engine, event
from sqlalchemy.exc import DBAPIError
from sqlalchemy.pool import ConnectionPoolEntry, QueuePool

from scheduler.ports import Store, UnitOfWork
from storage.errors import StoreError
from storage.migrations import upgrade
from storage.plans import Known
from storage.unit_of_work import SqlUnitOfWork, is_busy

PATIENCE = timedelta(seconds=5)


class SqlStore(Store):
    """Opens units of work on one database, from any thread."""

    def __init__(self, engine: Engine) -> None:
        self._engine = engine
        self._closed = False
        self._known: Known = {}

    def __call__(self) -> UnitOfWork:
        if self._closed:
            raise RuntimeError("this store is closed")
        return SqlUnitOfWork(self._engine, self._known)

    def close(self) -> None:
        """Let go of the database. A private in-memory one is gone with it."""
        self._closed = True
        self._engine.dispose()


def open_store(path: str | None, patience: timedelta = PATIENCE) -> SqlStore:
    """The store in the file at `path`, made or brought up to date first; None is a private one in memory.

    `patience` is how long a unit of work waits for another writer. Raises StoreError for a file that is
    not a database of Crockbell's, or a newer one than this version knows; TimeoutError when another
    process keeps it locked.
    """
    engine = make_engine(path, patience)
    try:
        upgrade(engine)
    except DBAPIError as error:
        engine.dispose()
        if is_busy(error):
            raise TimeoutError(f"{path} is in use by another process") from error
        raise StoreError(f"{path} cannot be used as Crockbell's database: {error.orig}") from error
    except StoreError as error:
        engine.dispose()
        raise StoreError(f"{path}: {error}") from error
    return SqlStore(engine)


def make_engine(path: str | None, patience: timedelta = PATIENCE) -> Engine:
    """An engine whose every transaction begins as a writer.

    In memory there is one connection, and units of work wait for it in turn: SQLite's own way of sharing
    a database in memory between connections does not wait for locks.
    """
    seconds = patience.total_seconds()
    connections = {"pool_size": 1, "max_overflow": 0} if path is None else {}
    engine = create_engine(
        URL.create("sqlite", database=None if path is None else str(Path(path).absolute())),
        hide_parameters=True,  # what a cook wrote has no place in a log
        poolclass=QueuePool,
        pool_timeout=seconds,
        connect_args={"timeout": seconds, "check_same_thread": False},
        **connections,
    )
    event.listen(engine, "connect", _set_up)
    event.listen(engine, "begin", _begin_as_writer)
    return engine


def _set_up(connection: sqlite3.Connection, record: ConnectionPoolEntry) -> None:
    """WAL is a property of the file and does nothing in memory; the rest is the connection's own.

    sqlite3 is kept from beginning transactions by itself, which it would do late and as a reader
    (SQLAlchemy manual, SQLite dialect, "Enabling Non-Legacy SQLite Transactional Modes").
    """
    connection.isolation_level = None
    connection.execute("PRAGMA journal_mode=WAL")
    connection.execute("PRAGMA synchronous=FULL")
    connection.execute("PRAGMA foreign_keys=ON")


def _begin_as_writer(connection: Connection) -> None:
    connection.exec_driver_sql("BEGIN IMMEDIATE")
