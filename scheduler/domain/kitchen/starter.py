"""Starters: how one is fed, what to weigh for that, and what a plan says of one that ripens.

Plain arithmetic of weights. Grams are Decimal; a hydration is water over flour, as a fraction (1 is "100 %").
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_FLOOR, Decimal
from itertools import pairwise

from scheduler.domain.kitchen.amounts import as_weighed, step_of

WHOLE_HYDRATION = Decimal(1)
"""As much water as flour: what a starter is taken to have where nothing else is known."""

LEAST_GROWTH = Decimal(3)
"""How many times as much the last of several feeds makes at least: as 1:1:1 does, the least of the usual ratios
(common practice, from memory).
"""

MOST_FEEDS = 6


@dataclass(frozen=True, slots=True)
class Feed:
    """Parts of ripe starter, flour and water, by weight."""

    starter: Decimal
    flour: Decimal
    water: Decimal

    def __post_init__(self) -> None:
        if min(self.starter, self.flour, self.water) <= 0:
            raise ValueError("every part of a feed is more than nothing")

    def __str__(self) -> str:
        return ":".join(f"{part.normalize():f}" for part in self.parts)

    @property
    def parts(self) -> tuple[Decimal, Decimal, Decimal]:
        return self.starter, self.flour, self.water

    @property
    def growth(self) -> Decimal:
        """How many times as much there is after it as was put in: 11 for 1:5:5."""
        return sum(self.parts, Decimal(0)) / self.starter

    @property
    def doublings(self) -> float:
        """How often what was put in has to become twice as much to be everywhere again: log2 of the growth."""
        return math.log2(self.growth)

    def by_one_part(self) -> str:
        """As people say it: of one part of starter, in tenths."""
        tenths = (part / self.starter for part in self.parts)
        return ":".join(f"{part.quantize(Decimal('0.1')).normalize():f}" for part in tenths)

    @property
    def hydration(self) -> Decimal:
        """Of what is added, water over flour."""
        return self.water / self.flour


@dataclass(frozen=True, slots=True)
class Ripens:
    """A starter fed like this, standing at `at_c` degrees Celsius until it is ripe."""

    feed: Feed
    at_c: float


@dataclass(frozen=True, slots=True)
class Mix:
    """What to weigh for one feed, in grams."""

    starter_g: Decimal
    flour_g: Decimal
    water_g: Decimal

    @property
    def total_g(self) -> Decimal:
        return self.starter_g + self.flour_g + self.water_g

    @property
    def feed(self) -> Feed:
        """The same as parts. ValueError where one of them is nothing."""
        return Feed(self.starter_g, self.flour_g, self.water_g)


# ---------------------------------------------------------------- one feed


def exactly(feed: Feed, total_g: Decimal) -> tuple[Decimal, Decimal, Decimal]:
    """Grams of starter, flour and water that come to `total_g`, not rounded."""
    whole = sum(feed.parts, Decimal(0))
    return feed.starter * total_g / whole, feed.flour * total_g / whole, feed.water * total_g / whole


def mixed(feed: Feed, total_g: Decimal) -> Mix:
    """What to weigh so that it comes to `total_g` exactly, in steps of a kitchen scale.

    All parts in the steps of the smallest: whole grams from ten on. ValueError where one is too little to be weighed.
    """
    mix = Mix(*shared_out(exactly(feed, total_g), total_g))
    if min(mix.starter_g, mix.flour_g, mix.water_g) <= 0:
        raise ValueError(f"{total_g} g fed {feed} has a part that no scale shows")
    return mix


def shared_out(parts: Sequence[Decimal], total_g: Decimal) -> tuple[Decimal, ...]:
    """Parts that come to `total_g`, rounded so that they still do: what is left over goes to those cut most."""
    step = step_of(min(parts))
    if total_g % step:
        step = Decimal(1).scaleb(int(total_g.normalize().as_tuple().exponent))
    steps = [(part / step).to_integral_value(ROUND_FLOOR) for part in parts]
    left = int(total_g / step - sum(steps, Decimal(0)))
    cut = sorted(range(len(parts)), key=lambda place: steps[place] - parts[place] / step)
    return tuple(step * (each + (place in cut[:left])) for place, each in enumerate(steps))


def water_for(
    starter_g: Decimal, starter_hydration: Decimal, flour_g: Decimal, hydration: Decimal
) -> Decimal:
    """Grams of water to add to starter and flour for `hydration` in all, the starter's own water and flour counted.

    ValueError where the starter alone brings more water than that.
    """
    flour, water = flour_and_water(starter_g, starter_hydration)
    added = hydration * (flour + flour_g) - water
    if added <= 0:
        raise ValueError("the starter alone brings more water than that")
    return added


def flour_and_water(starter_g: Decimal, hydration: Decimal) -> tuple[Decimal, Decimal]:
    """Grams of flour and of water in so much starter."""
    flour = starter_g / (1 + hydration)
    return flour, starter_g - flour


def at_hydration(feed: Feed, hydration: Decimal, own: Decimal = WHOLE_HYDRATION) -> Feed:
    """The same starter and flour, with water for `hydration` in all; `own` is that of the starter put in."""
    return Feed(feed.starter, feed.flour, water_for(feed.starter, own, feed.flour, hydration))


def topped_up(have_g: Decimal, want_g: Decimal, hydration: Decimal, own: Decimal = WHOLE_HYDRATION) -> Feed:
    """The feed that makes `want_g` at `hydration` out of all there is. ValueError where that cannot be."""
    if want_g <= have_g:
        raise ValueError("there is as much as that already")
    flour = want_g / (1 + hydration) - flour_and_water(have_g, own)[0]
    water = want_g - have_g - flour
    if min(flour, water) <= 0:
        raise ValueError("that much starter cannot be brought to that hydration in one feed")
    return Feed(have_g, flour, water)


# ---------------------------------------------------------------- several feeds


def feeds(have_g: Decimal, want_g: Decimal, feed: Feed) -> tuple[Mix, ...]:
    """The feeds, one after another, that make `want_g` out of `have_g` or less: 5 g to 55 g to 220 g by 1:5:5.

    Every feed but the last is `feed`; the last makes what is wanted of all there is. Where that would leave it
    under three times as much, all of them grow alike. ValueError for more than six.
    """
    if have_g <= 0 or want_g <= 0:
        raise ValueError("more than nothing is needed to begin with, and more than nothing wanted")
    if have_g * feed.growth >= want_g:
        return (mixed(feed, want_g),)
    sizes = _sizes(have_g, want_g, feed)
    if len(sizes) > MOST_FEEDS + 1:
        raise ValueError(f"that takes more than {MOST_FEEDS} feeds")
    return tuple(_grown(feed, before, after) for before, after in pairwise(sizes))


def _sizes(have_g: Decimal, want_g: Decimal, feed: Feed) -> list[Decimal]:
    """How much there is before the first feed and after each."""
    sizes = [have_g]
    while sizes[-1] * feed.growth < want_g and len(sizes) <= MOST_FEEDS:
        sizes.append(as_weighed(sizes[-1] * feed.growth))
    if want_g < sizes[-1] * min(LEAST_GROWTH, feed.growth):
        even = (want_g / have_g) ** (1 / Decimal(len(sizes)))
        sizes = [have_g, *(as_weighed(have_g * even**feeds) for feeds in range(1, len(sizes)))]
    return [*sizes, want_g]


def _grown(feed: Feed, before_g: Decimal, after_g: Decimal) -> Mix:
    """`after_g` made of all that there is, flour and water in the proportion of the feed."""
    added = after_g - before_g
    flour = added * feed.flour / (feed.flour + feed.water)
    return mixed(Feed(before_g, flour, added - flour), after_g)
