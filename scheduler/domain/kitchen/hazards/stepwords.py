"""What a step does, judged by its words and by the heat it says: heats, cools, soaks; and what comes before it.

Whole words in any case. Plans are written in plain orders ("Boil the beans", "Chickpeas simmer"), so a verb in its
base form, with "s" or with "ing", is what is done; "boiled" was done before, and "the stew" is a dish.
"""

from __future__ import annotations

import re
from functools import lru_cache

from scheduler.domain.kitchen.limits_published import HOT_C
from scheduler.domain.plan import Attention, Component, Step

Parts = tuple[Component, ...]
"""The components of a plan, or one of them alone: where a step stands."""

BOILS_C = 100.0
"""Water at sea level; about 1 C less for each 300 m above it (worked out)."""

_VERB = r"(?<!\bthe )(?<!\ba )(?<!\ban )(?<!\bfor )(?<!\bof )(?<!\bblood )\b"
_HEATS = re.compile(
    rf"{_VERB}(?:reboil|boil|simmer|cook|stew|braise?|roast|bake?|steam|poach|fry|frie|sear|griddle?|grill|scald|blanch"
    r"|toast|crisp|heat|melt|render|caramelise?|sweat|smok|smoke|brown(?! (?:rice|sugar|bread|flour|lentil|bean)))"
    r"(?:s|es|ing)?\b|\bto (?:the|a) boil\b|\b(?:pressure|slow)[- ]cooker\b|\bin the water bath\b"
)
_WARMS = re.compile(
    rf"{_VERB}(?:re-?heat|re-?warm)(?:s|ing)?\b|{_VERB}warm(?:s|ing)? (?:the|through|up|it|them|in|over|again)\b"
)
_COOLS = re.compile(
    rf"{_VERB}(?:cool(?! (?:place|room|larder|cellar|cupboard))|chill|refrigerate?)(?:s|ing)?\b"
    r"|\b(?:ice bath|iced? water)\b"
)
_FRIDGE = re.compile(r"\b(?:fridge|refrigerator|cold room)\b")
_SOAKS = re.compile(r"\bsoak(?:s|ing)?\b")
_BOILS = re.compile(
    rf"{_VERB}(?:re)?boil(?:s|ing)?\b|\bto (?:the|a) boil\b|\bpressure[- ]cook(?:s|ing|er)?\b|\brolling boil\b"
)
_POT = re.compile(
    rf"{_VERB}(?:simmer|cook|stew|braise?|boil)(?:s|ing)?\b|\bto (?:the|a) boil\b|\bpressure[- ]cook"
)
_NOT_BOILING = re.compile(
    r"\bslow[- ]?cook(?:s|er|ing)?\b|\b(?:water|warm) ?bath\b|\blow[- ]temperature\b|\bhay ?box\b|\bthermos\b"
)
_BATH = re.compile(r"\b(?:water|warm) ?bath\b|\blow[- ]temperature\b")
_HOT_GEAR = re.compile(r"\b(?:burner|hob|griddle|grill|fryer|wok|(?:slow|pressure) cooker|water bath)s?\b")


@lru_cache(maxsize=4096)
def plain(text: str) -> str:
    """Text in one case and with single spaces."""
    return " ".join(text.split()).casefold()


def said(step: Step) -> str:
    """A step's own words: its name, what it uses, what it waits for and how it is tended."""
    used = (*(amount.name for amount in step.amounts), *step.gear)
    return plain(" , ".join((step.name, *used, step.range.until or "", step.tend.name if step.tend else "")))


def name_and_gear(step: Step) -> str:
    return plain(" , ".join((step.name, *step.gear)))


def words(*any_of: str) -> re.Pattern[str]:
    """A pattern for any of the words or phrases, whole, in the plural too."""
    return re.compile(rf"\b(?:{'|'.join(any_of)})(?:s|es)?\b")


@lru_cache(maxsize=8192)
def has(pattern: re.Pattern[str], text: str) -> bool:
    return pattern.search(text) is not None


# ---------------------------------------------------------------- heat


def heats(step: Step) -> bool:
    """Whether it cooks or warms something; a temperature that the step says counts more than its words."""
    if step.core is not None:
        return True
    stated = step.oven if step.oven is not None else step.at
    if stated is not None:
        return stated >= HOT_C or (has(_BATH, name_and_gear(step)) and not is_work(step))
    name = plain(step.name)
    return has(_HEATS, name) or has(_WARMS, name) or has(_HOT_GEAR, plain(" , ".join(step.gear)))


def warms_up(step: Step) -> bool:
    return has(_WARMS, plain(step.name))


def says_boil(step: Step) -> bool:
    """Whether it says that it boils, and of nothing that it is cooler."""
    return has(_BOILS, name_and_gear(step)) and not below_boiling(step)


def may_boil(step: Step) -> bool:
    """Whether it may boil: it cooks in a pot, and nothing that it says is cooler; an oven's inside is not known."""
    return step.oven is None and has(_POT, name_and_gear(step)) and not below_boiling(step)


def below_boiling(step: Step) -> bool:
    """Whether what it says of its heat is below 100 C: a slow cooker, a water bath, a low oven."""
    core = None if step.core is None else step.core.at_c
    stated = [each for each in (step.oven, step.at, core if step.oven is None else None) if each is not None]
    return any(each < BOILS_C for each in stated) or has(_NOT_BOILING, name_and_gear(step))


def in_a_bath(step: Step) -> bool:
    """Whether it lies in a water bath, and not in an oven's."""
    return step.oven is None and not is_work(step) and has(_BATH, name_and_gear(step))


def is_work(step: Step) -> bool:
    """Whether it is work of the hands rather than a wait."""
    return step.attention is Attention.HANDS_ON


# ---------------------------------------------------------------- cold, soaking


def cools(step: Step) -> bool:
    """Whether something is brought down in temperature or put in the cold."""
    return not heats(step) and (has(_COOLS, plain(step.name)) or has(_FRIDGE, plain(step.name)))


def soaks(step: Step) -> bool:
    return has(_SOAKS, plain(step.name))


# ---------------------------------------------------------------- place


def part_of(parts: Parts, step: Step) -> tuple[Step, ...]:
    """The steps of its component, in order."""
    return next(part.steps for part in parts if step.number <= part.steps[-1].number)


def earlier(parts: Parts, step: Step) -> tuple[Step, ...]:
    """The steps of its component before it, in order."""
    return tuple(each for each in part_of(parts, step) if each.number < step.number)


def later(parts: Parts, step: Step) -> tuple[Step, ...]:
    """The steps of its component after it, in order."""
    return tuple(each for each in part_of(parts, step) if each.number > step.number)
