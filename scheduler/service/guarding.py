"""What a hazard stands against: leaving out the step that keeps it away, or letting hot food wait for its cooling."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime

from scheduler import words
from scheduler.domain.kitchen.hazards import DEFERRAL
from scheduler.domain.kitchen.hazards.attached import hazards_of
from scheduler.domain.kitchen.hazards.guards import unguarded
from scheduler.domain.kitchen.hazards.table import Hazard
from scheduler.domain.kitchen.limits_published import FIRST_STAGE, LUKEWARM_C
from scheduler.domain.kitchen.written import degrees
from scheduler.domain.plan import Step
from scheduler.domain.progress import State
from scheduler.service.answers import Refused
from scheduler.service.deeds import Deed, Verb
from scheduler.service.view import View

COOLED = frozenset({"cooling", "rice"})
"""The hazards whose clock runs from the moment something comes off the heat."""


def refusals(view: View, deed: Deed, step: Step) -> Iterator[Refused]:
    """Why a deed may not be done for a hazard's sake, or what is to be asked first."""
    if deed.verb in (Verb.SKIP, Verb.LEAVE_OUT):
        yield from _left_out(view, deed, step)
    elif deed.verb is Verb.LATER:
        yield from _put_off(view, deed, step)


# ---------------------------------------------------------------- left out


def _left_out(view: View, deed: Deed, step: Step) -> Iterator[Refused]:
    """One step, or a part of the meal, left out while food that it guards is kept.

    Where a published limit is then surely not met it is refused, and all of the food may go in its place;
    otherwise it is asked about. A core that is not heated through is asked about elsewhere, with what it misses.
    """
    whole = deed.verb is Verb.LEAVE_OUT
    gone = frozenset(each.number for each in view.part_of(step)) if whole else frozenset({step.number})
    found = unguarded(view.plan, gone, view.progress.dropped)
    if found is None or (deed.sure and not found.hard):
        return
    if found.step.floor is not None and not found.hard:
        return
    keep = ("Keep it", Deed(Verb.KEEP, view.id, step.number))
    food = Deed(Verb.LEAVE_OUT, view.id, found.food.number)
    same = whole and found.food.component == step.component
    part = () if same else ((f"Leave out {found.food.component}", food),)
    about = _caution(found.hazard)
    if found.hard:
        yield Refused(
            f"“{found.step.name}” cannot be left out while the rest is kept.\n{about}", (*part, keep)
        )
    else:
        sure = ("Leave it out", replace(deed, plan=view.id, sure=True))
        why = f"“{found.step.name}” is there for what is kept.\n{about}\nLeave it out all the same?"
        yield Refused(why, (sure, *part, keep))


def _caution(hazard: Hazard) -> str:
    return f"Caution: {hazard}\n{DEFERRAL}"


# ---------------------------------------------------------------- put off


def cooled_by(view: View, step: Step) -> datetime | None:
    """When a step that is to cool something has to have it down to 21 C, for food that is off the heat already.

    It may have been hotter than 57 C when it came off: then there is a little longer, and this is the safe side.
    """
    if not any(hazard.word in COOLED for hazard in hazards_of(step, view.plan)):
        return None
    ends = [view.progress.of(number).ended for number in view.before(step.number)]
    off = max((end for end in ends if end is not None), default=None)
    return None if off is None or view.progress.state(step.number) is not State.WAITING else off + FIRST_STAGE


def _put_off(view: View, deed: Deed, step: Step) -> Iterator[Refused]:
    by = cooled_by(view, step)
    if by is None or deed.until is None or deed.until < by:
        return
    hazard = next(each for each in hazards_of(step, view.plan) if each.word in COOLED)
    left = f"{words.length(by - view.now)} are left" if by > view.now else "no time is left"
    why = f"“{step.name}” cannot wait until {view.brief(deed.until)}: {left} to get it down to {degrees(LUKEWARM_C)}."
    begin = Deed(Verb.START, view.id, step.number)
    keep = Deed(Verb.KEEP, view.id, step.number)
    yield Refused(f"{why}\n{_caution(hazard)}", (("Start now", begin), ("Leave it as it is", keep)))
