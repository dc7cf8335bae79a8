"""The two kinds of constraint on starts and ends, each with the facts it rests on; times in whole minutes."""

from __future__ import annotations

from bisect import bisect_right
from collections import defaultdict
from dataclasses import dataclass
from functools import cached_property

from scheduler.domain.slack.room import NEVER
from scheduler.facts import Fact
from scheduler.reasons.records import Because

Ranges = list[tuple[int, int]]
"""Closed, in order, in minutes since 1970-01-01 00:00 UTC."""


@dataclass(frozen=True, slots=True, eq=False)
class Cause:
    """Why one bound follows from another: facts it rests on, and what it is about; `length` in minutes."""

    because: Because
    facts: frozenset[Fact] = frozenset()
    step: int | None = None
    other: int | None = None
    length: int = 0


@dataclass(frozen=True, slots=True, eq=False)
class Edge:
    """Moment `x` lies at most `most` minutes after moment `y`."""

    x: int
    y: int
    most: int
    cause: Cause


@dataclass(frozen=True, slots=True, eq=False)
class Hours:
    """A moment lies in one of the ranges, as far as they reach (in `known`), or on a mark `grid` apart."""

    cause: Cause
    ranges: Ranges
    known: tuple[int, int]
    grid: int = 1

    def down(self, at: int) -> int:
        """The last allowed moment not after `at`."""
        if self.grid > 1:
            return at // self.grid * self.grid
        if not self.known[0] <= at <= self.known[1]:
            return at
        index = bisect_right(self.ranges, (at, NEVER)) - 1
        return min(self.ranges[index][1], at) if index >= 0 else self.known[0] - 1

    def up(self, at: int) -> int:
        """The first allowed moment not before `at`."""
        if self.grid > 1:
            return -(-at // self.grid) * self.grid
        if not self.known[0] <= at <= self.known[1]:
            return at
        index = bisect_right(self.ranges, (at, NEVER)) - 1
        if index >= 0 and at <= self.ranges[index][1]:
            return at
        return self.ranges[index + 1][0] if index + 1 < len(self.ranges) else self.known[1] + 1


@dataclass(frozen=True, slots=True, eq=False)
class Limit:
    """A moment is at most (`upper`) or at least `at`."""

    moment: int
    at: int
    upper: bool
    cause: Cause


@dataclass(frozen=True)
class Constraints:
    edges: tuple[Edge, ...]
    hours: dict[int, list[Hours]]
    limits: tuple[Limit, ...]

    @cached_property
    def by_y(self) -> dict[int, list[Edge]]:
        found: dict[int, list[Edge]] = defaultdict(list)
        for edge in self.edges:
            found[edge.y].append(edge)
        return found

    @cached_property
    def by_x(self) -> dict[int, list[Edge]]:
        found: dict[int, list[Edge]] = defaultdict(list)
        for edge in self.edges:
            found[edge.x].append(edge)
        return found


def start_of(step: int) -> int:
    return 2 * step


def end_of(step: int) -> int:
    return 2 * step + 1
