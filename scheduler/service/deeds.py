"""What a button or a sentence asks for, in a form short enough to travel in a button."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum

from scheduler.domain.plan import MINUTE
from scheduler.domain.timetable import EPOCH


class Verb(StrEnum):
    DONE = "done"
    START = "start"
    LATER = "later"
    NOT_YET = "notyet"
    SKIP = "skip"
    LEAVE_OUT = "leave"
    RUINED = "ruined"
    AGAIN = "again"
    BACK = "back"
    SERVE = "serve"
    USE = "use"
    DISCARD = "drop"
    UNDO = "undo"
    REDO = "redo"
    NEXT = "next"
    DAY = "day"
    PLAN = "plan"
    WHY = "why"
    STOP = "stop"
    KEEP = "keep"
    WAY = "way"
    WAYS = "ways"
    RECKON = "reckon"
    COLD = "cold"
    WARM = "warm"
    RULE = "rule"


FIELDS = 6
SURE = "!"


@dataclass(frozen=True, slots=True)
class Deed:
    """One thing to do to a plan.

    `occurrence` names a touch. `at` is when it happened, or the serving hour; `until`, or so many `minutes`
    from when it is asked, say how long something is put off. LEAVE_OUT, RUINED, AGAIN (from its start) and
    BACK (what was left out of it) mean the whole component of `step`. `sure`: asked back once, and meant.
    WAY makes a change: see service.ways, which fills the fields. RECKON counts on `minutes` tenths of a degree Celsius.
    WAYS asks what would fit, `minutes` being how
    many of the answers were shown already. COLD, WARM and RULE are about the clock of that number (`occurrence`)
    of the step's food; COLD says that it is down to so many tenths of a degree Celsius (`minutes`), or else that
    it is over.
    """

    verb: Verb
    plan: int | None = None
    step: int | None = None
    occurrence: int | None = None
    at: datetime | None = None
    until: datetime | None = None
    minutes: int | None = None
    sure: bool = False

    def encode(self) -> str:
        """Button data; times in whole minutes since 1970, so that it stays within 64 bytes."""
        fields = [
            self.plan,
            self.step,
            self.occurrence,
            _minutes(self.at),
            _minutes(self.until),
            self.minutes,
        ]
        while fields and fields[-1] is None:
            fields.pop()
        verb = f"{self.verb}{SURE if self.sure else ''}"
        return ":".join([verb, *("" if field is None else str(field) for field in fields)])

    @staticmethod
    def decode(data: str) -> Deed:
        """Read button data; ValueError for anything else."""
        verb, *fields = data.split(":")
        if len(fields) > FIELDS:
            raise ValueError(f"not a button of ours: {data!r}")
        numbers = [_number(field) for field in fields] + [None] * (FIELDS - len(fields))
        plan, step, occurrence, at, until, minutes = numbers
        kind = Verb(verb.removesuffix(SURE))
        return Deed(kind, plan, step, occurrence, _moment(at), _moment(until), minutes, verb.endswith(SURE))


def _number(field: str) -> int | None:
    if not field:
        return None
    if not (field.isascii() and field.isdigit()):
        raise ValueError(f"not a number of ours: {field!r}")
    return int(field)


def _minutes(at: datetime | None) -> int | None:
    return None if at is None else int((at - EPOCH) / MINUTE)


def _moment(minutes: int | None) -> datetime | None:
    try:
        return None if minutes is None else EPOCH + timedelta(minutes=minutes)
    except OverflowError as error:
        raise ValueError(f"no such moment: {minutes} min") from error
