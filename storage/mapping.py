"""Between the records and the rows of tables.py.

Rows are validated as they are made: types strictly, times aware, button data within its limit. A record
that fails is refused with pydantic's ValidationError, which is a ValueError.
"""

from __future__ import annotations

import copy
from dataclasses import fields
from typing import Any, TypeVar

from scheduler.changes import Change
from scheduler.domain.progress import Mark
from scheduler.domain.timetable import Slot, Timetable, Touch
from scheduler.records import Button, Chat, Letter, PlanRow, Received
from storage.tables import (
    Base,
    StoredChat,
    StoredLetter,
    StoredMark,
    StoredPlan,
    StoredSlot,
    StoredTimetable,
    StoredTouch,
    StoredUpdate,
)

Record = TypeVar("Record", Chat, Mark, Received, Slot, Touch, PlanRow, Letter)
Row = TypeVar("Row", bound=Base)


_NAMES = {
    kind: tuple(field.name for field in fields(kind))
    for kind in (Chat, Mark, Received, Slot, Touch, PlanRow, Letter)
}
"""The fields of each kind of record, looked up once: rows are read by the thousand."""


def _row(table: type[Row], record: Record, **more: Any) -> Row:
    named = {name: getattr(record, name) for name in _NAMES[type(record)]}
    wanted = {name: value for name, value in {**named, **more}.items() if name in table.model_fields}
    return table.model_validate(wanted, strict=True)


def _record(kind: type[Record], row: Base, **more: Any) -> Record:
    named = [name for name in _NAMES[kind] if name not in more]
    return kind(**{name: _own(getattr(row, name)) for name in named}, **more)


def _own(value: Any) -> Any:
    """A JSON object as the caller's own copy: what it does to it must not reach the row."""
    return copy.deepcopy(value) if isinstance(value, dict) else value


def chat_row(chat: Chat) -> StoredChat:
    return _row(StoredChat, chat)


def to_chat(row: StoredChat) -> Chat:
    return _record(Chat, row)


def plan_row(plan: PlanRow) -> StoredPlan:
    return _row(StoredPlan, plan, changes=[change.as_json() for change in plan.changes])


def to_plan(row: StoredPlan, timetable: Timetable | None) -> PlanRow:
    changes = tuple(Change.from_json(change) for change in row.changes)
    return _record(PlanRow, row, timetable=timetable, changes=changes)


def timetable_row(plan: int, revision: int, timetable: Timetable) -> StoredTimetable:
    values = {"plan": plan, "revision": revision, "serve": timetable.serve, "proven": timetable.proven}
    return StoredTimetable.model_validate(values, strict=True)


def slot_row(timetable: int, slot: Slot) -> StoredSlot:
    return _row(StoredSlot, slot, timetable=timetable)


def touch_row(timetable: int, touch: Touch) -> StoredTouch:
    return _row(StoredTouch, touch, timetable=timetable)


def to_timetable(
    row: StoredTimetable, slots: tuple[StoredSlot, ...], touches: tuple[StoredTouch, ...]
) -> Timetable:
    return Timetable(
        serve=row.serve,
        slots=tuple(_record(Slot, slot) for slot in slots),
        touches=tuple(_record(Touch, touch) for touch in touches),
        proven=row.proven,
    )


def mark_row(plan: int, mark: Mark) -> StoredMark:
    return _row(StoredMark, mark, plan=plan)


def to_mark(row: StoredMark) -> Mark:
    return _record(Mark, row)


def letter_row(letter: Letter) -> StoredLetter:
    return _row(StoredLetter, letter, buttons=[[button.label, button.data] for button in letter.buttons])


def to_letter(row: StoredLetter, **changed: Any) -> Letter:
    """The letter a row holds, with those of its fields that `changed` names set otherwise."""
    buttons = tuple(Button(label, data) for label, data in row.buttons)
    return _record(Letter, row, buttons=buttons, **changed)


def update_row(update: Received) -> StoredUpdate:
    return _row(StoredUpdate, update)


def to_update(row: StoredUpdate) -> Received:
    return _record(Received, row)


def columns(row: Base) -> dict[str, Any]:
    """What a row holds, by column, without its id: for an INSERT that is written out."""
    return row.model_dump(exclude={"id"})
