"""Plans whose hour is long past are over, also when nobody said so."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

from scheduler.ports import Store
from scheduler.records import PlanStatus

AFTERWARDS = timedelta(hours=6)
"""How long after the serving hour a meal is surely eaten."""


def finish_old(store: Store, now: datetime) -> int:
    """Finish every plan under way whose serving hour is past; how many."""
    with store() as uow:
        old = uow.plans.served_before(now - AFTERWARDS)
        for row in old:
            uow.plans.save(replace(row, status=PlanStatus.FINISHED), row.revision)
            uow.outbox.obsolete(row.id or 0)
        if old:
            uow.commit()
    return len(old)
