"""Changes in words: as something to do, and as something that holds."""

from __future__ import annotations

from datetime import datetime, timedelta

from scheduler import words
from scheduler.changes import Change, ChangeKind
from scheduler.domain.hours import Interval, local
from scheduler.domain.plan import Plan
from scheduler.domain.presence import Presence, holding

NEAR = timedelta(days=2)


def offer(change: Change, plan: Plan) -> str:
    """ "Go to bed 45 min later on Fri 11 Dec, at 23:15": what to do, by the plan as it is without it."""
    match change.kind:
        case ChangeKind.HOUR:
            return f"Serve at {words.day_and_clock(_serve(change), plan.zone)}"
        case ChangeKind.GEAR:
            return f"Find one more {change.gear}, {plan.kitchen.gear[str(change.gear)] + 1} in all"
        case ChangeKind.HELPER:
            return f"Have a second cook to help on {_from_to(change, plan)}"
        case ChangeKind.SKIP:
            return f"Leave out “{plan.steps[change.step or 0].name}”"
        case ChangeKind.LEAVE_OUT:
            return f"Leave out “{plan.steps[change.step or 0].component}” altogether"
        case ChangeKind.SERVES:
            return f"Cook for {change.serves} instead of {plan.serves}"
        case ChangeKind.LASTS:
            return f"Count on {_how_long(change)} for “{plan.steps[change.step or 0].name}”"
    return _of_a_cook(change, plan, YOU if len(plan.kitchen.cooks) == 1 else THEY)


def counted(change: Change, plan: Plan) -> str:
    """ "This counts on one more burner, 3 in all.": what a timetable counts on, as a sentence."""
    if change.took is None:
        return f"This counts on {made(change, plan)}."
    took, at_c = words.length(timedelta(minutes=change.took)), change.took_at_c
    several = sum(step.ripens is not None for step in plan.steps) > 1
    which = f" for “{plan.steps[change.step or 0].name}”" if several else ""
    return f"Your starter took {took} last time at {at_c:g} C: I count on {_how_long(change)}{which}."


def made(change: Change, plan: Plan) -> str:
    """ "going to bed 45 min later on Fri 11 Dec, at 23:15": what a timetable counts on, by the plan without it."""
    match change.kind:
        case ChangeKind.GEAR:
            return f"one more {change.gear}, {plan.kitchen.gear[str(change.gear)] + 1} in all"
        case ChangeKind.HELPER:
            return f"a second cook on {_from_to(change, plan)}"
        case ChangeKind.BED | ChangeKind.ALARM | ChangeKind.OFF:
            return _of_a_cook(change, plan, DOING)
        case ChangeKind.SERVES:
            return f"cooking for {change.serves} instead of {plan.serves}"
        case ChangeKind.LASTS:
            return f"{_how_long(change)} for “{plan.steps[change.step or 0].name}”"
    told = offer(change, plan)
    return told[:1].lower() + told[1:]


def _how_long(change: Change) -> str:
    """ "5 d to 7 d", "at least 2 h"."""
    shortest = words.length(timedelta(minutes=change.shortest or 0))
    if change.longest is None:
        return f"at least {shortest}"
    longest = words.length(timedelta(minutes=change.longest))
    return shortest if longest == shortest else f"{shortest} to {longest}"


Verbs = tuple[str, str, str, str, str]
"""For bed, alarm, leaving, coming back, and an hour in the middle."""

YOU: Verbs = ("Go to bed", "Get up", "Leave", "Be back", "Take an hour off")
THEY: Verbs = ("goes to bed", "gets up", "leaves", "is back", "takes an hour off")
DOING: Verbs = ("going to bed", "getting up", "leaving", "being back", "taking an hour off")


def _of_a_cook(change: Change, plan: Plan, verbs: Verbs) -> str:
    """With the cook's name where there are several."""
    bed, alarm, leave, back, off = verbs
    start, end = _stretch(change)
    by = words.length(end - start)
    awake, home = hours_around(change, plan)
    match change.kind:
        case ChangeKind.BED:
            verb, rest = (
                bed,
                f"{by} later on {_evening(start, awake, plan)}, at {words.clock(end, plan.zone)}",
            )
        case ChangeKind.ALARM:
            day, at = words.day(start, plan.zone), words.clock(start, plan.zone)
            verb, rest = alarm, f"{by} earlier on {day}, at {at}"
        case _ if holding(home, start - timedelta(minutes=1)):
            verb, rest = leave, f"{by} later on {words.day(end, plan.zone)}, at {words.clock(end, plan.zone)}"
        case _ if holding(home, end):
            day, at = words.day(start, plan.zone), words.clock(start, plan.zone)
            verb, rest = back, f"{by} earlier on {day}, at {at}"
        case _:
            verb, rest = off, f"on {_from_to(change, plan)}"
    who = "" if len(plan.kitchen.cooks) == 1 else f"{change.cook} "
    return f"{who}{verb} {rest}"


def hours_around(change: Change, plan: Plan) -> tuple[tuple[Interval, ...], tuple[Interval, ...]]:
    """When the change's cook is awake, and awake and at home, for two days on either side."""
    start, end = _stretch(change)
    presence = Presence(plan, start - NEAR, end + NEAR)
    return presence.awake(str(change.cook)), presence.home(str(change.cook))


def _evening(bedtime: datetime, awake: tuple[Interval, ...], plan: Plan) -> str:
    """The day that ends with this bedtime, also where that is past midnight."""
    up = next((start for start, end in awake if end == bedtime), bedtime)
    before = bedtime - timedelta(hours=12)
    return words.day(max(up, before), plan.zone)


def _from_to(change: Change, plan: Plan) -> str:
    """ "Fri 11 Dec, 17:00 to 18:00"."""
    start, end = _stretch(change)
    last = words.clock(end, plan.zone)
    if local(start, plan.zone).date() != local(end, plan.zone).date() and last != "00:00":
        last = words.day_and_clock(end, plan.zone)
    return f"{words.day(start, plan.zone)}, {words.clock(start, plan.zone)} to {last}"


def _stretch(change: Change) -> Interval:
    if change.start is None or change.end is None:
        raise ValueError(f"no stretch: {change}")
    return change.start, change.end


def _serve(change: Change) -> datetime:
    if change.serve is None:
        raise ValueError(f"no hour: {change}")
    return change.serve
