"""The verifier's rules about one step alone: its start, its length, its hours, its real times."""

from __future__ import annotations

from collections.abc import Iterator

from scheduler.domain.check.facts import Breach, Facts, inside, span
from scheduler.domain.hours import covering, local
from scheduler.domain.plan import MINUTE, Attention, Step
from scheduler.domain.progress import State, end_bounds
from scheduler.domain.timetable import Slot, next_mark


def to_come(facts: Facts, slot: Slot) -> Iterator[Breach]:
    """The rules for a step that has not begun."""
    step = facts.step(slot)
    yield from _start(facts, step, slot)
    yield from _length(step, slot)
    yield from _people(facts, step, slot)
    yield from _only(facts, step, slot)


def begun(facts: Facts, slot: Slot) -> Iterator[Breach]:
    """The rules for a step that is under way or done: real times, to the minute."""
    step, standing = facts.step(slot), facts.progress.of(slot.step)
    pairs = (("start", slot.start, standing.started), ("end", slot.end, standing.ended))
    for word, planned, really in pairs:
        if really is not None and abs(planned - really) >= MINUTE:
            text = f"the {word} of {step.name} is {facts.clock(planned)}; it was {facts.clock(really)}"
            yield Breach("real", (step.number,), text)
    if standing.state is State.RUNNING:
        first, last = end_bounds(step, standing, facts.now)
        if slot.end < first or (last is not None and slot.end > last):
            text = f"{step.name} is under way and cannot end {facts.clock(slot.end)}"
            yield Breach("real", (step.number,), text)


def _start(facts: Facts, step: Step, slot: Slot) -> Iterator[Breach]:
    def breach(rule: str, why: str) -> Breach:
        return Breach(rule, (step.number,), f"{step.name} starts {facts.clock(slot.start)}, {why}")

    not_before = facts.progress.of(step.number).not_before
    if slot.start < facts.now:
        yield breach("now", f"and it is {facts.clock(facts.now)} already")
    if not_before is not None and slot.start < not_before:
        yield breach("put off", f"and was put off to {facts.clock(not_before)}")
    if step.number not in facts.off_mark and next_mark(slot.start, step.grain) != slot.start:
        yield breach("mark", f"off its mark of {span(step.grain)}")


def _length(step: Step, slot: Slot) -> Iterator[Breach]:
    shortest, longest = step.range.planned()
    length = slot.end - slot.start
    if length < shortest:
        text = f"{step.name} lasts {span(length)}; it takes at least {span(shortest)}"
        yield Breach("length", (step.number,), text)
    if longest is not None and length > longest:
        text = f"{step.name} lasts {span(length)}; it may last {span(longest)} at most"
        yield Breach("length", (step.number,), text)


def _people(facts: Facts, step: Step, slot: Slot) -> Iterator[Breach]:
    """A start needs someone; so does all of what is not unattended, and the end of what does not keep."""
    home, who = facts.home[step.cook], (step.number,)
    if not covering(home, slot.start):
        text = f"{step.name} starts {facts.clock(slot.start)}, when nobody is awake and at home for it"
        yield Breach("someone", who, text)
    elif step.attention is Attention.HANDS_ON:
        yield from _hands(facts, step, slot)
    elif step.attention is Attention.NEARBY and not inside(home, slot.start, slot.end):
        text = f"{step.name} runs to {facts.clock(slot.end)}, and somewhere in it nobody is awake and at home"
        yield Breach("nearby", who, text)
    # An end at bedtime, or on leaving the house, is still someone's.
    attended = step.attention is not Attention.UNATTENDED or any(a <= slot.end <= b for a, b in home)
    if not attended and not step.fresh_for:
        text = f"{step.name} ends {facts.clock(slot.end)} and does not keep, and nobody is there"
        yield Breach("wait", who, text)


def _hands(facts: Facts, step: Step, slot: Slot) -> Iterator[Breach]:
    if slot.cook not in [cook.name for cook in facts.plan.cooks_of(step)]:
        yield Breach("hands-on", (step.number,), f"{step.name} has no cook who may do it")
    elif not inside(facts.home[slot.cook], slot.start, slot.end):
        when = f"{facts.clock(slot.start)} to {facts.clock(slot.end)}"
        text = f"{step.name}, {when}, is not wholly within the hours {slot.cook} is awake and at home"
        yield Breach("hands-on", (step.number,), text)


def _only(facts: Facts, step: Step, slot: Slot) -> Iterator[Breach]:
    """The hours and the days a step is kept to, by the local clock of its start."""
    if step.between:
        window = covering(facts.between[step.number], slot.start)
        until = slot.end if step.attention is Attention.HANDS_ON else slot.start
        if window is None or until > window[1]:
            text = f"{step.name}, {facts.clock(slot.start)}, falls outside the hours it is kept to"
            yield Breach("between", (step.number,), text)
    if step.on:
        day = local(slot.start, facts.plan.zone).date()
        if day not in step.on and day.weekday() not in step.on:
            text = f"{step.name} falls on {day:%A %d %B}, which is not one of its days"
            yield Breach("on", (step.number,), text)
