"""What SQLite keeps: rows that people can read, nothing lost, and nothing of the wrong type."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from contextlib import closing
from dataclasses import replace
from datetime import timedelta, timezone
from functools import partial
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sqlalchemy.dialects.sqlite import dialect

from scheduler.domain.progress import Mark, MarkKind
from scheduler.domain.stages import Stage
from scheduler.domain.timetable import Timetable
from scheduler.records import Chat, ChatStage, LetterState, PlanRow, Received
from storage.columns import UtcDateTime
from storage.engine import open_store
from storage.mapping import chat_row, letter_row, mark_row, plan_row, to_chat, update_row
from tests.stores import DONE, NOW, a_chat, a_letter, a_plan, a_timetable, put, rows

NAIVE = NOW.replace(tzinfo=None)


@pytest.fixture
def path(tmp_path: Path) -> str:
    return str(tmp_path / "crockbell.sqlite3")


def test_rows_can_be_read_by_people(path: str) -> None:
    """Enums are kept as their text, instants as ISO 8601 in UTC with microseconds."""
    with closing(open_store(path)) as store:
        chat = a_chat(store)
        at = NOW.astimezone(timezone(timedelta(hours=5, minutes=30)))
        put(store, a_letter(chat, "k", due=at + timedelta(microseconds=5), stage=Stage.HEADS_UP))
    assert rows(path, "SELECT kind, stage, state, due, buttons FROM outbox") == [
        ("nudge", "heads-up", "pending", "2026-12-12T09:00:00.000005Z", "[]")
    ]


def test_earlier_timetables_stay_stored(path: str) -> None:
    """A new revision adds rows of its own, one for each slot and touch, and takes none away."""
    with closing(open_store(path)) as store:
        plan = a_plan(store, a_chat(store), timetable=a_timetable())
        with store() as unit:
            row = unit.plans.get(plan)
            assert row is not None
            unit.plans.save(replace(row, timetable=replace(a_timetable(NOW), proven=False)), based_on=0)
            unit.commit()
    assert rows(path, "SELECT revision, proven FROM timetables") == [(0, 1), (1, 0)]
    for table, each in (("slots", 3), ("touches", 2)):
        counts = rows(path, f"SELECT timetable, count(*) FROM {table} GROUP BY timetable")
        assert counts == [(1, each), (2, each)]


@pytest.mark.parametrize("change", ["UPDATE marks SET text = 'never said'", "DELETE FROM marks"])
def test_the_database_itself_refuses_to_change_a_mark(path: str, change: str) -> None:
    """Marks are only ever added, whoever asks."""
    with closing(open_store(path)) as store:
        plan = a_plan(store, a_chat(store))
        with store() as unit:
            unit.marks.add(plan, [Mark(MarkKind.DONE, NOW, NOW, "b", step=1, text="done")])
            unit.commit()
    with pytest.raises(sqlite3.IntegrityError, match="only ever added"):
        rows(path, change)


def wrong_rows() -> list[Callable[[], object]]:
    no_table = Timetable(NOW, ())
    chat = Chat("telegram:1")
    plan = PlanRow(1, "Soup", "", "UTC", "", NOW, NOW, timetable=no_table)
    mark = Mark(MarkKind.DONE, NOW, NOW, "b")
    letter, update = a_letter(1, "k"), Received("telegram", 1, {}, NOW)
    wrong: list[tuple[Callable[..., object], Any, dict[str, object]]] = [
        (chat_row, chat, {"stage": "ready"}),
        (chat_row, chat, {"address": 4711}),
        (chat_row, chat, {"group": 1}),
        (chat_row, chat, {"quiet_until": NAIVE}),
        (plan_row, plan, {"status": "active"}),
        (plan_row, plan, {"serve": "2026-12-12 19:30"}),
        (plan_row, plan, {"revision": "0"}),
        (letter_row, letter, {"state": "sent"}),
        (letter_row, letter, {"stage": Stage.NOW.value}),
        (letter_row, letter, {"state": ChatStage.NEW}),
        (letter_row, letter, {"priority": 1.5}),
        (letter_row, letter, {"file": "text"}),
        (letter_row, letter, {"facts": {"half": float("nan")}}),
        (letter_row, letter, {"buttons": (replace(DONE, data="d" * 65),)}),
        (letter_row, letter, {"lease": NAIVE}),
        (update_row, update, {"payload": ["list"]}),
        (update_row, update, {"state": LetterState.DEAD}),
        (partial(mark_row, 1), mark, {"kind": "done"}),
        (partial(mark_row, 1), mark, {"step": "1"}),
    ]
    return [partial(row, replace(record, **more)) for row, record, more in wrong]


@pytest.mark.parametrize("make", wrong_rows())
def test_a_record_of_the_wrong_types_becomes_no_row(make: Callable[[], object]) -> None:
    """Rows are validated strictly, though SQLModel's own constructor would let anything pass."""
    with pytest.raises(ValueError):
        make()


@given(
    first=st.datetimes(timezones=st.timezones() | st.just(NOW.tzinfo)),
    second=st.datetimes(timezones=st.just(NOW.tzinfo)),
)
def test_the_text_of_instants_is_ordered_as_they_are(first: Any, second: Any) -> None:
    """Stored text compares as the instants do, and reads back as the same instant in UTC."""
    try:
        first = first.astimezone(NOW.tzinfo)
    except OverflowError:  # at the ends of the calendar there is no such moment in UTC
        first = second
    texts = [UtcDateTime().process_bind_param(at, dialect()) or "" for at in (first, second)]
    assert (texts[0] < texts[1], texts[0] == texts[1]) == (first < second, first == second)
    back = [UtcDateTime().process_result_value(text, dialect()) for text in texts]
    assert back == [first, second]
    assert {at.tzname() for at in back if at is not None} == {"UTC"}


def test_a_naive_time_has_no_text() -> None:
    """The column type refuses a time without a zone, and lets None through."""
    with pytest.raises(ValueError):
        UtcDateTime().process_bind_param(NAIVE, dialect())
    assert UtcDateTime().process_bind_param(None, dialect()) is None
    assert UtcDateTime().process_result_value(None, dialect()) is None


def test_a_record_shares_nothing_with_its_row() -> None:
    """What is changed inside a record's JSON, once read, does not reach the row it was read from."""
    row = chat_row(Chat("telegram:1", question={"ask": ["when"]}))
    record = to_chat(row)
    assert record.question is not None
    record.question["ask"].append("where")
    assert row.question == {"ask": ["when"]}
