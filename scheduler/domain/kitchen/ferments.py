"""How much longer or shorter a ferment or a rise takes at another temperature.

Growth at two temperatures is compared by several models, and what they disagree on is the range that is told. None
of them was made for jars in a kitchen: laboratory broths, dough, and the weeks that extension services print.
The rule that sourdough doubles its pace every 7 F (read in a public FAQ, answer 37) is left out: beside the older
one of every 18 F it would make every range so wide that it says nothing.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

from scheduler.domain.fermenting import batch_with
from scheduler.domain.kitchen.growth import PLANTARUM, SOURDOUGH_BACTERIA, SOURDOUGH_YEAST, Grower
from scheduler.domain.kitchen.salt import KINDS
from scheduler.domain.kitchen.sources import How, Source
from scheduler.domain.plan import Plan, Step


class Life(StrEnum):
    """What works in it."""

    VEGETABLES = "vegetables"
    KIMCHI = "kimchi"
    DOUGH = "dough"


class NoFigures(ValueError):
    """Nothing is known of that temperature; the text says what is known."""


@dataclass(frozen=True, slots=True)
class Pace:
    """How many times as long it takes: at least, in the middle of the range, and at most, and what says so."""

    least: float
    likely: float
    most: float
    sources: tuple[Source, ...]


Model = tuple[Source, Callable[[float, float], float]]
"""Where it comes from, and how many times as long something takes at the second temperature as at the first."""


def tenfold(q10: float) -> Callable[[float, float], float]:
    """A pace that grows `q10`-fold with every ten degrees."""
    return lambda planned_c, actual_c: float(q10 ** ((planned_c - actual_c) / 10))


KRAUT_Q10 = (5.5 / 3.5) ** (10 / 5.6)
"""Sauerkraut takes 5 to 6 weeks at 60-65 F, 3 to 4 at 70-75 F: middles 5.5 and 3.5 weeks, 5.6 degrees apart."""

KIMCHI_Q10 = (17.5 / 2.5) ** (10 / (25 - 4.5))
"""Kimchi is ripe in 2 to 3 days at 25 C, in 14 to 21 at 4 to 5 C: 2.58."""

_GROWTH = Source("growth by cardinal temperatures, Rosso 1995", how=How.FROM_MEMORY)
_SAID = Source("Gaenzle's statement of half and quarter rates")


def _stated(grower: Grower) -> Callable[[float, float], float]:
    return lambda planned_c, actual_c: grower.stated_rate(planned_c) / grower.stated_rate(actual_c)


LACTIC: Model = (_GROWTH, PLANTARUM.slower_by)
SOUR: Model = (_GROWTH, SOURDOUGH_BACTERIA.slower_by)
YEAST: Model = (_GROWTH, SOURDOUGH_YEAST.slower_by)
YEAST_AS_STATED: Model = (_SAID, _stated(SOURDOUGH_YEAST))
KRAUT: Model = (Source("the weeks for sauerkraut of Michigan State University Extension"), tenfold(KRAUT_Q10))
RIPE_KIMCHI: Model = (
    Source("the days for kimchi of Lee and Lee 1993", how=How.READ_IN_A_COPY),
    tenfold(KIMCHI_Q10),
)
DOUBLING: Model = (Source("the older rule of twice as fast every 18 F"), tenfold(2.0))

MODELS: dict[Life, tuple[Model, ...]] = {
    Life.VEGETABLES: (LACTIC, SOUR, KRAUT),
    Life.KIMCHI: (LACTIC, RIPE_KIMCHI),
    Life.DOUGH: (YEAST, YEAST_AS_STATED, SOUR, DOUBLING),
}

COVERED_C: dict[Life, tuple[float, float]] = {
    Life.VEGETABLES: (12.0, 30.0),
    Life.KIMCHI: (4.0, 25.0),
    Life.DOUGH: (14.0, 32.0),
}
"""Within these the models agree to a factor of two or so; beyond, they say nothing of a kitchen (our choice)."""


def pace(life: Life, planned_c: float, actual_c: float) -> Pace:
    """How many times as long it takes at `actual_c` as at `planned_c`, both in degrees Celsius.

    NoFigures where one of them is beyond what the models are good for.
    """
    coolest, warmest = COVERED_C[life]
    if not all(coolest <= at_c <= warmest for at_c in (planned_c, actual_c)):
        raise NoFigures(f"I have figures for {coolest:g} C to {warmest:g} C only")
    found = sorted(model(planned_c, actual_c) for _, model in MODELS[life])
    sources = dict.fromkeys(source for source, _ in MODELS[life])
    return Pace(found[0], math.sqrt(found[0] * found[-1]), found[-1], tuple(sources))


_DAIRY = re.compile(r"\b(?:yogh?urt|milk|cream|kefir|curd|cheese|whey)", re.IGNORECASE)
_DOUGH = re.compile(
    r"\b(?:dough|rise|rises|rising|proofs?|proves?|proving|batter|sponge|starter|leaven|levain)\b",
    re.IGNORECASE,
)


def life_of(plan: Plan, step: Step) -> Life | None:
    """What works in a step; None for what is cured, soaked, set or no ferment at all.

    Vegetables are known as ferments by `domain.fermenting`, doughs by the step's name. Milk and cream have cultures
    of their own, of which nothing is known here.
    """
    batch = batch_with(plan, step.number)
    if batch is not None and batch.step == step.number:
        return Life.KIMCHI if batch.kind is KINDS["kimchi"] else Life.VEGETABLES
    if _DAIRY.search(f"{step.name} {step.component}"):
        return None
    return Life.DOUGH if step.ripens is not None or _DOUGH.search(step.name) else None
