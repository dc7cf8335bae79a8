"""A walk from one good schedule: a short stretch of its order is shuffled, and kept where nothing is lost.

Schedules of equal length are accepted too: there are many, and better ones lie beside some of them.
"""

from __future__ import annotations

from collections.abc import Callable
from random import Random

from scheduler.solver.projects.serial import Sides

LEAST_STRETCH, LONGEST_STRETCH = 4, 12
"""Activities shuffled at a time (measured: longer ones find less)."""


def wander(
    sides: Sides, starts: list[int], enough: int, random: Random, stop: Callable[[], bool]
) -> list[int]:
    """The best schedule met on the way from `starts`, until it is `enough` or time is over."""
    before = [{other for other, _ in binding} for binding in sides.forward.before]
    best = starts
    shortest = sides.makespan(starts)
    order = sides.by_start(starts)
    while shortest > enough and not stop():
        shuffled = _shuffled(order, before, random)
        found = sides.justified(sides.forward.schedule(shuffled))
        makespan = sides.makespan(found)
        if makespan <= shortest:
            best, shortest = found, makespan
            order = sides.by_start(found)
    return best


def _shuffled(order: list[int], before: list[set[int]], random: Random) -> list[int]:
    """Some stretch of the order in another order, each activity still after those that bind it."""
    length = min(random.randint(LEAST_STRETCH, LONGEST_STRETCH), len(order))
    first = random.randint(0, len(order) - length)
    waiting = order[first : first + length]
    there = set(waiting)
    stretch = []
    while waiting:
        ready = [activity for activity in waiting if not before[activity] & there]
        activity = ready[int(random.random() * len(ready))]
        stretch.append(activity)
        waiting.remove(activity)
        there.remove(activity)
    return order[:first] + stretch + order[first + length :]
