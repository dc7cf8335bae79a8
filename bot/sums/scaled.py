"""A plan's amounts by component and step, for as many as there are, with what they come to in all."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from bot.sums.amounts import as_facts
from bot.sums.told import Told
from bot.wording.amounts import amount_line, as_bought, fine_scale, quantity
from bot.wording.company import LOOK_AT
from scheduler import words
from scheduler.domain.kitchen.amounts import Amount
from scheduler.domain.kitchen.totals import summed
from scheduler.domain.plan import Plan, Step


def of_plan(plan: Plan, then: Plan) -> Told:
    """Every amount of a plan as it is `then`, scaled from how it is written."""
    scaled = then.serves != plan.serves
    every = [amount for step in then.steps for amount in step.amounts]
    lines = [*_by_step(then), *_in_all(every), fine_scale(every), LOOK_AT if scaled else ""]
    facts = {"title": plan.title, "serves": then.serves, "serves_as_written": plan.serves, **_facts(then)}
    return Told(_heading(plan, then), tuple(line for line in lines if line), facts)


def _heading(plan: Plan, then: Plan) -> str:
    if then.serves is None:
        return f"{plan.title}: the amounts as they are written"
    instead = f" instead of {plan.serves}" if then.serves != plan.serves else ""
    return f"{plan.title}: the amounts for {then.serves}{instead}"


def _by_step(plan: Plan) -> Iterator[str]:
    for part in plan.components:
        steps = [step for step in part.steps if step.amounts]
        if steps:
            yield f"{part.name}:"
        for step in steps:
            yield f"  {step.name}: {', '.join(map(amount_line, step.amounts))}"


def _in_all(every: list[Amount]) -> list[str]:
    told = [f"{amount.name} {as_bought(amount)}" for amount in summed(every)]
    return [f"In all: {words.listed(told)}"] if told else []


def _facts(plan: Plan) -> dict[str, Any]:
    steps = [_step(step) for step in plan.steps if step.amounts]
    every = [amount for step in plan.steps for amount in step.amounts]
    totals = [
        {"name": amount.name, "shown": as_bought(amount), **as_facts(amount)} for amount in summed(every)
    ]
    return {"steps": steps, "totals": totals}


def _step(step: Step) -> dict[str, Any]:
    return {"component": step.component, "step": step.name, "amounts": [_one(each) for each in step.amounts]}


def _one(amount: Amount) -> dict[str, Any]:
    found = {"name": amount.name, "shown": quantity(amount), **as_facts(amount)}
    return found | ({"percent": float(amount.quantity), "of": list(amount.of)} if amount.unit == "%" else {})
