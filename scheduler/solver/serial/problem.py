"""A plan as arrays: the moments of each head, what they cost, and how two heads are bound to each other."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from scheduler.solver.network import Edge
from scheduler.solver.places import Place, Places
from scheduler.solver.serial.arrays import NEVER, Costs, Moments, Windows, doubled, moments_in
from scheduler.solver.serial.waits import Wait, waits, whims

At = dict[int, int]
"""Where heads are: head -> minutes from the base."""


@dataclass(frozen=True, slots=True)
class Gap:
    """The cost of a wait as a function of how far apart the heads of an arc are, or (`back`) of its opposite."""

    wait: Wait
    by: int
    back: bool = False

    def costs(self, apart: Moments) -> Costs:
        return self.wait.costs((-apart if self.back else apart) + self.by)

    def changes(self) -> list[int]:
        if self.back:
            return [self.by - at + 1 for at in self.wait.changes()]
        return [at - self.by for at in self.wait.changes()]


class Arc:
    """What binds two heads: bounds on their distance, and what each distance within them costs."""

    def __init__(self, edge: Edge, costs: list[Gap]) -> None:
        self.earlier, self.later = edge.earlier, edge.later
        self.low, self.high = edge.low, edge.high
        self._costs = costs
        changes = {at for gap in costs for at in gap.changes() if self.low < at <= self.high}
        self.lows = np.array(sorted({self.low} | changes), dtype=np.int64)
        self.highs = np.append(self.lows[1:] - 1, self.high)
        self.prices = np.zeros(len(self.lows), dtype=np.float64)
        for gap in costs:
            # A gap longer than is followed may cost more than this; the least of it is what a bound may count.
            self.prices += np.minimum(gap.costs(self.lows), gap.costs(self.highs))
        self._windows: dict[bool, list[tuple[Windows, float]]] = {}

    def other(self, head: int) -> int:
        return self.later if head == self.earlier else self.earlier

    def from_fixed(self, head: int, moments: Moments, fixed: int) -> Costs:
        """What each moment of `head` costs while the other head is at `fixed`."""
        apart = moments - fixed if head == self.later else fixed - moments
        index = np.searchsorted(self.lows, apart, side="right") - 1
        costs = self.prices[np.maximum(index, 0)]
        costs[(apart < self.low) | (apart > self.high)] = NEVER
        return np.asarray(costs, dtype=np.float64)

    def price(self, apart: int) -> float:
        """What one distance costs, exactly."""
        index = max(0, int(np.searchsorted(self.lows, apart, side="right")) - 1)
        if self._costs and index in (0, len(self.lows) - 1):
            return sum(float(gap.costs(np.array([apart], dtype=np.int64))[0]) for gap in self._costs)
        return float(self.prices[index])

    def message(self, problem: Problem, head: int, costs: Costs) -> Costs:
        """For each moment of `head`, the least that the other head (with such costs) and the gap can cost."""
        windows = self._of(problem, head)
        table = doubled(costs, max(window.levels for window, _ in windows))
        found = windows[0][0].lowest(table) + windows[0][1]
        for window, price in windows[1:]:
            np.minimum(found, window.lowest(table) + price, out=found)
        return found

    def _of(self, problem: Problem, head: int) -> list[tuple[Windows, float]]:
        forward = head == self.earlier
        if forward not in self._windows:
            mine, theirs = problem.moments[head], problem.moments[self.other(head)]
            found = []
            for low, high, price in zip(self.lows, self.highs, self.prices, strict=True):
                reach = (int(low), int(high)) if forward else (-int(high), -int(low))
                window = Windows(mine, theirs, *reach)
                if not window.empty.all():
                    found.append((window, float(price)))
            self._windows[forward] = found or [(Windows(mine, theirs, 1, 0), 0.0)]
        return self._windows[forward]


class Problem:
    """`moments` and `own` (costs of a moment alone) by head; `fixed`: what is already settled costs."""

    def __init__(self, places: Places, costs: bool = True) -> None:
        self.places = places
        self.moments = [moments_in(head.allowed, head.unit) for head in places.heads]
        self.own = [np.zeros(len(each), dtype=np.float64) for each in self.moments]
        self.fixed = 0
        self.waits = list(waits(places)) if costs else []
        self.whims = list(whims(places)) if costs else []
        self._pairs = {(edge.earlier, edge.later) for edge in places.edges}
        for whim in self.whims:
            self._add(whim.place, whim.costs)
        between: dict[tuple[int, int], list[Gap]] = {}
        for wait in self.waits:
            self._take(wait, between)
        self.arcs = [Arc(edge, between.get((edge.earlier, edge.later), [])) for edge in places.edges]

    def _add(self, place: Place, costs: Callable[[Moments], Costs]) -> None:
        if place.head is not None:
            self.own[place.head] += costs(self.moments[place.head] + place.offset)

    def _take(self, wait: Wait, between: dict[tuple[int, int], list[Gap]]) -> None:
        one, other = wait.first, wait.second
        if one.head == other.head:
            self.fixed += wait.cost(other.offset - one.offset)
        elif one.head is None:
            self._add(other, lambda at: wait.costs(at - one.offset))
        elif other.head is None:
            self._add(one, lambda at: wait.costs(other.offset - at))
        else:
            by = other.offset - one.offset
            back = (one.head, other.head) not in self._pairs
            key = (other.head, one.head) if back else (one.head, other.head)
            between.setdefault(key, []).append(Gap(wait, by, back))

    @cached_property
    def touching(self) -> list[list[Arc]]:
        """The arcs of each head."""
        found: list[list[Arc]] = [[] for _ in self.moments]
        for arc in self.arcs:
            found[arc.earlier].append(arc)
            found[arc.later].append(arc)
        return found

    def own_at(self, head: int, moment: int) -> float:
        """What one moment of a head costs by itself."""
        return float(self.own[head][np.searchsorted(self.moments[head], moment)])

    def moment(self, place: Place, at: At) -> int:
        return place.offset if place.head is None else at[place.head] + place.offset

    def cost(self, at: At) -> int:
        """What a whole placement costs, exactly as the preferences have it."""
        total = sum(
            wait.cost(self.moment(wait.second, at) - self.moment(wait.first, at)) for wait in self.waits
        )
        for whim in self.whims:
            total += int(whim.costs(np.array([self.moment(whim.place, at)]))[0])
        return total
