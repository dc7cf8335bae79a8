"""Amounts for more or fewer at the table, and one amount in another measure."""

from __future__ import annotations

import argparse
import re
from decimal import Decimal, InvalidOperation
from pathlib import Path
from typing import TYPE_CHECKING

from bot.sums.told import Told, WrongFigure

if TYPE_CHECKING:
    from scheduler.domain.plan import Plan
    from scheduler.planfile.figures import Quantity

AN_AMOUNT = "a plan file, or an amount such as 900 g or 2 cups"
MOST_SERVED = 10_000
FRACTION = re.compile(r"^(?:([0-9]{1,4}) )?([0-9]{1,2})/([0-9]{1,2}) ?")


def arguments(sub: argparse.ArgumentParser) -> None:
    sub.add_argument(
        "what",
        metavar="WHAT",
        help='a plan file or the name of a bundled plan, or one amount such as "900 g"',
    )
    sub.add_argument("--serves", metavar="N", help="how many a plan is to be scaled for")
    sub.add_argument("--from", dest="before", metavar="N", help="how many one amount is for")
    sub.add_argument("--to", dest="after", metavar="N", help="how many it is to be for")
    sub.add_argument(
        "--of", metavar="FOOD", help='what a volume is of, such as "wheat flour", to get its weight'
    )


def of_options(options: argparse.Namespace) -> Told:
    """A plan's amounts, one amount scaled, or one amount in grams; WrongFigure for what is none of these."""
    if Path(options.what).is_file() or not options.what.strip()[:1].isdigit():
        return _of_a_plan(options)
    if options.serves is not None:
        raise WrongFigure('--serves is for a plan; for one amount say --from 8 --to 12, as in "900 g"')
    if (options.before is None) != (options.after is None):
        raise WrongFigure("--from and --to go together, such as --from 8 --to 12")
    from bot.sums import amounts

    given = quantity_in(options.what)
    name = " ".join(options.of.split()) if options.of else ""
    if options.before is None:
        return amounts.weighed(given, name)
    before, after = how_many("--from", options.before), how_many("--to", options.after)
    return amounts.for_others(given, name, before, after)


def _of_a_plan(options: argparse.Namespace) -> Told:
    from bot.sums import scaled

    if options.of or options.before is not None or options.after is not None:
        raise WrongFigure(
            f"--of, --from and --to are for one amount: {options.what!r} is none, such as 900 g"
        )
    plan = _plan(options.what)
    return scaled.of_plan(plan, for_those_there(plan, options.serves))


def _plan(name: str) -> Plan:
    """The plan of that file; amounts are the same in every zone."""
    from bot.commands import source_of
    from scheduler.planfile import BadPlan, read

    try:
        return read(source_of(name), zone="UTC")
    except BadPlan as error:
        raise WrongFigure("\n".join(f"{name}: {problem}" for problem in error.problems)) from error


def quantity_in(text: str) -> Quantity:
    """One amount as a plan file writes it; WrongFigure for a share of another, or for no amount at all."""
    from scheduler.planfile import figures
    from scheduler.planfile.text import TextError

    try:
        given = figures.quantity(FRACTION.sub(_as_decimal, text))
    except TextError as error:
        raise WrongFigure(f"{text!r}: expected {AN_AMOUNT}") from error
    if given.unit == "%":
        raise WrongFigure(f"{text!r}: a share is the same for any number; expected {AN_AMOUNT}")
    return given


def _as_decimal(found: re.Match[str]) -> str:
    """ "2 1/4 cups" as a plan file writes it; a fraction of nothing is left, and so refused."""
    whole, top, bottom = (Decimal(part or 0) for part in found.groups())
    return f"{whole + (top / bottom).quantize(Decimal('0.0001')):f} " if bottom else found[0]


def how_many(option: str, text: str) -> Decimal:
    """A number of people, or of batches, above nothing."""
    try:
        number = Decimal(text)
    except InvalidOperation as error:
        raise WrongFigure(f"{option} {text!r}: expected a number such as 12") from error
    if not number.is_finite() or not 0 < number <= MOST_SERVED:
        raise WrongFigure(f"{option} {text!r}: expected a number above 0, up to {MOST_SERVED}")
    return number


def served(option: str, text: str) -> int:
    """How many there are at the table."""
    number = how_many(option, text)
    if number != int(number):
        raise WrongFigure(f"{option} {text!r}: expected a whole number such as 12")
    return int(number)


def for_those_there(plan: Plan, asked: str | None) -> Plan:
    """The plan scaled for as many as an option --serves asks for; WrongFigure where it cannot be."""
    if asked is None:
        return plan
    from scheduler.domain.scaling import for_so_many

    serves = served("--serves", asked)
    if not plan.serves:
        raise WrongFigure("--serves: the plan does not say how many it serves; write 'serves: 8' in it")
    return for_so_many(plan, serves)


def in_words(said: str, plan: Plan | None) -> Told | None:
    """ "scale 900 g from 8 to 12", "how many grams is 2 cups of flour", "what is 3 lb in grams"."""
    if not any(character.isalpha() for character in said):
        return None
    from bot.sums import asked

    return asked.answered(said)
