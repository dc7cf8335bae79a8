"""The sums of the trade: each asked on the command line and in the chat, and answered alike.

Each sum is a module here with three functions: `arguments` declares its options, `of_options` answers them, and
`in_words` answers a question asked in plain words, or is None for words that ask something else. All three are
light to import; what is heavy they import when they are asked. Those of TIMED are told besides when and where they
are asked.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from importlib import import_module
from typing import Protocol, cast

from bot.sums.told import Told
from scheduler.commands import Context
from scheduler.domain.kitchen.rules import STRICTER, Rules
from scheduler.domain.plan import Plan

SUMS = {
    "salt": "work out salt by weight, in each way of counting it",
    "starter": "work out what to feed a starter, and when it is ripe",
    "core": "say how long the middle of a piece takes to heat, and what published limit that meets",
    "cool": "say by when food has to be cold, or how long it may stand out",
    "scale": "scale amounts to another number at the table",
}
"""The names of the commands, with what each is for, in the order in which plain words are tried."""

TIMED = frozenset({"cool"})
"""The sums that are about times of day."""


@dataclass(frozen=True, slots=True)
class Here:
    """When a question is asked, on the clock of which zone, and the rules for holding food that are in force."""

    now: datetime
    zone: str
    rules: Rules = STRICTER


class Sum(Protocol):
    """What a module of this package is."""

    def arguments(self, sub: argparse.ArgumentParser) -> None:
        """Declare the options of its command; --json is there already."""
        ...

    def of_options(self, options: argparse.Namespace) -> Told:
        """The answer; WrongFigure for options that cannot be used."""
        ...

    def in_words(self, said: str, plan: Plan | None) -> Told | None:
        """The answer to plain words, against the plan under way; None where they ask something else. Pure."""
        ...


class TimedSum(Protocol):
    """A sum of TIMED: the same, told when and where it is asked."""

    def of_options(self, options: argparse.Namespace, here: Here) -> Told:
        """The answer; WrongFigure for options that cannot be used."""
        ...

    def in_words(self, said: str, plan: Plan | None, here: Here) -> Told | None:
        """The answer to plain words; None where they ask something else. Pure."""
        ...


def sum_named(name: str) -> Sum:
    """The module of one of SUMS."""
    return cast(Sum, import_module(f"bot.sums.{name}"))


def by_options(name: str, options: argparse.Namespace, here: Callable[[], Here]) -> Told:
    """What a command answers; `here` is called only where it matters. WrongFigure as of_options."""
    if name in TIMED:
        return cast(TimedSum, sum_named(name)).of_options(options, here())
    return sum_named(name).of_options(options)


def by_words(name: str, said: str, plan: Plan | None, here: Here | None) -> Told | None:
    """What plain words are answered with by one of SUMS, if they ask for it; one of TIMED needs to know `here`."""
    if name in TIMED:
        return cast(TimedSum, sum_named(name)).in_words(said, plan, here) if here else None
    return sum_named(name).in_words(said, plan)


def asked_in(said: str, context: Context) -> str | None:
    """The name of the sum that plain words ask for, if they ask for one."""
    here = Here(context.now, context.zone)
    return next((name for name in SUMS if by_words(name, said, context.plan, here) is not None), None)
