"""Salt by weight: so much for a percent, the percent of so much, and brine by its strength."""

from __future__ import annotations

import argparse
import re
from decimal import Decimal
from typing import TYPE_CHECKING

from bot.sums.told import Told, WrongFigure
from scheduler.domain.plan import Plan

if TYPE_CHECKING:
    from scheduler.domain.kitchen.amounts import Amount
    from scheduler.domain.kitchen.salt import Kind, Packed, Way

MOST_PERCENT = 100
LEAST_G = Decimal("0.01")
"""What a fine scale shows."""


def arguments(sub: argparse.ArgumentParser) -> None:
    """The options of `crockbell salt`."""
    sub.add_argument("--produce", metavar="WEIGHT", help='what the vegetables weigh, such as "850 g"')
    sub.add_argument("--water", metavar="AMOUNT", help='water added to them, such as "500 g" or "1 L"')
    sub.add_argument("--percent", metavar="N", help="how much salt; the middle of the usual band without it")
    sub.add_argument(
        "--of",
        choices=("produce", "water", "both"),
        help="what it is a percent of (all there is, unless said)",
    )
    sub.add_argument("--salt-included", action="store_true", help="count the salt in what it is a percent of")
    sub.add_argument(
        "--kind", metavar="KIND", help="the kind of ferment: cabbage, cucumbers, kimchi, vegetables ..."
    )
    sub.add_argument(
        "--salt", metavar="WEIGHT", help='salt that is there, such as "20 g": what percent is it?'
    )
    sub.add_argument(
        "--brine", metavar="VOLUME", help='finished brine of that percent by weight, such as "1 L"'
    )
    measured = sub.add_mutually_exclusive_group()
    measured.add_argument("--gravity", metavar="1.036", help="how strong a brine of that gravity is")
    measured.add_argument("--salometer", metavar="20", help="the same, of so many degrees Salometer")
    measured.add_argument(
        "--grams-per-litre", metavar="50", help="the same, of so much salt in a finished litre"
    )


def of_options(options: argparse.Namespace) -> Told:
    """The answer to the options; WrongFigure for those that say too little or go against each other."""
    from bot.sums.salt_answers import Question, answered, brine_answered
    from scheduler.domain.kitchen.salt import BRINE

    measured = _measured(options)
    if measured is not None:
        return measured
    kind, percent = _kind(options.kind), _percent(options.percent)
    if options.brine is not None:
        if (
            percent is None
            or options.produce
            or options.water
            or options.salt
            or options.of in ("produce", "both")
        ):
            raise WrongFigure('--brine goes with --percent alone, such as --brine "1 L" --percent 5')
        _brined(kind)
        return brine_answered(_brine(options.brine), percent, _way(options, brine=True), kind)
    packed = _packed(options.produce, options.water)
    if options.salt is not None and percent is not None:
        raise WrongFigure("give --percent or --salt, and the other is worked out")
    salt = None if options.salt is None else _salt(options.salt)
    if salt is None and percent is None and kind is None:
        raise WrongFigure("give --percent, --salt, or --kind for the usual percent of that kind")
    way = _way(options) if options.of or options.salt_included else None
    counted = way or (kind.way_for(packed) if kind else None)
    if kind is not None and not packed.produce_g and kind.usual.way != BRINE:
        raise WrongFigure(f"for {kind} give --produce, with --water beside it where there is any")
    if counted is not None and (salt is None or way) and not packed.base_g(counted.convention):
        missing = "--produce" if counted.convention == "produce" else "--water"
        what = f"{kind} are" if way is None else f"a percent of {way} is"
        raise WrongFigure(f"{what} counted by a weight that is not given: {missing}")
    return answered(Question(packed, percent, way, salt, kind))


def _measured(options: argparse.Namespace) -> Told | None:
    """How strong a brine is that was measured, where one was."""
    from bot.sums.brine_strength import MEASURED, answered

    given = {option: getattr(options, option[2:].replace("-", "_")) for option in MEASURED}
    asked = [(option, read) for option, read in given.items() if read is not None]
    others = (
        options.produce,
        options.water,
        options.percent,
        options.of,
        options.salt,
        options.brine,
        options.kind,
    )
    if asked and (any(others) or options.salt_included):
        raise WrongFigure(f"{asked[0][0]} stands by itself")
    return answered(*asked[0]) if asked else None


