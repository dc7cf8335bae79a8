"""Column types: UTC instants, enums by their text, JSON. And the one rule for naive times."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from enum import StrEnum
from typing import Any

from sqlalchemy import JSON, Dialect, Enum, String, TypeDecorator

ENUM_WIDTH = 16
INSTANT_WIDTH = len("2026-12-12T19:30:00.000000Z")

Json = JSON(none_as_null=True)
"""JSON in which None is the database's own NULL, so that it can be asked for."""


def utc(at: datetime) -> datetime:
    """The same instant in UTC; raises ValueError for a naive time."""
    if at.utcoffset() is None:
        raise ValueError(f"a time without a zone is not an instant: {at.isoformat()}")
    return at.astimezone(UTC)


class UtcDateTime(TypeDecorator[datetime]):
    """An instant, kept as ISO 8601 text in UTC with microseconds.

    The text has a fixed width, so that its order in SQL is the order in time, and people can read it.
    Returns aware UTC datetimes. A naive one is refused: ValueError, which SQLAlchemy hands on wrapped in
    its StatementError.
    """

    impl = String(INSTANT_WIDTH)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> str | None:
        return (
            None
            if value is None
            else f"{utc(value).replace(tzinfo=None).isoformat(timespec='microseconds')}Z"
        )

    def process_result_value(self, value: str | None, dialect: Dialect) -> datetime | None:
        return None if value is None else datetime.fromisoformat(value)


def text_of(kind: type[StrEnum]) -> Enum:
    """A column type that keeps an enum's members as their text."""
    return Enum(
        kind,
        values_callable=lambda members: [member.value for member in members],
        native_enum=False,
        create_constraint=False,
        length=ENUM_WIDTH,
    )


def plain_json(value: Any) -> Any:
    """The value as JSON gives it back; raises ValueError for what JSON has no form for."""
    try:
        return json.loads(json.dumps(value, allow_nan=False))
    except TypeError as error:
        raise ValueError(f"not JSON: {error}") from error
