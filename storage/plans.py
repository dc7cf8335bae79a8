"""Plans and the revisions of their timetables, on SQLite."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

from sqlalchemy import bindparam
from sqlmodel import Session, col, select

from scheduler.domain.timetable import Timetable
from scheduler.ports import Plans, Stale
from scheduler.records import PlanRow, PlanStatus
from storage.columns import utc
from storage.mapping import plan_row, slot_row, timetable_row, to_plan, to_timetable, touch_row
from storage.repository import Repository, plainly
from storage.tables import StoredPlan, StoredSlot, StoredTimetable, StoredTouch

Known = dict[tuple[int, int], Timetable]
"""Timetables by plan and revision. A committed one never changes, so it need not be read twice."""

MOST_KNOWN = 64

_OF_REVISION = select(StoredTimetable).where(
    StoredTimetable.plan == bindparam("plan"), StoredTimetable.revision == bindparam("revision")
)


class SqlPlans(Repository, Plans):
    def __init__(self, live: Callable[[], Session], known: Known) -> None:
        super().__init__(live)
        self._known = known
        self._wrote = False

    def get(self, plan: int) -> PlanRow | None:
        row = self._live().get(StoredPlan, plan)
        return None if row is None else self._whole(row)

    def of_chat(self, chat: int, *statuses: PlanStatus) -> list[PlanRow]:
        wanted = select(StoredPlan).where(
            StoredPlan.chat == chat, col(StoredPlan.status).in_(statuses or tuple(PlanStatus))
        )
        newest_first = wanted.order_by(col(StoredPlan.created).desc(), col(StoredPlan.id).desc())
        return [self._whole(row) for row in self._live().exec(newest_first)]

    def served_before(self, at: datetime) -> list[PlanRow]:
        """The plans under way whose serving hour is earlier, oldest first."""
        wanted = select(StoredPlan).where(
            StoredPlan.status == PlanStatus.ACTIVE, col(StoredPlan.serve) < utc(at)
        )
        return [self._whole(row) for row in self._live().exec(wanted.order_by(col(StoredPlan.id)))]

    def add(self, row: PlanRow) -> PlanRow:
        """Raises ValueError for a row that has an id already, or whose chat is not stored."""
        if row.id is not None:
            raise ValueError(f"plan {row.id} is stored already")
        session, stored = self._live(), plan_row(row)
        with plainly(session):
            session.add(stored)
            session.flush()
            self._keep(stored, row.timetable)
        return to_plan(stored, row.timetable)

    def save(self, row: PlanRow, based_on: int) -> PlanRow:
        """Raises LookupError for a plan that is not stored, Stale as the port says."""
        session, wanted = self._live(), plan_row(row)
        stored = session.get(StoredPlan, row.id) if row.id is not None else None
        if stored is None:
            raise LookupError(f"there is no plan {row.id}")
        if stored.revision != based_on:
            raise Stale(f"plan {row.id} is at revision {stored.revision}, not {based_on}")
        as_before = row.timetable is not None and self._in_force(stored) == row.timetable
        with plainly(session):
            stored.status, stored.serve, stored.changes = wanted.status, wanted.serve, wanted.changes
            stored.revision = based_on + 1
            session.flush()
            if not as_before:
                self._keep(stored, row.timetable)
        return to_plan(stored, row.timetable)

    def _keep(self, stored: StoredPlan, timetable: Timetable | None) -> None:
        session, self._wrote = self._live(), True
        stored.timed = None if timetable is None else stored.revision
        if timetable is None or stored.id is None:
            session.flush()
            return
        head = timetable_row(stored.id, stored.revision, timetable)
        session.add(head)
        session.flush()
        if head.id is not None:
            self._insert([slot_row(head.id, slot) for slot in timetable.slots])
            self._insert([touch_row(head.id, touch) for touch in timetable.touches])

    def _whole(self, row: StoredPlan) -> PlanRow:
        return to_plan(row, self._in_force(row))

    def _in_force(self, row: StoredPlan) -> Timetable | None:
        """The timetable in force; None where the last revision was saved without."""
        if row.timed is None or row.id is None:
            return None
        key = row.id, row.timed
        if key in self._known and not self._wrote:
            return self._known[key]
        head = self._live().exec(_OF_REVISION, params={"plan": row.id, "revision": row.timed}).one()
        timetable = self._timetable(head)
        # What this unit of work wrote may yet be rolled back, and its revision be stored otherwise.
        if not self._wrote:
            if len(self._known) >= MOST_KNOWN:
                self._known.clear()
            self._known[key] = timetable
        return timetable

    def _timetable(self, head: StoredTimetable) -> Timetable:
        slots = select(StoredSlot).where(StoredSlot.timetable == head.id)
        touches = select(StoredTouch).where(StoredTouch.timetable == head.id)
        return to_timetable(
            head,
            tuple(self._live().exec(slots.order_by(col(StoredSlot.start), col(StoredSlot.id)))),
            tuple(self._live().exec(touches.order_by(col(StoredTouch.id)))),
        )
