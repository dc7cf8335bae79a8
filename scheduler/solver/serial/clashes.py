"""Where a step would clash with those already placed, for all its moments at once."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import numpy as np

from scheduler.solver.serial.arrays import NEVER, Costs, Moments
from scheduler.solver.serial.rooms import Room, Stay
from scheduler.solver.serial.uses import Kitchen, Use, room_of

SHUT = 1e9
"""The cost of one minute that cannot be had; small enough for sums of them to be exact to a hundredth."""

Weigh = Callable[[Stay], float]
"""What it costs, a minute, to push a stay out."""


class Clashes:
    """The costs of clashing: NEVER for any clash, or (given `weigh`) by what would have to be pushed out."""

    def __init__(self, kitchen: Kitchen, weigh: Weigh | None = None) -> None:
        self.kitchen, self.weigh = kitchen, weigh

    def during(self, use: Use, starts: Moments, length: int) -> Costs:
        """What clashes cost for each stretch of `length` minutes from one of those starts."""
        if not len(starts) or length <= 0:
            return np.zeros(len(starts), dtype=np.float64)
        return self._sums(use, starts, int(starts[0]), int(starts[-1]) + length, length)

    def until(self, use: Use, start: int, ends: Moments) -> Costs:
        """What clashes cost for each stretch from one start to one of those ends."""
        low, high = start, max(start, int(ends[-1]))
        return self._least(
            [_total(costs, low, np.full(len(ends), start), ends) for costs in self._masks(use, low, high)]
        )

    def choices(self, use: Use, start: int, end: int) -> list[float]:
        """What clashes cost for one stretch, for each cook who might do it (one figure when it needs none)."""
        sums = [float(mask.sum()) for mask in self._masks(use, start, end)]
        return [NEVER if total > SHUT / 2 else total for total in sums]

    def _sums(self, use: Use, starts: Moments, low: int, high: int, length: int) -> Costs:
        return self._least(
            [_total(costs, low, starts, starts + length) for costs in self._masks(use, low, high)]
        )

    def _least(self, choices: list[Costs]) -> Costs:
        least = choices[0]
        for other in choices[1:]:
            least = np.minimum(least, other)
        least[least > SHUT / 2] = NEVER
        return least

    def _masks(self, use: Use, low: int, high: int) -> list[Costs]:
        """Minute by minute, what clashing costs; one for each cook who might do it."""
        common = np.zeros(high - low, dtype=np.float64)
        for name, count in use.needs:
            common += self._of_room(self.kitchen.rooms[name], low, high, count)
        if use.heat is not None:
            common += self._of_oven(use.heat, low, high)
        at = slice(low - self.kitchen.rooms.first, high - self.kitchen.rooms.first)
        if use.closed is not None:
            common += SHUT * use.closed[at]
        if not use.cooks:
            return [common]
        found = []
        for cook in use.cooks:
            mask = common + self._of_room(self.kitchen.rooms[f"cook {cook}"], low, high, 1)
            found.append(mask + SHUT * self.kitchen.away[cook][at] if use.hours else mask)
        return found

    def _of_room(self, room: Room, low: int, high: int, count: int) -> Costs:
        full = room.full(low, high, count)
        if self.weigh is None:
            return np.asarray(SHUT * full, dtype=np.float64)
        return np.asarray(self._weights(room, low, high) * full, dtype=np.float64)

    def _weights(self, room: Room, low: int, high: int) -> Costs:
        weights = np.zeros(high - low, dtype=np.float64)
        if self.weigh is not None:
            for stay in room.during(low, high):
                weights[max(0, stay.start - low) : stay.end - low] += self.weigh(stay)
        return weights

    def _of_oven(self, heat: int, low: int, high: int) -> Costs:
        """An oven holds one heat: what clashes is a heat more than there are ovens."""
        others = list(self._other_heats(heat))
        heats = np.zeros(high - low, dtype=np.int64)
        for room in others:
            heats += room.used(low, high)
        full = heats >= self.kitchen.ovens
        if self.weigh is None:
            return np.asarray(SHUT * full, dtype=np.float64)
        weights = sum((self._weights(room, low, high) for room in others), np.zeros(high - low))
        return np.asarray(weights * full, dtype=np.float64)

    def _other_heats(self, heat: int) -> Iterator[Room]:
        return (self.kitchen.rooms[room_of(other)] for other in self.kitchen.heats if other != heat)


def _total(mask: Costs, low: int, starts: Moments, ends: Moments) -> Costs:
    sums = np.concatenate([np.zeros(1), np.cumsum(mask)])
    found = sums[np.maximum(ends, starts) - low] - sums[starts - low]
    return np.asarray(found, dtype=np.float64)
