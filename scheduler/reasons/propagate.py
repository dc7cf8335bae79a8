"""Bounds drawn from bounds until nothing changes, each remembering what it was drawn from.

Over constraints of the network's two kinds this decides whether they can hold together: where no bound
crosses another, taking every moment at its upper bound keeps to all of them (they are closed under taking
the later of two solutions; Jeavons and Cooper, "Tractable constraints on ordered domains", 1995).
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from scheduler.facts import Fact
from scheduler.reasons.constraints import Cause, Constraints, Edge, Hours

MOST_CHANGES = 4000
"""Changes of a bound after which the work is given up: bounds that creep prove nothing in good time."""


@dataclass(frozen=True, slots=True, eq=False)
class Entry:
    """One bound, `upper` or lower, of one moment, and the bound it was drawn from (None: it stands alone).

    `hours` where it was moved into hours or onto a mark.
    """

    moment: int
    at: int
    upper: bool
    cause: Cause
    source: Entry | None = None
    hours: Hours | None = None

    def chain(self) -> Iterator[Entry]:
        """This bound, the one it was drawn from, and so on."""
        here: Entry | None = self
        while here is not None:
            yield here
            here = here.source

    def facts(self) -> frozenset[Fact]:
        return frozenset(fact for entry in self.chain() for fact in entry.cause.facts)

    def causes(self) -> set[int]:
        return {id(entry.cause) for entry in self.chain()}


class Crossed(Exception):
    """A lower bound passed an upper one: these constraints cannot hold together."""

    def __init__(self, low: Entry, high: Entry) -> None:
        super().__init__("the bounds of a moment cross")
        self.low, self.high = low, high


class TooLong(Exception):
    """Bounds crept on without end in sight."""


class Bounds:
    """The bounds of every moment; `upper` and `lower` by moment, absent where there is none."""

    def __init__(
        self, constraints: Constraints, more: Iterable[Edge] = (), given: Iterable[Entry] = ()
    ) -> None:
        """Draws every bound at once. `given` bounds come on top. Raises Crossed, or TooLong."""
        self.constraints, self.more = constraints, tuple(more)
        self.upper: dict[int, Entry] = {}
        self.lower: dict[int, Entry] = {}
        self._changed: deque[Entry] = deque()
        for limit in constraints.limits:
            self._take(Entry(limit.moment, limit.at, limit.upper, limit.cause))
        for entry in given:
            self._take(entry)
        self._run()

    def _run(self) -> None:
        changes = 0
        while self._changed:
            entry = self._changed.popleft()
            if (self.upper if entry.upper else self.lower).get(entry.moment) is not entry:
                continue
            changes += 1
            if changes > MOST_CHANGES:
                raise TooLong
            for drawn in self._drawn(entry):
                self._take(drawn)

    def _take(self, entry: Entry) -> None:
        side, other = (self.upper, self.lower) if entry.upper else (self.lower, self.upper)
        known, against = side.get(entry.moment), other.get(entry.moment)
        if known is not None and (known.at <= entry.at if entry.upper else known.at >= entry.at):
            return
        side[entry.moment] = entry
        if against is not None and (against.at > entry.at if entry.upper else against.at < entry.at):
            raise Crossed(*((against, entry) if entry.upper else (entry, against)))
        self._changed.append(entry)

    def _drawn(self, entry: Entry) -> Iterator[Entry]:
        for hours in self.constraints.hours.get(entry.moment, ()):
            at = hours.down(entry.at) if entry.upper else hours.up(entry.at)
            if at != entry.at:
                yield Entry(entry.moment, at, entry.upper, hours.cause, entry, hours)
        if entry.upper:
            for edge in (*self.constraints.by_y.get(entry.moment, ()), *self.more):
                if edge.y == entry.moment:
                    yield Entry(edge.x, entry.at + edge.most, True, edge.cause, entry)
        else:
            for edge in (*self.constraints.by_x.get(entry.moment, ()), *self.more):
                if edge.x == entry.moment:
                    yield Entry(edge.y, entry.at - edge.most, False, edge.cause, entry)
