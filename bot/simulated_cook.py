"""The cook of a rehearsal: what they do about a message, and how soon they say so."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import timedelta
from enum import StrEnum

from scheduler.domain.plan import MINUTE, Attention
from scheduler.domain.progress import State
from scheduler.domain.stages import About, Stage
from scheduler.domain.timetable import Slot
from scheduler.records import Button, Letter
from scheduler.service.deeds import Deed, Verb
from scheduler.service.view import View

AT_ONCE = timedelta(0)
SLOWNESS = (7, 0, 18, 3, 35)
"""By how many minutes a late cook is late: with some things more than with others, the same every time."""

Subject = tuple[int, int | None]
"""What is spoken of: a step, or a touch of its tend."""


class CookKind(StrEnum):
    """How the simulated cook behaves."""

    ON_TIME = "on-time"
    LATE = "late"
    SILENT = "silent"


@dataclass(frozen=True, slots=True)
class Reply:
    """A button that will be pressed after so long. `settles`: with it the thing is said and done.

    What is said of food that cools is `about` no step: it may go on when the step is long over.
    """

    button: Button
    after: timedelta
    about: Subject | None
    settles: bool = True


def subject_of(letter: Letter) -> Subject:
    return letter.step or 0, letter.occurrence if letter.about is About.TEND else None


def is_settled(view: View, about: Subject) -> bool:
    """Whether there is nothing left to say about it."""
    step, occurrence = about
    over = view.progress.state(step) in (State.DONE, State.DROPPED)
    return over or (occurrence is not None and (step, occurrence) in view.progress.touched)


def replies(kind: CookKind, letter: Letter, view: View) -> Iterator[Reply]:
    """What a cook does about a nudge of a plan under way: hands-on work takes its planned time."""
    slot = None if letter.step is None else view.timetable.slot(letter.step)
    if kind is CookKind.SILENT or slot is None or letter.about is About.BUY:
        return
    buttons = _by_verb(letter)
    if letter.about is About.CLOCK:
        yield Reply(buttons[Verb.COLD], _slowness(kind, letter), None, settles=False)
        return
    for verb, after in _doing(letter, slot, view):
        if verb in buttons:
            late = _slowness(kind, letter) if verb is not Verb.NOT_YET else AT_ONCE
            yield Reply(buttons[verb], after + late, subject_of(letter), verb is not Verb.NOT_YET)


def _by_verb(letter: Letter) -> dict[Verb, Button]:
    """The first button for each thing to do; the others name another time."""
    found: dict[Verb, Button] = {}
    for button in letter.buttons:
        found.setdefault(Deed.decode(button.data).verb, button)
    return found


def _doing(letter: Letter, slot: Slot, view: View) -> Iterator[tuple[Verb, timedelta]]:
    if letter.about is About.LOOK:
        left = slot.end - view.now
        if left > MINUTE:
            yield Verb.NOT_YET, AT_ONCE
        yield Verb.DONE, max(left, AT_ONCE)
    elif letter.about is About.START and view.step(slot.step).attention is not Attention.HANDS_ON:
        yield Verb.START, AT_ONCE
    elif letter.about is About.START:
        yield Verb.DONE, slot.end - max(view.now, slot.start)
    else:
        yield Verb.DONE, AT_ONCE


def _slowness(kind: CookKind, letter: Letter) -> timedelta:
    if kind is not CookKind.LATE or letter.stage is Stage.HEADS_UP:
        return AT_ONCE
    return timedelta(minutes=SLOWNESS[(letter.step or 0) % len(SLOWNESS)])