def in_words(said: str, plan: Plan | None) -> Told | None:
    """The answer to "how much salt for 850 g of turnips" and the like; None for anything else."""
    from bot.sums.salt_words import asked, of_plan

    return of_plan(said, plan) or asked(said, plan)


# ---------------------------------------------------------------- options read


def _kind(name: str | None) -> Kind | None:
    from scheduler.domain.fermenting import VEGETABLES
    from scheduler.domain.kitchen.salt import ANY, KINDS, kind_named_in

    if name is None:
        return None
    found = KINDS.get(name.strip().casefold()) or kind_named_in(name)
    if found is None and VEGETABLES.search(name.casefold()):
        found = ANY
    if found is None:
        raise WrongFigure(f"{name!r} is not a kind of ferment known here: {', '.join(KINDS)}")
    return found


def _brined(kind: Kind | None) -> None:
    """WrongFigure for a kind whose salt is not judged by the strength of the brine alone."""
    from scheduler.domain.kitchen.salt import BRINE

    if kind is not None and kind.usual.way != BRINE:
        raise WrongFigure(
            f"--brine is for what is salted by its brine; for {kind} give --produce and --water"
        )


def _percent(text: str | None) -> Decimal | None:
    if text is None:
        return None
    found = re.fullmatch(r"(-?[0-9]{1,4}(?:[.,][0-9]{1,4})?) ?%?", text.strip())
    if found is None:
        raise WrongFigure(f"{text!r} is not a percent such as 2.5")
    percent = Decimal(found[1].replace(",", "."))
    if not 0 < percent < MOST_PERCENT:
        raise WrongFigure(f"a percent of salt lies above 0 and below {MOST_PERCENT}")
    return percent


def _way(options: argparse.Namespace, brine: bool = False) -> Way:
    from scheduler.domain.kitchen.salt import BRINE, Convention, Way

    if brine and options.of is None:
        return BRINE
    of = options.of or (
        "both" if options.produce and options.water else "water" if options.water else "produce"
    )
    return Way(Convention(of), options.salt_included)


def _packed(produce: str | None, water: str | None) -> Packed:
    from scheduler.domain.kitchen.brine import water_g
    from scheduler.domain.kitchen.salt import Packed

    if produce is None and water is None:
        raise WrongFigure('give a weight to salt, such as --produce "850 g"')
    vegetables = Decimal(0) if produce is None else _grams(produce, "a weight such as 850 g")
    if water is None:
        return Packed(vegetables)
    given = _amount(water, "a weight or a volume such as 500 g or 1 L")
    grams = given.grams if given.millilitres is None else water_g(given.millilitres)
    if grams is None:
        raise WrongFigure(f"{water!r} is not a weight or a volume such as 500 g or 1 L")
    return Packed(vegetables, grams)


def _salt(text: str) -> Decimal:
    """Grams of salt; a volume of it is refused, with what it may weigh."""
    from scheduler.domain.kitchen.weighing import span_told, unweighed

    span = unweighed(_amount(text, "a weight such as 20 g"))
    if span is not None:
        raise WrongFigure(f"{text} of salt weighs {span_told(span)} by its crystals: weigh it")
    return _grams(text, "a weight such as 20 g")


def _grams(text: str, expected: str) -> Decimal:
    grams = _amount(text, expected).grams
    if grams is None:
        raise WrongFigure(f"{text!r} is not {expected}")
    if grams < LEAST_G:
        raise WrongFigure(f"{text!r} is less than a scale shows: expected {expected}")
    return grams


def _brine(text: str) -> Amount:
    given = _amount(text, "a volume or a weight such as 1 L")
    if given.counted or given.unit == "%":
        raise WrongFigure(f"{text!r} is not a volume or a weight such as 1 L")
    return given


def _amount(text: str, expected: str) -> Amount:
    """So much of salt, in any unit that a plan file may use."""
    from bot.sums.numbers import decimal, pointed
    from scheduler.domain.kitchen.amounts import Amount
    from scheduler.planfile.figures import quantity
    from scheduler.planfile.text import TextError

    try:
        given = quantity(decimal(pointed(text)))
    except TextError as error:
        raise WrongFigure(f"{text!r} is not {expected}") from error
    return Amount("salt", given.number, given.unit)
