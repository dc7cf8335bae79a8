"""A cook's own times: how long their starters took in the plans before, and what that makes of a new one."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime

from scheduler.changes import Change, ChangeKind
from scheduler.domain.kitchen.ripeness import FARTHEST, NotRipening, Observed, ripe
from scheduler.domain.plan import MINUTE, NO_TIME, Plan, Step
from scheduler.domain.progress import Mark, MarkKind, State, fold, standing_marks
from scheduler.planfile import BadPlan
from scheduler.planfile.ripening import by_the_rule
from scheduler.ports import Store
from scheduler.records import PlanRow
from scheduler.service.scene import Scene
from scheduler.service.view import read_plan

LOOKED_THROUGH = 20
"""How many plans with a starter in them are looked through, the newest first."""

KEY = "ripens"
"""What stands in the source of every plan with such a step: so only those are read."""

Ended = tuple[datetime, Observed]


def own_times(store: Store, scene: Scene) -> tuple[Observed, ...]:
    """How long the starters of this chat took, whatever became of their plans; the latest last."""
    with store() as uow:
        rows = [row for row in uow.plans.of_chat(scene.chat.id or 0) if KEY in row.source][:LOOKED_THROUGH]
        marked = [(row, uow.marks.of(row.id)) for row in rows if row.id is not None]
    found = [each for row, marks in marked for each in _in_plan(row, marks, scene.now)]
    return tuple(observed for _, observed in sorted(found, key=lambda each: each[0]))


def _in_plan(row: PlanRow, marks: Sequence[Mark], now: datetime) -> Iterator[Ended]:
    try:
        plan = read_plan(row.source, row.zone, row.awake)
    except BadPlan:
        return  # written for an earlier version, and no longer read: nothing can be learned from it
    for step in plan.steps:
        yield from _of_step(plan, step, marks, now)


def _of_step(plan: Plan, step: Step, marks: Sequence[Mark], now: datetime) -> Iterator[Ended]:
    """From when it is known to have stood to when the cook said it was ripe; nothing where either was assumed."""
    standing = standing_marks(marks)
    ends = [place for place, mark in enumerate(standing) if _says_ripe(mark, step)]
    if step.ripens is None or not ends or fold(plan, marks, now).state(step.number) is not State.DONE:
        return
    end = standing[ends[-1]].about
    before = fold(plan, standing[: ends[-1]], now).of(step.number)
    if before.state is not State.RUNNING or before.started is None or end - before.started <= NO_TIME:
        return
    observed = Observed(step.ripens.feed, step.ripens.at_c, end - before.started)
    if _believed(observed):
        yield end, observed


def _says_ripe(mark: Mark, step: Step) -> bool:
    return mark.kind is MarkKind.DONE and mark.step == step.number and mark.occurrence is None


def _believed(observed: Observed) -> bool:
    """Farther from the rule of thumb it is rather a word said late, or too early, than a starter."""
    ratio = observed.lasted / ripe(observed.feed, observed.at_c).usually
    return 1 / FARTHEST <= ratio <= FARTHEST


def learned(plan: Plan, own: Sequence[Observed]) -> tuple[Change, ...]:
    """How long each starter of a plan takes by the cook's own times; one whose time is written stays as written."""
    return tuple(change for step in plan.steps for change in _change(step, own))


def _change(step: Step, own: Sequence[Observed]) -> Iterator[Change]:
    worked = by_the_rule(step)
    if step.ripens is None or worked is None or step.range.usually != worked.usually or not own:
        return
    try:
        found = ripe(step.ripens.feed, step.ripens.at_c, own)
    except NotRipening:
        return  # a slow starter in the cold: more than a week by their own times, so the rule of thumb stays
    yield Change(
        ChangeKind.LASTS,
        step=step.number,
        shortest=found.shortest // MINUTE,
        longest=found.longest // MINUTE,
        usually=found.usually // MINUTE,
        took=own[-1].lasted // MINUTE,
        took_at_c=own[-1].at_c,
    )
