"""The verifier: whether a timetable keeps to the plan, the clock and what has really happened.

It shares nothing with whatever made the timetable but the words of the domain. Every rule is looked at on
its own, from the plan as written. A step that has begun is held to its real times; the hours it runs into
can no longer be chosen, so they are not looked at.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from datetime import datetime

from scheduler.domain.check import steps, together
from scheduler.domain.check.facts import Breach as Breach
from scheduler.domain.check.facts import Facts
from scheduler.domain.plan import NO_TIME, Plan
from scheduler.domain.progress import Progress, at_the_start
from scheduler.domain.timetable import Slot, Timetable


def check(
    plan: Plan, timetable: Timetable, now: datetime, progress: Progress | None = None
) -> tuple[Breach, ...]:
    """Every rule the timetable breaks; empty when it can be trusted.

    `now` and every time in the timetable are aware UTC instants. When slots are missing, doubled or not
    times at all, only that is reported.
    """
    facts = Facts(plan, now, progress or at_the_start(plan))
    if wrong := tuple(_slots(facts, timetable)):
        return wrong
    found = list(misplaced(facts, timetable))
    found += together.touches(facts, timetable)
    found += _windows(facts, timetable)
    return tuple(found)


def misplaced(facts: Facts, timetable: Timetable) -> Iterator[Breach]:
    """What is wrong with starts and ends alone, given that every step has one sound slot."""
    facts.learn_hours(timetable)
    for slot in timetable.slots:
        rules = steps.to_come if facts.waits(slot.step) else steps.begun
        yield from rules(facts, slot)
    yield from together.order(facts, timetable)
    yield from together.shared(facts, timetable)


def _slots(facts: Facts, timetable: Timetable) -> Iterator[Breach]:
    live = set(range(len(facts.plan.steps))) - facts.progress.dropped
    count = Counter(slot.step for slot in timetable.slots)
    for number in sorted(live - count.keys()):
        yield Breach("slot", (number,), f"{facts.name(number)} has no time")
    for number, times in sorted(count.items()):
        if number not in live:
            yield Breach("slot", (number,), f"step {number} has a time and is not part of the meal")
        elif times > 1:
            yield Breach("slot", (number,), f"{facts.name(number)} has {times} times")
    for slot in timetable.slots:
        if slot.step in live and (fault := _fault(facts, slot)):
            yield Breach("slot", (slot.step,), f"{facts.name(slot.step)} {fault}")


def _fault(facts: Facts, slot: Slot) -> str | None:
    moments = (slot.start, slot.end, slot.earliest, slot.latest, slot.last_call)
    if any(moment.utcoffset() != NO_TIME for moment in moments):
        return "has a time that is not in UTC"
    if facts.waits(slot.step) and any(moment.second or moment.microsecond for moment in moments):
        return "has a time that is not a whole minute"
    return "ends before it starts" if slot.end < slot.start else None


def _windows(facts: Facts, timetable: Timetable) -> Iterator[Breach]:
    for slot in timetable.slots:
        if not slot.earliest <= slot.start <= slot.latest <= slot.last_call:
            times = ", ".join(map(facts.clock, (slot.earliest, slot.start, slot.latest, slot.last_call)))
            text = f"the window of {facts.name(slot.step)} is not in order: {times}"
            yield Breach("window", (slot.step,), text)
