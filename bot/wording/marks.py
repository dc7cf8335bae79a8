"""What is said back when the cook has said something: what was taken down, what moves, what is next."""

from __future__ import annotations

from datetime import datetime

from bot.wording import heat
from bot.wording.clock_words import clock_lines
from bot.wording.course import begun_alone, cooled, course, given_until, put_off
from bot.wording.days import coming
from bot.wording.facts import Facts
from bot.wording.ferment import judged_lines, so_far
from bot.wording.hours import cannot, earliest, hour_buttons, moved_lines, no_longer_fits
from bot.wording.lines import button, message, short, some
from bot.wording.running import which_touch
from bot.wording.warmth import found_lines, reckon_buttons
from scheduler import words
from scheduler.domain.kitchen.hazards import DEFERRAL
from scheduler.domain.progress import MarkKind, State, still_to_do
from scheduler.explain import Misfit
from scheduler.records import Button
from scheduler.service.answers import Noted, Said, StillGoing, Taken, Undone
from scheduler.service.deeds import Deed, Verb

MOST_DEEDS = 3
WHOLE = {
    Verb.LEAVE_OUT: "Left out",
    Verb.RUINED: "Lost",
    Verb.AGAIN: "From the start again",
    Verb.BACK: "Part of the meal again",
}


def taken(answer: Taken) -> Said:
    """What was marked, with its time; then what follows from it."""
    facts = Facts(answer.view)
    fits = answer.misfit is None
    told = [_told(facts, deed, fits) for deed in answer.deeds] or ["Taken back"]
    unmet = heat.not_met(facts, answer)
    cautions, put = _cautions(facts, answer) or ([DEFERRAL] if unmet else []), _put_off(answer)
    return message(
        *some(told, MOST_DEEDS),
        *(_follows(facts, answer.deeds[0], answer) if answer.deeds else []),
        *clock_lines(answer.clocks, facts.zone, facts.now),
        *moved_lines(facts, (each for each in answer.moved if each.step != put), 3 if cautions else 5),
        *some(_late(facts, answer), 2, "and {} more have waited too long"),
        *_cannot_hold(facts, answer),
        *some(unmet, 2),
        coming(facts, put) if fits else "",
        *cautions,
        buttons=_buttons(facts, answer),
    )


def _put_off(answer: Taken) -> int | None:
    return next((deed.step for deed in answer.deeds if deed.verb is Verb.LATER), None)


def _told(facts: Facts, deed: Deed, fits: bool) -> str:
    """ "Done: Drain the beans, 13:41"."""
    number, at = deed.step or 0, deed.at or facts.now
    if deed.occurrence is not None:
        return _touch_told(facts, deed, deed.occurrence, at)
    if deed.verb in WHOLE:
        return f"{WHOLE[deed.verb]}: {facts.component(number)}"
    if deed.verb is Verb.SKIP:
        return f"Left out: {facts.titled(number)}"
    if deed.verb is Verb.LATER:
        return put_off(facts, deed, fits)
    return _marked(facts, number, at)


def _marked(facts: Facts, number: int, at: datetime) -> str:
    """Done or begun, whichever it came to."""
    standing = facts.view.progress.of(number)
    if standing.state is State.RUNNING:
        return f"Started: {facts.titled(number)}, {facts.brief(standing.started or at)}"
    return f"Done: {facts.titled(number)}, {facts.brief(standing.ended or at)}"


def _touch_told(facts: Facts, deed: Deed, occurrence: int, at: datetime) -> str:
    number = deed.step or 0
    tend = facts.step(number).tend
    which = (
        f"{short(tend.name if tend else facts.step(number).name)}, {which_touch(facts, number, occurrence)}"
    )
    if deed.verb is Verb.LATER:
        until = facts.view.progress.put_off.get((number, occurrence), deed.until or at)
        return f"I will say so again {facts.at(until)}: {which}"
    return f"{'Skipped' if deed.verb is Verb.SKIP else 'Done'}: {which}, {facts.brief(at)}"


def _follows(facts: Facts, deed: Deed, answer: Taken) -> list[str]:
    """What the first mark set going, or how long it can still be put off."""
    number = deed.step or 0
    if deed.occurrence is not None:
        return []
    if deed.verb is Verb.LATER:
        return _room_left(facts, number, deed, answer)
    if deed.verb in (Verb.AGAIN, Verb.BACK):
        return _begins(facts, number)
    if facts.state(number) is State.RUNNING:
        return [course(facts, number)]
    return [
        f"{facts.quoted(each, number)} has begun by itself. {course(facts, each)}"
        for each in begun_alone(facts, number)[:1]
    ]


def _begins(facts: Facts, number: int) -> list[str]:
    """The first thing still to do for a part of the meal."""
    mine = [slot for slot in facts.view.upcoming() if facts.component(slot.step) == facts.component(number)]
    return [f"It begins {facts.at(slot.start)}: {facts.titled(slot.step)}." for slot in mine[:1]]


def _room_left(facts: Facts, number: int, deed: Deed, answer: Taken) -> list[str]:
    """How long remains: a snooze never reaches past the last call."""
    slot = facts.slot(number)
    if facts.state(number) is State.RUNNING:
        return [heat.needs_until(facts, number, deed.until) or given_until(facts, number)]
    if facts.state(number) is not State.WAITING or slot is None:
        return []
    if answer.misfit is not None and deed.until is not None and deed.until > max(slot.last_call, slot.start):
        if slot.last_call <= facts.now:
            return [f"It could wait only until {facts.when(slot.last_call)}: begin at once."]
        return [f"It can wait only until {facts.when(slot.last_call)}: I will say so again before then."]
    return [facts.room(number), *cooled(facts, number)] if answer.misfit is None else []


