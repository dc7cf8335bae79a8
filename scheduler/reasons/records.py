"""Why a step is when it is, as records from which every number can be worked out again."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum

from scheduler.domain.progress import State
from scheduler.facts import Fact, FactKind


class Because(StrEnum):
    """What a reason is about. The first are facts of the plan; LONGEST, WAIT, MARK, BEGUN and OVER
    cannot be left out; from FRESH on it is what the planner prefers.
    """

    NOW = FactKind.NOW.value
    SERVE = FactKind.SERVE.value
    LENGTH = FactKind.LENGTH.value
    KEEPS = FactKind.KEEPS.value
    HOURS = FactKind.HOURS.value
    ONLY = FactKind.ONLY.value
    COOK = FactKind.COOK.value
    GEAR = FactKind.GEAR.value
    PUT_OFF = FactKind.PUT_OFF.value
    LONGEST = "longest"
    WAIT = "wait"
    MARK = "mark"
    BEGUN = "begun"
    OVER = "over"
    FRESH = "fresh"
    FOLLOWS = "follows"
    ROOM = "room"


@dataclass(frozen=True, slots=True)
class Reason:
    """One link of a chain.

    `step` is what it speaks of, `other` the step that comes after that one (None: the table, or nothing), and
    `name` the cook or the gear. `by` is the moment that follows from it (of the step's `end`, else of a
    start), and `at` the moment it follows from. `length` is how long a step takes, may take or keeps.
    `facts` are those of the minimal set that it rests on; empty where it cannot be left out, or where leaving
    it out alone would not help. For hours: nobody is there from `since` to `until`, `asleep` where that is the
    night; both None where they are not known.
    """

    because: Because
    facts: tuple[Fact, ...] = ()
    step: int | None = None
    other: int | None = None
    name: str | None = None
    by: datetime | None = None
    at: datetime | None = None
    length: timedelta | None = None
    since: datetime | None = None
    until: datetime | None = None
    asleep: bool = False
    end: bool = False


@dataclass(frozen=True)
class Reasons:
    """Why one step is when it is.

    `latest` and `earliest`: the last and the first start of the step in any timetable for this serving hour
    (once it has begun: the last moment it may end, and when it began);
    `no_later` and `no_earlier` say why, from the step outwards, and `facts_later` and `facts_earlier` are
    minimal sets of facts: with any one of them left out, and no other facts than these, the step could start
    one mark further. `preferred` says why it lies where it does between the two.
    """

    step: int
    state: State
    start: datetime
    end: datetime
    latest: datetime
    earliest: datetime
    no_later: tuple[Reason, ...] = ()
    no_earlier: tuple[Reason, ...] = ()
    preferred: tuple[Reason, ...] = ()
    facts_later: tuple[Fact, ...] = ()
    facts_earlier: tuple[Fact, ...] = ()
