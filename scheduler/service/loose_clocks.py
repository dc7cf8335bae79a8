"""Clocks of food that is no plan's: kept in the outbox, as the messages still owed, like the timers they resemble.

They need no plan under way, outlast the process, and end when the last of their messages was sent or taken back.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from scheduler.domain.clocks import FoodClock, measured
from scheduler.domain.kitchen.holding import Clock, Kind
from scheduler.domain.nudges import Policy
from scheduler.domain.nudges.clocks import limits_of
from scheduler.domain.stages import About, Stage
from scheduler.ports import UnitOfWork
from scheduler.records import Kind as LetterKind
from scheduler.records import Letter

URGENCY = 1
"""As for any limit that is about to pass."""

FACT = "clock"
"""The fact of a letter that holds the clock it is about."""


@dataclass(frozen=True, slots=True)
class LooseClock:
    """`id` tells it apart, `name` is what it is of, `known` when the cook first said so."""

    id: str
    name: str
    clock: Clock
    known: datetime

    def with_reading(self, at: datetime, celsius: float) -> LooseClock:
        return replace(self, clock=measured(self.clock, at, celsius))


def is_loose_clock(letter: Letter) -> bool:
    return FACT in letter.facts


def running(uow: UnitOfWork, chat: int) -> list[LooseClock]:
    """Those with a message still owed, the soonest first."""
    found: dict[str, LooseClock] = {}
    for letter in uow.outbox.timers(chat):
        clock = clock_of(letter)
        if clock is not None:
            found.setdefault(clock.id, clock)
    return list(found.values())


def owe(uow: UnitOfWork, chat: int, clock: LooseClock, policy: Policy) -> None:
    """Owe what is to be said of a clock and nothing else of it; what was sent already is not owed again."""
    end(uow, chat, clock.id)
    uow.outbox.put(list(_letters(chat, clock, policy)))


def end(uow: UnitOfWork, chat: int, identity: str) -> None:
    """Take back what was still to be said of it."""
    for letter in uow.outbox.timers(chat):
        clock = clock_of(letter)
        if clock is not None and clock.id == identity:
            uow.outbox.withdraw(letter)


def _letters(chat: int, clock: LooseClock, policy: Policy) -> Iterator[Letter]:
    """A message ahead of each limit that is to come, and one at it."""
    for stage, due, limit in limits_of(FoodClock(clock.name, clock.clock, 0, known=clock.known), policy):
        yield Letter(
            chat,
            LetterKind.NUDGE,
            due,
            f"clock/{clock.id}/{stage}/{limit:%Y%m%dT%H%M}",
            stage=stage,
            about=About.TIMER,
            subject=limit,
            expires=limit if stage is Stage.CLOSING else limit + policy.clock_useful,
            facts={"label": clock.name, FACT: _as_facts(clock)},
            priority=URGENCY,
        )


def clock_of(letter: Letter) -> LooseClock | None:
    """The clock that a message is about, if it is about one that belongs to no plan."""
    if not is_loose_clock(letter):
        return None
    return _of(str(letter.facts["label"]), letter.facts[FACT])


def kept(clock: LooseClock) -> dict[str, Any]:
    """What it is, to be put back as it was."""
    return {"label": clock.name, FACT: _as_facts(clock)}


def of_kept(told: dict[str, Any]) -> LooseClock:
    """The other way round."""
    return _of(str(told["label"]), told[FACT])


def _of(name: str, facts: dict[str, Any]) -> LooseClock:
    readings = tuple((datetime.fromisoformat(at), float(celsius)) for at, celsius in facts["readings"])
    clock = Clock(Kind(facts["kind"]), datetime.fromisoformat(facts["started"]), readings)
    known = datetime.fromisoformat(facts["known"])
    return LooseClock(str(facts["id"]), name, clock, known)


def _as_facts(clock: LooseClock) -> dict[str, Any]:
    of = clock.clock
    return {
        "id": clock.id,
        "kind": of.kind.value,
        "started": of.started.isoformat(),
        "known": clock.known.isoformat(),
        "readings": [[at.isoformat(), celsius] for at, celsius in of.readings],
    }
