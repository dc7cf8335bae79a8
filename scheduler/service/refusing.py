"""What cannot be taken as said: marks that contradict the plan, the clock or what was said before."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime, timedelta

from scheduler import heat_words, words
from scheduler.domain.plan import Attention, Step
from scheduler.domain.progress import Standing, State
from scheduler.service import guarding
from scheduler.service.answers import Refused
from scheduler.service.deeds import Deed, Verb
from scheduler.service.view import View

JUST_NOW = timedelta(minutes=1)
HALF_A_DAY = timedelta(hours=12)
BEGUN = (State.RUNNING, State.DONE)
WHOLE = frozenset({Verb.LEAVE_OUT, Verb.RUINED, Verb.AGAIN, Verb.BACK})

TOO_SOON = "“{name}” has run {lasted}; the plan wants at least {shortest}. Is it really over?"
LIMIT = "“{name}” has run {lasted}; {left} remain of {floor} for {limit}. Is it really over?"
LEFT_OUT = "Without “{name}”, this is not met: {limit}. Leave it out all the same?"


def refusal(view: View, deed: Deed) -> Refused | None:
    """Why a mark cannot be taken, or the question to ask first; None when it can."""
    if deed.step is None or deed.step >= len(view.plan.steps):
        return Refused("That is no step of this plan.")
    if deed.at is not None and deed.at > view.now + JUST_NOW:
        return Refused("That time has not come yet. Tell me when it has happened.")
    if deed.until is not None and deed.until <= view.now:
        return Refused("That time has passed already.")
    if deed.verb in WHOLE:
        return _whole_refusal(view, deed, view.step(deed.step))
    if deed.occurrence is not None:
        return _touch_refusal(view, deed, view.step(deed.step), deed.occurrence)
    return next(_step_refusals(view, deed, view.step(deed.step)), None)


# ---------------------------------------------------------------- parts of the meal, touches


def _whole_refusal(view: View, deed: Deed, step: Step) -> Refused | None:
    states = [view.progress.state(each.number) for each in view.part_of(step)]
    if deed.verb is Verb.BACK and State.DROPPED not in states:
        return Refused(f"“{step.component}” is part of the meal.")
    if deed.verb is Verb.LEAVE_OUT and not {State.WAITING, State.RUNNING} & set(states):
        done = State.DONE in states
        return Refused(f"“{step.component}” {'is done' if done else 'was left out of this meal'} already.")
    return next(guarding.refusals(view, deed, step), None) if deed.verb is Verb.LEAVE_OUT else None


def _touch_refusal(view: View, deed: Deed, step: Step, occurrence: int) -> Refused | None:
    name = step.name if step.tend is None else step.tend.name
    if (step.number, occurrence) in view.progress.touched:
        return Refused(f"“{name}”, the {words.ordinal(occurrence)} time, is marked already.")
    owed = {(touch.step, touch.occurrence) for touch in view.timetable.touches}
    if (step.number, occurrence) not in owed or view.progress.state(step.number) in (
        State.DONE,
        State.DROPPED,
    ):
        return Refused(f"“{name}” is not wanted any more.")
    return None


# ---------------------------------------------------------------- steps


def _step_refusals(view: View, deed: Deed, step: Step) -> Iterator[Refused]:
    standing = view.progress.of(step.number)
    if standing.state is State.DROPPED:
        back = Deed(Verb.BACK, view.id, step.number)
        yield Refused(f"“{step.name}” was left out of this meal.", (("Put it back", back),))
    if standing.state is State.DONE:
        yield from _over_already(view, deed, step, standing)
    if standing.state is State.RUNNING:
        yield from _under_way_already(view, deed, step, standing)
    if deed.verb in (Verb.DONE, Verb.START):
        yield from _out_of_order(view, deed, step)
    yield from guarding.refusals(view, deed, step)
    if not deed.sure:
        yield from _too_soon(view, deed, step)
        yield from _skips_limit(view, deed, step)
        yield from _long_before(view, deed, step)


def _over_already(view: View, deed: Deed, step: Step, standing: Standing) -> Iterator[Refused]:
    """Done is done; only its time may be put right, or what was merely taken to be over be said."""
    begun = next((view.step(n).name for n in view.after(step.number) if _said_begun(view, n)), None)
    if deed.verb is Verb.DONE and (deed.at is not None or (standing.assumed and begun is None)):
        return
    ended = "" if standing.ended is None else f", at {view.brief(standing.ended)}"
    why = f" It was over when “{begun}” began." if standing.assumed and begun is not None else ""
    yield Refused(f"“{step.name}” is marked done already{ended}.{why}")


def _said_begun(view: View, number: int) -> bool:
    standing = view.progress.of(number)
    return standing.state in BEGUN and not standing.assumed


def _under_way_already(view: View, deed: Deed, step: Step, standing: Standing) -> Iterator[Refused]:
    if standing.started is None:
        return
    since = view.brief(standing.started)
    if deed.verb is Verb.START and deed.at is None and not standing.assumed:
        yield Refused(f"“{step.name}” has been under way since {since}.")
    if deed.verb is Verb.DONE and deed.at is not None and deed.at < _minute(standing.started):
        yield Refused(f"“{step.name}” began only at {since}.")


def _out_of_order(view: View, deed: Deed, step: Step) -> Iterator[Refused]:
    """A time before what it follows was over, or after what follows it had begun."""
    if deed.at is None:
        return
    for number in view.before(step.number):
        ended = view.progress.of(number).ended
        said = ended is not None and not view.progress.of(number).assumed
        if ended is not None and said and deed.at < _minute(ended):
            yield Refused(f"“{view.step(number).name}”, which comes before it, was over only at "
                          f"{view.brief(ended)}.")  # fmt: skip
    for number in view.after(step.number):
        started = view.progress.of(number).started
        if started is not None and _said_begun(view, number) and deed.at > started:
            yield Refused(
                f"“{view.step(number).name}”, which comes after it, began at {view.brief(started)} already."
            )


def _too_soon(view: View, deed: Deed, step: Step) -> Iterator[Refused]:
    """A wait that is surely not over: asked about rather than taken as over."""
    at = deed.at or view.now
    waits = [step.number] if deed.verb is Verb.DONE else []
    waits += _taken_as_over(view, step.number) if deed.verb in (Verb.DONE, Verb.START) else []
    for number in waits:
        wait, started = view.step(number), view.progress.of(number).started
        running = view.progress.state(number) is State.RUNNING or (
            wait.floor is not None and number == step.number and view.progress.state(number) is State.DONE
        )
        if not running and wait.floor is not None:
            yield from _hardly_begun(view, deed, wait, at)
        by_hand = wait.attention is Attention.HANDS_ON and wait.floor is None
        if started is None or not running or by_hand:
            continue
        if at - started < wait.range.shortest:
            yield _really(view, deed, wait, at - started)


def _taken_as_over(view: View, number: int) -> list[int]:
    """What a step comes after, and of what that comes after what has a published limit to meet and is not over."""
    before = view.before(number)
    reach, further = list(before), set[int]()
    while reach:
        open_ = [
            n for n in view.before(reach.pop()) if view.progress.state(n) in (State.WAITING, State.RUNNING)
        ]
        reach += [n for n in open_ if n not in further]
        further.update(open_)
    return [*before, *(n for n in sorted(further - set(before)) if view.step(n).floor is not None)]


def _hardly_begun(view: View, deed: Deed, wait: Step, at: datetime) -> Iterator[Refused]:
    """A published limit that cannot have been met by something nobody said was begun."""
    slot = view.timetable.slot(wait.number)
    own = deed.step == wait.number and wait.attention is not Attention.HANDS_ON
    if view.progress.state(wait.number) is not State.WAITING or slot is None or wait.floor is None or own:
        return  # done, said of a wait itself, means that it was begun
    ends = [view.progress.of(number).ended for number in view.before(wait.number)]
    begun = max([end for end in ends if end is not None], default=slot.start)
    if at - begun < wait.floor:
        yield _really(view, deed, wait, at - begun)


def _skips_limit(view: View, deed: Deed, step: Step) -> Iterator[Refused]:
    """Leaving out a step that is there to meet a published limit: asked about first."""
    if deed.verb is not Verb.SKIP or step.floor is None:
        return
    started = view.progress.of(step.number).started
    lasted = timedelta(0) if started is None else view.now - started
    if lasted < step.floor:
        why = LEFT_OUT.format(name=step.name, limit=heat_words.still_for(step, lasted))
        sure = replace(deed, plan=view.id, sure=True)
        yield Refused(why, (("Leave it out", sure), ("No", Deed(Verb.KEEP, view.id, step.number))))


def _long_before(view: View, deed: Deed, step: Step) -> Iterator[Refused]:
    """A time of another day, long before it was planned: "at three" may have meant today."""
    slot = view.timetable.slot(step.number)
    if deed.at is None or slot is None or slot.start - deed.at < HALF_A_DAY:
        return
    if words.days_ahead(deed.at, view.zone, view.now) < 0:
        done = "done" if deed.verb is Verb.DONE else "begun"
        when = words.at_time(deed.at, view.zone, view.now)
        why = f"“{step.name}” was planned for {view.brief(slot.start)}. Was it {done} {when}?"
        sure = replace(deed, plan=view.id, sure=True)
        yield Refused(why, (("Yes", sure), ("No", Deed(Verb.KEEP, view.id, step.number))))


def _really(view: View, deed: Deed, wait: Step, lasted: timedelta) -> Refused:
    lasted = max(lasted, timedelta(0))
    why = TOO_SOON.format(
        name=wait.name, lasted=words.length(lasted), shortest=words.length(wait.range.shortest)
    )
    if wait.floor is not None and lasted < wait.floor:
        left, limit = words.length(wait.floor - lasted), heat_words.still_for(wait, lasted)
        floor, name = words.length(wait.floor), wait.name
        why = LIMIT.format(name=name, lasted=words.length(lasted), left=left, floor=floor, limit=limit)
    sure = replace(deed, plan=view.id, sure=True)
    return Refused(why, (("It is over", sure), ("Not yet", Deed(Verb.KEEP, view.id, wait.number))))


def _minute(at: datetime) -> datetime:
    return at.replace(second=0, microsecond=0)
