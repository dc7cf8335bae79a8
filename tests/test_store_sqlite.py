"""What SQLite adds to the store: locks, crashes, and files that are something else."""

from __future__ import annotations

import sqlite3
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from pathlib import Path

import pytest

from storage.engine import make_engine, open_store
from storage.errors import StoreError
from tests.stores import (
    DONE,
    IMPATIENT,
    NOW,
    a_chat,
    a_letter,
    a_plan,
    a_plan_row,
    a_timetable,
    an_update,
    put,
    rows,
)

ROOT = Path(__file__).parents[1]
NAIVE = NOW.replace(tzinfo=None)


@pytest.fixture
def path(tmp_path: Path) -> str:
    return str(tmp_path / "crockbell.sqlite3")


# ---------------------------------------------------------------- connections and locks


def test_every_connection_is_durable_and_keeps_references_whole(path: str) -> None:
    """Write-ahead log, a sync at every commit, foreign keys kept, as set on each new connection."""
    engine = make_engine(path)
    with engine.connect() as first, engine.connect() as second:
        for connection in (first, second):
            raw = connection.connection.driver_connection
            assert isinstance(raw, sqlite3.Connection)
            told = [
                raw.execute(f"PRAGMA {name}").fetchone()[0]
                for name in ("journal_mode", "synchronous", "foreign_keys")
            ]
            assert told == ["wal", 2, 1]
    engine.dispose()


def test_a_unit_of_work_is_a_writer_from_its_beginning(path: str) -> None:
    """Before it has read or written anything, no other writer can begin; readers can."""
    with closing(open_store(path)) as store, closing(sqlite3.connect(path, timeout=0)) as other:
        with store(), pytest.raises(sqlite3.OperationalError, match="locked"):
            other.execute("BEGIN IMMEDIATE")
        with store():
            assert other.execute("SELECT count(*) FROM chats").fetchone() == (0,)
        other.execute("BEGIN IMMEDIATE")


def test_another_process_that_writes_makes_us_wait_then_give_up(path: str) -> None:
    """A lock held outside the store ends in TimeoutError, and the store works when it is gone."""
    with closing(open_store(path, IMPATIENT)) as store, closing(sqlite3.connect(path)) as other:
        other.execute("BEGIN IMMEDIATE")
        with pytest.raises(TimeoutError), store():
            raise AssertionError("two writers at once")
        other.rollback()
        a_chat(store)


def test_a_locked_file_cannot_be_opened_in_time(path: str) -> None:
    """Opening waits as long as a unit of work does, then raises TimeoutError."""
    open_store(path).close()
    with closing(sqlite3.connect(path)) as other:
        other.execute("BEGIN IMMEDIATE")
        with pytest.raises(TimeoutError):
            open_store(path, IMPATIENT)


def test_many_may_open_a_new_file_at_once(path: str) -> None:
    """The first makes the tables while the others wait, and all of them can write."""
    with ThreadPoolExecutor(4) as pool:
        stores = list(pool.map(lambda _: open_store(path), range(4)))
        chats = list(pool.map(a_chat, stores, [f"telegram:{n}" for n in range(4)]))
    assert sorted(chats) == [1, 2, 3, 4]
    for store in stores:
        store.close()


def test_a_store_in_memory_is_private_and_shared_between_threads() -> None:
    """Threads of one store see the same data; another store sees nothing of it."""
    with closing(open_store(None)) as ours, closing(open_store(None)) as theirs:
        with ThreadPoolExecutor(3) as pool:
            chats = list(pool.map(lambda n: a_chat(ours, f"telegram:{n}"), range(6)))
        assert sorted(chats) == [1, 2, 3, 4, 5, 6]
        with theirs() as unit:
            assert unit.chats.at("telegram:0") is None


def test_a_closed_store_opens_no_unit_of_work() -> None:
    """Rather than an empty database where the data was, RuntimeError."""
    store = open_store(None)
    store.close()
    with pytest.raises(RuntimeError):
        store()


# ---------------------------------------------------------------- crashes

DIES = """
import os, sys
from scheduler.records import Chat
from storage.engine import open_store
store = open_store(sys.argv[1])
with store() as unit:
    unit.chats.save(Chat("telegram:kept"))
    unit.commit()
with store() as unit:
    for number in range(2000):
        unit.chats.save(Chat(f"telegram:{number}", barred="x" * 2000))
    os._exit(9)
"""


def test_a_killed_process_leaves_the_database_whole(path: str) -> None:
    """What was committed is there, what was not is gone, and the file opens and checks out."""
    died = subprocess.run([sys.executable, "-c", DIES, path], cwd=ROOT, check=False)
    assert died.returncode == 9
    with closing(open_store(path)) as store, store() as unit:
        assert unit.chats.at("telegram:kept") is not None
        assert unit.chats.at("telegram:0") is None
    assert rows(path, "PRAGMA integrity_check") == [("ok",)]


def test_what_was_stored_is_there_when_the_file_is_opened_again(path: str) -> None:
    """Plan, timetable, letter and update survive closing and opening."""
    with closing(open_store(path)) as store:
        chat = a_chat(store)
        plan = a_plan(store, chat, timetable=a_timetable())
        put(store, a_letter(chat, "k", plan=plan, buttons=(DONE,)))
        with store() as unit:
            unit.inbox.take([an_update(7)])
            unit.commit()
    with closing(open_store(path)) as store, store() as unit:
        assert unit.plans.get(plan) == a_plan_row(chat, id=plan, timetable=a_timetable())
        assert unit.outbox.due(NOW) == [a_letter(chat, "k", plan=plan, buttons=(DONE,), id=1)]
        assert unit.inbox.new(NOW) == [an_update(7, id=1)]


# ---------------------------------------------------------------- files that cannot be used


@pytest.mark.parametrize("content", [b"crockbell: 1\ntitle: not a database\n" * 40, None])
def test_a_file_that_is_no_database_is_refused(path: str, content: bytes | None) -> None:
    """A text file, and a folder, raise StoreError naming them, and stay as they were."""
    if content is None:
        Path(path).mkdir()
    else:
        Path(path).write_bytes(content)
    with pytest.raises(StoreError, match=r"crockbell\.sqlite3"):
        open_store(path)
    assert content is None or Path(path).read_bytes() == content


def test_a_folder_that_is_not_there_is_said_so(tmp_path: Path) -> None:
    """A database in a missing folder raises StoreError; no folder is made."""
    with pytest.raises(StoreError):
        open_store(str(tmp_path / "missing" / "crockbell.sqlite3"))
    assert list(tmp_path.iterdir()) == []
