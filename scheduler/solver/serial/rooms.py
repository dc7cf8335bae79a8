"""What is in use when, minute by minute, and by whom: cooks, gear, and ovens at each heat."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from scheduler.solver.serial.arrays import Flags

Loads = NDArray[np.int32]


@dataclass(slots=True)
class Stay:
    """One user of a room: half-open, in minutes from the base; block None cannot be moved."""

    start: int
    end: int
    count: int
    block: int | None


@dataclass(slots=True)
class Room:
    """A shared thing that `holds` so many at once; `stays` by the number of the step."""

    holds: int
    first: int
    load: Loads
    stays: dict[int, Stay] = field(default_factory=dict)

    def full(self, start: int, end: int, count: int) -> Flags:
        """Minute by minute, whether that many more would be too many."""
        load = self.load[start - self.first : end - self.first]
        return np.asarray(load > self.holds - count, dtype=np.bool_)

    def used(self, start: int, end: int) -> Flags:
        return np.asarray(self.load[start - self.first : end - self.first] > 0, dtype=np.bool_)

    def add(self, step: int, stay: Stay) -> None:
        self.stays[step] = stay
        self.load[stay.start - self.first : stay.end - self.first] += stay.count

    def remove(self, step: int) -> None:
        stay = self.stays.pop(step)
        self.load[stay.start - self.first : stay.end - self.first] -= stay.count

    def during(self, start: int, end: int) -> list[Stay]:
        return [stay for stay in self.stays.values() if stay.start < end and start < stay.end]


class Rooms(dict[str, Room]):
    """All shared things by name; minutes from `first` to `last`."""

    def __init__(self, first: int, last: int) -> None:
        super().__init__()
        self.first, self.last = first, last

    def make(self, name: str, holds: int) -> None:
        self[name] = Room(holds, self.first, np.zeros(self.last - self.first, dtype=np.int32))
