"""What is said of a step that heats something right through: how long it takes, and what that meets."""

from __future__ import annotations

from datetime import datetime

from bot.wording.facts import Facts
from bot.wording.lines import beware, quoted
from scheduler import heat_words, words
from scheduler.domain.heats import heat_of
from scheduler.domain.kitchen.hazards import DEFERRAL, hazard
from scheduler.domain.plan import NO_TIME, Plan, Step
from scheduler.domain.progress import State
from scheduler.service.answers import Taken
from scheduler.service.deeds import Verb

MOST_SAID = 2
"""Warnings and cautions at most; one warning, the gravest, always. A plan is told of all of them when it is read."""


def begun(step: Step, plan: Plan | None = None) -> list[str]:
    """What was worked out for a step that is begun, with its cautions; they end with the deferral, once.

    With its plan, the cautions of what it is are told, too: see `lines.beware`.
    """
    return _with_cautions(step, heat_words.of_step(step), plan)


def beginning(facts: Facts, number: int) -> list[str]:
    """What a step that is to begin says of its own heating, and of what it comes after and was heated until now."""
    before = [
        heat_words.had(facts.step(link.before), facts.now - started, quoted(facts.step(link.before).name, 40))
        for link in facts.links
        if link.after == number and facts.state(link.before) is State.RUNNING
        if (started := facts.view.progress.of(link.before).started) is not None
    ]
    told = begun(facts.step(number), facts.plan)
    return [*filter(None, before), *told, *([DEFERRAL] if any(before) and DEFERRAL not in told else [])]


def so_far(facts: Facts, number: int) -> list[str]:
    """The same for one under way: what it has met by now."""
    step, started = facts.step(number), facts.view.progress.of(number).started
    if started is None:
        return begun(step)
    had = heat_words.had(step, max(facts.now - started, NO_TIME))
    return _with_cautions(step, [had] if had else [])


def _with_cautions(step: Step, told: list[str], plan: Plan | None = None) -> list[str]:
    heat = heat_of(step)
    if heat is None:
        return beware(step, plan)
    caution = _without_counting(beware(step, plan)) if step.caution is None else beware(step, plan)
    warnings = heat.warnings[: max(1, MOST_SAID - len(caution[:-1]))]
    limited = bool(step.floor or warnings) and not caution
    return [*told, *warnings, *caution, *([DEFERRAL] if limited else [])]


def _without_counting(cautions: list[str]) -> list[str]:
    """Without "count the time from when the middle is hot": what was worked out counts the time on the way, too."""
    kept = [line for line in cautions[:-1] if str(hazard("water bath")) not in line]
    return [*kept, *cautions[-1:]] if kept else []


def needs_until(facts: Facts, number: int, wanted: datetime | None) -> str:
    """How long something under way still needs for a published limit; empty where it has met it."""
    step, started = facts.step(number), facts.view.progress.of(number).started
    if step.floor is None or started is None or wanted is None or facts.now >= started + step.floor:
        return ""
    return f"It needs until {facts.when(started + step.floor)} at least, for {heat_words.wanted_for(step)}."


def not_met(facts: Facts, answer: Taken) -> list[str]:
    """The published limits that were not met by what is over now, or left out."""
    left_out = {deed.step for deed in answer.deeds if deed.verb is Verb.SKIP and deed.occurrence is None}
    return [
        line
        for step in facts.plan.steps
        if answer.before.progress.of(step.number) != facts.view.progress.of(step.number)
        if (line := _unmet(facts, step, step.number in left_out))
    ]


def _unmet(facts: Facts, step: Step, left_out: bool) -> str:
    standing = facts.view.progress.of(step.number)
    if step.floor is None:
        return ""
    if left_out and standing.state is State.DROPPED:
        return f"Without {quoted(step.name, 40)}, this was not met: {heat_words.still_for(step, NO_TIME)}."
    if standing.state is not State.DONE or standing.started is None or standing.ended is None:
        return ""
    lasted = standing.ended - standing.started
    if lasted >= step.floor:
        return ""
    ran = f"{quoted(step.name, 40)} had {words.length(lasted)} of {words.length(step.floor)}"
    return f"{ran}; this was not met: {heat_words.still_for(step, lasted)}."
