"""Garlic or herbs in oil: which steps make it, and how long it then stands."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import timedelta

from scheduler.domain.kitchen.amounts import MILLILITRES_PER, Amount
from scheduler.domain.kitchen.hazards.stepwords import Parts, has, heats, later, plain
from scheduler.domain.plan import NO_TIME, Step

_OIL = re.compile(r"\boils?\b")
_GREEN = re.compile(
    r"(?<!\bdried )(?<!\bdry )\b(?:garlic|ramsons|herbs?|rosemary|thyme|basil|sage|oregano|tarragon|dill|parsley"
    r"|chives?|mint|marjoram|coriander leaf|coriander leaves|pesto)\b"
)
_LIES_IN_OIL = re.compile(r"\b(?:in|under) (?:olive )?oil\b|\bconfit\b")
_FRIED = re.compile(r"\bfr(?:y|ies|ied|ying)\b")
_UNDER_OIL = re.compile(r"\b(?:oil|confit)\b")
_NOTHING_TO_SPEAK_OF = timedelta(hours=2)
"""What is used within this is not kept (our choice: the shortest published time for food left out)."""


def in_oil(step: Step) -> bool:
    """Whether it makes garlic or herbs in oil: by its name or its component's, because they lie
    in oil with something else, or because oil is the most of it.
    """
    called = plain(f"{step.component} . {step.name}")
    if has(_GREEN, called) and has(_UNDER_OIL, called):
        return True
    names = " , ".join(plain(amount.name) for amount in step.amounts)
    lies_in_oil = has(_LIES_IN_OIL, called) and has(_OIL, f"{called} , {names}") and not has(_FRIED, called)
    return has(_GREEN, names) and (lies_in_oil or _mostly_oil(step.amounts))


def _mostly_oil(amounts: tuple[Amount, ...]) -> bool:
    """Whether oil is the greatest of the amounts given by weight or volume; a millilitre counts as a gram."""
    sized = [
        (size, has(_OIL, plain(amount.name))) for amount in amounts if (size := _size(amount)) is not None
    ]
    return max(sized, default=(0.0, False))[1]


def _size(amount: Amount) -> float | None:
    if amount.grams is not None:
        return float(amount.grams)
    factor = MILLILITRES_PER.get(amount.unit)
    return None if factor is None else float(amount.quantity * factor)


def stretch(step: Step, parts: Parts) -> tuple[Step, ...]:
    """The step and those after it in its component while nothing is heated: how long the oil stands."""
    return (step, *_until_heated(later(parts, step)))


def _until_heated(steps: tuple[Step, ...]) -> Iterator[Step]:
    for step in steps:
        if heats(step):
            return
        yield step


def stands_for(step: Step, parts: Parts) -> timedelta | None:
    """The longest that garlic or herbs in oil made by `step` may stand, as the plan says; None is no limit."""
    total = NO_TIME
    for each in stretch(step, parts):
        if not (each is step and heats(step)):
            if each.range.longest is None:
                return None
            total += each.range.longest
        total += each.fresh_for
    return total


def is_kept(step: Step, parts: Parts) -> bool:
    """Whether garlic or herbs in oil that the step makes stand for long enough to speak of."""
    if not in_oil(step):
        return False
    stands = stands_for(step, parts)
    return stands is None or stands > _NOTHING_TO_SPEAK_OF
