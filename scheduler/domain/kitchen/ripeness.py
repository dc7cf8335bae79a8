"""When a starter is ripe: how long it takes after a feed, at a temperature, as a range.

What was put in has to become twice as much log2((starter + flour + water) / starter) times over, and each time takes
as long as yeast needs at that temperature, without a lag (growth.py). One constant is free, how long one doubling
takes at the best temperature. It is set, midway on a scale of ratios, to the rule of thumb that 1:1:1 is ripe in 4 h
to 6 h and 1:5:5 in 8 h to 12 h at 24 C (common practice, from memory). It is no growth rate of a yeast: it holds all
that happens until a starter stands at its highest. By the rule the second takes twice as long as the first, by the
formula 2.18 times; the range told is wide enough for both.

The range spans what the sources disagree on: yeast, which raises a starter, and bacteria, which sour it, each by
the formula and by the author's own statement (growth.py names the conflicts), times the width of the rule of thumb.
The middle is the yeast by the formula. Not counted: how stiff it is, which flour, how strong, how warm the water was.

A cook's own times replace the rule of thumb: what they took, as against what the formula says, and the range becomes
narrower with each, never narrower than a tenth either way.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import timedelta
from decimal import Decimal
from statistics import median

from scheduler.domain.kitchen.growth import SOURDOUGH_BACTERIA, SOURDOUGH_YEAST
from scheduler.domain.kitchen.sources import How, Source
from scheduler.domain.kitchen.starter import Feed
from scheduler.domain.kitchen.written import degrees

RULE = Source(
    "common practice", "1:1:1 is ripe in 4 h to 6 h and 1:5:5 in 8 h to 12 h at 24 C", How.FROM_MEMORY
)

RULE_AT_C = 24.0
RULE_H = ((Feed(*map(Decimal, (1, 1, 1))), 4, 6), (Feed(*map(Decimal, (1, 5, 5))), 8, 12))
"""The rule of thumb (common practice, from memory): a feed, the shortest and the longest hours at RULE_AT_C."""

LONGEST = timedelta(days=7)
"""A starter in a fridge is fed weekly (common practice, from memory): nothing is known of one that takes longer."""

FARTHEST = 3.0
"""How many times faster or slower than the formula a cook's own starter is taken to be at most (our choice)."""

NARROWEST = 1.1
"""A range is never narrower than this either way: nobody looks more often (our choice)."""

LATEST = 5
"""How many of a cook's own times count, the latest (our choice)."""

FEWEST_GROWN, MOST_GROWN = Decimal("1.2"), Decimal(200)
DRIEST, WETTEST = Decimal("0.4"), Decimal(3)
"""Feeds that somebody might make: how many times as much after it, water over flour (our choice)."""

FIVE_MINUTES = timedelta(minutes=5)

Rates = Callable[[float], float]
MODELS: tuple[Rates, ...] = (
    SOURDOUGH_YEAST.relative_rate,
    SOURDOUGH_YEAST.stated_rate,
    SOURDOUGH_BACTERIA.relative_rate,
    SOURDOUGH_BACTERIA.stated_rate,
)
"""How fast it goes at a temperature by each of the sources; the first is the one that is planned by."""


class NotRipening(ValueError):
    """A starter that does not get ripe, or a feed that nobody makes; the text is a plain reason."""


@dataclass(frozen=True, slots=True)
class Observed:
    """One of the cook's own: fed like this, at `at_c` degrees Celsius, it was ripe after `lasted`."""

    feed: Feed
    at_c: float
    lasted: timedelta

    def __post_init__(self) -> None:
        if self.lasted <= timedelta(0):
            raise ValueError("a starter takes longer than nothing")


@dataclass(frozen=True, slots=True)
class Ripeness:
    """How long a starter takes: as a rule `usually`, from `shortest` to `longest`, in five-minute steps.

    `factor` is how many times as long as by the formula (1 where `counted`, the number of the cook's own times it
    rests on, is none); `hours` is `usually` before it was rounded.
    """

    usually: timedelta
    shortest: timedelta
    longest: timedelta
    hours: float
    factor: float = 1.0
    counted: int = 0


