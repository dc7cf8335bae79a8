"""Ways out of a misfit, between the changes that were worked out and the buttons that make them.

A button has to carry the whole of its change, and which state of the plan it was worked out for: pressed after
that has changed, it is refused rather than done to something else.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from scheduler.changes import Change, ChangeKind
from scheduler.domain.plan import Plan
from scheduler.domain.progress import Progress
from scheduler.explain import Misfit
from scheduler.ports import Planner
from scheduler.remedies import Remedy
from scheduler.service.deeds import Deed, Verb
from scheduler.service.view import View

CODES = (
    ChangeKind.BED,
    ChangeKind.ALARM,
    ChangeKind.OFF,
    ChangeKind.HELPER,
    ChangeKind.GEAR,
    ChangeKind.SKIP,
    ChangeKind.LEAVE_OUT,
)
"""A kind's number in a button is its place here: only ever add at the end."""


OFFERING = frozenset({Verb.WAY, Verb.WAYS, Verb.SERVE})
"""What the buttons of a message ask for that says what does not fit."""


def out_of(
    misfit: Misfit, plan: Plan, now: datetime, planner: Planner, progress: Progress | None = None
) -> Misfit:
    """The misfit with ways out that will still do when the cook has read them."""
    return planner.ways_out(planner.lasting(misfit, plan, now, progress), plan, now, progress)


def deed_of(remedy: Remedy, plan: Plan, plan_id: int, revision: int) -> Deed:
    """The deed that a remedy's button carries.

    In a WAY, `minutes` is the kind of change, `step` the number of the step, the cook or the piece of gear,
    `at` to `until` its stretch and `occurrence` the plan's revision.
    """
    change = remedy.what
    if change is None or change.kind is ChangeKind.HOUR:
        return Deed(Verb.SERVE, plan_id, at=remedy.serve)
    return Deed(
        Verb.WAY,
        plan_id,
        _number(change, plan),
        revision,
        change.start,
        change.end,
        minutes=CODES.index(change.kind),
    )


Choices = Sequence[tuple[str, str]]
"""What each remedy says, and what its button carries, in their order."""


def choices(misfit: Misfit, view: View) -> list[tuple[str, str]]:
    """The remedies as answers to a question: each can be picked by its number."""
    return [
        (remedy.change, deed_of(remedy, view.plan, view.id, view.row.revision).encode())
        for remedy in misfit.remedies
    ]


def _number(change: Change, plan: Plan) -> int | None:
    if change.gear is not None:
        return _gear(plan).index(change.gear)
    if change.cook is not None:
        return _cooks(plan).index(change.cook)
    return change.step


def change_of(deed: Deed, plan: Plan) -> Change:
    """The change that a WAY stands for; raises ValueError for one that the plan has no room for."""
    try:
        kind, number = CODES[deed.minutes if deed.minutes is not None else len(CODES)], deed.step or 0
        if kind is ChangeKind.GEAR:
            return Change(kind, gear=_gear(plan)[number])
        if kind is ChangeKind.HELPER:
            return Change(kind, None, deed.at, deed.until)
        if kind in (ChangeKind.SKIP, ChangeKind.LEAVE_OUT):
            return Change(kind, step=plan.steps[number].number)
        return Change(kind, _cooks(plan)[number], deed.at, deed.until)
    except IndexError as error:
        raise ValueError(f"no such change: {deed}") from error


def _gear(plan: Plan) -> list[str]:
    return sorted(plan.kitchen.gear)


def _cooks(plan: Plan) -> list[str]:
    return [cook.name for cook in plan.kitchen.cooks]
