"""`crockbell why`: the reasons for one step of a plan, as text and as JSON."""

from __future__ import annotations

import difflib
from collections.abc import Sequence
from datetime import datetime
from typing import Any

from bot.understanding.choosing import ASK_AT_MOST, Chooser
from bot.understanding.stepmatch import index
from bot.wording.why import Why
from scheduler import words
from scheduler.commands import Command, Context
from scheduler.domain import hours
from scheduler.domain.plan import MINUTE, Plan, Step
from scheduler.domain.progress import at_the_start
from scheduler.domain.timetable import Timetable
from scheduler.reasons import Reason, Reasons, reasons

NEAR = 0.6
"""How much of a name has to be alike for it to be offered instead."""


class NotOneStep(ValueError):
    """The words name no step, or several; the text lists what they may mean."""


# ---------------------------------------------------------------- which step


def step_named(plan: Plan, text: str, now: datetime) -> Step:
    """The step that the words name: by its name, `Component / Step`, a beginning, or a cook's words for it.

    Raises NotOneStep.
    """
    wanted = " ".join(text.split()).casefold()
    for ways in (_by_name, _by_beginning):
        found = ways(plan, wanted)
        if found:
            return _only(text, found)
    found = _by_words(plan, wanted, now)
    return _only(text, found) if found else _unknown(plan, text, wanted)


def _by_name(plan: Plan, wanted: str) -> list[Step]:
    return [step for step in plan.steps if wanted in (step.name.casefold(), _full(step).casefold())]


def _by_beginning(plan: Plan, wanted: str) -> list[Step]:
    component, slash, name = (part.strip() for part in wanted.rpartition("/"))
    return [
        step
        for step in plan.steps
        if name and step.name.casefold().startswith(name)
        if not slash or step.component.casefold().startswith(component)
    ]


def _by_words(plan: Plan, wanted: str, now: datetime) -> list[Step]:
    """As the chat understands it."""
    known = index(plan)
    said = known.read(wanted)
    matches = [match for match in known.matches(said) if match.named]
    if not matches:
        return []
    chooser = Chooser(known, Context(now, plan.zone, plan))
    numbers = dict.fromkeys(match.target.step for match in chooser.closest(matches, Command.WHY))
    return [plan.steps[number] for number in numbers]


def _only(text: str, found: Sequence[Step]) -> Step:
    if len(found) == 1:
        return found[0]
    raise NotOneStep(f"{text!r} may mean several steps:\n{_listed(found[:ASK_AT_MOST])}")


def _unknown(plan: Plan, text: str, wanted: str) -> Step:
    by_name = {step.name.casefold(): step for step in plan.steps}
    near = [by_name[name] for name in difflib.get_close_matches(wanted, by_name, n=ASK_AT_MOST, cutoff=NEAR)]
    raise NotOneStep(f"{plan.title!r} has no step {text!r}. It has:\n{_listed(near or plan.steps)}")


def _listed(steps: Sequence[Step]) -> str:
    return "\n".join(f"  {_full(step)}" for step in steps)


def _full(step: Step) -> str:
    return f"{step.component} / {step.name}"


# ---------------------------------------------------------------- what is printed


def found_for(plan: Plan, timetable: Timetable, step: Step, now: datetime) -> Reasons:
    """The reasons of a step of which nobody has spoken yet."""
    return reasons(plan, timetable, step.number, now, at_the_start(plan))


def as_text(plan: Plan, found: Reasons) -> list[str]:
    """The step with its time, then why it can be no later and no earlier, and why it lies in between."""
    step, zone = plan.steps[found.step], plan.zone
    near = words.days_ahead(found.end, zone, found.start) == 0
    end = words.clock(found.end, zone) if near else words.day_and_clock(found.end, zone)
    heading = f"{step.name} ({step.component}): {words.day_and_clock(found.start, zone)} to {end}"
    return [heading, *_told(plan, found).full()]


def as_json(plan: Plan, found: Reasons) -> dict[str, Any]:
    """Instants in ISO 8601 with the zone's offset, lengths in minutes.

    `needed`: with this fact left out, and no others holding than those of its list, the step could start
    one mark further.
    """
    step, told = plan.steps[found.step], _told(plan, found)
    return {
        "component": step.component,
        "step": step.name,
        "start": _iso(found.start, plan),
        "end": _iso(found.end, plan),
        "latest": _iso(found.latest, plan),
        "earliest": _iso(found.earliest, plan),
        "no_later_because": [_reason(plan, told, reason) for reason in found.no_later],
        "no_earlier_because": [_reason(plan, told, reason) for reason in found.no_earlier],
        "planned_because": [_reason(plan, told, reason) for reason in found.preferred],
    }


def _told(plan: Plan, found: Reasons) -> Why:
    return Why(plan, found, found.start, name_length=90)


def _reason(plan: Plan, told: Why, reason: Reason) -> dict[str, Any]:
    numbers: dict[str, Any] = {
        "step": None if reason.step is None else plan.steps[reason.step].name,
        "other": None if reason.other is None else plan.steps[reason.other].name,
        "name": reason.name,
        "minutes": None if reason.length is None else reason.length // MINUTE,
        "at": _iso(reason.at, plan),
        "by": _iso(reason.by, plan),
        "from": _iso(reason.since, plan),
        "until": _iso(reason.until, plan),
    }
    kept = {name: value for name, value in numbers.items() if value is not None}
    text = told.clause(reason)
    return {"fact": reason.because.value, "text": text, "needed": bool(reason.facts), **kept}


def _iso(at: datetime | None, plan: Plan) -> str | None:
    return None if at is None else hours.local(at, plan.zone).isoformat()
