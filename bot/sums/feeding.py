"""A starter's sums told: what to mix, when it is ripe, what a loaf comes to."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from datetime import timedelta
from decimal import Decimal
from typing import Any

from bot import loaves
from bot.loaves import percent
from bot.sums.told import Told, WrongFigure
from scheduler import words
from scheduler.domain.kitchen.amounts import plain
from scheduler.domain.kitchen.growth import MODEL, SOURDOUGH_YEAST
from scheduler.domain.kitchen.loaf import Loaf
from scheduler.domain.kitchen.ripeness import (
    FARTHEST,
    RULE,
    NotRipening,
    Observed,
    Ripeness,
    refuse_feed,
    ripe,
)
from scheduler.domain.kitchen.starter import WHOLE_HYDRATION, Feed, Mix, flour_and_water
from scheduler.domain.plan import MINUTE, Range

WHOLE = Decimal(1)
AN_HOUR, A_DAY = timedelta(hours=1), timedelta(days=1)

TWICE = "A starter out of the fridge is usually fed twice before a bake (common practice, from memory)."
LOOK = "Warmth counts most: look at it from the shortest time on."


def mixing(feeds: Sequence[Mix], own: Decimal = WHOLE_HYDRATION) -> Told:
    """What to weigh, feed by feed; `own` is the hydration of the starter begun with."""
    last, hydration = feeds[-1], own
    for mix in feeds:
        hydration = _hydration(mix, hydration)
    sizes = [f"{plain(size)} g" for size in (feeds[0].starter_g, *(mix.total_g for mix in feeds))]
    one = f"{_parts(last)}: {sizes[-1]} of starter"
    heading = one if len(feeds) == 1 else f"{_number(len(feeds))} feeds: {' to '.join(sizes)} of starter"
    each = [f"Feed {number}: {_parts(mix)}." for number, mix in enumerate(feeds, 1)] if len(feeds) > 1 else []
    found = {
        "want_g": float(last.total_g),
        "mix": _weights(last),
        "feeds": [_weights(mix) for mix in feeds],
        "hydration_percent": float((hydration * 100).quantize(loaves.TENTH)),
    }
    return Told(heading, (*each, f"Hydration {percent(hydration, WHOLE)} when fed.", TWICE), found)


def _parts(mix: Mix) -> str:
    """As it was shared out: what is told adds up."""
    return f"{plain(mix.starter_g)} g starter, {plain(mix.flour_g)} g flour, {plain(mix.water_g)} g water"


def _weights(mix: Mix) -> dict[str, float]:
    return {
        "starter_g": float(mix.starter_g),
        "flour_g": float(mix.flour_g),
        "water_g": float(mix.water_g),
        "total_g": float(mix.total_g),
    }


def _hydration(mix: Mix, own: Decimal) -> Decimal:
    flour, water = flour_and_water(mix.starter_g, own)
    return (mix.water_g + water) / (mix.flour_g + flour)


def _number(count: int) -> str:
    return ("No", "One", "Two", "Three", "Four", "Five", "Six")[count]


# ---------------------------------------------------------------- when it is ripe


def ripening(feeds: Sequence[Feed], at_c: float, observed: Sequence[Observed] = ()) -> Told:
    """When each feed is ripe at a temperature; refused where it never is. WrongFigure for a feed nobody makes."""
    try:
        for feed in feeds:
            refuse_feed(feed)
    except NotRipening as error:
        raise WrongFigure(str(error)) from error
    try:
        found = [ripe(feed, at_c, observed) for feed in feeds]
    except NotRipening as error:
        reason = str(error)
        return Told(reason[:1].upper() + reason[1:], (), {"ripe": None, "because": reason}, refused=True)
    told = [_ripe_line(feed, at_c, each) for feed, each in zip(feeds, found, strict=True)]
    return Told(told[0], (*told[1:], *_sources(found[-1])), {"ripe": _ripe_facts(feeds, at_c, found)})


def _ripe_line(feed: Feed, at_c: float, found: Ripeness) -> str:
    lasting = words.span(Range(_in_hours(found.shortest, math.floor), _in_hours(found.longest, math.ceil)))
    usually = words.length(_in_hours(found.usually, round))
    return f"Fed {feed.by_one_part()}: ripe in {lasting} at {at_c:g} C, as a rule {usually}"


def _in_hours(length: timedelta, rounded: Callable[[float], int]) -> timedelta:
    """Whole hours from a day on: nobody knows that to the minute."""
    return length if length < A_DAY else rounded(length / AN_HOUR) * AN_HOUR


def _sources(found: Ripeness) -> list[str]:
    growth = f"Growth by temperature: {MODEL}; {SOURDOUGH_YEAST.source}."
    if not found.counted:
        return [f"By the rule of thumb that {RULE.where} ({RULE.name}, {RULE.how}).", growth, LOOK]
    times = "your own time" if found.counted == 1 else f"your own last {found.counted} times"
    capped = abs(math.log(found.factor)) > math.log(FARTHEST) - 1e-6
    most = ", the most that is believed" if capped else ""
    return [f"From {times}: {_as_against(found.factor)} the rule of thumb{most}.", growth, LOOK]


def _as_against(factor: float) -> str:
    if abs(factor - 1) < 0.05:
        return "as long as by"
    return f"{factor:.1f} times as long as by"


def _ripe_facts(feeds: Sequence[Feed], at_c: float, found: Sequence[Ripeness]) -> dict[str, Any]:
    last = found[-1]
    return {
        "at_c": at_c,
        "shortest_min": last.shortest // MINUTE,
        "usually_min": last.usually // MINUTE,
        "longest_min": last.longest // MINUTE,
        "all_feeds_usually_min": sum((each.usually for each in found), timedelta(0)) // MINUTE,
        "doublings": round(feeds[-1].doublings, 2),
        "factor": round(last.factor, 3),
        "own_times": last.counted,
        "source": str(MODEL) if last.counted else str(RULE),
        "from_memory": True,
    }


# ---------------------------------------------------------------- a loaf


def of_loaf(loaf: Loaf, of_salt: bool = False) -> Told:
    """Its hydration and salt with the starter counted in; the salt first where that is what was asked."""
    named = f"{loaf.name}: " if loaf.name else ""
    shares, lines = (
        [loaves.hydration(loaf), loaves.salt(loaf)],
        [loaves.water_line(loaf), loaves.salt_line(loaf)],
    )
    if of_salt:
        shares, lines = shares[::-1], lines[::-1]
    said, lines = f"{named}{', '.join(filter(None, shares))}", [*lines, loaves.uncounted_line(loaf)]
    return Told(
        said[:1].upper() + said[1:], tuple(line for line in lines if line), {"loaf": loaves.facts(loaf)}
    )


def together(told: Sequence[Told]) -> Told:
    """Several answers as one: the heading of the first, the others below it."""
    first, *others = told
    below = [line for each in others for line in (each.heading, *each.lines)]
    found = {key: value for each in told for key, value in each.facts.items()}
    refused = any(each.refused for each in told)
    return Told(first.heading, (*first.lines, *below), {**found, "refused": refused}, refused)
