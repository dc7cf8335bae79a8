"""A plan arrives: read, timed, kept as a draft, and taken into use when the cook says so."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from scheduler import promised, words
from scheduler.domain.kitchen.ripeness import Observed
from scheduler.domain.nudges import Policy
from scheduler.domain.plan import Attention, Plan
from scheduler.domain.progress import Progress
from scheduler.domain.timetable import Timetable
from scheduler.explain import Misfit
from scheduler.planfile import BadPlan
from scheduler.planfile.source import text_of
from scheduler.ports import Planner, UnitOfWork
from scheduler.records import Chat, PlanRow, PlanStatus
from scheduler.service import ways
from scheduler.service.answers import Accepted, Answer, AskServe, BadFile, NoFit, Proposed
from scheduler.service.learning import learned
from scheduler.service.letters import replace_nudges
from scheduler.service.view import View, read_plan, view_of

STANDS_LONG = timedelta(days=2)
PLAN_BEGINS = "crockbell:"
FIRST_LINES = 8
"""Among how many lines with something in them a pasted plan says that it is one."""


@dataclass(frozen=True)
class Arrival:
    """What came of a plan file: a row to keep when there is a plan in it, and what stands in its way."""

    answer: Answer | None = None
    row: PlanRow | None = None
    misfit: Misfit | None = None


def plan_in(text: str, document: bytes | None) -> bytes | None:
    """The plan in a document, or pasted as text: several lines, one of the first of which says so."""
    if document is not None:
        return document
    lines = [
        line for line in text.splitlines() if line.strip() and not line.lstrip("\ufeff ").startswith("#")
    ]
    first = [line.lstrip("\ufeff") for line in lines[:FIRST_LINES]]
    pasted = len(lines) > 2 and any(line.startswith(PLAN_BEGINS) for line in first)
    return text.encode("utf-8", "surrogatepass") if pasted else None


def arrive(
    source: bytes, chat: Chat, now: datetime, planner: Planner, own: Sequence[Observed] = ()
) -> Arrival:
    """Read and time a plan file. Nothing is stored here; a bad file is refused whole.

    `own` is how long the cook's starters took, the latest last: what ripens in the plan is counted by them.
    """
    if chat.id is None or chat.zone is None or chat.awake is None:
        raise ValueError("the chat is not settled yet")
    try:
        text = text_of(source)
        plan = read_plan(text, chat.zone, chat.awake, accepted=False)
    except BadPlan as error:
        return Arrival(BadFile(error.problems))
    changes = learned(plan, own)
    plan = read_plan(text, chat.zone, chat.awake, changes)
    row = PlanRow(chat.id, plan.title, text, chat.zone, chat.awake, plan.serve or now, now, changes=changes)
    if plan.serve is None:
        return Arrival(AskServe(plan.title), row)
    return Arrival(None, *timed(row, plan, now, planner))


def timed(
    row: PlanRow, plan: Plan, now: datetime, planner: Planner, progress: Progress | None = None
) -> tuple[PlanRow, Misfit | None]:
    """A draft with its timetable, or why there is none."""
    timing = planner.time_out(plan, row.serve, now, progress)
    if isinstance(timing, Misfit):
        return replace(row, timetable=None), ways.out_of(timing, plan, now, planner, progress)
    return replace(row, timetable=timing), None


def proposal(view: View, misfit: Misfit | None, beside: tuple[str, ...]) -> Answer:
    """The answer to a plan kept as a draft."""
    if misfit is not None:
        return NoFit(view.id, view.plan, misfit, view.now, revision=view.row.revision)
    counted = view.counts_on()
    counted += [f"{words.listed(names)} is left out." for names in [_left_out(view)] if names]
    counted += warnings(view.plan, view.timetable, view.now, view.progress)
    return Proposed(view, tuple(counted), beside)


def _left_out(view: View) -> list[str]:
    """What was left out: parts of the meal by their name, single steps by theirs."""
    gone = view.progress.dropped
    found = []
    for component in view.plan.components:
        steps = [step for step in component.steps if step.number in gone]
        whole = len(steps) == len(component.steps)
        found += [f"“{component.name}”"] if whole else [f"“{step.name}”" for step in steps]
    return found


def use(uow: UnitOfWork, row: PlanRow, now: datetime, policy: Policy) -> Answer:
    """Put a draft into use: from here on its nudges are owed."""
    stored = uow.plans.save(replace(row, status=PlanStatus.ACTIVE), row.revision)
    view = view_of(uow, stored, now)
    replace_nudges(uow, view, policy)
    return Accepted(view)


def warnings(
    plan: Plan, timetable: Timetable, now: datetime | None = None, progress: Progress | None = None
) -> tuple[str, ...]:
    """What a careful cook would want pointed out about a timetable that fits; with `now`, also that it is a bet."""
    found = list(plan.remarks)
    found += [_stands(plan, slot.step, slot.end - slot.start) for slot in timetable.slots]
    found += [
        f"{tend.name}: {words.day_and_clock(touch.at, plan.zone)}, {touch.trouble}"
        for touch in timetable.touches
        if touch.trouble and (tend := plan.steps[touch.step].tend) is not None
    ]
    if not timetable.proven:
        found.append("There was no time to prove this the best timetable; it keeps every rule.")
    if now is not None:
        found.insert(0, promised.warning(plan, timetable, now, progress) or "")
    return tuple(remark for remark in found if remark)


def _stands(plan: Plan, number: int, lasts: timedelta) -> str:
    """An "at least" that grew long: nothing in the plan says that this is too long."""
    step = plan.steps[number]
    over = lasts - step.range.shortest
    if step.range.longest is not None or step.attention is Attention.HANDS_ON:
        return ""
    if over < max(STANDS_LONG, step.range.shortest) or over <= step.fresh_for / 4:
        return ""
    return (
        f"“{step.name}” lasts {words.length(lasts)} here, though {words.length(step.range.shortest)} "
        "would do; give it a longest time if that is too long"
    )
