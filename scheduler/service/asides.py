"""What Crockbell has to say that is about no plan: getting to know each other, timers, quiet, misunderstandings."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from scheduler.service.clock_answers import ClockLine

Timer = tuple[str, datetime]
"""A timer that runs: its label, which may be empty, and when it goes off."""


@dataclass(frozen=True, slots=True)
class Welcome:
    """First contact; asks for the zone. `held`: a plan came too early and is kept until it can be read."""

    name: str = ""
    held: bool = False


@dataclass(frozen=True, slots=True)
class ZoneUnclear:
    said: str
    nearest: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class AskHours:
    zone: str
    now: datetime
    held: bool = False


@dataclass(frozen=True, slots=True)
class HoursUnclear:
    said: str
    expected: str


@dataclass(frozen=True, slots=True)
class Settled:
    """Zone and hours are known; says how to send a plan."""

    zone: str
    awake: str


@dataclass(frozen=True, slots=True)
class TimerSet:
    label: str
    length: timedelta
    due: datetime
    zone: str


@dataclass(frozen=True, slots=True)
class TimerGone:
    label: str
    found: bool


@dataclass(frozen=True, slots=True)
class TimersAre:
    """The timers that run, by when they go off, and food out of temperature control; there may be none."""

    timers: tuple[Timer, ...]
    zone: str
    now: datetime
    clocks: tuple[ClockLine, ...] = ()


@dataclass(frozen=True, slots=True)
class QuietUntil:
    """Held back until then; an hour that is past ends the quiet."""

    until: datetime
    zone: str
    now: datetime


@dataclass(frozen=True, slots=True)
class AsItWas:
    """Nothing was changed, as the cook wished."""


@dataclass(frozen=True, slots=True)
class Help:
    ready: bool = True


@dataclass(frozen=True, slots=True)
class NoPlan:
    """There is no plan under way to answer from."""


@dataclass(frozen=True, slots=True)
class Unclear:
    said: str
    ready: bool = True


@dataclass(frozen=True, slots=True)
class Failed:
    """Something of ours went wrong; nothing was changed."""


@dataclass(frozen=True, slots=True)
class Undelivered:
    """A message the transport would not carry, told more plainly."""

    what: str
