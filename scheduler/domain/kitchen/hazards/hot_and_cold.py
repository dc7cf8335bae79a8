"""Signs of heat and of cooling: water baths, hot oil, blenders, food that is cooled, held or warmed again."""

from __future__ import annotations

from datetime import timedelta

from scheduler.domain.kitchen.hazards.foodwords import (
    BREAD,
    CULTURED,
    DRY_GOODS,
    MEAT,
    SWEET,
    all_words,
    here,
)
from scheduler.domain.kitchen.hazards.stepwords import (
    Parts,
    cools,
    earlier,
    has,
    heats,
    in_a_bath,
    is_work,
    later,
    plain,
    said,
    warms_up,
    words,
)
from scheduler.domain.plan import Step

HOUR = timedelta(hours=1)


def water_bath(step: Step, parts: Parts) -> bool:
    """A long wait in warm water that is below 60 C, or of unsaid heat; not milk or dough that is to grow."""
    stated = step.core.at_c if step.core is not None else step.at
    grows = has(CULTURED, all_words(step, parts)) or has(BREAD, all_words(step, parts))
    return in_a_bath(step) and (stated is None or stated < 60) and not grows


def cooling(step: Step, parts: Parts) -> bool:
    """What was cooked in the same part of the meal is cooled; where it is rice, that says it."""
    if not cools(step) or not any(heats(each) for each in earlier(parts, step)) or rice(step, parts):
        return False
    around = here(step)
    baked = has(BREAD, around) and not has(MEAT, around)
    other = has(SWEET, around) or has(DRY_GOODS, plain(step.name)) or _turns_to_culture(step, parts)
    return not (baked or other)


def _turns_to_culture(step: Step, parts: Parts) -> bool:
    return has(CULTURED, " . ".join(said(each) for each in (step, *later(parts, step))))


_RICE = words("rice")
_NOT_RICE = words(
    "rice (?:flour|vinegar|noodle|paper|wine|pudding mould)", "idli rice", "riced", "ricer", "batter"
)


def rice(step: Step, parts: Parts) -> bool:
    """Cooked rice that is cooled, or kept for longer than it stays hot by itself."""
    around = " . ".join((plain(step.component), *(said(each) for each in (*earlier(parts, step), step))))
    if not has(_RICE, around) or has(_NOT_RICE, around):
        return False
    if heats(step):
        return has(_RICE, here(step)) and step.fresh_for > 2 * HOUR
    cooked = any(heats(each) for each in earlier(parts, step))
    return cooked and (cools(step) or step.fresh_for > 2 * HOUR)


def reheating(step: Step, parts: Parts) -> bool:
    """Warmed up again after it was cooled."""
    return warms_up(step) and any(cooling(each, parts) or rice(each, parts) for each in earlier(parts, step))


_HELD = words(
    "keep (?:it |them |everything |the [a-z]+ )?(?:warm|hot)",
    "hold (?:it |them |the [a-z]+ )?(?:warm|hot)",
    "kept warm",
    "warming drawer",
)
_LEFT_OUT = words("(?:to|at|come to) room temperature", "on the counter", "out of the fridge")


def holding(step: Step, parts: Parts) -> bool:
    """Kept warm, or meat and fish left to stand out."""
    name = plain(step.name)
    return has(_HELD, name) or (has(_LEFT_OUT, name) and has(MEAT, here(step)) and not has(BREAD, here(step)))


_FRIES = words("fry", "frying", "fryer", "deep[- ]fr(?:y|ie|ying)")
_SHALLOW = words(
    "stir[- ]fry", "stir[- ]frying", "air[- ]fryer", "air[- ]fry", "dry[- ]fry", "pan[- ]fry", "egg", "onion", "garlic",
    "shallot", "mince", "pancake", "bacon", "mushroom", "gently",
)  # fmt: skip
_DEEP = words("deep[- ]fr(?:y|ie|ying)", "fryer", "in hot oil", "doughnut", "fritter", "tempura", "chip")


def hot_oil(step: Step, parts: Parts) -> bool:
    """Fried in more than a little fat, as far as words tell."""
    name = plain(" , ".join((step.name, *step.gear)))
    return has(_FRIES, name) and (has(_DEEP, name) or not has(_SHALLOW, name))


_BLENDS = words("blend", "blending", "liquidise", "liquidize", "blitz", "pur[eé]e the", "blender")
_STILL_HOT = words("hot", "warm")


def blending(step: Step, parts: Parts) -> bool:
    """A blender put to something that was on the heat within the hour, or that is said to be hot."""
    if not is_work(step) or not has(_BLENDS, plain(" , ".join((step.name, *step.gear)))) or heats(step):
        return False
    since = timedelta()
    for before in reversed(earlier(parts, step)):
        since += before.fresh_for
        if heats(before):
            return since <= HOUR or has(_STILL_HOT, plain(step.name))
        since += before.range.longest or before.range.shortest
    return has(_STILL_HOT, plain(step.name))
