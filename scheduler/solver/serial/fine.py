"""The last preferences, as costs too small to outweigh any other: crowding, round times, the door."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from scheduler.domain.plan import Attention
from scheduler.solver.places import Place, Places
from scheduler.solver.preferences import HOUR, settled
from scheduler.solver.serial.arrays import Costs, Moments, inside


class Fine:
    """`costs(head, moments, at)`: what each moment of a head costs, given where other heads are.

    All of them together stay below a half.
    """

    def __init__(self, places: Places, moments: list[Moments]) -> None:
        self.hands: list[tuple[Place, str]] = []
        self.small = [np.zeros(len(each), dtype=np.float64) for each in moments]
        for step in places.waiting():
            start = places.starts[step.number]
            if step.attention is not Attention.HANDS_ON or start.head is None:
                continue
            self.hands.append((start, step.component))
            begins = moments[start.head] + start.offset
            self.small[start.head] += (begins % HOUR % (HOUR // 4) != 0).astype(np.float64)
            self.small[start.head] += ~inside(settled(places, step), begins)
        self.crowd = 0.2 / (len(self.hands) ** 2 + 1)
        self.each = self.crowd / (2 * len(self.hands) + 1)

    def cost(self, head: int, moments: Moments, at: Mapping[int, int]) -> float:
        """What the moment where a head is costs."""
        index = np.searchsorted(moments, [at[head]])
        return float(self._costs(head, moments[index], self.small[head][index], at)[0])

    def costs(self, head: int, moments: Moments, at: Mapping[int, int]) -> Costs:
        return self._costs(head, moments, self.small[head], at)

    def _costs(self, head: int, moments: Moments, small: Costs, at: Mapping[int, int]) -> Costs:
        found = self.each * small
        for start, component in self.hands:
            if start.head == head:
                found = found + self.crowd * self._crowded(moments + start.offset, head, component, at)
        return np.asarray(found, dtype=np.float64)

    def _crowded(self, begins: Moments, head: int, component: str, at: Mapping[int, int]) -> Costs:
        """How many other hands-on steps start within the hour, by moment."""
        others = sorted(
            at[start.head] + start.offset
            for start, theirs in self.hands
            if start.head is not None and start.head != head and start.head in at and theirs != component
        )
        known = np.array(others, dtype=np.int64)
        near = np.searchsorted(known, begins + HOUR) - np.searchsorted(known, begins - HOUR, side="right")
        return np.asarray(near, dtype=np.float64)
