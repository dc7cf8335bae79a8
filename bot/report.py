"""What `check` prints: a timetable by day, or why there is none; and the same as JSON."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from itertools import groupby
from typing import Any

from bot import loaded, loaves, promised
from scheduler import heat_words, words
from scheduler.domain import hours
from scheduler.domain.load import load
from scheduler.domain.plan import MINUTE, Plan, Step
from scheduler.domain.timetable import Slot, Timetable, Touch
from scheduler.explain import Misfit
from scheduler.service.intake import warnings


def as_json(plan: Plan, timing: Timetable | Misfit, now: datetime | None = None) -> dict[str, Any]:
    """The object that `check --json` prints; instants in ISO 8601 with the zone's offset."""
    fits = isinstance(timing, Timetable)
    return {
        "serve": _iso(timing.serve, plan),
        "zone": plan.zone,
        "status": "fits" if fits else "misfit",
        "proven": timing.proven,
        "steps": [_step(plan, slot) for slot in timing.slots] if isinstance(timing, Timetable) else [],
        "tends": _tends(plan, timing) if isinstance(timing, Timetable) else [],
        "misfit": None if isinstance(timing, Timetable) else _misfit(plan, timing),
        "load": loaded.as_json(plan, load(plan, timing)) if isinstance(timing, Timetable) else None,
        "doughs": loaves.as_json(plan),
        "promise": promised.as_json(plan, timing, now) if isinstance(timing, Timetable) else None,
        "warnings": list(warnings(plan, timing)) if isinstance(timing, Timetable) else list(plan.remarks),
    }


def _iso(at: datetime, plan: Plan) -> str:
    return hours.local(at, plan.zone).isoformat()


def _step(plan: Plan, slot: Slot) -> dict[str, Any]:
    step = plan.steps[slot.step]
    return {
        "component": step.component,
        "name": step.name,
        "start": _iso(slot.start, plan),
        "end": _iso(slot.end, plan),
        "earliest_start": _iso(slot.earliest, plan),
        "latest_start": _iso(slot.latest, plan),
        "last_call": _iso(slot.last_call, plan),
        "attention": step.attention.value,
        "cook": slot.cook,
        "gear": [*step.gear, *(["oven"] if step.oven is not None else [])],
        **({"shortest_because": " ".join(because)} if (because := heat_words.of_step(step)) else {}),
    }


def _tends(plan: Plan, timetable: Timetable) -> list[dict[str, Any]]:
    found = []
    for touch in timetable.touches:
        step = plan.steps[touch.step]
        found.append(
            {
                "component": step.component,
                "step": step.name,
                "name": step.tend.name if step.tend else "",
                "occurrence": touch.occurrence,
                "due": _iso(touch.due, plan),
                "at": _iso(touch.at, plan),
                "trouble": touch.trouble,
            }
        )
    return found


def _misfit(plan: Plan, misfit: Misfit) -> dict[str, Any]:
    return {
        "because": list(misfit.because),
        "remedies": [
            {
                "change": remedy.change,
                "serve": _iso(remedy.serve, plan),
                "what": None if remedy.what is None else remedy.what.as_json(),
            }
            for remedy in misfit.remedies
        ],
    }


def as_text(plan: Plan, timing: Timetable | Misfit, now: datetime | None = None) -> Iterator[str]:
    """The same for people."""
    if isinstance(timing, Misfit):
        yield from _no_fit(plan, timing)
        return
    yield f"{plan.title}: it fits. At the table {words.day_and_clock(timing.serve, plan.zone)}."
    for day, slots in groupby(timing.slots, key=lambda slot: words.day(slot.start, plan.zone)):
        yield f"\n{day}"
        for slot in slots:
            yield _line(plan, slot)
            yield from (f"         {line}" for line in heat_words.of_step(plan.steps[slot.step]))
    yield from _tended(plan, timing)
    yield from loaded.as_text(plan, load(plan, timing))
    yield from loaves.as_text(plan)
    yield from promised.as_text(plan, timing, now)
    remarks = warnings(plan, timing)
    if remarks:
        yield "\nWorth knowing"
        yield from (f"- {remark}" for remark in remarks)


def _line(plan: Plan, slot: Slot) -> str:
    step = plan.steps[slot.step]
    start, lasts = words.clock(slot.start, plan.zone), words.length(slot.end - slot.start)
    end = _later(slot.end, slot.start, plan)
    free = slot.last_call - slot.start >= MINUTE
    room = f"; may start until {_later(slot.last_call, slot.start, plan)}" if free else ""
    return f"  {start}  {step.name} ({step.component}), {lasts}, to {end}{_who(plan, step, slot)}{room}"


def _later(at: datetime, before: datetime, plan: Plan) -> str:
    """A moment by its clock alone where it is on the day of the one before."""
    same_day = words.days_ahead(at, plan.zone, before) == 0
    return words.clock(at, plan.zone) if same_day else words.day_and_clock(at, plan.zone)


def _who(plan: Plan, step: Step, slot: Slot) -> str:
    cook = f", {slot.cook}" if slot.cook and len(plan.kitchen.cooks) > 1 else ""
    return f" [{step.attention.value}{cook}]"


def _tended(plan: Plan, timetable: Timetable) -> Iterator[str]:
    """One line for each tend: how often, and from when to when."""
    found = [
        (number, list(group)) for number, group in groupby(_by_step(timetable), key=lambda touch: touch.step)
    ]
    if found:
        yield "\nBesides"
    for number, touches in found:
        tend = plan.steps[number].tend
        if tend is not None:
            times = "once" if len(touches) == 1 else f"{len(touches)} times"
            first, last = (words.day_and_clock(touch.at, plan.zone) for touch in (touches[0], touches[-1]))
            when = first if len(touches) == 1 else f"{first} to {last}"
            yield f"  {tend.name} ({plan.steps[number].component}), {times}, {when}"


def _by_step(timetable: Timetable) -> list[Touch]:
    return sorted(timetable.touches, key=lambda touch: (touch.step, touch.at))


def _no_fit(plan: Plan, misfit: Misfit) -> Iterator[str]:
    """Why not, or that none was found in time; and what would do."""
    yield f"{plan.title}: no timetable fits {words.day_and_clock(misfit.serve, plan.zone)}."
    if misfit.because:
        yield "\nThese cannot all be true:" if misfit.proven else "\nNothing was proven:"
        yield from (f"- {reason}" for reason in misfit.because)
    one_of = "\nAny one of these would do:" if len(misfit.remedies) > 1 else "\nWhat would fit:"
    yield one_of if misfit.remedies else "\nNo single change was found that would make it fit."
    yield from (f"- {remedy.change}" for remedy in misfit.remedies)