def _late(facts: Facts, answer: Taken) -> list[str]:
    """What has waited longer than it keeps."""
    lines = []
    for name in dict.fromkeys(answer.late):
        keeps = next((step.keeps for step in facts.plan.steps if step.name == name), None)
        limit = f"keeps {words.length(keeps)}" if keeps else "was to be used at once"
        lines.append(f"What “{short(name, 40)}” made {limit} and has waited longer. Look before you use it.")
    return lines


def _cannot_hold(facts: Facts, answer: Taken) -> list[str]:
    if answer.misfit is None:
        return []
    misfit, zone = answer.misfit, facts.zone
    if _put_off(answer) is not None:
        return [cannot(misfit, zone, then="Done only then, "), *no_longer_fits(misfit, zone)]
    if answer.again:
        return [f"{cannot(misfit, zone, still='still ')} {earliest(misfit, zone)}"]
    return [cannot(misfit, zone, ending=" any more"), *no_longer_fits(misfit, zone)]


def _cautions(facts: Facts, answer: Taken) -> list[str]:
    """The caution of whatever was set going; what has kept too long ends with the deferral too."""
    numbers = [deed.step for deed in answer.deeds if deed.step is not None and deed.occurrence is None]
    begun = [number for number in numbers if facts.state(number) is State.RUNNING]
    begun += [other for number in numbers for other in begun_alone(facts, number)]
    longer = [deed.step for deed in answer.deeds if deed.verb is Verb.LATER]
    told = [n for n in begun if n in longer or answer.before.progress.state(n) is not State.RUNNING]
    lines = next((lines for number in told if (lines := heat.begun(facts.step(number), facts.plan))), [])
    return lines or ([DEFERRAL] if answer.late else [])


def _buttons(facts: Facts, answer: Taken) -> list[Button]:
    undo = facts.button("Undo", Verb.UNDO)
    if not still_to_do(answer.view.progress):
        return [undo]
    if answer.misfit is not None:
        leave = facts.button("Leave it as it is", Verb.KEEP)
        put_off = next((deed for deed in answer.deeds if deed.verb is Verb.LATER), None)
        hours = hour_buttons(answer.misfit, facts.view.id, facts.zone, put_off)
        return [*hours[:1], *([] if _held_back(facts, put_off) else [facts.other_ways()]), leave, undo]
    ruined = [deed.step for deed in answer.deeds if deed.verb is Verb.RUINED]
    if ruined:
        return [facts.button("Make it again", Verb.AGAIN, ruined[0]), undo]
    return [facts.button("What's next", Verb.NEXT), undo]


def _held_back(facts: Facts, put_off: Deed | None) -> bool:
    """Whether something was put off less far than was asked, so that the meal still fits."""
    if put_off is None or put_off.step is None or put_off.until is None:
        return False
    standing = facts.view.progress.of(put_off.step)
    return standing.not_before is not None and standing.not_before < put_off.until


# ---------------------------------------------------------------- looked at, noted, taken back


def still_going(answer: StillGoing) -> Said:
    """Looked at, and not ready."""
    facts, number = Facts(answer.view), answer.step
    again = (
        f"I will ask again {facts.at(answer.again)}."
        if answer.again
        else "I will not ask again: tell me when it is."
    )
    return message(
        f"Not ready yet: {facts.titled(number)}",
        again,
        course(facts, number),
        buttons=[facts.button("Ready", Verb.DONE, number), facts.button("What's next", Verb.NEXT)],
    )


def noted(answer: Noted) -> Said:
    """A note, and what a reading in it comes to."""
    facts = Facts(answer.view)
    about = "" if answer.step is None else f"For {facts.quoted(answer.step)}."
    judged = judged_lines(facts, answer.text, answer.step)
    return message(
        f"Noted: {short(answer.text, 120)}",
        about,
        *judged,
        *so_far(facts, answer.text, answer.step),
        *found_lines(facts, answer.found),
        *([f"Is that {short(answer.maybe[0], 40)}? Then say yes, and I count it."] if answer.maybe else []),
        *([DEFERRAL] if judged else []),
        buttons=[
            *([button("Yes", answer.maybe[1])] if answer.maybe else []),
            *reckon_buttons(facts, answer.found, answer.step),
            facts.button("Undo", Verb.UNDO),
        ],
    )


def undone(answer: Undone) -> Said:
    """What was taken back."""
    facts = Facts(answer.view)
    told = words.listed(some([_taken_back(each) for each in answer.what], 3, "{} more"))
    fits = answer.misfit is None
    others = [] if answer.misfit is None else hour_buttons(answer.misfit, facts.view.id, facts.zone)[:1]
    return message(
        f"{'In again' if answer.redone else 'Taken back'}: {told}",
        *clock_lines(answer.clocks, facts.zone, facts.now),
        *moved_lines(facts, answer.moved),
        *_no_hour(facts, answer.misfit),
        coming(facts) if fits else "",
        buttons=[
            *others,
            *([] if fits else [facts.other_ways()]),
            facts.button("What's next", Verb.NEXT),
            facts.button("Undo that", Verb.REDO),
        ],
    )


def _no_hour(facts: Facts, misfit: Misfit | None) -> list[str]:
    if misfit is None:
        return []
    return [cannot(misfit, facts.zone, ending=" now"), *no_longer_fits(misfit, facts.zone)]


def _taken_back(told: str) -> str:
    """ "Drain the beans: done" as “Drain the beans” (done); what was changed or moved as it is."""
    name, found, kind = told.rpartition(": ")
    if kind in (MarkKind.CHANGED, MarkKind.MOVED, MarkKind.CLOCK):
        return short(name, 60)
    return f"“{short(name, 50)}” ({short(kind, 20)})" if found else f"“{short(told, 50)}”"
