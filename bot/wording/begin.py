"""What is said about beginning a step, ever more plainly: now, still waiting, closing, missed."""

from __future__ import annotations

from bot.wording import heat
from bot.wording.amounts import amounts_line, equipment
from bot.wording.facts import Facts
from bot.wording.hours import hour_buttons, no_longer_fits, would_move
from bot.wording.lines import beware, message, quoted, some
from bot.wording.starter import fed
from scheduler import words
from scheduler.domain.plan import NO_TIME
from scheduler.domain.stages import Nudge, Stage
from scheduler.records import Button
from scheduler.service.answers import Consequence, Said
from scheduler.service.deeds import Verb
from scheduler.service.view import View


def begin(nudge: Nudge, view: View, consequence: Consequence | None) -> Said:
    """The message about beginning a step."""
    facts, number = Facts(view), nudge.step or 0
    if nudge.stage is Stage.MISSED:
        return _missed(facts, number, nudge, consequence)
    if nudge.stage is Stage.CLOSING:
        return _closing(facts, number)
    if nudge.stage is Stage.WAITING:
        return _waiting(facts, number, nudge)
    return _now(facts, number)


def how(facts: Facts, number: int) -> str:
    """How long it takes, and what for."""
    length = f"Takes {facts.length(number)}"
    if facts.is_hands_on(number):
        alone = facts.by_itself(number)
        itself = f". Then {facts.quoted(alone[0].step, number)} by itself" if alone else ""
        return f"{length}{itself}{facts.purpose(number)}."
    fixed = facts.step(number).range.shortest == facts.step(number).range.longest
    until = f"{', until' if fixed else '; planned until'} {facts.when(facts.end_if_begun(number))}"
    return f"{length}{until}{facts.then(number)}."


def _now(facts: Facts, number: int) -> Said:
    step = facts.step(number)
    named = facts.titled(number)
    return message(
        facts.order(number) if facts.is_hands_on(number) else facts.called(number, f"Now: {named}"),
        amounts_line(step.amounts),
        equipment(step),
        how(facts, number),
        fed(facts.view, number),
        facts.room(number),
        *heat.beginning(facts, number),
        buttons=[facts.did_it(number), *facts.snooze(number), facts.why(number)],
    )


def _waiting(facts: Facts, number: int, nudge: Nudge) -> Said:
    step, named = facts.step(number), facts.titled(number)
    do = "do" if facts.is_hands_on(number) else "begin"
    since = facts.brief(nudge.subject)
    heading = (
        f"Still to {do}: {named}",
        f"Waiting since {since}: {named}",
        f"Please {do} this first: {named}",
    )
    waited = words.length(max(facts.now - nudge.subject, NO_TIME))
    how_long = (
        f"It was planned for {since}.",
        f"That is {waited} now.",
        f"It has waited {waited}, since {since}.",
    )
    return message(
        facts.called(number, heading[min(nudge.occurrence, 2)]),
        f"{how_long[min(nudge.occurrence, 2)]} {facts.room(number)}",
        amounts_line(step.amounts),
        how(facts, number),
        fed(facts.view, number),
        *beware(step, facts.plan),
        buttons=[
            facts.did_it(number),
            *_earlier(facts, number, nudge),
            *facts.snooze(number),
            facts.why(number),
        ],
    )


def _closing(facts: Facts, number: int) -> Said:
    step, slot = facts.step(number), facts.slot(number)
    last = facts.start(number, facts.now) if slot is None else max(slot.last_call, slot.start)
    left = words.length(last - facts.now) if last > facts.now else "No time"
    return message(
        facts.called(number, f"By {facts.brief(last)} at the latest: {facts.titled(number)}"),
        f"{left} left. After that the plan has to change, and {facts.when(facts.view.serve)} may not hold.",
        amounts_line(step.amounts),
        how(facts, number),
        fed(facts.view, number),
        *beware(step, facts.plan),
        buttons=[facts.did_it(number), *facts.snooze(number), facts.why(number)],
    )


# ---------------------------------------------------------------- missed


def _missed(facts: Facts, number: int, nudge: Nudge, consequence: Consequence | None) -> Said:
    if consequence is not None and consequence.misfit is not None:
        return _cannot_hold(facts, number, nudge, consequence)
    step = facts.step(number)
    moved = consequence.moved if consequence is not None else ()
    return message(
        facts.called(number, f"Not begun yet: {facts.titled(number)}"),
        f"It was planned for {facts.brief(nudge.subject)}. {_still(facts, number, consequence)}",
        *would_move(facts, moved, 4),
        amounts_line(step.amounts),
        *beware(step, facts.plan),
        buttons=[_begin_now(facts, number), *_in_time(facts, number, nudge), _leave_out(facts, number)],
    )


def _still(facts: Facts, number: int, consequence: Consequence | None) -> str:
    """Until when it may still begin so that the serving hour holds."""
    timetable = consequence.timetable if consequence is not None else None
    slot = timetable.slot(number) if timetable is not None else None
    if timetable is None or slot is None:
        return ""
    by = max(slot.start, slot.last_call)
    begun = f"Begun by {facts.brief(by)}" if by > facts.now else "Begun now"
    return f"{begun}, the meal can still be served {facts.at(timetable.serve)}."


def _cannot_hold(facts: Facts, number: int, nudge: Nudge, consequence: Consequence) -> Said:
    misfit = consequence.misfit
    if misfit is None:
        raise ValueError("nothing stands in the way of this timetable")
    held_up = [quoted(facts.step(each).name, 40) for each in facts.downstream(number)]
    return message(
        f"{facts.clock(facts.view.serve)} cannot hold: {facts.quoted(number)} was not begun",
        f"It was planned for {facts.brief(nudge.subject)}.",
        f"It holds up {words.listed(some(held_up, 4, '{} more steps'))}." if held_up else "",
        *no_longer_fits(misfit, facts.zone),
        *beware(facts.step(number), facts.plan),
        buttons=[
            *hour_buttons(misfit, facts.view.id, facts.zone)[:1],
            *_in_time(facts, number, nudge),
            facts.other_ways(),
            _leave_out(facts, number),
        ],
    )


# ---------------------------------------------------------------- buttons


def _begin_now(facts: Facts, number: int) -> Button:
    return facts.button("Start now", Verb.START, number)


def _earlier(facts: Facts, number: int, nudge: Nudge) -> list[Button]:
    """A wait begun when it was planned, and not spoken of until now: its end depends on when."""
    if facts.is_hands_on(number) or nudge.subject >= facts.now:
        return []
    return [facts.button(f"Started at {facts.brief(nudge.subject)}", Verb.START, number, at=nudge.subject)]


def _in_time(facts: Facts, number: int, nudge: Nudge) -> list[Button]:
    if not facts.is_hands_on(number):
        return _earlier(facts, number, nudge)
    over = min(facts.now, nudge.subject + facts.step(number).range.planned()[0])
    return [facts.button("It was done", Verb.DONE, number, at=over)]


def _leave_out(facts: Facts, number: int) -> Button:
    """The whole of what it belongs to; the button names it."""
    return facts.button(f"Leave out {facts.step(number).component}", Verb.LEAVE_OUT, number)
