"""A plan put together from its file: text, tree, values, meaning."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from scheduler.domain.hours import Hours
from scheduler.domain.plan import Component, Plan, PlanError, Step
from scheduler.planfile.amounts import worked_amounts
from scheduler.planfile.cores import remarks_on
from scheduler.planfile.draft import drafted
from scheduler.planfile.ferments import checked_ferments
from scheduler.planfile.hazards import within_limits
from scheduler.planfile.kitchen import kitchen_of, known_zone, serve_of, zone_of
from scheduler.planfile.order import follows_of
from scheduler.planfile.outline import Entry, outline_of
from scheduler.planfile.problems import BadPlan, Problem
from scheduler.planfile.ripening import on_ripening
from scheduler.planfile.shape import PlanFile
from scheduler.planfile.sheet import Sheet
from scheduler.planfile.source import text_of
from scheduler.planfile.steps import StepCheck
from scheduler.planfile.text import hours
from scheduler.planfile.yaml import compose


def plan_of(source: str | bytes, zone: str, awake: str, accepted: bool = False) -> Plan:
    """As `planfile.read`."""
    up = hours(awake)
    if not known_zone(zone):
        raise ValueError(f"{zone!r} is not the name of a time zone")
    sheet = Sheet(compose(text_of(source)), accepted)
    draft = drafted(sheet)
    plan = None if draft is None else _plan(sheet, draft, zone, up, awake)
    if plan is None or sheet.problems:
        raise BadPlan(sheet.problems)
    return plan


def _plan(sheet: Sheet, draft: PlanFile, own_zone: str, up: Hours, awake: str) -> Plan | None:
    zone = zone_of(sheet, draft.zone, own_zone)
    serve = serve_of(sheet, draft.serve, zone)
    kitchen = kitchen_of(sheet, draft.kitchen, zone, up)
    outline = outline_of(draft)
    follows, amounts = follows_of(sheet, outline), worked_amounts(sheet, outline)
    steps = [
        StepCheck(sheet, entry, kitchen).step(tuple(follows[entry.number]), amounts.of_steps[entry.number])
        for entry in outline
    ]
    ferments = checked_ferments(sheet, outline, steps)
    sound = [step for step in steps if step is not None]
    if sheet.problems or len(sound) < len(steps) or zone is None:
        return None
    components = _components(outline, sound)
    remarks = (*_remarks(draft, components, awake), *amounts.remarks, *ferments, *remarks_on(outline, sound))
    try:
        plan = Plan(draft.title, zone, kitchen, components, serve, draft.serves, remarks)
    except PlanError as error:
        raise BadPlan([Problem(1, 1, "a plan that contradicts itself", f"otherwise: {error}")]) from error
    plan = within_limits(sheet, outline, plan)
    return replace(plan, remarks=(*plan.remarks, *sheet.crossed))


def _components(outline: list[Entry], steps: list[Step]) -> tuple[Component, ...]:
    first = [entry for entry in outline if entry.place == 0]
    return tuple(
        Component(
            entry.component.name,
            tuple(steps[entry.number : entry.number + len(entry.component.steps)]),
            entry.component.optional,
        )
        for entry in first
    )


def _remarks(draft: PlanFile, components: tuple[Component, ...], awake: str) -> Iterator[str]:
    if draft.kitchen is None:
        yield f"No kitchen is given: one cook, up {awake}, and no gear."
    steps = [step for component in components for step in component.steps]
    for component in components:
        last = component.steps[-1]
        users = [step for step in steps if last.number in step.follows]
        if last.keeps is None and not users:
            yield f"{component.name} says nothing about keeping: it must be ready exactly when you serve."
        elif last.keeps is None and any(step.wait is None for step in users):
            names = " and ".join(step.name for step in users if step.wait is None)
            yield f"{component.name} says nothing about keeping: it is used at once, for {names}."
    yield from on_ripening(steps)
