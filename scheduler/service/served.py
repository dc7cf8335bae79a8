"""For how many a step was begun, where there have been more or fewer at the table since."""

from __future__ import annotations

from datetime import datetime

from scheduler.changes import ChangeKind
from scheduler.domain.kitchen.amounts import Amount
from scheduler.domain.marks import MarkKind, standing_marks
from scheduler.domain.progress import State
from scheduler.domain.scaling import times
from scheduler.service import changing
from scheduler.service.view import View

BEGUN = (State.RUNNING, State.DONE)


def begun_for(view: View, number: int) -> int | None:
    """How many there were to be at the table when that step was begun; None where it is not begun."""
    standing = view.progress.of(number)
    at = standing.started or standing.ended
    return None if standing.state not in BEGUN or at is None else serves_at(view, at)


def serves_at(view: View, at: datetime) -> int | None:
    """How many there were to be at the table by what had been said until then."""
    changes = [mark for mark in standing_marks(view.marks) if mark.kind is MarkKind.CHANGED]
    made = [(mark.said, changing.change_in(mark)) for mark in changes]
    said = [(when, change.serves) for when, change in made if change.kind is ChangeKind.SERVES]
    if not said:
        return view.plan.serves
    before = [serves for when, serves in said if when <= at]
    return before[-1] if before else view.with_changes(changing.in_force(view, ())).plan.serves


def as_begun(view: View, number: int, amount: Amount) -> Amount:
    """An amount of a step: of one that is begun, what it was begun with."""
    then, now = begun_for(view, number), view.plan.serves
    return amount if then is None or now is None or then == now else times(amount, now, then)
