"""Signs of what grows: sprouts, ferments and their gas, sealed preserves, cured meat."""

from __future__ import annotations

from datetime import timedelta

from scheduler.domain.kitchen.hazards.foodwords import (
    ACID,
    BREAD,
    CULTURED,
    FERMENTS,
    MEAT,
    PICKLED,
    all_words,
    here,
)
from scheduler.domain.kitchen.hazards.stepwords import (
    Parts,
    cools,
    earlier,
    has,
    heats,
    is_work,
    later,
    part_of,
    plain,
    said,
    words,
)
from scheduler.domain.plan import Attention, Step

_SPROUTS = words("sprout", "sprouting", "sprouted", "germinate", "germinating")
_NO_SPROUTS = words("brussels?", "brussels? sprout", "potato", "potatoes", "broccoli")


def sprouts(step: Step, parts: Parts) -> bool:
    """Seeds that sprout, or sprouts that are used."""
    return has(_SPROUTS, said(step)) and not has(_NO_SPROUTS, here(step))


def is_ferment(step: Step, parts: Parts) -> bool:
    """Vegetables or a drink left to ferment; not dough, not milk, not meat, not what stands in vinegar."""
    if step.attention is not Attention.UNATTENDED or heats(step) or _is_cold(step):
        return False
    named = has(FERMENTS, plain(step.name))
    if step.ferment is not None or not (named or step.range.shortest >= timedelta(days=3)):
        return step.ferment is not None
    around = all_words(step, parts)
    if any(has(other, around) for other in (BREAD, CULTURED, MEAT, ACID)):
        return False
    return named or (has(PICKLED, around) and has(_SALT, around))


def _is_cold(step: Step) -> bool:
    return cools(step) or (step.at is not None and step.at <= 10)


_SALT = words("salt")
_SHUT = words(
    "seal",
    "sealed",
    "sealing",
    "shut",
    "clamp",
    "clamped",
    "airtight",
    "tight",
    "tightly",
    "screw",
    "swing[- ]top",
)
_GAS_GOES = words("vent", "burp", "airlock", "loose", "loosely", "let the gas")
_BOTTLE = words("bottle", "bottling")


def pressure(step: Step, parts: Parts) -> bool:
    """A ferment shut in with no way out for its gas, or bottled while it is alive and kept."""
    before = [each for each in earlier(parts, step) if is_ferment(each, parts)]
    if is_ferment(step, parts):
        shut = any(has(_SHUT, said(each)) for each in (*earlier(parts, step)[-1:], step))
        return shut and not has(_GAS_GOES, said(step))
    kept = step.fresh_for + sum((each.range.shortest for each in later(parts, step)), timedelta())
    cooked = any(
        heats(each) for each in (*earlier(parts, step), step) if before and each.number > before[0].number
    )
    return bool(before) and has(_BOTTLE, plain(step.name)) and not cooked and kept > timedelta(days=1)


_PRESERVES = words(
    "canning", "seal the jar", "seal the lid", "preserving jar", "preserve jar", "process the jar"
)


def swelling_jar(step: Step, parts: Parts) -> bool:
    """Jars sealed to keep, but for those in which something ferments."""
    return has(_PRESERVES, plain(step.name)) and not any(
        is_ferment(each, parts) for each in part_of(parts, step)
    )


_NITRITE = words(
    "nitrite",
    "nitrate",
    "curing salts?",
    "cure no\\.? ?[12]",
    "cure ?#[12]",
    "saltpetre",
    "saltpeter",
    "pink salt",
    "prague powder",
)
_CURES = words("cure", "curing", "dry-cure", "air-dry", "air-drying")
_DRIES = words("hang", "hanging", "dry", "drying", "age", "ageing", "mature")
_DRIED_RAW = words("sausage", "salami", "ham", "coppa", "bresaola", "pancetta", "jerky", "biltong")


def uses_nitrite(text: str) -> bool:
    """Whether it speaks of nitrite, nitrate or a curing salt made with them."""
    return has(_NITRITE, plain(text))


def cured_meat(step: Step, parts: Parts) -> bool:
    """Nitrite or its like is used, or meat is cured or dried for days and never cooked."""
    if uses_nitrite(said(step)):
        return True
    raw = not any(heats(each) for each in part_of(parts, step))
    long = not is_work(step) and step.range.shortest >= timedelta(days=3)
    if not (raw and long):
        return False
    name, around = plain(step.name), all_words(step, parts)
    return (has(_CURES, name) and has(MEAT, around)) or (has(_DRIES, name) and has(_DRIED_RAW, around))
