"""How a step under way goes on, and what putting something off comes to."""

from __future__ import annotations

from datetime import datetime

from bot.wording.facts import Facts
from scheduler.domain.kitchen.hazards import named
from scheduler.domain.kitchen.limits_published import LUKEWARM_C
from scheduler.domain.kitchen.written import degrees
from scheduler.domain.progress import State
from scheduler.service.deeds import Deed
from scheduler.service.guarding import cooled_by


def course(facts: Facts, number: int) -> str:
    """ "It may end between 08:05 and 14:05 today; planned until 13:15 today, then “Drain the beans”."."""
    slot, standing = facts.slot(number), facts.view.progress.of(number)
    if slot is None or standing.started is None:
        return ""
    end = standing.expected or slot.end
    limits, named = ("", None) if facts.is_hands_on(number) else _limits(facts, number, standing.started)
    reached = named is not None and (end == named or (end > named and facts.step(number).range.by_nature))
    planned = "" if reached else f"{'; planned' if limits else 'Planned'} until {facts.when(end)}"
    return f"{limits}{planned}{facts.then(number)}."


def _limits(facts: Facts, number: int, started: datetime) -> tuple[str, datetime | None]:
    """Between which moments it may end, and the end this speaks of; nothing where there is no choice."""
    lasting = facts.step(number).range
    first, last = started + lasting.shortest, started + lasting.longest if lasting.longest else None
    if first == last:
        return "", None
    if lasting.by_nature:
        return _look(facts, first, last), last
    if last is None:
        return f"It needs until {facts.when(first)} at least", first
    return f"It may end {facts.between(first, last)}", None


def _look(facts: Facts, first: datetime, last: datetime | None) -> str:
    """From when to look at what nature ends, and how long the plan gives it."""
    if first > facts.now:
        latest = f", at the latest {facts.when(last)}" if last else ""
        return f"Have a look from {facts.when(first)}{latest}"
    if last is None:
        return "Have a look now and then"
    return f"The plan {'gives' if last > facts.now else 'gave'} it until {facts.when(last)}"


def begun_alone(facts: Facts, number: int) -> list[int]:
    """The waits that began by themselves when the step was done."""
    return [
        link.after
        for link in facts.links
        if link.before == number and link.after is not None and link.tied
        if facts.state(link.after) is State.RUNNING and facts.view.progress.of(link.after).assumed
    ]


def given_until(facts: Facts, number: int) -> str:
    """How long the plan lets something under way go on; a wish never changes that."""
    standing, longest = facts.view.progress.of(number), facts.step(number).range.longest
    if standing.started is None or longest is None:
        return ""
    latest = standing.started + longest
    if standing.expected is not None and standing.expected > latest:
        return f"The plan gives it only until {facts.when(latest)}."
    return f"The plan gives it until {facts.when(latest)} at the latest."


def cooled(facts: Facts, number: int) -> list[str]:
    """Until when what is off the heat has to be cooled through its first stage; nothing for another step."""
    by = cooled_by(facts.view, facts.step(number))
    if by is None:
        return []
    source = named("cooling").source
    return [f"It has until {facts.when(by)} to get down to {degrees(LUKEWARM_C)} ({source})."]


def put_off(facts: Facts, deed: Deed, fits: bool) -> str:
    """ "I will say so again at 20:15: Salt the duck legs", or until when something under way goes on."""
    number = deed.step or 0
    standing, slot = facts.view.progress.of(number), facts.slot(number)
    if standing.state is State.RUNNING:
        until = standing.expected or deed.until or facts.now
        return f"Given until {facts.brief(until)}: {facts.titled(number)}"
    until = standing.not_before or deed.until or facts.now
    wanted = deed.until or until
    if not fits and slot is not None and wanted > max(slot.last_call, slot.start):
        return f"{facts.brief(wanted)} is too late for the meal: {facts.titled(number)}"
    return (
        f"I will say so again {facts.at(max(until, slot.start) if slot else until)}: {facts.titled(number)}"
    )