def ripe(feed: Feed, at_c: float, observed: Sequence[Observed] = ()) -> Ripeness:
    """When a starter fed like this is ripe, by the rule of thumb or by the cook's own times, the latest last.

    NotRipening with the reason where it does not get ripe, where that would take more than a week, and for a feed
    that nobody makes.
    """
    refuse_feed(feed)
    refuse_temperature(at_c)
    own = [each for each in observed if _grows(each.at_c)][-LATEST:]
    hours, *others = [_hours(rates, feed, at_c, own) for rates in MODELS]
    if hours > LONGEST / timedelta(hours=1):
        raise NotRipening(f"at {degrees(at_c)} it would take more than a week; {KEPT_COLD}")
    width = _width(own)
    shortest, longest = min(hours, *others) / width, max(hours, *others) * width
    return Ripeness(
        _five(hours), _five(shortest, -1), _five(longest, 1), hours, _factor(MODELS[0], own), len(own)
    )


# ---------------------------------------------------------------- what is refused

KEPT_COLD = "a starter kept cold is fed weekly (common practice, from memory) and ripened in the warm"


def refuse_temperature(at_c: float) -> None:
    """NotRipening at temperatures where the yeast of a sourdough does not grow."""
    if at_c <= SOURDOUGH_YEAST.lowest_c:
        raise NotRipening(
            f"at {degrees(at_c)} it does not ripen: its yeast grows above "
            f"{degrees(SOURDOUGH_YEAST.lowest_c)} only; {KEPT_COLD}"
        )
    if at_c >= SOURDOUGH_YEAST.highest_c:
        raise NotRipening(
            f"at {degrees(at_c)} it does not ripen: its yeast grows below "
            f"{degrees(SOURDOUGH_YEAST.highest_c)} only, fastest at {degrees(SOURDOUGH_YEAST.best_c)}"
        )


def refuse_feed(feed: Feed) -> None:
    """NotRipening for a feed that nobody makes: most likely its parts are in another order."""
    if not FEWEST_GROWN <= feed.growth <= MOST_GROWN:
        raise NotRipening(
            f"fed {feed}, it is not between {FEWEST_GROWN} and {MOST_GROWN} times as much after it"
        )
    if not DRIEST <= feed.hydration <= WETTEST:
        least, most = int(DRIEST * 100), int(WETTEST * 100)
        raise NotRipening(f"fed {feed}, the water is not between {least} % and {most} % of the flour")


def _grows(at_c: float) -> bool:
    return all(rates(at_c) > 0 for rates in MODELS)


# ---------------------------------------------------------------- the sum


def _relative(rates: Rates, feed: Feed, at_c: float) -> float:
    """How long it takes, in doublings at the best temperature."""
    return feed.doublings / rates(at_c)


def _by_the_rule(rates: Rates) -> float:
    """Hours of one doubling at the best temperature, so that the rule of thumb comes out midway."""
    ratios = [
        math.sqrt(shortest * longest) / _relative(rates, feed, RULE_AT_C)
        for feed, shortest, longest in RULE_H
    ]
    return math.prod(ratios) ** (1 / len(ratios))


def _hours(rates: Rates, feed: Feed, at_c: float, own: Sequence[Observed]) -> float:
    return _by_the_rule(rates) * _factor(rates, own) * _relative(rates, feed, at_c)


def _logs(rates: Rates, own: Sequence[Observed]) -> list[float]:
    """How each of the cook's times compares with the formula, as logarithms, within what is believed."""
    farthest = math.log(FARTHEST)
    found = []
    for each in own:
        by_the_rule = _by_the_rule(rates) * _relative(rates, each.feed, each.at_c)
        ratio = math.log(each.lasted / timedelta(hours=1) / by_the_rule)
        found.append(max(-farthest, min(farthest, ratio)))
    return found


def _factor(rates: Rates, own: Sequence[Observed]) -> float:
    """The middle one of the cook's own, so that one odd night changes little."""
    return math.exp(median(_logs(rates, own))) if own else 1.0


def _width(own: Sequence[Observed]) -> float:
    """How many times longer or shorter than the middle it may take: as wide as the rule of thumb is, less with
    every time of the cook's own, but never narrower than half of theirs lie apart.
    """
    rule = max(
        max(longest / hours, hours / shortest)
        for feed, shortest, longest in RULE_H
        for hours in [_hours(MODELS[0], feed, RULE_AT_C, ())]
    )
    logs = _logs(MODELS[0], own)
    apart = median(abs(each - median(logs)) for each in logs) if logs else 0.0
    return max(NARROWEST, math.exp(math.log(rule) / math.sqrt(1 + len(own))), math.exp(apart))


def _five(hours: float, towards: int = 0) -> timedelta:
    """In steps of five minutes, at least one: the nearest, or the one below or above."""
    steps = timedelta(hours=hours) / FIVE_MINUTES
    rounded = (
        round(steps) if not towards else math.floor(steps + 1e-9) if towards < 0 else math.ceil(steps - 1e-9)
    )
    return max(1, rounded) * FIVE_MINUTES
