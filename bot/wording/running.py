"""What is said about steps under way: ending them, looking at those that nature ends, and touches."""

from __future__ import annotations

from datetime import datetime, timedelta

from bot.wording import heat
from bot.wording.facts import Facts
from bot.wording.lines import beware, message, short
from bot.wording.starter import fed
from scheduler import words
from scheduler.domain.kitchen.hazards.attached import hazards_of
from scheduler.domain.plan import NO_TIME
from scheduler.domain.stages import Nudge, Stage
from scheduler.domain.timetable import Touch
from scheduler.records import Button
from scheduler.service.answers import Said
from scheduler.service.deeds import Verb
from scheduler.service.view import View

SHORT_WAIT = timedelta(hours=1)


def end(nudge: Nudge, view: View) -> Said:
    """A pot to take off, or work of the hands that should be over."""
    facts, number = Facts(view), nudge.step or 0
    named = facts.titled(number)
    since = facts.view.progress.of(number).started
    ran = f"Under way since {facts.brief(since)}, planned until" if since else "Planned until"
    if facts.is_hands_on(number):
        heading = f"Done yet? {named}"
    else:
        past = nudge.stage is Stage.WAITING
        heading = f"Time was up at {facts.brief(nudge.subject)}: {named}" if past else f"Time is up: {named}"
    return message(
        facts.called(number, heading),
        f"{ran} {facts.brief(nudge.subject)}{facts.then(number)}.",
        *heat.so_far(facts, number),
        buttons=[
            facts.button("Done", Verb.DONE, number),
            *_more(facts, number),
            facts.why(number, "What follows"),
        ],
    )


def _more(facts: Facts, number: int) -> list[Button]:
    """More time, unless something dangerous stands on it."""
    step = facts.step(number)
    if step.caution or any(hazard.by_time for hazard in hazards_of(step, facts.plan)):
        return []
    lasts = step.range.shortest
    return [
        facts.button(f"{by} min more", Verb.LATER, number, minutes=by)
        for by in ((10, 30) if lasts >= SHORT_WAIT else (5, 10))
    ]


# ---------------------------------------------------------------- looking


def look(nudge: Nudge, view: View) -> Said:
    """Something that nature ends: is it ready?"""
    facts, number = Facts(view), nudge.step or 0
    lasting = facts.step(number).range
    started = facts.view.progress.of(number).started or facts.start(number, nudge.subject)
    latest = None if lasting.longest is None else started + lasting.longest
    over = facts.button("It is over" if nudge.stage is Stage.MISSED else "Ready", Verb.DONE, number)
    return message(
        facts.called(number, _look_heading(facts, number, nudge, latest)),
        f"Ready when: {short(lasting.until or '', 100)}.",
        _look_time(facts, started, latest),
        fed(facts.view, number),
        f"When it is ready: {_next(facts, number)}",
        *heat.so_far(facts, number),
        buttons=[over, facts.button("Not yet", Verb.NOT_YET, number), facts.why(number, "What follows")],
    )


def _look_heading(facts: Facts, number: int, nudge: Nudge, latest: datetime | None) -> str:
    named = facts.titled(number)
    if nudge.stage is Stage.MISSED and latest is not None:
        return f"Past its longest time, {facts.brief(latest)}: {named}"
    if nudge.stage is Stage.CLOSING and latest is not None:
        return f"Have a look before {facts.brief(latest)}: {named}"
    again = "Have another look" if nudge.stage is Stage.WAITING else "Have a look"
    return f"{again}: {named}"


def _look_time(facts: Facts, started: datetime, latest: datetime | None) -> str:
    ran = f"It has had {words.length(max(facts.now - started, NO_TIME))}, since {facts.brief(started)}"
    if latest is None:
        return f"{ran}."
    limit = f"the plan gives it until {facts.when(latest)}"
    return (
        f"{ran}; {limit}." if latest > facts.now else f"{ran}; the plan gave it until {facts.when(latest)}."
    )


def _next(facts: Facts, number: int) -> str:
    """ "“Chill the jar”, planned for Fri 10:00."."""
    following = facts.after(number)
    if not following:
        return "nothing more, it waits for the table."
    slot = following[0][1]
    return f"{facts.quoted(slot.step, number)}, planned for {facts.when(slot.start)}."


# ---------------------------------------------------------------- touches


def tend(nudge: Nudge, view: View) -> Said:
    """A touch: its own name, which of how many, and during what.

    The caution comes with the first touch; daily it would no longer be read.
    """
    facts, number = Facts(view), nudge.step or 0
    step = facts.step(number)
    if step.tend is None:
        raise ValueError(f"{step.name} has nothing to tend")
    touch = f"{short(step.tend.name)} ({facts.component(number)})"
    cook = facts.cook(number)
    order = f"{cook}: {touch}" if cook else touch
    return message(
        facts.called(number, f"Still to do: {touch}") if nudge.stage is Stage.WAITING else order,
        f"{which_touch(facts, number, nudge.occurrence)}, during {facts.quoted(number)}.",
        f"Takes {words.length(step.tend.hands_on)}; {_next_touch(facts, number, nudge.occurrence)}",
        *(beware(step) if nudge.occurrence == 1 else []),
        buttons=touch_buttons(facts, number, nudge.occurrence),
    )


def which_touch(facts: Facts, number: int, occurrence: int) -> str:
    """ "3rd of 5", as far as it is known."""
    known = [touch.occurrence for touch in facts.view.timetable.touches if touch.step == number]
    of = f" of {max(known)}" if known and max(known) >= occurrence else ""
    return f"{words.ordinal(occurrence)}{of}"


def _next_touch(facts: Facts, number: int, occurrence: int) -> str:
    after = _touch(facts, number, occurrence + 1)
    return "this is the last one." if after is None else f"the next one comes {facts.at(after.at)}."


def _touch(facts: Facts, number: int, occurrence: int) -> Touch | None:
    every = facts.view.timetable.touches
    return next((each for each in every if (each.step, each.occurrence) == (number, occurrence)), None)


def touch_buttons(facts: Facts, number: int, occurrence: int) -> list[Button]:
    """Done, a little later where it comes seldom enough, or not this time."""
    tending = facts.step(number).tend
    minutes = 10 if tending is None or tending.tolerance >= timedelta(minutes=10) else 5
    return [
        facts.button("Done", Verb.DONE, number, occurrence),
        facts.button(f"In {minutes} min", Verb.LATER, number, occurrence, minutes=minutes),
        facts.button("Skip this one", Verb.SKIP, number, occurrence),
    ]
