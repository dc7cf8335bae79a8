"""A store in plain Python that keeps the obligations of scheduler.ports, for tests without a database."""

from __future__ import annotations

import threading
from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from types import TracebackType
from typing import Self

from scheduler.domain.progress import Mark
from scheduler.domain.timetable import Timetable
from scheduler.ports import Chats, Inbox, Marks, Plans, Stale, Store, UnitOfWork
from scheduler.records import Chat, PlanRow, PlanStatus, Received, ReceivedState
from tests.fake_outbox import FakeOutbox
from tests.fake_world import Part, World, own, utc


class FakeChats(Part, Chats):
    def at(self, address: str) -> Chat | None:
        return next((own(chat) for chat in self.live().chats.values() if chat.address == address), None)

    def get(self, chat: int) -> Chat:
        if chat not in self.live().chats:
            raise LookupError(f"there is no chat {chat}")
        return own(self.live().chats[chat])

    def save(self, chat: Chat) -> Chat:
        chats = self.live().chats
        if chat.id is not None:
            self.get(chat.id)
        if any(other.address == chat.address and other.id != chat.id for other in chats.values()):
            raise ValueError(f"another chat is at {chat.address}")
        saved = own(replace(chat, id=chat.id or len(chats) + 1))
        chats[saved.id or 0] = saved
        return own(saved)


class FakePlans(Part, Plans):
    def get(self, plan: int) -> PlanRow | None:
        row = self.live().plans.get(plan)
        return None if row is None else own(row)

    def of_chat(self, chat: int, *statuses: PlanStatus) -> list[PlanRow]:
        wanted = statuses or tuple(PlanStatus)
        found = [row for row in self.live().plans.values() if row.chat == chat and row.status in wanted]
        return [own(row) for row in sorted(found, key=lambda row: (row.created, row.id), reverse=True)]

    def served_before(self, at: datetime) -> list[PlanRow]:
        under_way = (row for row in self.live().plans.values() if row.status is PlanStatus.ACTIVE)
        return [own(row) for row in under_way if row.serve < at]

    def add(self, row: PlanRow) -> PlanRow:
        if row.id is not None or row.chat not in self.live().chats:
            raise ValueError("stored already, or of no chat")
        return self._keep(replace(row, id=len(self.live().plans) + 1))

    def save(self, row: PlanRow, based_on: int) -> PlanRow:
        stored = self.live().plans.get(row.id or 0)
        if stored is None:
            raise LookupError(f"there is no plan {row.id}")
        if stored.revision != based_on:
            raise Stale(f"plan {row.id} is at revision {stored.revision}, not {based_on}")
        return self._keep(
            replace(
                stored,
                status=row.status,
                serve=row.serve,
                timetable=row.timetable,
                changes=row.changes,
                revision=based_on + 1,
            )
        )

    def _keep(self, row: PlanRow) -> PlanRow:
        kept = own(replace(row, timetable=_checked(row.timetable)))
        self.live().plans[kept.id or 0] = kept
        self.live().timetables[kept.id or 0, kept.revision] = kept.timetable
        return own(kept)


def _checked(table: Timetable | None) -> Timetable | None:
    if table is None:
        return None
    slots, touches = [own(slot) for slot in table.slots], tuple(own(touch) for touch in table.touches)
    if len({slot.step for slot in slots}) < len(slots):
        raise ValueError("a step has two slots")
    if len({(touch.step, touch.occurrence) for touch in touches}) < len(touches):
        raise ValueError("a step has two touches of one number")
    in_order = tuple(sorted(slots, key=lambda slot: slot.start))
    return replace(table, serve=utc(table.serve), slots=in_order, touches=touches)


class FakeMarks(Part, Marks):
    def of(self, plan: int) -> list[Mark]:
        return sorted(self.live().marks.get(plan, ()), key=lambda mark: mark.said)

    def add(self, plan: int, marks: Sequence[Mark]) -> None:
        if marks and plan not in self.live().plans:
            raise ValueError(f"there is no plan {plan}")
        self.live().marks[plan] = (*self.live().marks.get(plan, ()), *map(own, marks))


class FakeInbox(Part, Inbox):
    def take(self, rows: Sequence[Received]) -> int:
        updates = self.live().updates
        before = len(updates)
        for row in map(own, rows):
            if not any((old.source, old.update) == (row.source, row.update) for old in updates.values()):
                updates[len(updates) + 1] = replace(row, id=len(updates) + 1)
        return len(updates) - before

    def new(self, now: datetime, limit: int = 100) -> list[Received]:
        at = utc(now)
        found = [
            own(row)
            for row in self.live().updates.values()
            if row.state is ReceivedState.NEW and (row.not_before is None or row.not_before <= at)
        ]
        return sorted(found, key=lambda row: (row.received, row.id))[:limit]

    def save(self, row: Received) -> None:
        stored = self.live().updates.get(row.id or 0)
        if stored is None:
            raise LookupError(f"there is no update {row.id}")
        names = ("state", "attempts", "not_before", "error")
        outcome = {name: getattr(own(row), name) for name in names}
        self.live().updates[row.id or 0] = replace(stored, **outcome)

    def offset(self, source: str) -> int | None:
        return max((row.update for row in self.live().updates.values() if row.source == source), default=None)


class FakeUnitOfWork(UnitOfWork):
    def __init__(self, store: FakeStore) -> None:
        self._store = store
        self._world: World | None = None
        self._used = False
        self.chats = FakeChats(self._live)
        self.plans = FakePlans(self._live)
        self.marks = FakeMarks(self._live)
        self.outbox = FakeOutbox(self._live)
        self.inbox = FakeInbox(self._live)

    def __enter__(self) -> Self:
        if self._used:
            raise RuntimeError("a unit of work is entered once")
        self._used = True
        if not self._store.writer.acquire(timeout=self._store.patience.total_seconds()):
            raise TimeoutError("the store is in use by another writer")
        self._world = self._store.world.copy()
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._end()

    def commit(self) -> None:
        self._store.world = self._live()
        self._end()

    def _live(self) -> World:
        if self._world is None:
            raise RuntimeError("this unit of work is over, or was never entered")
        return self._world

    def _end(self) -> None:
        if self._world is not None:
            self._world = None
            self._store.writer.release()


class FakeStore(Store):
    """A store in memory. `patience` is how long a unit of work waits for another writer."""

    def __init__(self, patience: timedelta = timedelta(seconds=5)) -> None:
        self.patience = patience
        self.writer = threading.Lock()
        self.world = World()

    def __call__(self) -> UnitOfWork:
        return FakeUnitOfWork(self)

    def close(self) -> None:
        """Nothing to let go of."""
