"""How long the middle of a piece takes to be hot, and which published reductions that meets."""

from __future__ import annotations

import argparse
import re
from collections.abc import Callable
from typing import TypeVar

from bot.sums.told import Told, WrongFigure
from scheduler.domain.kitchen.core import Core, Food, Shape
from scheduler.domain.plan import Plan, Step

Value = TypeVar("Value")


def arguments(sub: argparse.ArgumentParser) -> None:
    sub.add_argument(
        "--shape",
        choices=list(map(str, Shape)),
        type=str.casefold,
        default=str(Shape.SLAB),
        help="default: slab",
    )
    sub.add_argument(
        "--thickness",
        metavar="40 mm",
        help="of a slab, else the diameter; without it, what is published for a middle that hot already",
    )
    sub.add_argument(
        "--at", required=True, metavar="60 C", help="what the middle is to reach; a bath's own heat"
    )
    sub.add_argument("--start", metavar="4 C", help="how warm it is right through; default: the fridge, 4 C")
    sub.add_argument(
        "--food", choices=list(map(str, Food)), type=str.casefold, help="left out: the strictest counts"
    )
    sub.add_argument("--oven", metavar="150 C", help="in an oven at this heat instead of a water bath")
    sub.add_argument("--for", dest="lasting", metavar="3 h", help="say what is met after so long")


def of_options(options: argparse.Namespace) -> Told:
    """WrongFigure for what is no thickness, temperature or length, and where the sum does not hold."""
    food = None if options.food is None else Food(options.food)
    if options.thickness is None:
        return _held(options, food)
    return _asked(
        Shape(options.shape),
        options.thickness,
        options.at,
        options.start,
        food,
        options.oven,
        options.lasting,
    )


def _held(options: argparse.Namespace, food: Food | None) -> Told:
    from bot.sums.core_holds import told
    from scheduler.planfile import figures

    if options.start or options.oven or options.lasting:
        raise WrongFigure("give --thickness as well: how long a piece takes depends on it")
    return told(_read(figures.celsius, options.at), food)


def in_words(said: str, plan: Plan | None) -> Told | None:
    """ "How long for a 40 mm steak at 60 C", "is 2 hours at 57 enough for a 3 cm chicken breast"."""
    from bot.sums import core_holds
    from bot.sums.core_words import question
    from scheduler.planfile import figures

    held = core_holds.question(said)
    if held is not None:
        return core_holds.told(_read(figures.celsius, held[0]), held[1])
    asked = question(said)
    if asked is None:
        return None if plan is None else _of_plan(said, plan)
    try:
        return _asked(*asked)
    except WrongFigure as error:
        return Told(f"I cannot work that out: {error}")


def _of_plan(said: str, plan: Plan) -> Told | None:
    """ "Is 2 hours enough for the duck", of the one step of the plan with a core whose words those are."""
    from bot.sums.core_told import told
    from bot.sums.core_words import enough_for
    from scheduler.domain.heats import medium_of

    asked = enough_for(said)
    meant = [step for step in plan.steps if step.core and asked and asked[0] <= _words(step)]
    by = medium_of(meant[0]) if len(meant) == 1 else None
    if asked is None or by is None or meant[0].core is None:
        return None
    return told(meant[0].core, by, asked[1])


def _words(step: Step) -> set[str]:
    return set(re.findall(r"\w+", f"{step.name} {step.component}".casefold()))


def _asked(
    shape: Shape,
    thickness: str,
    at: str,
    start: str | None,
    food: Food | None,
    oven: str | None,
    lasting: str | None,
) -> Told:
    from bot.sums.core_told import FRIDGE, told
    from scheduler.domain.heats import medium
    from scheduler.planfile import figures, text

    thick, hot = _read(figures.thickness_mm, _in_inches(thickness)), _read(figures.celsius, at)
    cold = _read(figures.celsius, FRIDGE if start is None else start)
    oven_c = None if oven is None else _read(figures.oven_heat, oven)
    lasted = None if lasting is None else _read(text.duration, lasting)
    core = Core(shape, thick, hot, cold, food)
    return told(core, medium(core, oven_c, None), lasted, unsaid=start is None)


def _in_inches(thickness: str) -> str:
    """ "1.5 in" of 1.5", 1½ inches and 1 1/2-inch."""
    from bot.sums.numbers import decimal

    return re.sub(r"[ -]*(?:\"|”|″|''|inch(?:es)?)$", " in", decimal(thickness), flags=re.IGNORECASE)


def _read(grammar: Callable[[str], Value], given: str) -> Value:
    """WrongFigure with what was found; a decimal comma is read as a point."""
    from bot.sums.numbers import pointed
    from scheduler.planfile.text import TextError

    try:
        return grammar(pointed(given))
    except TextError as error:
        raise WrongFigure(f"found {given!r}, expected {error.expected}") from error
