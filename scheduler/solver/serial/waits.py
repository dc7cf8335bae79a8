"""What the preferences cost, as functions of one moment or of the distance between two."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from scheduler.domain.plan import MINUTE, Attention
from scheduler.domain.progress import overdue
from scheduler.solver.places import Place, Places
from scheduler.solver.preferences import (
    MARGIN,
    SHORTEST_EIGHTH,
    a_day,
    clear_of_bedtime,
    free_wait,
    gaps,
    longest_gap,
    margins_at_most,
)
from scheduler.solver.ranges import DAY, Ranges
from scheduler.solver.serial.arrays import Costs, Moments, inside

MOST_STEPS = 20
"""How many eighths a cost is followed for; what is longer counts as that many when it is looked for."""


@dataclass(frozen=True, slots=True)
class Wait:
    """The cost of the time from one place to another, `apart` minutes longer than it has to be."""

    first: Place
    second: Place
    shortest: int
    keeps: int
    free: int
    weight: int
    room: bool = False
    day: int = 0

    def cost(self, apart: int) -> int:
        """`apart`: minutes between the two places."""
        return int(self.costs(np.array([apart], dtype=np.int64))[0])

    def costs(self, apart: Moments) -> Costs:
        gap = apart - self.shortest
        eighths = -(-np.maximum(0, gap - self.free) // self._eighth)
        cost = self.weight * eighths + (gap < self.day)
        return np.asarray(cost + 2 * (gap < MARGIN) if self.room else cost, dtype=np.float64)

    def changes(self) -> list[int]:
        """The distances at which the cost changes, ascending; from the last on it may rise further."""
        gap = {self.free + 1 + n * self._eighth for n in range(MOST_STEPS)} | {0}
        gap |= {MARGIN} if self.room else set()
        gap |= {self.day} if self.day else set()
        return sorted(self.shortest + each for each in gap)

    @property
    def _eighth(self) -> int:
        return max(SHORTEST_EIGHTH, self.keeps // 8)


@dataclass(frozen=True, slots=True)
class Whim:
    """The cost of one place's moment: `outside` where it is not among `good`, and so much a minute from `near`."""

    place: Place
    good: Ranges
    outside: int
    near: int = 0
    each: int = 0

    def costs(self, moments: Moments) -> Costs:
        missed = np.where(inside(self.good, moments), 0, self.outside)
        return np.asarray(missed + self.each * np.abs(moments - self.near), dtype=np.float64)


def waits(places: Places) -> Iterator[Wait]:
    """What freshness and the margins of gaps ask; nothing when a timetable is in force."""
    if places.task.previous is not None:
        return
    weight = margins_at_most(places) * 3 + 1
    for link in gaps(places):
        most = longest_gap(link)
        end = places.at_fixed(places.serve) if link.after is None else places.starts[link.after]
        shortest = int(link.shortest / MINUTE)
        start = places.ends[link.before]
        yield Wait(start, end, shortest, most, free_wait(most // 4), weight, most > MARGIN, a_day(most))
    for step in places.waiting():
        least, most_length = places.lengths(step)
        if most_length is None:
            keeps = max(int(step.fresh_for / MINUTE), least)
            yield Wait(places.starts[step.number], places.ends[step.number], least, keeps, 0, weight)


def whims(places: Places) -> Iterator[Whim]:
    """What one moment alone costs: hands-on work without a margin; or, with a timetable in force, moving."""
    if places.task.previous is not None:
        yield from _moving(places)
        return
    for step in places.waiting():
        if step.attention is Attention.HANDS_ON:
            yield Whim(places.starts[step.number], clear_of_bedtime(places, step), 2)


def _moving(places: Places) -> Iterator[Whim]:
    """As `steady` has it: what is overdue first, then few steps moved, then little."""
    task = places.task
    slots = [(step, task.previous.slot(step.number)) for step in places.waiting() if task.previous]
    reach = (2 * (places.last - places.first) + 2 * DAY) * max(1, len(slots)) + 1
    for step, slot in slots:
        if slot is not None:
            was = places.minute(slot.start)
            yield Whim(places.starts[step.number], [(was, was)], reach, was, 1)
    for link in overdue(task.plan, task.progress, task.now):
        if link.after is not None:
            yield Whim(places.starts[link.after], [], 0, places.now, reach * (len(slots) + 1))
