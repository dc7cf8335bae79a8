"""Simple temporal networks with uncertainty.

A network has time points, constraints between them and contingent links, whose length nature chooses within
a range and which is seen only when it has passed (Vidal and Ghallab 1996; Morris, Muscettola and Vidal, "Dynamic
control of plans with temporal uncertainty", IJCAI 2001).
"""

from __future__ import annotations

from collections.abc import Hashable, Iterator
from dataclasses import dataclass
from typing import NamedTuple

ZERO = 0
"""The point that every network begins with: the origin of time."""


@dataclass(frozen=True, slots=True, eq=False)
class Edge:
    """The time of `head` is at most `weight` after the time of `tail`.

    `link` numbers the contingent link of a lower or upper case edge. `why` is the caller's, and `via` holds the
    edges that one that was derived stands for.
    """

    tail: int
    head: int
    weight: int
    why: Hashable = None
    lower: int | None = None
    upper: int | None = None
    via: tuple[Edge, ...] = ()

    def originals(self) -> Iterator[Edge]:
        """The edges as they were given."""
        if not self.via:
            yield self
        for edge in self.via:
            yield from edge.originals()


@dataclass(frozen=True, slots=True)
class Contingent:
    """`end` comes between `low` and `high` after `begin`, as nature has it; `activated` is `begin` + `low`."""

    begin: int
    end: int
    low: int
    high: int
    activated: int
    why: Hashable


class Wait(NamedTuple):
    """`point` comes no sooner than `least` after `after`, unless the end of contingent link `link` was seen."""

    point: int
    after: int
    least: int
    link: int | None


@dataclass(frozen=True)
class Answer:
    """Whether it is controllable; if so everything that keeps a point from being early, else the witness."""

    controllable: bool
    waits: tuple[Wait, ...] = ()
    cycle: tuple[Edge, ...] = ()


class Network:
    """Built point by point and edge by edge, in whole units of time."""

    def __init__(self) -> None:
        self.count = 1
        self.edges: list[Edge] = []
        self.contingents: list[Contingent] = []

    def point(self) -> int:
        """One more point."""
        self.count += 1
        return self.count - 1

    def at_most(self, tail: int, head: int, weight: int, why: Hashable = None) -> None:
        """`head` comes at most `weight` after `tail`; a negative weight keeps it at least so long before."""
        self.edges.append(Edge(tail, head, weight, why))

    def between(self, tail: int, head: int, low: int | None, high: int | None, why: Hashable = None) -> None:
        """`head` comes between `low` and `high` after `tail`; None is no limit."""
        if low is not None:
            self.at_most(head, tail, -low, why)
        if high is not None:
            self.at_most(tail, head, high, why)

    def contingent(self, begin: int, end: int, low: int, high: int, why: Hashable = None) -> None:
        """A link whose length nature chooses. Raises ValueError when the range is empty."""
        if high < low:
            raise ValueError("a contingent link needs a range")
        activated, number = self.point(), len(self.contingents)
        self.contingents.append(Contingent(begin, end, low, high, activated, why))
        self.between(begin, activated, low, low, why)
        self.between(activated, end, 0, high - low, why)
        if high > low:
            self.edges.append(Edge(activated, end, 0, why, lower=number))
            self.edges.append(Edge(end, activated, low - high, why, upper=number))
