"""What a table of holding times says at a temperature, and of a curve."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from scheduler.domain.kitchen.heat.lethality import Point
from scheduler.domain.kitchen.sources import Source


@dataclass(frozen=True, slots=True)
class Holds:
    """`rows` are (degrees Celsius as printed, seconds), hotter ones later and never longer.

    ValueError for rows that are empty or out of that order.
    """

    name: str
    source: Source
    rows: tuple[tuple[float, float], ...]

    def __post_init__(self) -> None:
        ordered = all(a[0] < b[0] and a[1] >= b[1] for a, b in pairwise(self.rows))
        if not self.rows or not ordered:
            raise ValueError(f"the rows of {self.name} are not in order")

    @property
    def lowest_c(self) -> float:
        """The first temperature of the table."""
        return self.rows[0][0]

    def seconds_at(self, at_c: float) -> float | None:
        """The hold at a temperature: that of the next lower row printed, never between rows. None below the first."""
        place = bisect_right(self.rows, at_c, key=lambda row: row[0])
        return self.rows[place - 1][1] if place else None

    def share(self, rising: Sequence[Point]) -> float:
        """How much of the hold a rising curve (minutes, degrees Celsius) has had: 1 is all of it."""
        return sum(self.part(first, second) for first, second in pairwise(rising))

    def part(self, first: Point, second: Point) -> float:
        """The share one stretch adds, counted at its lower end; a row of 0 s is met as soon as it is reached."""
        if self.seconds_at(second[1]) == 0:
            return 1.0
        hold = self.seconds_at(first[1])
        return (second[0] - first[0]) * 60 / hold if hold else 0.0


def strictest(name: str, source: Source, *tables: Holds) -> Holds:
    """At each temperature that all of them cover the longest hold of several tables."""
    first = max(table.lowest_c for table in tables)
    printed = sorted({row[0] for table in tables for row in table.rows if row[0] >= first})
    longest = ((at, max(table.seconds_at(at) or 0.0 for table in tables)) for at in printed)
    return Holds(name, source, tuple(longest))
