"""Plans whose hour is long past are over, also when nobody said so."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

from scheduler.domain.clocks import under_way
from scheduler.ports import Store, UnitOfWork
from scheduler.records import PlanRow, PlanStatus
from scheduler.service.view import view_of

AFTERWARDS = timedelta(hours=6)
"""How long after the serving hour a meal is surely eaten."""


def finish_old(store: Store, now: datetime) -> int:
    """Finish every plan under way whose serving hour is past, and of which no food is out; how many."""
    with store() as uow:
        old = [row for row in uow.plans.served_before(now - AFTERWARDS) if not _food_is_out(uow, row, now)]
        for row in old:
            uow.plans.save(replace(row, status=PlanStatus.FINISHED), row.revision)
            uow.outbox.obsolete(row.id or 0)
        if old:
            uow.commit()
    return len(old)


def _food_is_out(uow: UnitOfWork, row: PlanRow, now: datetime) -> bool:
    view = view_of(uow, row, now)
    return bool(under_way(view.plan, view.progress, now))
