"""What `check` says of the promise of a timetable, as text and as JSON."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from typing import Any

from scheduler import promised, words
from scheduler.bets import Bets, bets_on
from scheduler.domain.plan import Plan
from scheduler.domain.promise import Lasting
from scheduler.domain.timetable import Timetable
from scheduler.mending import Mend


def as_text(plan: Plan, timetable: Timetable, now: datetime | None = None) -> Iterator[str]:
    """A short section: kept, or each bet with what would mend it. Nothing where nature ends no step.

    Without `now`, it is as of the first start.
    """
    if not any(plan.steps[slot.step].range.by_nature for slot in timetable.slots):
        return
    found = _bets(plan, timetable, now)
    if found.promise.kept is not False:
        yield f"\n{promised.KEPT if found.promise.kept else promised.UNSHOWN}"
        return
    many = len(found.promise.breaks) > 1
    yield "\nIt is a bet, on more than one thing:" if many else "\nIt is a bet:"
    for lost, mends in zip(found.promise.breaks, found.mends, strict=True):
        yield f"- {promised.bet(plan, timetable, lost)}"
        yield from _mends(plan, mends, many)


def _mends(plan: Plan, mends: tuple[Mend, ...], many: bool) -> Iterator[str]:
    if mends:
        yield "  What would mend that:"
    for mend in mends:
        rest = " Then the meal is on time whatever nature does." if mend.wholly and many else ""
        yield f"  - {promised.mended(plan, mend)}.{rest}"


def as_json(plan: Plan, timetable: Timetable, now: datetime | None = None) -> dict[str, Any]:
    """`breaks` is the least draw that loses it; `because` what goes wrong then; `mends` what was tried and does.

    `besides` has the other bets, in words. Lengths are written as in a plan file.
    """
    found = _bets(plan, timetable, now)
    texts = [promised.bet(plan, timetable, lost) for lost in found.promise.breaks]
    first = found.promise.breaks[0].draw if found.promise.breaks else ()
    return {
        "kept": found.promise.kept,
        "breaks": [_lasting(plan, one) for one in first],
        "because": texts[0] if texts else None,
        "mends": [promised.mended(plan, mend) for mends in found.mends for mend in mends],
        "besides": texts[1:],
    }


def _lasting(plan: Plan, one: Lasting) -> dict[str, str]:
    step = plan.steps[one.step]
    return {"component": step.component, "step": step.name, "lasts": words.length(one.lasts)}


def _bets(plan: Plan, timetable: Timetable, now: datetime | None) -> Bets:
    return bets_on(
        plan, timetable, now or min((slot.start for slot in timetable.slots), default=timetable.serve)
    )
