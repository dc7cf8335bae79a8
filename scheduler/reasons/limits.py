"""How far one start can move in any timetable for the serving hour, and the least facts that stop it there."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime

from scheduler.domain.plan import MINUTE
from scheduler.domain.slack.room import minute, moment
from scheduler.domain.timetable import Slot
from scheduler.explain import conflict
from scheduler.facts import Fact
from scheduler.reasons.constraints import Cause, start_of
from scheduler.reasons.network import Network
from scheduler.reasons.propagate import Bounds, Crossed, Entry, TooLong
from scheduler.reasons.records import Because
from scheduler.reasons.refute import Unsettled, refuted
from scheduler.solver import Bound, Task, Verdict, fits

GIVEN = Cause(Because.MARK)
"""The cause of a bound that is only being tried."""


@dataclass(frozen=True)
class Furthest:
    """The last start (`later`) or the first, the minimal facts that it rests on, and the bound that says it.

    `entry` is None where no single chain of bounds does. `against` are the two bounds that cross, with those
    facts, were the start one mark further; empty where it takes an order of hands or gear as well.
    """

    step: int
    later: bool
    at: datetime
    facts: tuple[Fact, ...] = ()
    entry: Entry | None = None
    against: tuple[Entry, ...] = ()


class Limits:
    def __init__(self, net: Network, slot: Slot) -> None:
        self.net, self.slot = net, slot
        self.every = frozenset(net.facts)
        self.mark = net.plan.steps[slot.step].grain // MINUTE
        self.grain = 1 if slot.step in net.off_mark else self.mark
        self.task = Task(net.plan, net.progress, net.at, moment(net.serve))

    def find(self, later: bool) -> Furthest:
        """How far the start can move that way; where the timetable no longer holds, no further than it is."""
        start = self.slot.start
        try:
            bounds = Bounds(self.net.constraints(self.every))
        except (Crossed, TooLong):
            return Furthest(self.slot.step, later, start)
        entry = (bounds.upper if later else bounds.lower).get(start_of(self.slot.step))
        if entry is None or (moment(entry.at) < start if later else moment(entry.at) > start):
            return Furthest(self.slot.step, later, start)
        if self._solved(entry.at, later):
            facts = self._fewest(entry.facts(), self._past(entry.at, later))
            return Furthest(self.slot.step, later, moment(entry.at), facts, entry)
        at = self._between(entry.at, later)
        facts = self._facts(at, later)
        return Furthest(self.slot.step, later, moment(at), facts, against=self._against(facts, at, later))

    # ------------------------------------------------------------ how far

    def _between(self, bound: int, later: bool) -> int:
        """The furthest start, between where it is, which is one, and a bound, which is not."""
        step = self.grain if later else -self.grain
        here = minute(self.slot.start)
        good, bad = 0, -(-abs(bound - here) // self.grain)
        while bad - good > 1:
            middle = (good + bad) // 2
            at = here + middle * step
            possible = not self._refuted(self._given(at, later)) and self._solved(at, later)
            good, bad = (middle, bad) if possible else (good, middle)
        return here + good * step

    def _given(self, at: int, later: bool) -> Entry:
        return Entry(start_of(self.slot.step), at, not later, GIVEN)

    def _past(self, at: int, later: bool) -> Entry:
        """One mark further than a start."""
        return self._given(at + self.mark if later else at - self.mark, later)

    def _bounded(self, at: int, later: bool) -> Task:
        when = moment(at)
        bound = Bound(self.slot.step, not_before=when) if later else Bound(self.slot.step, not_after=when)
        return replace(self.task, bounds=(bound,))

    def _solved(self, at: int, later: bool) -> bool:
        return fits(self._bounded(at, later)) is not Verdict.INFEASIBLE

    # ------------------------------------------------------------ why no further

    def _facts(self, at: int, later: bool) -> tuple[Fact, ...]:
        past = self._past(at, later)
        try:
            found = refuted(self.net, self.every, [past])
        except Unsettled:
            found = None
        if found is None:
            return conflict(self._bounded(past.at, later))
        return self._fewest(found, past)

    def _fewest(self, facts: Iterable[Fact], given: Entry) -> tuple[Fact, ...]:
        """The facts, without those that can be left out and it still cannot be."""
        kept = [fact for fact in self.net.facts if fact in set(facts)]
        for fact in reversed(tuple(kept)):
            fewer = [other for other in kept if other != fact]
            if self._refuted(given, frozenset(fewer)):
                kept = fewer
        return tuple(kept)

    def _against(self, facts: tuple[Fact, ...], at: int, later: bool) -> tuple[Entry, ...]:
        try:
            Bounds(self.net.constraints(frozenset(facts)), given=[self._past(at, later)])
        except Crossed as crossed:
            return crossed.low, crossed.high
        except TooLong:
            return ()
        return ()

    def _refuted(self, given: Entry, kept: frozenset[Fact] | None = None) -> bool:
        try:
            return refuted(self.net, self.every if kept is None else kept, [given]) is not None
        except Unsettled:
            return False
