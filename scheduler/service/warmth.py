"""A kitchen that is warmer or cooler than planned: what that does to what ferments and rises, once agreed to."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Sequence
from datetime import timedelta

from scheduler.changes import Change, ChangeKind
from scheduler.domain.kitchen.ferments import NoFigures, Pace, life_of, pace
from scheduler.domain.plan import MINUTE, NO_TIME, Attention, Step
from scheduler.domain.progress import Mark, MarkKind, State
from scheduler.ports import Planner
from scheduler.service import acting
from scheduler.service.acting import Result, Said
from scheduler.service.answers import Refused
from scheduler.service.deeds import Deed, Verb
from scheduler.service.offers import NotKnown, Reckoned, Reestimate
from scheduler.service.view import View

WORTH_SAYING = 0.1
"""A tenth more or less is within what a range allows for anyway (our choice)."""

SOON = timedelta(days=1)
"""A reading says something of what begins within a day (our choice)."""


TEMPERATURE = re.compile(r"(-?[0-9]+(?:\.[0-9]+)?) ?([CF])")
"""A temperature as a note has it: "24 C", "75 F"."""


COLDEST_C, HOTTEST_C = -60.0, 350.0
"""What a freezer and an oven come to, with room to spare (our choice)."""


def is_no_kitchens(text: str) -> bool:
    """Whether a note is a temperature, and one that nothing in a kitchen has."""
    found = TEMPERATURE.fullmatch(text.strip())
    return found is not None and not COLDEST_C <= _celsius(found) <= HOTTEST_C


def _celsius(found: re.Match[str]) -> float:
    degrees = float(found[1])
    return degrees if found[2] == "C" else round((degrees - 32) / 1.8, 1)


def told(view: View, text: str, step: int | None) -> tuple[Reestimate | NotKnown, ...]:
    """What a note makes of what ferments and rises, if it is a temperature and nothing else."""
    found = TEMPERATURE.fullmatch(text.strip())
    if found is None:
        return ()
    return reestimates(view, _celsius(found), step)


def asks(view: View, found: Sequence[Reestimate | NotKnown], step: int | None) -> Deed | None:
    """What a plain yes agrees to, where there is something to agree to."""
    said = [each.said_c for each in found if isinstance(each, Reestimate)]
    return Deed(Verb.RECKON, view.id, step, minutes=round(said[0] * 10)) if said else None


def reestimates(view: View, said_c: float, step: int | None) -> tuple[Reestimate | NotKnown, ...]:
    """What a reading changes: of the step it is about, or of whatever ferments or rises now or within a day."""
    return tuple(found for each in _concerned(view, step) for found in _estimated(view, each, said_c))


def _concerned(view: View, number: int | None) -> Iterator[Step]:
    for slot in view.timetable.slots:
        state = view.progress.state(slot.step)
        soon = state is State.RUNNING or (state is State.WAITING and slot.start - view.now <= SOON)
        if soon and number in (None, slot.step):
            yield view.step(slot.step)


def _estimated(view: View, step: Step, said_c: float) -> Iterator[Reestimate | NotKnown]:
    life = life_of(view.plan, step)
    if step.at is None or life is None or step.attention is Attention.HANDS_ON:
        return
    try:
        found = pace(life, step.at, said_c)
    except NoFigures as error:
        if abs(step.at - said_c) >= 1 and _room_temperature(step.at):
            yield NotKnown(step.number, str(error))
        return
    if abs(found.likely - 1) >= WORTH_SAYING:
        yield Reestimate(step.number, step.at, said_c, found, _lasting(view, step, said_c, found))


def _room_temperature(at_c: float) -> bool:
    """What stands in a fridge does not follow the kitchen."""
    return at_c > 10


def _lasting(view: View, step: Step, said_c: float, found: Pace) -> Change:
    """What is behind it was at the old pace, the rest goes on at the new one."""
    standing = view.progress.of(step.number)
    begun = standing.started if standing.state is State.RUNNING else None
    gone = NO_TIME if begun is None else view.now - begun

    def then(length: timedelta, times: float) -> int:
        left = max(length - gone, NO_TIME) * times
        return max(_told(min(gone, length) + left), 1)

    lasts = step.range
    shortest = max(then(lasts.shortest, found.least), 0 if step.floor is None else -(-step.floor // MINUTE))
    longest = None if lasts.longest is None else max(shortest, then(lasts.longest, found.most))
    usually = None
    if lasts.usually is not None:
        usually = max(shortest, then(lasts.usually, found.likely))
        usually = usually if longest is None else min(usually, longest)
    return Change(
        ChangeKind.LASTS, step=step.number, shortest=shortest, longest=longest, usually=usually, at_c=said_c
    )


def _told(length: timedelta) -> int:
    """Minutes, rounded as far as such an estimate goes: hours beyond a day, else five minutes."""
    grain = timedelta(hours=1) if length > timedelta(days=1) else timedelta(minutes=5)
    return round(length / grain) * (grain // MINUTE)


def make(view: View, deed: Deed, said: Said, planner: Planner) -> Result:
    """Count on what a reading makes of what ferments and rises; `minutes` of the deed is tenths of a degree.

    Where the meal then fits no more the change holds all the same, as nature does, and the answer says so.
    """
    found = reestimates(view, (deed.minutes or 0) / 10, deed.step)
    changes = tuple(each.change for each in found if isinstance(each, Reestimate))
    if not changes:
        return Result(view, Refused("That is counted on already, or is over."))
    marks = tuple(
        Mark(MarkKind.CHANGED, view.now, view.now, said.batch, by=said.by, text=json.dumps(each.as_json()))
        for each in changes
    )
    retimed = acting.retime(view.with_changes((*view.row.changes, *changes)), marks, planner)
    answer = Reckoned(retimed.view, changes, retimed.moved, retimed.misfit)
    return Result(retimed.view, answer, marks, save=True)
