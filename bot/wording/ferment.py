"""What is said of a vegetable ferment: its salt, and what readings of it come to."""

from __future__ import annotations

from datetime import datetime
from decimal import Decimal

from bot.wording.amounts import amount_line
from bot.wording.facts import Facts
from bot.wording.lines import capital
from scheduler import words
from scheduler.domain.fermenting import Batch, batch_with, batches
from scheduler.domain.kitchen.readings import (
    HIGHEST_PH,
    HOTTEST_ROOM_C,
    Measured,
    Reading,
    acidity,
    measured_in,
    readings,
    too_warm,
    warmth,
)
from scheduler.domain.progress import State

NO_PH = f"A pH lies between 0 and {HIGHEST_PH}: measure again, and undo this one."
MOST_TOLD = 4
"""Readings told beside the one just taken, at most."""


def judged_lines(facts: Facts, text: str, step: int | None) -> list[str]:
    """What a note that is a reading comes to, by what it is of; nothing for another note."""
    measured = measured_in(text)
    if measured is None:
        return [NO_PH] if text.startswith("pH ") else []
    kind, value = measured
    return _acid(facts, value, step) if kind is Measured.PH else _warm(facts, value, step)


def _acid(facts: Facts, value: Decimal, step: int | None) -> list[str]:
    batch = _meant(facts, step)
    return [acidity(value, batch.kind if batch else None)]


def _meant(facts: Facts, step: int | None) -> Batch | None:
    """The ferment that a pH is of: that of the step's component, or the only one of the plan."""
    if step is not None:
        return batch_with(facts.plan, step)
    every = batches(facts.plan)
    return every[0] if len(every) == 1 else None


def _warm(facts: Facts, value: Decimal, step: int | None) -> list[str]:
    """Of the ferment itself all that is published; of the kitchen only what is too warm for what stands in it."""
    if step is not None:
        batch = batch_with(facts.plan, step)
        own = batch is not None and (batch.step == step or facts.state(batch.step) is State.RUNNING)
        return [said] if batch is not None and own and (said := warmth(batch.kind, value)) else []
    if value > HOTTEST_ROOM_C:
        return []
    under_way = [each for each in batches(facts.plan) if facts.state(each.step) is State.RUNNING]
    found = [(each, said) for each in under_way if (said := too_warm(each.kind, value))]
    return [f"{facts.quoted(each.step)}: {said[:1].lower()}{said[1:]}" for each, said in found[:2]]


def so_far(facts: Facts, text: str, step: int | None) -> list[str]:
    """ "Readings so far: pH 4.6 on Tue, 4.1 on Thu, 3.9 now"; nothing for a first one, or for what is none.

    Nothing either for the heat of no step: that may be the kitchen's, or the fridge's.
    """
    measured = measured_in(text)
    if measured is None or (step is None and measured[0] is Measured.HEAT):
        return []
    kind, value = measured
    steps = _of_one(facts, step) if kind is Measured.PH else {step}
    before = [each for each in readings(facts.view.marks, steps) if each.measured is kind][-MOST_TOLD:]
    if not before:
        return []
    now = Reading(kind, value, facts.now)
    told = [f"{_bare(each)} {_on(facts, each.at)}" for each in before] + [f"{_bare(now)} now"]
    named = "pH " if kind is Measured.PH else ""
    return [f"Readings so far: {named}{', '.join(told)}."]


def _of_one(facts: Facts, step: int | None) -> set[int | None]:
    """The steps whose pH is of one thing: those of a ferment's component, and none named where there is only one."""
    batch = _meant(facts, step)
    if batch is None:
        return {step}
    component = facts.step(batch.step).component
    mine: set[int | None] = {each.number for each in facts.plan.steps if each.component == component}
    return mine | ({None} if len(batches(facts.plan)) == 1 else set())


def _bare(reading: Reading) -> str:
    return str(reading).removeprefix("pH ")


def _on(facts: Facts, at: datetime) -> str:
    """ "on Tue", "on Tue 3 Nov", or with its time where it was today."""
    ahead = words.days_ahead(at, facts.zone, facts.now)
    if ahead == 0:
        return f"at {facts.clock(at)}"
    day = words.day(at, facts.zone)
    return f"on {day if abs(ahead) > 6 else day.split()[0]}"


# ---------------------------------------------------------------- its salt


def salt_line(facts: Facts, number: int) -> str:
    """What salt a ferment has, in grams and percent, for one that is such a step; else empty."""
    batch = batch_with(facts.plan, number)
    if batch is None or batch.step != number or not batch.salted:
        return ""
    return f"{capital(', '.join(amount_line(amount) for _, amount in batch.salted))}."
