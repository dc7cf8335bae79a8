"""Small plans of our own in which something is to be beware of, for the tests of hazards and hard limits."""

from __future__ import annotations

from scheduler.domain.kitchen.hazards.attached import hazards_of, told_at
from scheduler.domain.plan import Plan, Step
from scheduler.planfile import BadPlan, read

HEAD = """\
crockbell: 1
title: Supper with care
serve: 2026-05-09 19:30
zone: Europe/Lisbon
kitchen:
  awake: 07:00-23:00
  gear: {burner: 3, oven: 1, slow cooker: 1, water bath: 1, blender: 1, fryer: 1}
components:
"""


def part(name: str, *steps: str, optional: bool = False) -> str:
    """One component of a plan file; each step is the inside of a flow mapping."""
    lines = [f"  - name: {name}\n", *(["    optional: true\n"] if optional else []), "    steps:\n"]
    return "".join([*lines, *(f"      - {{{step}}}\n" for step in steps)])


def plan_of(*parts: str) -> Plan:
    return read(HEAD + "".join(parts), zone="UTC")


def refused(*parts: str) -> list[str]:
    """What is wrong with such a plan, each with the text at its place; none where it is read."""
    text = HEAD + "".join(parts)
    try:
        read(text, zone="UTC")
    except BadPlan as bad:
        lines = text.splitlines()
        return [f"{lines[each.line - 1][each.column - 1 :]} | {each}" for each in bad.problems]
    return []


def step_of(plan: Plan, name: str) -> Step:
    return next(step for step in plan.steps if step.name == name)


def words_of(plan: Plan, name: str) -> list[str]:
    """The hazards of the step of that name."""
    return [hazard.word for hazard in hazards_of(step_of(plan, name), plan)]


def told(plan: Plan, name: str) -> list[str]:
    return [hazard.word for hazard in told_at(step_of(plan, name), plan)]


SOAK = (
    "name: Soak the kidney beans, unattended: 8 h to 12 h, keeps: 2 h, amounts: {dried kidney beans: 400 g}"
)
DRAIN = "name: Drain the beans, hands-on: 5 min, keeps: 1 h"
BOIL = "name: Boil the kidney beans, nearby: 30 min to 40 min, gear: [burner], keeps: 1 h"
SIMMER = "name: Simmer the chilli, nearby: 1 h to 2 h, gear: [burner], keeps: 2 h"
SLOW = "name: Slow cook the chilli, unattended: 6 h to 8 h, gear: [slow cooker], keeps: 1 h"

CHILLI = part("Bean chilli", SOAK, DRAIN, BOIL, SIMMER)
STOCK = part(
    "Stock",
    "name: Simmer the bones, nearby: 2 h, gear: [burner]",
    "name: Cool the stock, nearby: 1 h",
    "name: Rest in the fridge, unattended: at least 4 h, keeps: 3 d",
)
KRAUT = part(
    "Kraut",
    "name: Salt and pack the cabbage, hands-on: 25 min, amounts: {cabbage: 1 kg, salt: 2.5 % of cabbage}",
    "name: Cabbage ferments, unattended: 3 d to 5 d, until: sour, usually: 4 d, keeps: 1 d, "
    "tend: {every: 1 d, hands-on: 2 min}",
)
