"""The middle of a piece over time, and the first minute at which something has been done to it."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import pairwise

from scheduler.domain.kitchen.heat.lethality import Point, turns_at
from scheduler.domain.kitchen.heat.pieces import Piece

Part = Callable[[Point, Point], float]
"""What a stretch of the curve adds: `Kills.part` or `Holds.part`."""

MOST_MIN = 72 * 60
"""Nothing is worked out beyond three days."""

# A part in forty of the time constant, for eight of them; then the middle hardly moves and the steps double.
_PER_CONSTANT = 40
_CONSTANTS = 8


@dataclass(frozen=True, slots=True)
class Course:
    """The middle of a piece: `start_c` at first, drawn to `drawn_to_c`, never counted as more than `most_c`.

    A course that is worked out is the same however long it is followed, so that what was done by a minute never
    shrinks later. `points` are (minutes, degrees Celsius); lines from `turned` on run below the curve.
    """

    piece: Piece
    transfer_w_m2k: float
    start_c: float
    drawn_to_c: float
    most_c: float
    points: tuple[Point, ...] = ()
    turned: int = 0

    def __post_init__(self) -> None:
        points = tuple((minute, self.middle_c(minute)) for minute in self._minutes())
        object.__setattr__(self, "points", points)
        object.__setattr__(self, "turned", turns_at(points))

    def middle_c(self, minutes: float) -> float:
        """The middle after so long, in degrees Celsius."""
        share = self.piece.left(self.transfer_w_m2k, minutes * 60)
        return min(self.most_c, self.drawn_to_c - (self.drawn_to_c - self.start_c) * share)

    def reaches(self, at_c: float) -> int | None:
        """The first whole minute at which the middle is that hot; None within three days."""
        return first_minute(lambda minute: self.middle_c(minute) >= at_c, 0, MOST_MIN)

    def stretches(self) -> Iterator[tuple[Point, Point]]:
        """The curve on the safe side, stretch by stretch."""
        for line, (first, second) in enumerate(pairwise(self.points)):
            yield first, self._end(line, second)

    def done(self, part: Part, minutes: float) -> float:
        """The sum of a part over the curve up to a moment."""
        whole = sum(part(first, second) for first, second in self.stretches() if second[0] <= minutes)
        return whole + self._begun(part, minutes)

    def first_done(self, part: Part, enough: float) -> int | None:
        """The first whole minute by which the sum is enough; None within three days."""
        total = 0.0
        for first, second in self.stretches():
            more = part(first, second)
            if total + more >= enough:
                low, high = math.ceil(first[0]), math.ceil(second[0])
                return first_minute(lambda minute: self.done(part, minute) >= enough, low, high)
            total += more
        return None

    def _begun(self, part: Part, minutes: float) -> float:
        line = next((n for n, (a, b) in enumerate(pairwise(self.points)) if a[0] < minutes < b[0]), None)
        if line is None:
            return 0.0
        return part(self.points[line], self._end(line, (minutes, self.middle_c(minutes))))

    def _end(self, line: int, second: Point) -> Point:
        return second if line >= self.turned else (second[0], self.points[line][1])

    def _minutes(self) -> Iterator[float]:
        step = self.piece.settles_s(self.transfer_w_m2k) / 60 / _PER_CONSTANT
        for number in range(_CONSTANTS * _PER_CONSTANT):
            yield number * step
        minute = _CONSTANTS * _PER_CONSTANT * step
        while minute < MOST_MIN:
            yield minute
            step *= 2
            minute += step
        yield max(minute, float(MOST_MIN))


def first_minute(true_from: Callable[[int], bool], low: int, high: int) -> int | None:
    """The first whole minute from `low` to `high` from which on something is true; None where it is not at `high`."""
    if not true_from(high):
        return None
    while low < high:
        middle = (low + high) // 2
        low, high = (low, middle) if true_from(middle) else (middle + 1, high)
    return low
