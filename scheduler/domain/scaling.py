"""A plan for more or fewer at the table, or with one step put in another's place."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from scheduler.domain.kitchen.amounts import Amount
from scheduler.domain.plan import Component, Plan, PlanError, Step


def for_so_many(plan: Plan, serves: int) -> Plan:
    """The plan with every amount scaled to `serves` at the table; no time of it changes.

    PlanError where the plan does not say how many it serves, or for nobody.
    """
    if not plan.serves or serves < 1:
        raise PlanError("a plan is scaled from how many it serves to how many there are")
    before = plan.serves
    components = tuple(
        replace(part, steps=tuple(_scaled(step, before, serves) for step in part.steps))
        for part in plan.components
    )
    return replace(plan, components=components, serves=serves)


def _scaled(step: Step, before: int, after: int) -> Step:
    return replace(step, amounts=tuple(times(amount, before, after) for amount in step.amounts))


ROOM = Decimal("1e-18")
"""Below this share two quantities are one: thirds and sevenths do not come back exactly in decimals."""


def times(amount: Amount, before: int | Decimal, after: int | Decimal) -> Amount:
    """As much for `after` as this is for `before`; a percentage stays one, and comes to so much more.

    Nothing is rounded here: that is for whoever shows it (`as_measured`). Scaled back, it is as it was written.
    """
    worked = None if amount.worked is None else amount.worked * after / before
    if amount.unit == "%":
        return replace(amount, worked=worked)
    written = amount.quantity if amount.as_written is None else amount.as_written
    quantity = amount.quantity * after / before
    if abs(quantity - written) <= written * ROOM:
        return replace(amount, quantity=written, as_written=None)
    return replace(amount, quantity=quantity, as_written=written)


def with_step(plan: Plan, step: Step) -> Plan:
    """The plan with `step` in the place that its number says."""

    def put(part: Component) -> Component:
        return replace(part, steps=tuple(step if each.number == step.number else each for each in part.steps))

    return replace(plan, components=tuple(put(part) for part in plan.components))
