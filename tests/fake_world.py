"""What the fake store holds, and how records go in and out of it."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass, field, fields, replace
from datetime import UTC, datetime
from typing import Any, TypeVar

from scheduler.domain.progress import Mark
from scheduler.domain.timetable import Slot, Timetable, Touch
from scheduler.records import Chat, Letter, PlanRow, Received

Record = TypeVar("Record", Chat, PlanRow, Letter, Received, Mark, Slot, Touch)


def utc(at: datetime) -> datetime:
    if at.utcoffset() is None:
        raise ValueError("a time without a zone is not an instant")
    return at.astimezone(UTC)


def own(record: Record) -> Record:
    """A copy that shares nothing that can change; raises ValueError for a naive time or what is not JSON."""
    return replace(record, **{each.name: _own(getattr(record, each.name)) for each in fields(record)})


def _own(value: Any) -> Any:
    if isinstance(value, datetime):
        return utc(value)
    if not isinstance(value, dict):
        return value
    try:
        return json.loads(json.dumps(value, allow_nan=False))
    except TypeError as error:
        raise ValueError(str(error)) from error


@dataclass
class World:
    """All that is stored, by id; what is in it is never changed in place."""

    chats: dict[int, Chat] = field(default_factory=dict)
    plans: dict[int, PlanRow] = field(default_factory=dict)
    marks: dict[int, tuple[Mark, ...]] = field(default_factory=dict)
    letters: dict[int, Letter] = field(default_factory=dict)
    updates: dict[int, Received] = field(default_factory=dict)
    timetables: dict[tuple[int, int], Timetable | None] = field(default_factory=dict)

    def copy(self) -> World:
        return World(**{each.name: dict(getattr(self, each.name)) for each in fields(self)})


class Part:
    """A part of a fake unit of work; `live` gives the world it works on, while it lasts."""

    def __init__(self, live: Callable[[], World]) -> None:
        self.live = live
