"""Starters: what to feed one, when it is ripe, and what the loaf it goes into comes to."""

from __future__ import annotations

import argparse
import re
from collections.abc import Callable, Iterator
from decimal import Decimal
from typing import TYPE_CHECKING, TypeVar

from bot.sums.told import Told, WrongFigure
from scheduler.domain.plan import Plan

if TYPE_CHECKING:
    from scheduler.domain.kitchen.loaf import Loaf
    from scheduler.domain.kitchen.ripeness import Observed
    from scheduler.domain.kitchen.starter import Feed, Mix

A_HYDRATION = "a hydration in percent of the flour, such as 100"
A_WEIGHT = "a weight above zero, such as 220 g"
A_TIME = "how long at which temperature, such as '6 h at 22 C' or '1:2:2 6 h at 22 C'"
NOTHING = "--want, --at or --loaf-flour, or several of them"
Value = TypeVar("Value")


def arguments(sub: argparse.ArgumentParser) -> None:
    """All of them optional; what is given says what is asked."""
    sub.add_argument("--want", metavar="WEIGHT", help="how much starter there is to be, such as '220 g'")
    sub.add_argument("--ratio", metavar="S:F:W", help="parts of starter, flour and water, such as 1:5:5")
    sub.add_argument(
        "--hydration", metavar="PERCENT", help="how wet it is to be: water in percent of the flour"
    )
    sub.add_argument(
        "--starter-hydration", metavar="PERCENT", help="how wet the starter is that you have (100)"
    )
    sub.add_argument("--have", metavar="WEIGHT", help="how much starter you have to begin with")
    sub.add_argument("--at", metavar="TEMPERATURE", help="how warm it stands, such as '22 C'")
    sub.add_argument(
        "--took",
        metavar="TIME",
        action="append",
        default=[],
        help="how long yours took: '6 h at 22 C'; again for more",
    )
    sub.add_argument("--loaf-flour", metavar="WEIGHT", help="flour of a dough, without that in the starter")
    sub.add_argument("--loaf-water", metavar="WEIGHT", help="water of the dough")
    sub.add_argument("--loaf-salt", metavar="WEIGHT", help="salt of the dough, or '2 %%' of its flour")
    sub.add_argument("--starter", metavar="WEIGHT", help="ripe starter of the dough")


def of_options(options: argparse.Namespace) -> Told:
    """What was asked for, one after the other; WrongFigure for options that cannot be used."""
    from bot.sums import feeding

    told = [*_fed(options)]
    if options.loaf_flour is not None:
        told.append(feeding.of_loaf(_loaf_of(options)))
    if not told:
        raise WrongFigure(f"expected {NOTHING}")
    return feeding.together(told)


def _fed(options: argparse.Namespace) -> Iterator[Told]:
    from bot.sums import feeding
    from scheduler.domain.kitchen.starter import WHOLE_HYDRATION
    from scheduler.planfile import figures

    ratio = None if options.ratio is None else _read("--ratio", figures.feed, options.ratio)
    own = _hydration("--starter-hydration", options.starter_hydration) or WHOLE_HYDRATION
    feeds: list[Feed] = []
    if options.want is not None:
        mixes = _mixes(options, ratio, own)
        feeds = (
            [mix.feed for mix in mixes] if len(mixes) > 1 or ratio is None else [_wetted(options, ratio, own)]
        )
        yield feeding.mixing(mixes, own)
    if options.at is not None:
        if not feeds and ratio is None:
            raise WrongFigure(f"--at: expected --ratio as well, {figures.A_FEED}")
        asked = feeds or ([] if ratio is None else [_wetted(options, ratio, own)])
        at_c = _read("--at", figures.celsius, options.at)
        yield feeding.ripening(asked, at_c, [_took(text, ratio) for text in options.took])


def _mixes(options: argparse.Namespace, ratio: Feed | None, own: Decimal) -> tuple[Mix, ...]:
    from bot.sums.numbers import tenths
    from scheduler.domain.kitchen import starter

    want, have = _weight("--want", options.want), _weight("--have", options.have)
    hydration = _hydration("--hydration", options.hydration)
    if want is None:
        raise WrongFigure("--want: expected a weight such as 220 g")
    want, have = tenths(want), None if have is None else tenths(have)
    try:
        if ratio is None and have is not None:
            return (starter.mixed(starter.topped_up(have, want, hydration or own, own), want),)
        if ratio is None:
            raise WrongFigure("--want: expected --ratio, such as 1:5:5, or --have, such as '5 g'")
        fed = _wetted(options, ratio, own)
        return (starter.mixed(fed, want),) if have is None else starter.feeds(have, want, fed)
    except ValueError as error:
        raise WrongFigure(str(error)) from error


