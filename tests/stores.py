"""Every kind of store, opened the same way, and records to put in them."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from scheduler.domain.timetable import Slot, Timetable, Touch
from scheduler.ports import Store
from scheduler.records import Button, Chat, Kind, Letter, LetterState, PlanRow, PlanStatus, Received
from storage.engine import SqlStore, open_store
from tests.fakes import FakeStore

NOW = datetime(2026, 12, 12, 9, 0, tzinfo=UTC)
MINUTE = timedelta(minutes=1)
HOUR = timedelta(hours=1)
IMPATIENT = timedelta(milliseconds=50)
DONE = Button("Done", "done:3")
KINDS = ("memory", "file", "fake")


def open_kind(kind: str, folder: Path, patience: timedelta = timedelta(seconds=30)) -> SqlStore | FakeStore:
    if kind == "fake":
        return FakeStore(patience)
    return open_store(str(folder / "crockbell.sqlite3") if kind == "file" else None, patience)


class EveryStore:
    """Tests in a class derived from this one run once for each kind of store."""

    @pytest.fixture(params=KINDS)
    def kind(self, request: pytest.FixtureRequest) -> str:
        return str(request.param)

    @pytest.fixture
    def store(self, kind: str, tmp_path: Path) -> Iterator[Store]:
        with closing(open_kind(kind, tmp_path)) as store:
            yield store


def a_chat(store: Store, address: str = "terminal:here") -> int:
    """A chat stored at that address: its id."""
    with store() as unit:
        chat = unit.chats.save(Chat(address))
        unit.commit()
    assert chat.id is not None
    return chat.id


def a_plan(store: Store, chat: int, **more: Any) -> int:
    """A plan stored for that chat: its id."""
    with store() as unit:
        plan = unit.plans.add(a_plan_row(chat, **more))
        unit.commit()
    assert plan.id is not None
    return plan.id


def a_plan_row(chat: int, **more: Any) -> PlanRow:
    made = PlanRow(
        chat=chat,
        title="Soup for two",
        source="crockbell: 1\ntitle: Soup for two\n",
        zone="Europe/Lisbon",
        awake="07:00-22:30",
        serve=NOW + 10 * HOUR,
        created=NOW,
        status=PlanStatus.ACTIVE,
    )
    for name, value in more.items():
        setattr(made, name, value)
    return made


def a_timetable(first: datetime = NOW, proven: bool = True) -> Timetable:
    """Three steps, half an hour each, and two touches."""
    starts = [first + n * 30 * MINUTE for n in range(3)]
    return Timetable(
        serve=first + 2 * HOUR,
        slots=tuple(
            Slot(
                step, at, at + 30 * MINUTE, at - MINUTE, at + MINUTE, at + 2 * MINUTE, "Ada" if step else None
            )
            for step, at in zip((2, 0, 1), starts, strict=True)
        ),
        touches=(
            Touch(0, 1, first + 5 * MINUTE, first + 6 * MINUTE),
            Touch(0, 2, first + 9 * MINUTE, first + 9 * MINUTE, "nobody is up"),
        ),
        proven=proven,
    )


def a_letter(chat: int, key: str, due: datetime = NOW, **more: Any) -> Letter:
    return Letter(**{"chat": chat, "kind": Kind.NUDGE, "due": due, "key": key, **more})


def an_update(number: int, source: str = "telegram", **more: Any) -> Received:
    return Received(
        **{"source": source, "update": number, "payload": {"text": "done"}, "received": NOW, **more}
    )


def rows(path: str, query: str) -> list[tuple[Any, ...]]:
    """What a database file answers to a query, asked past the store."""
    with closing(sqlite3.connect(path)) as connection:
        return connection.execute(query).fetchall()


def keys(letters: list[Letter]) -> list[str]:
    """The keys of letters, in their order."""
    return [letter.key for letter in letters]


def put(store: Store, *letters: Letter) -> None:
    """Store letters in a unit of work of their own."""
    with store() as unit:
        unit.outbox.put(letters)
        unit.commit()


def send(store: Store, letter: int, at: datetime = NOW, receipt: str | None = None, **more: Any) -> Letter:
    """Claim a letter and finish it as sent at `at`: the letter as it was finished."""
    with store() as unit:
        claimed = unit.outbox.claim(letter, "sender", at, MINUTE)
        assert claimed is not None
        done = replace(claimed, state=LetterState.SENT, sent=at, receipt=receipt, **more)
        assert unit.outbox.finish(done)
        unit.commit()
    return done
