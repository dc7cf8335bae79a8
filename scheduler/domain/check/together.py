"""The verifier's rules about several steps: what follows what, shared hands, gear and ovens, and touches."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta

from scheduler.domain.check.facts import Breach, Facts, inside, span
from scheduler.domain.plan import MINUTE, Attention, Link
from scheduler.domain.progress import State, latest_after
from scheduler.domain.timetable import Slot, Timetable, Touch

AN_INSTANT = timedelta.resolution


def order(facts: Facts, timetable: Timetable) -> Iterator[Breach]:
    """What comes after what, and how soon; a link into a step that has begun is past."""
    for link in facts.links:
        before = timetable.slot(link.before)
        after = None if link.after is None else timetable.slot(link.after)
        if before is None:
            continue
        if link.after is None and facts.progress.state(link.before) is not State.DONE:
            yield from _gap(facts, link, before, timetable.serve)
        elif after is not None and facts.waits(after.step):
            yield from _gap(facts, link, before, after.start)


def _gap(facts: Facts, link: Link, before: Slot, at: datetime) -> Iterator[Breach]:
    """A real end counts to the minute, and its limit only as long as it can still be met."""
    ended = facts.progress.of(link.before).ended
    if ended is None:
        gap, latest = at - before.end, None if link.longest is None else before.end + link.longest
    else:
        gap, latest = at - ended.replace(second=0, microsecond=0), latest_after(link, ended, facts.now)
        latest = latest and latest + MINUTE - AN_INSTANT
    if gap < link.shortest:
        yield _apart(facts, link, gap, f"at least {span(link.shortest)}")
    if latest is not None and link.longest is not None and at > latest:
        yield _apart(facts, link, gap, f"{span(link.longest)} at most")


def _apart(facts: Facts, link: Link, gap: timedelta, wanted: str) -> Breach:
    if link.after is None:
        text = f"{facts.name(link.before)} ends {span(gap)} before the serving hour; {wanted} is wanted"
        return Breach("table", (link.before,), text)
    names = f"{facts.name(link.after)} starts {span(gap)} after {facts.name(link.before)} ends"
    return Breach("link", (link.before, link.after), f"{names}; {wanted} is wanted")


def shared(facts: Facts, timetable: Timetable) -> Iterator[Breach]:
    """One pair of hands, the count of each piece of gear, one temperature to an oven."""
    slots = facts.in_use(timetable)
    yield from _hands(facts, slots)
    yield from _gear(facts, slots)
    yield from _ovens(facts, slots)


def _hands(facts: Facts, slots: list[Slot]) -> Iterator[Breach]:
    hands = [slot for slot in slots if facts.step(slot).attention is Attention.HANDS_ON]
    for cook in facts.plan.kitchen.cooks:
        for at_once in _at_once(facts, [slot for slot in hands if slot.cook == cook.name]):
            if len(at_once) > 1:
                names = " and ".join(facts.name(number) for number in at_once)
                yield Breach("two at once", at_once, f"{cook.name} is to do {names} at the same time")


def _gear(facts: Facts, slots: list[Slot]) -> Iterator[Breach]:
    for name, count in facts.plan.kitchen.gear.items():
        for at_once in _at_once(facts, [slot for slot in slots if name in facts.step(slot).gear]):
            used = sum(facts.plan.steps[number].gear.count(name) for number in at_once)
            if used > count:
                names = ", ".join(facts.name(number) for number in at_once)
                text = f"{names} use {used} of {name} at once; there are {count}"
                yield Breach("gear", at_once, text)


def _ovens(facts: Facts, slots: list[Slot]) -> Iterator[Breach]:
    ovens = facts.plan.kitchen.ovens
    for at_once in _at_once(facts, [slot for slot in slots if facts.step(slot).oven is not None]):
        heats = {facts.plan.steps[number].oven for number in at_once}
        if len(heats) > ovens:
            names = ", ".join(facts.name(number) for number in at_once)
            yield Breach("oven", at_once, f"{names} need {len(heats)} temperatures at once; ovens: {ovens}")


def _at_once(facts: Facts, slots: Sequence[Slot]) -> Iterator[tuple[int, ...]]:
    """The steps under way at the start of each that can still be moved."""
    moments = sorted({slot.start for slot in slots if facts.waits(slot.step)})
    for at in moments:
        yield tuple(slot.step for slot in slots if slot.start <= at < slot.end)


def touches(facts: Facts, timetable: Timetable) -> Iterator[Breach]:
    """Every touch that is owed and no other, near when it is due, while someone is there (or it says so)."""
    owed = {key for slot in facts.in_use(timetable) for key in _owed(facts, slot)}
    planned = Counter((touch.step, touch.occurrence, touch.due) for touch in timetable.touches)
    for key in sorted(owed - planned.keys()):
        yield _touch_breach(facts, *key, "is missing")
    for key, times in sorted(planned.items()):
        if key not in owed:
            yield _touch_breach(facts, *key, "is not owed")
        elif times > 1:
            yield _touch_breach(facts, *key, "is planned twice")
    for touch in timetable.touches:
        slot = timetable.slot(touch.step)
        if slot is not None and (touch.step, touch.occurrence, touch.due) in owed:
            yield from _placed(facts, touch, slot)


def _owed(facts: Facts, slot: Slot) -> Iterator[tuple[int, int, datetime]]:
    tend = facts.step(slot).tend
    if tend is None:
        return
    began = slot.start.replace(second=0, microsecond=0)
    last = slot.end - began - AN_INSTANT
    last = last if tend.lasting is None else min(last, tend.lasting)
    for occurrence in range(1, last // tend.every + 1):
        yield slot.step, occurrence, began + occurrence * tend.every


def _placed(facts: Facts, touch: Touch, slot: Slot) -> Iterator[Breach]:
    step = facts.step(slot)
    key = (touch.step, touch.occurrence, touch.due)
    if step.tend is None:
        return
    if abs(touch.at - touch.due) > step.tend.tolerance:
        yield _touch_breach(facts, *key, f"is moved by more than {span(step.tend.tolerance)}")
    if not slot.start.replace(second=0, microsecond=0) <= touch.at < slot.end:
        yield _touch_breach(facts, *key, "is moved out of its step")
    done = (touch.step, touch.occurrence) in facts.progress.touched
    end = touch.at + step.tend.hands_on
    there = any(inside(facts.home[cook.name], touch.at, end) for cook in facts.plan.cooks_of(step))
    if not (there or done or touch.trouble):
        yield _touch_breach(facts, *key, f"falls {facts.clock(touch.at)}, when nobody is there for it")


def _touch_breach(facts: Facts, step: int, occurrence: int, due: datetime, what: str) -> Breach:
    text = f"touch {occurrence} of {facts.name(step)}, due {facts.clock(due)}, {what}"
    return Breach("touch", (step,), text)