def _wetted(options: argparse.Namespace, ratio: Feed, own: Decimal) -> Feed:
    """The ratio with water for the hydration that is wanted."""
    from scheduler.domain.kitchen.starter import at_hydration

    hydration = _hydration("--hydration", options.hydration)
    try:
        return ratio if hydration is None else at_hydration(ratio, hydration, own)
    except ValueError as error:
        raise WrongFigure(f"--hydration: {error}") from error


def _took(text: str, ratio: Feed | None) -> Observed:
    """One of the cook's own times; of the feed that is asked about, where it names none."""
    from bot.sums.numbers import pointed
    from scheduler.domain.kitchen.ripeness import Observed, refuse_feed, refuse_temperature
    from scheduler.planfile import figures
    from scheduler.planfile.text import duration

    tidy = pointed(" ".join(text.split()))
    found = re.fullmatch(r"(?:([\d.]+:[\d.]+:[\d.]+)[ ,]+)?(.+?) at (.+)", tidy)
    feed = ratio if found is None or found[1] is None else _read("--took", figures.feed, found[1])
    if found is None or feed is None:
        raise WrongFigure(f"--took: found {text!r}, expected {A_TIME}")
    lasted, at_c = _read("--took", duration, found[2]), _read("--took", figures.celsius, found[3])
    try:
        refuse_feed(feed)
        refuse_temperature(at_c)
        return Observed(feed, at_c, lasted)
    except ValueError as error:
        raise WrongFigure(f"--took: {error}") from error


def _loaf_of(options: argparse.Namespace) -> Loaf:
    from scheduler.domain.kitchen.loaf import Loaf
    from scheduler.domain.kitchen.starter import WHOLE_HYDRATION

    flour = _weight("--loaf-flour", options.loaf_flour) or Decimal(0)
    nothing = Decimal(0)
    salt = options.loaf_salt or ""
    if salt.rstrip().endswith("%"):
        salt_g = flour * (_share("--loaf-salt", salt, "a weight such as 10 g, or 2 %") or nothing)
    else:
        salt_g = _weight("--loaf-salt", options.loaf_salt) or nothing
    water, starter = _weight("--loaf-water", options.loaf_water), _weight("--starter", options.starter)
    if water is None and starter is None:
        raise WrongFigure("--loaf-flour: expected --loaf-water as well, such as '350 g'")
    own = _hydration("--starter-hydration", options.starter_hydration) or WHOLE_HYDRATION
    return Loaf("", flour, water or nothing, salt_g, starter or nothing, own)


# ---------------------------------------------------------------- figures


def _weight(name: str, text: str | None) -> Decimal | None:
    """Grams; a bare number is grams. A volume of water is one too."""
    from bot.sums.numbers import decimal, pointed
    from scheduler.domain.kitchen.amounts import Amount
    from scheduler.domain.kitchen.brine import water_g
    from scheduler.planfile import figures
    from scheduler.planfile.text import TextError

    if text is None:
        return None
    tidy = text.strip()
    try:
        found = figures.quantity(decimal(pointed(f"{tidy} g" if tidy[-1:].isdigit() else tidy)))
    except TextError as error:
        raise WrongFigure(f"{name}: found {text!r}, expected {A_WEIGHT}") from error
    given = Amount("", found.number, found.unit)
    if name == "--loaf-water" and given.millilitres is not None:
        return water_g(given.millilitres)
    if given.grams is None or found.of:
        raise WrongFigure(f"{name}: found {text!r}, expected {A_WEIGHT}")
    return given.grams


def _hydration(name: str, text: str | None) -> Decimal | None:
    """A percent as a fraction."""
    return _share(name, text, A_HYDRATION)


def _share(name: str, text: str | None, expected: str) -> Decimal | None:
    if text is None:
        return None
    found = re.fullmatch(r"([0-9]{1,3}(?:[.,][0-9]{1,2})?) ?%?", text.strip())
    if found is None or not Decimal(found[1].replace(",", ".")):
        raise WrongFigure(f"{name}: found {text!r}, expected {expected}")
    return Decimal(found[1].replace(",", ".")) / 100


def _read(name: str, grammar: Callable[[str], Value], text: str) -> Value:
    from bot.sums.numbers import pointed
    from scheduler.planfile.text import TextError

    try:
        return grammar(pointed(text))
    except TextError as error:
        raise WrongFigure(f"{name}: found {text!r}, expected {error.expected}") from error


def in_words(said: str, plan: Plan | None) -> Told | None:
    """The answer to "how do I feed the starter to get 220 g at 1:5:5", "what's the hydration of the dough"."""
    from bot.sums import starter_words

    return starter_words.answer(said, plan)
