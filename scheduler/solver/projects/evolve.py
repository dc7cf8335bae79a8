"""An evolutionary search over activity lists, each improved by scheduling it backwards and forwards.

Sources: activity lists and two-point crossover after Hartmann (1998), double justification after Valls,
Ballestin and Quintanilla (2005). For projects whose lags are all minimum lags.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from random import Random

from scheduler.solver.projects.serial import Sides

Stop = Callable[[], bool]
"""True when the time for this part of the search is over."""

POPULATION = 40
"""Small enough that a few thousand schedules are many generations."""

PATIENCE = 25
"""Generations without a better schedule after which a new population is begun."""


class Evolution:
    """Keeps a population of schedules of one project; `best` is the best one so far."""

    def __init__(self, sides: Sides, random: Random, enough: int) -> None:
        self._sides = sides
        self._random = random
        self._enough = enough
        self.best: list[int] = []
        self.makespan = 10**9
        self._population: list[tuple[int, list[int]]] = []
        self._orders = self._first_orders()[::-1]
        self._since = 0

    def accept(self, starts: list[int]) -> None:
        """Take a schedule found elsewhere into the population."""
        self._add(self._sides.by_start(starts))

    def run(self, stop: Stop) -> None:
        """Improve until the makespan is enough or time is over; at least one schedule is always made.

        May be called again, and goes on from where it stopped.
        """
        while True:
            self._add(self._next())
            if self.makespan <= self._enough or stop():
                return

    def _next(self) -> list[int]:
        if self._orders:
            return self._orders.pop()
        if self._since > PATIENCE * POPULATION:
            self._population, self._orders, self._since = [], self._first_orders(), 0
            return self._orders.pop()
        if len(self._population) >= 2 * POPULATION:
            self._population = _distinct(sorted(self._population, key=lambda one: one[0]))[:POPULATION]
        return self._child(self._population)

    def _first_orders(self) -> list[list[int]]:
        sides, random = self._sides, self._random
        orders = [sides.by_priority(sides.latest), sides.by_priority(sides.earliest)]
        spread = max(sides.latest, default=0) / 4
        while len(orders) < POPULATION:
            orders.append(sides.by_priority([late + random.uniform(0, spread) for late in sides.latest]))
        return orders

    def _add(self, order: Sequence[int]) -> None:
        starts = self._sides.justified(self._sides.forward.schedule(order))
        makespan = self._sides.makespan(starts)
        self._since += 1
        if makespan < self.makespan:
            self.best, self.makespan = starts, makespan
            self._since = 0
        self._population.append((makespan, self._sides.by_start(starts)))

    def _child(self, population: list[tuple[int, list[int]]]) -> list[int]:
        """Two parents, each the better of two drawn; a stretch from one, the rest in the other's order."""
        random = self._random
        mother, father = (self._parent(population) for _ in range(2))
        first, last = sorted(random.sample(range(len(mother) + 1), 2))
        child = _crossed(mother, father, first, last)
        return self._mutated(child)

    def _parent(self, population: list[tuple[int, list[int]]]) -> list[int]:
        size = len(population)
        return population[min(int(self._random.random() * size), int(self._random.random() * size))][1]

    def _mutated(self, order: list[int]) -> list[int]:
        """Move a few activities to somewhere else between those that bind them and those they bind."""
        before, after = self._sides.forward.before, self._sides.backward.before
        for _ in range(1 + len(order) // 30):
            place = int(self._random.random() * len(order))
            activity = order.pop(place)
            low = max((order.index(other) + 1 for other, _ in before[activity]), default=0)
            high = min((order.index(other) for other, _ in after[activity]), default=len(order))
            order.insert(self._random.randint(low, high), activity)
        return order


def _crossed(mother: list[int], father: list[int], first: int, last: int) -> list[int]:
    head = mother[:first]
    taken = set(head)
    middle = [activity for activity in father if activity not in taken][: last - first]
    taken.update(middle)
    return head + middle + [activity for activity in mother[first:] if activity not in taken]


def _distinct(population: list[tuple[int, list[int]]]) -> list[tuple[int, list[int]]]:
    seen: set[tuple[int, ...]] = set()
    kept = []
    for makespan, order in population:
        if (key := tuple(order)) not in seen:
            seen.add(key)
            kept.append((makespan, order))
    return kept
