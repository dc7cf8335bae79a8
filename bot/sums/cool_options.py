"""What `crockbell cool` was given: times of day, readings, rules."""

from __future__ import annotations

import argparse
import re
from datetime import datetime, timedelta

from bot.config import BadSettings, rules_named
from bot.sums import Here
from bot.sums.cool import KINDS
from bot.sums.told import WrongFigure
from scheduler.domain import hours
from scheduler.domain.kitchen.holding import Clock, Kind
from scheduler.domain.kitchen.rules import Rules
from scheduler.planfile import text as plantext

CLOCK = re.compile(r"([01]?[0-9]|2[0-3]):[0-5][0-9]")
READING = re.compile(r"(?P<when>.*\S)\s+(?P<degrees>-?\d{1,3}(?:\.\d{1,2})?)\s*°?\s*(?P<unit>[CcFf])?")
TEMPERATURE = re.compile(r"\s*(?P<degrees>-?\d{1,3}(?:\.\d{1,2})?)\s*°?\s*(?P<unit>[CcFf])?\s*")
DAY = timedelta(days=1)


def rules_of(options: argparse.Namespace, here: Here) -> Rules:
    try:
        return rules_named(options.rules, "--rules") if options.rules else here.rules
    except BadSettings as error:
        raise WrongFigure(str(error)) from error


def kind_of(options: argparse.Namespace) -> Kind:
    return Kind[KINDS[options.kind]]


def clock_of(options: argparse.Namespace, here: Here) -> Clock | None:
    """The clock that was asked about; None where no beginning was named."""
    readings = tuple(sorted(reading(text, here) for text in options.reading))
    if options.since is None:
        if readings:
            raise WrongFigure("--reading needs --since: when it came off the heat, or was taken out")
        return None
    since = moment("--since", options.since, here)
    if readings and readings[0][0] < since:
        raise WrongFigure(f"--reading {options.reading[0]!r}: a reading before --since {options.since!r}")
    return Clock(kind_of(options), since, readings)


def around_of(options: argparse.Namespace) -> float | None:
    """What is around the food, in C."""
    if options.around is None:
        return None
    found = TEMPERATURE.fullmatch(options.around)
    if found is None:
        raise WrongFigure(f"--around {options.around!r}: expected a temperature such as 4 C")
    return _celsius(found)


def reading(text: str, here: Here) -> tuple[datetime, float]:
    """The moment and the temperature in C of "15:00 38 C"; not after the present."""
    found = READING.fullmatch(text.strip())
    if found is None:
        raise WrongFigure(f"--reading {text!r}: expected a time and a temperature, such as 15:00 38 C")
    at = moment("--reading", found["when"], here)
    if at > here.now:
        raise WrongFigure(f"--reading {text!r}: that is after the present")
    return at, _celsius(found)


def _celsius(found: re.Match[str]) -> float:
    degrees = float(found["degrees"])
    return (degrees - 32) * 5 / 9 if (found["unit"] or "C").upper() == "F" else degrees


def moment(option: str, text: str, here: Here) -> datetime:
    """The instant of a time of day, the last such one, or of a date and time."""
    there = _time_of_day(text.strip(), here) or _dated(option, text)
    if not hours.exists(there, here.zone):
        raise WrongFigure(
            f"{option} {text!r}: there is no such hour in {here.zone}; the clocks go forward over it"
        )
    return hours.instant(there, here.zone)


def _time_of_day(text: str, here: Here) -> datetime | None:
    if not CLOCK.fullmatch(text):
        return None
    today = hours.local(here.now, here.zone).date()
    there = datetime.combine(today, plantext.clock(text))
    return there if hours.instant(there, here.zone) <= here.now else there - DAY


def _dated(option: str, text: str) -> datetime:
    try:
        return plantext.local_datetime(text)
    except plantext.TextError as error:
        raise WrongFigure(f"{option} {text!r}: expected a time such as 14:00 or 2026-12-12 14:00") from error
