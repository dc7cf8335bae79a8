"""How long a piece takes until it is hot right through, and until a published reduction is met there.

Conduction (`conduction`, `pieces`) gives the middle over time (`curve`), D and z what that kills (`lethality`,
`reductions`). All of it leans to the long side: warmth spreads as slowly as published for the kind of food, the time
on the way is counted at the lower end, two parts in a hundred more than the reduction are asked for, and the time is
rounded up as the published tables of times by thickness are.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta

from scheduler.domain.kitchen.core import Core, Food
from scheduler.domain.kitchen.heat.curve import MOST_MIN, Course
from scheduler.domain.kitchen.heat.pieces import piece_of
from scheduler.domain.kitchen.heat.reductions import (
    KILLS,
    LOWEST_C,
    LOWEST_SOURCE,
    TABLES,
    Reduction,
    asked,
    told,
)
from scheduler.domain.kitchen.heat.warnings import Situation, length, warnings

__all__ = [
    "Heated",
    "Medium",
    "NeverHot",
    "Reduction",
    "TooCold",
    "heated",
    "met_after",
    "oven",
    "water_bath",
]

WITHIN_C = 0.5
"""Hot is within half a degree: the last of the difference takes for ever (as the published tables have it)."""

# A piece gives off steam from its surface: however hot the oven, it is not drawn beyond the boiling point.
_BOILING_C = 100.0
# Meat begins to freeze about there, and thawing is not in the sum (from memory).
_FREEZING_C = -1.0
# What is all but hot already is heated for a moment still: no step lasts no time.
_LEAST_MIN = 1
# What the printed D and the printed times were rounded by (worked out: every row of the tables is reached so).
_MORE = 1.02


class TooCold(ValueError):
    """No time is published at so low a temperature; the text names the source."""


class NeverHot(ValueError):
    """The medium cannot bring the middle there, or the piece is not one the sum holds for."""


@dataclass(frozen=True, slots=True)
class Medium:
    """What heats: its temperature in degrees Celsius and its surface transfer coefficient, in W/(m2 K)."""

    name: str
    at_c: float
    transfer_w_m2k: float


def water_bath(at_c: float) -> Medium:
    """A stirred water bath: 95 W/(m2 K), what the published thickness tables come out of (Baldwin, from memory)."""
    return Medium("water bath", at_c, 95.0)


def oven(at_c: float) -> Medium:
    """An oven: 20 W/(m2 K), from memory; still and fanned air give 10 to 40, so this is a guess."""
    return Medium("oven", at_c, 20.0)


@dataclass(frozen=True, slots=True)
class Heated:
    """How long it takes, and what is met then.

    `heats`: until the middle is within half a degree of what it is to reach, whole minutes up.
    `pasteurised`: until the reductions asked for are met in the middle; in a bath at the final temperature that is
    often sooner than `heats`. This is the published limit. Rounded up as the tables are: to whole minutes up to
    20 min, to five up to an hour, then to quarters of an hour. Zero where none is asked for.
    `shortest`: until both, never less than a minute. `met`: what is met at `shortest`. `warnings`: sentences that
    name their sources.
    """

    heats: timedelta
    shortest: timedelta
    met: tuple[Reduction, ...]
    warnings: tuple[str, ...]
    pasteurised: timedelta = timedelta()


def heated(core: Core, medium: Medium) -> Heated:
    """How long the middle takes.

    TooCold below the lowest temperature that is published for anything but plants; NeverHot where the middle never
    gets there, or not in three days, and for what is frozen or hotter than the medium at the start.
    """
    _check(core, medium)
    course = _course(core, medium)
    heats, pasteurised = _heats(core, course), _pasteurised(core, course)
    shortest = max(heats, pasteurised, _LEAST_MIN)
    endless = _endless(core, medium)
    now = Situation(core, medium.name, medium.transfer_w_m2k, course, shortest, endless)
    return Heated(
        _minutes(heats),
        _minutes(shortest),
        _met(core, course, shortest),
        warnings(now),
        _minutes(pasteurised),
    )


def met_after(core: Core, medium: Medium, lasted: timedelta) -> tuple[Reduction, ...]:
    """The published reductions the middle has had after so long. TooCold and NeverHot as `heated`."""
    _check(core, medium)
    return _met(core, _course(core, medium), lasted / timedelta(minutes=1))


def as_printed(minutes: int) -> int:
    """Rounded up as the published tables of times by thickness are: to 1, 5 or 15 min."""
    to = 1 if minutes <= 20 else 5 if minutes <= 60 else 15
    return -(-minutes // to) * to


def _course(core: Core, medium: Medium, endless: bool = False) -> Course:
    drawn_to = min(medium.at_c, _BOILING_C)
    return Course(piece_of(core, endless), medium.transfer_w_m2k, core.start_c, drawn_to, core.at_c)


def _heats(core: Core, course: Course) -> int:
    return _in_time(course.reaches(core.at_c - WITHIN_C))


def _pasteurised(core: Core, course: Course) -> int:
    wanted = asked(core.food)
    took = [_in_time(course.first_done(KILLS[each].part, each.log10 * _MORE)) for each in wanted]
    return as_printed(max(took, default=0))


def _endless(core: Core, medium: Medium) -> int | None:
    if piece_of(core).width_mm is None:
        return None
    course = _course(core, medium, endless=True)
    return max(_heats(core, course), _pasteurised(core, course))


def _met(core: Core, course: Course, minutes: float) -> tuple[Reduction, ...]:
    killed = [each for each in asked(core.food) if course.done(KILLS[each].part, minutes) >= each.log10]
    held = [each for each in told(core.food) if course.done(TABLES[each].part, minutes) >= 1]
    return (*killed, *held)


def _in_time(minutes: int | None) -> int:
    if minutes is None:
        raise NeverHot(f"this takes more than {length(MOST_MIN)}, which is more than this sum holds for")
    return minutes


def _minutes(count: int) -> timedelta:
    return timedelta(minutes=count)


def _check(core: Core, medium: Medium) -> None:
    if core.food is not Food.PLANT and core.at_c < LOWEST_C:
        raise TooCold(
            f"no time is published for a middle of {core.at_c:g} C: the tables begin at {LOWEST_C:g} C "
            f"({LOWEST_SOURCE})"
        )
    if min(medium.at_c, _BOILING_C) < core.at_c:
        steams = "; food gets no hotter than water boils" if core.at_c > _BOILING_C else ""
        raise NeverHot(
            f"{medium.name} at {medium.at_c:g} C: the middle never gets to {core.at_c:g} C{steams}"
        )
    if core.start_c < _FREEZING_C:
        raise NeverHot("what is frozen takes much longer than this sum says: thaw it first")
    if core.start_c > medium.at_c:
        raise NeverHot(f"it starts at {core.start_c:g} C, hotter than the {medium.name}")
