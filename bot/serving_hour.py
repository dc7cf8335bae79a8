"""The serving hour a command is given or has found: `--serve`, `--when`, `--comfortable`, or neither."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from scheduler import when, words
from scheduler.domain.comfort import Comfort, comfort
from scheduler.domain.plan import NO_TIME, Plan
from scheduler.domain.timetable import Timetable
from scheduler.domain.wanted import ANY_HOUR, MEALTIMES, NoHours, Wanted
from scheduler.explain import Misfit
from scheduler.planfile.text import TextError
from scheduler.planfile.wanted import wanted
from scheduler.planning import time_out


class How(StrEnum):
    """Which serving hour is taken."""

    GIVEN = "given"
    EARLIEST = "earliest"
    FIRST = "first"
    COMFORTABLE = "comfortable"


class BadWish(ValueError):
    """Options that ask for no hour there could be; the text is for the person who gave them."""


@dataclass(frozen=True, slots=True)
class Wish:
    """How the hour is come by; `hours` are those named in `said`, None where any will do."""

    how: How
    hours: Wanted | None = None
    said: str | None = None


GIVEN = Wish(How.GIVEN)


def wish_of(options: Namespace, plan: Plan) -> Wish:
    """What the options ask for; `--when` and `--comfortable` win over the plan's own hour. Raises BadWish."""
    said, comfortable = getattr(options, "when", None), getattr(options, "comfortable", False)
    if options.serve and (said is not None or comfortable):
        option = "--comfortable" if said is None else "--when"
        raise BadWish(f"{option} finds the serving hour and --serve names it; give one of them")
    if comfortable:
        return Wish(How.COMFORTABLE, _hours(said, comfortable=True), said)
    if said is not None:
        return Wish(How.FIRST, _hours(said, comfortable=False), said)
    return GIVEN if plan.serve is not None else Wish(How.EARLIEST)


def _hours(said: str | None, comfortable: bool) -> Wanted | None:
    if said is None:
        return None
    try:
        return wanted(said, MEALTIMES if comfortable else ANY_HOUR)
    except TextError as error:
        found = f", found {error.found}" if error.found else ""
        raise BadWish(f"--when {said!r}: {error}{found}") from error


def found(wish: Wish, plan: Plan, now: datetime) -> Timetable | Misfit:
    """The timetable at the hour given or wished for; raises BadWish where no such hour is to come."""
    if wish.how is How.GIVEN and plan.serve is not None:
        return time_out(plan, plan.serve, now)
    try:
        if wish.how is How.COMFORTABLE:
            return when.most_comfortable(plan, now, wish.hours)
        if wish.hours is not None:
            return when.first_within(plan, now, wish.hours)
        return when.earliest(plan, now)
    except NoHours as error:
        raise BadWish(_no_hours(wish)) from error


def _no_hours(wish: Wish) -> str:
    if wish.said is not None:
        return f"--when {wish.said!r}: no quarter hour of it is still to come within 400 days"
    return "there is no mealtime at which someone is awake and at home; name an hour with --serve or --when"


# ---------------------------------------------------------------- telling


def lines(wish: Wish, plan: Plan, timing: Timetable | Misfit, now: datetime) -> Iterator[str]:
    """One line on how the hour was come by, two where none was; nothing where it was given."""
    if wish.how is How.GIVEN:
        return
    hour = words.day_and_clock(timing.serve, plan.zone)
    if isinstance(timing, Misfit):
        yield from _none(wish, plan, hour, now)
    elif wish.how is How.COMFORTABLE:
        yield f"The most comfortable hour found: {hour}; {_measured(comfort(plan, timing))}."
    elif wish.how is How.FIRST:
        yield f"The first of the hours asked for that fits: {hour}{_unless(timing)}."
    else:
        yield f"The earliest it can be on the table: {hour}{_unless(timing)}."


def _none(wish: Wish, plan: Plan, last: str, now: datetime) -> Iterator[str]:
    if wish.hours is None:
        yield f"No hour was found that fits until {last}. This is why that one does not:"
        return
    yield f"None of the hours asked for was found to fit{_other_hour(plan, now)}."
    yield "This is why the last of them does not:"


def _other_hour(plan: Plan, now: datetime) -> str:
    """The earliest at all; nothing where there is none to offer."""
    try:
        other = when.earliest(plan, now)
    except NoHours:
        return ""
    if isinstance(other, Misfit):
        return ""
    return f"; the earliest it can be on the table is {words.day_and_clock(other.serve, plan.zone)}{_unless(other)}"


def _unless(timing: Timetable) -> str:
    return "" if timing.proven else ", as far as there was time to look"


def _measured(found: Comfort) -> str:
    """The measures in their order, those that are worth a word."""
    parts = []
    if found.untended:
        parts.append(f"{words.counted(found.untended, 'tend')} that nobody is free for")
    parts.append(_margins(found.tight))
    odd = f"{words.length(found.odd_hours)} of" if found.odd_hours > NO_TIME else "no"
    parts.append(f"{odd} hands-on work within an hour of waking or bedtime")
    parts.append(f"{words.length(found.busiest)} of it in the busiest hour")
    parts.append(f"{words.length(found.fullest)} on the fullest day")
    return words.listed(parts)


def _margins(tight: int) -> str:
    if tight:
        return f"{words.counted(tight, 'place')} with less than 15 min to spare"
    return "at least 15 min to spare throughout"
