"""A first schedule where there are maximum lags: serial, taking back what a later activity can't keep up with.

Source: the direct priority-rule method of Franck, Neumann and Schwindt (2001), with their unscheduling step.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from random import Random

import numpy as np
import numpy.typing as npt

from scheduler.solver.projects.closure import NEVER, Lags
from scheduler.solver.projects.network import Network
from scheduler.solver.projects.packing import Packing, first_place

Moments = npt.NDArray[np.int64]

STEPS_BACK = 60
"""How often one attempt may take activities back before it is given up."""


class Attempt:
    """One pass over the activities in order of priority; `run` gives their starts, or None."""

    def __init__(self, network: Network, lags: Lags, packing: Packing, priority: Sequence[float]) -> None:
        count = network.count
        self._inner = lags[:count, :count]
        self._packing = packing
        self._priority = priority
        self._lengths: list[int] = network.durations.tolist()
        earliest, latest = network.windows(lags)
        self._floor, self._ceiling = earliest.copy(), latest
        self._first, self._last = earliest.copy(), latest.copy()
        # What must come first: a lag above 0, or one of 0 that isn't held from the other side too.
        ahead = (self._inner > 0) | ((self._inner == 0) & (self._inner.T < 0))
        np.fill_diagonal(ahead, False)
        self._ahead = ahead
        self._starts: dict[int, int] = {}
        self._horizon = int(latest.max(initial=0)) + 2 * max(self._lengths, default=0) + 1

    def run(self) -> list[int] | None:
        back = 0
        count = len(self._lengths)
        while len(self._starts) < count:
            activity = self._next()
            place = self._place(activity)
            if place <= self._last[activity]:
                self._settle(activity, place)
                continue
            back += 1
            if back > STEPS_BACK or not self._take_back(activity, place):
                return None
        return [self._starts[activity] for activity in range(count)]

    def _next(self) -> int:
        waiting = [activity for activity in range(len(self._lengths)) if activity not in self._starts]
        held = self._ahead[np.ix_(waiting, waiting)].any(axis=0)
        ready = [activity for activity, is_held in zip(waiting, held, strict=True) if not is_held] or waiting
        return min(ready, key=lambda activity: (self._priority[activity], activity))

    def _place(self, activity: int) -> int:
        """The first moment at which everything it needs is free, which may be too late."""
        need, duration = self._packing.needs[activity], self._lengths[activity]
        first = int(self._first[activity])
        if not need or not duration:
            return first
        free = [self._packing.free] * (max(self._horizon, first + duration) + duration)
        for other, start in self._starts.items():
            for moment in range(start, start + self._lengths[other]):
                free[moment] -= self._packing.needs[other]
        return first_place(free, first, duration, need, self._packing.guard)

    def _settle(self, activity: int, start: int) -> None:
        self._starts[activity] = start
        np.maximum(self._first, start + self._inner[activity], out=self._first)
        np.minimum(self._last, start - self._inner[:, activity], out=self._last)

    def _take_back(self, activity: int, place: int) -> bool:
        """Put off the activities that hold this one back, and take back all that began after them."""
        tied = self._inner[activity]
        holding = [
            other
            for other, start in self._starts.items()
            if tied[other] > NEVER and start - tied[other] < place
        ]
        if not holding or place > self._ceiling[activity]:
            return False
        first_held = min(self._starts[other] for other in holding)
        for other in holding:
            self._floor[other] = max(self._floor[other], place + int(tied[other]))
        if (self._floor > self._ceiling).any():
            return False
        kept = {o: s for o, s in self._starts.items() if o not in holding and s <= first_held}
        self._replay(kept)
        return True

    def _replay(self, kept: dict[int, int]) -> None:
        self._first = (self._floor[:, None] + self._inner).max(axis=0)
        self._last = self._ceiling.copy()
        self._starts = {}
        for other in sorted(kept, key=lambda one: (kept[one], one)):
            if self._first[other] <= kept[other] <= self._last[other]:
                self._settle(other, kept[other])


def first_schedules(
    network: Network, lags: Lags, packing: Packing, random: Random, stop: Callable[[], bool]
) -> list[int] | None:
    """The best of several attempts, at least one; the first by latest start, later ones with chance added."""
    _, latest = network.windows(lags)
    tails = lags[: network.count, network.end]
    rules: list[list[float]] = [latest.tolist(), (-tails).tolist()]
    best: list[int] | None = None
    shortest = int(lags[network.origin, network.end])
    while True:
        spread = max(1.0, shortest / 4)
        rule = rules.pop(0) if rules else [-t + random.uniform(0, spread) for t in tails.tolist()]
        starts = Attempt(network, lags, packing, rule).run()
        if starts is not None and (best is None or _ends(network, starts) < _ends(network, best)):
            best = starts
        if stop() or (best is not None and _ends(network, best) <= shortest):
            return best


def _ends(network: Network, starts: list[int]) -> int:
    return int((np.array(starts, dtype=np.int64) + network.durations).max(initial=0))
