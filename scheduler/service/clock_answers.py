"""What Crockbell has to say of food out of temperature control."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from scheduler.domain.kitchen.holding import Clock
from scheduler.domain.kitchen.rules import Rules
from scheduler.domain.stages import Stage

TENTHS = 10
"""Temperatures travel in buttons as whole tenths of a degree."""

ClockLine = tuple[str, str, datetime]
"""A clock that runs, for a list: what it is of, what must be true next, and by when."""


class ClockTold(StrEnum):
    """What is told of a clock."""

    STARTED = "started"
    RUNS = "runs already"
    STOPPED = "stopped"
    MEASURED = "measured"
    ASKED = "asked"
    LATER = "later"
    WARM = "still warm"
    RULE = "rule"
    IN_THE_COLD = "in the cold"
    BACK = "runs as before"
    GONE = "never began"


@dataclass(frozen=True, slots=True)
class ClockRef:
    """Which clock it is: one of a plan by a step of its food and its number; else the `loose` one of that name."""

    plan: int | None = None
    step: int | None = None
    number: int = 0
    loose: str = ""


@dataclass(frozen=True, slots=True)
class ClockIs:
    """One clock as it stands at `now`. `at` is when it was stopped, or when it will be spoken of again; `celsius`
    what was measured. WARM asks for the temperature.
    """

    about: ClockTold
    name: str
    clock: Clock
    ref: ClockRef
    rules: Rules
    zone: str
    now: datetime
    at: datetime | None = None
    celsius: float | None = None


@dataclass(frozen=True, slots=True)
class ClockDue:
    """A limit of a clock that belongs to no plan: ahead of it (CLOSING), or at it (MISSED)."""

    name: str
    clock: Clock
    stage: Stage
    limit: datetime
    rules: Rules
    zone: str
    now: datetime


@dataclass(frozen=True, slots=True)
class NoClock:
    """None runs for what was named; `others` are what does run."""

    name: str = ""
    others: tuple[str, ...] = ()
