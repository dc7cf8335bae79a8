"""Marks, on SQLite: added and read, never changed."""

from __future__ import annotations

from collections.abc import Sequence

from sqlalchemy import bindparam
from sqlmodel import col, select

from scheduler.domain.progress import Mark
from scheduler.ports import Marks
from storage.mapping import mark_row, to_mark
from storage.repository import Repository
from storage.tables import StoredMark

_OF_PLAN = (
    select(StoredMark)
    .where(col(StoredMark.plan) == bindparam("plan"))
    .order_by(col(StoredMark.said), col(StoredMark.id))
)


class SqlMarks(Repository, Marks):
    def of(self, plan: int) -> list[Mark]:
        """By the time they were said, then as they were added."""
        return [to_mark(row) for row in self._live().exec(_OF_PLAN, params={"plan": plan})]

    def add(self, plan: int, marks: Sequence[Mark]) -> None:
        """Raises ValueError for a plan that is not stored."""
        self._insert([mark_row(plan, mark) for mark in marks])
