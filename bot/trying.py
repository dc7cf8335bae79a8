"""`crockbell understand`: what a reply would be taken to mean."""

from __future__ import annotations

import json
from argparse import Namespace

from bot import commands
from bot.understand import to_json, understand
from bot.wiring import Wiring
from scheduler.commands import Context, Target
from scheduler.domain.plan import Plan
from scheduler.domain.progress import at_the_start
from scheduler.domain.timetable import Timetable
from scheduler.planning import time_out


def tried(options: Namespace, wiring: Wiring) -> str:
    """One line of JSON, or the same for people."""
    context = _context(options, wiring)
    found = to_json(understand(options.text, context), context)
    if options.json:
        return json.dumps(found, ensure_ascii=False)
    return "\n".join(f"{name}: {value}" for name, value in found.items() if value not in (None, ""))


def _context(options: Namespace, wiring: Wiring) -> Context:
    """What the reply is understood against: a plan as nobody has spoken of it yet, or nothing at all."""
    if options.plan is None:
        if options.asked:
            raise commands.WrongUse("--asked names a step of a plan: give --plan too")
        zone = commands.zone_of(options)
        return Context(commands.now_of(options, zone, wiring), zone)
    plan = commands.plan_of(options)
    now = commands.now_of(options, plan.zone, wiring)
    timing = time_out(plan, plan.serve, now) if plan.serve else None
    timetable = timing if isinstance(timing, Timetable) else None
    asked = _target(options.asked, plan) if options.asked else None
    return Context(now, plan.zone, plan, timetable, at_the_start(plan), asked)


def _target(name: str, plan: Plan) -> Target:
    """The step, or the tend, of that name."""
    wanted = name.strip().casefold()
    for step in plan.steps:
        if step.name.casefold() == wanted:
            return Target(step.number, step.name)
        if step.tend is not None and step.tend.name.casefold() == wanted:
            return Target(step.number, step.tend.name, tend=True)
    raise commands.WrongUse(f"--asked {name!r}: {plan.title!r} has no step or tend of that name")
