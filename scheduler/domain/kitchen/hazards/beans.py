"""Beans: which of them are kidney beans, what is published about making them fit to eat, and how long they soak.

Lectin of raw red kidney beans: 20 000 to 70 000 units, 200 to 400 when fully cooked; white ones have about a third,
broad beans 5 to 10 % (FDA Bad Bug Book, 1st ed., read in a copy). Heated to 80 C only, beans may be five times as
toxic as raw; a slow casserole was seen to stay at 75 C or below (the same). So a third of it is no reason to leave
white ones out, and whatever stays below boiling is refused.

The sources disagree on how long to boil: 10 min (British advice, quoted in the 1st ed.; an abstract on the lectin,
read), 20 min (Bender & Reaidi, J. Plant Foods, 1982, read), 30 min (2nd ed., 2012, read in a summary). The longest is
taken: whatever meets it meets them all.
"""

from __future__ import annotations

import re
from datetime import timedelta
from itertools import pairwise
from math import exp, log

from scheduler.domain.kitchen.hazards.stepwords import has, plain, said, soaks
from scheduler.domain.kitchen.sources import How, Source
from scheduler.domain.plan import Step

BOIL = timedelta(minutes=30)
"""In fresh water (FDA Bad Bug Book, 2nd ed., 2012, read in a summary)."""

SOAK = timedelta(hours=5)
"""Before boiling, at least (the same). A soak overnight takes out 20 to 70 % (Bender & Reaidi, 1982, read)."""

LONG_SOAK = timedelta(hours=12)
"""Beyond this growers speak of over-soaking (Canadian bean growers' hints, undated, read); cooks say at least this
(common practice, no source). They conflict, and no limit of safety is meant: a remark, no refusal."""

COLD_SOAK = timedelta(hours=8)
"""At least, without heat (US dry bean council, by way of the School Nutrition Association, undated, read)."""

HOT_SOAK = (timedelta(hours=1), timedelta(hours=4))
"""Boil 2 min, then stand so long (Nebraska Dry Bean Commission, undated, read; University of New Hampshire Extension,
2020, read: 1 h; the US dry bean council: 4 to 24 h). For kidney beans the 5 h of the FDA are longer, and count."""

UPTAKE_PERCENT = 127.0
"""Water that beans take up in the end, in percent of their dry weight, give or take 5 (Kwofie et al., 2019, read)."""

UPTAKE_HOURS = ((25.0, 10.0), (35.0, 6.0), (45.0, 4.0))
"""(degrees Celsius, hours) until they have taken that up (Kwofie et al., 2019, read)."""

KWOFIE = Source("Kwofie et al., 2019")
GROWERS = Source("Canadian bean growers' hints")
COUNCIL = Source("US dry bean council")
COOKS = Source("", how=How.PRACTICE)


def takes_up_in_h(at_c: float) -> float:
    """Hours until dry beans have taken up all the water they will, at 25 to 45 degrees Celsius.

    Between the three that were measured the logarithm of the time is taken as straight (worked out): 1.67 times as
    fast from 25 to 35, 1.5 times from 35 to 45. ValueError outside of them: nothing was measured there.
    """
    for (colder, long), (warmer, short) in pairwise(UPTAKE_HOURS):
        if colder <= at_c <= warmer:
            share = (at_c - colder) / (warmer - colder)
            return exp(log(long) + share * (log(short) - log(long)))
    raise ValueError(f"no soak was measured at {at_c:g} C, only from 25 C to 45 C")


def soaked_g(dry_g: float) -> float:
    """What so many grams of dry beans weigh when they have taken up all the water they will: 2.27 times as much."""
    return dry_g * (1 + UPTAKE_PERCENT / 100)


# ---------------------------------------------------------------- which beans

_KIDNEY = re.compile(r"\b(?:kidney[- ]beans?|cannellini|rajma)\b")
_BEAN = re.compile(r"(?:\b([a-z]+)[- ])?\bbeans?\b|\b(?:borlotti|flageolets?|haricots?|pintos?)\b")
# fmt: off
_OTHER_PLANTS = frozenset({
    "green", "french", "runner", "string", "wax", "yard", "long", "broad", "fava", "soy", "soya", "mung", "moong",
    "adzuki", "azuki", "urad", "coffee", "cocoa", "cacao", "vanilla", "jelly", "tonka", "castor", "carob", "winged",
})
# fmt: on
_COOKED = re.compile(r"\b(?:tin(?:s|ned)?|can(?:s|ned)?|cooked|boiled|jarred)\b")
_DRY = re.compile(r"\b(?:dried|dry|raw)\b")


def names_kidney_beans(text: str) -> bool:
    """Whether it speaks of kidney beans, red or white, that were not cooked before."""
    return has(_KIDNEY, plain(text)) and not has(_COOKED, plain(text))


def names_beans(text: str) -> bool:
    """Whether it speaks of beans of that kind, said to be kidney beans or not."""
    low = plain(text)
    if names_kidney_beans(low):
        return True
    return has(_BEAN, low) and not _names_other_beans(low) and not has(_COOKED, low)


def _names_other_beans(low: str) -> bool:
    """Whether any of the beans it speaks of are those of another plant, or eaten in the pod."""
    return any(match[1] in _OTHER_PLANTS for match in _BEAN.finditer(low))


def _texts(step: Step) -> tuple[str, ...]:
    """Its name with its component's, its caution, and each amount with its unit, each by itself."""
    counted = (f"{amount.name} {amount.unit}" for amount in step.amounts)
    return (f"{step.component} . {step.name}", step.caution or "", *counted)


def brings_kidney_beans(step: Step) -> bool:
    """Whether the step has to do with kidney beans that come to it uncooked."""
    return any(names_kidney_beans(text) for text in _texts(step)) and not _comes_cooked(step)


def _comes_cooked(step: Step) -> bool:
    """Whether its beans come out of a tin, or were cooked before the plan begins."""
    return any(has(_COOKED, plain(text)) and (has(_KIDNEY, plain(text)) or has(_BEAN, plain(text)))
               for text in _texts(step))  # fmt: skip


def brings_dry_beans(step: Step) -> bool:
    """Whether it has to do with beans of that kind, and says that they are dry or soaks them."""
    texts = _texts(step)
    other = any(_names_other_beans(plain(text)) for text in texts) and not brings_kidney_beans(step)
    if other or not any(names_beans(text) for text in texts) or _comes_cooked(step):
        return False
    return has(_DRY, said(step)) or soaks(step)
