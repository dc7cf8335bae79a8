"""What a cook's words can mean: the vocabulary between understanding and doing."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime, timedelta
from enum import StrEnum
from typing import Protocol

from scheduler.domain.plan import Plan
from scheduler.domain.progress import Progress
from scheduler.domain.stages import About
from scheduler.domain.timetable import Timetable


class Command(StrEnum):
    DONE = "done"
    STARTED = "started"
    LATER = "later"
    LATE = "late"
    NEXT = "next"
    DAY = "day"
    PLAN = "plan"
    WHEN = "when"
    WHY = "why"
    SERVE = "serve"
    SKIP = "skip"
    RUINED = "ruined"
    UNDO = "undo"
    TIMER = "timer"
    CANCEL_TIMER = "cancel timer"
    SHOP = "shop"
    AMOUNT = "amount"
    SUM = "sum"
    SERVES = "serves"
    CLOCK = "clock"
    NOTE = "note"
    QUIET = "quiet"
    STOP = "stop"
    HELP = "help"
    ACK = "ack"
    YES = "yes"
    NO = "no"
    SAFETY = "safety"
    ASK_WHICH = "ask which"
    UNCLEAR = "unclear"


@dataclass(frozen=True, slots=True)
class Target:
    """What a command is about: a step; its tend; or, `whole`, the component it belongs to.

    `label` is the plan's own name for it.
    """

    step: int
    label: str
    tend: bool = False
    whole: bool = False


@dataclass(frozen=True, slots=True)
class Understood:
    """A command with what was said about it; every time an aware UTC instant.

    `steps` are the targets it may be about, likeliest first. `at` is the time a mark is about, or the serving
    hour asked for; `until` how long something is put off; `length` a length that was named. `confirm`:
    ask before it counts. Not `sure`: ask what was meant, and do nothing yet. `rest`: what else was said in the
    same breath, and is not part of this.
    """

    command: Command
    steps: tuple[Target, ...] = ()
    at: datetime | None = None
    until: datetime | None = None
    length: timedelta | None = None
    detail: str = ""
    confirm: bool = False
    sure: bool = True
    rest: str = ""


@dataclass(frozen=True, slots=True)
class ZonesMeant:
    """What a cook's words say of their time zone: IANA names, likeliest first; `certain` only of a single one."""

    names: tuple[str, ...] = ()
    certain: bool = False


@dataclass(frozen=True, slots=True)
class Context:
    """What words are understood against. `asked` is what the cook was last nudged about."""

    now: datetime
    zone: str
    plan: Plan | None = None
    timetable: Timetable | None = None
    standing: Progress | None = None
    asked: Target | None = None
    asked_about: About | None = field(default=None)


class Understand(Protocol):
    """Turns a cook's words into a command. Pure; never raises, whatever the text."""

    def __call__(self, text: str, context: Context) -> Understood: ...
