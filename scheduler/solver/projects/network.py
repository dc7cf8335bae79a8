"""What a project's lags, pairs that can't overlap and a latest end imply, before any search."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from scheduler.solver.projects.closure import Lags, close, no_lags, tighten
from scheduler.solver.projects.project import Project

Pairs = npt.NDArray[np.bool_]


class Network:
    """The project's starts, with an origin (`origin`, time 0) and an end (`end`, the makespan) beside them."""

    def __init__(self, project: Project) -> None:
        self.count = len(project.activities)
        self.origin, self.end = self.count, self.count + 1
        self.durations = np.array([activity.duration for activity in project.activities], dtype=np.int64)
        self.capacities = np.array(project.capacities, dtype=np.int64)
        self.demands = np.array(
            [activity.demands for activity in project.activities], dtype=np.int64
        ).reshape(self.count, len(project.capacities))
        self.demands[self.durations == 0] = 0
        self.disjoint = self._disjoint()
        self._lags = no_lags(self.count + 2)
        self._lags[self.origin, :] = np.maximum(self._lags[self.origin, :], 0)
        self._lags[: self.count, self.end] = self.durations
        for lag in project.lags:
            self._lags[lag.before, lag.after] = max(self._lags[lag.before, lag.after], lag.least)
        self.possible = self._possible()
        self.horizon = self._horizon(project)

    def _disjoint(self) -> Pairs:
        """Pairs that need more of some resource together than there is."""
        together = self.demands[:, None, :] + self.demands[None, :, :]
        pairs: Pairs = np.any(together > self.capacities, axis=2)
        both = self.durations > 0
        pairs &= both[:, None] & both[None, :]
        np.fill_diagonal(pairs, False)
        return pairs

    def _possible(self) -> bool:
        return bool((self.demands <= self.capacities).all()) and close(self._lags) and self.deduce(self._lags)

    @staticmethod
    def _horizon(project: Project) -> int:
        """If there is any schedule, one ends by then: each step of a chain is a duration or a lag from a start.

        Source: Neumann, Schwindt and Zimmermann (2003), section 1.3.
        """
        longest = [activity.duration for activity in project.activities]
        for lag in project.lags:
            longest[lag.before] = max(longest[lag.before], lag.least)
        return sum(longest)

    def within(self, makespan: int) -> Lags | None:
        """All lags implied when everything ends by then; None: that can't be."""
        if not self.possible:
            return None
        lags = self._lags.copy()
        if tighten(lags, self.end, self.origin, -makespan) and self.deduce(lags):
            return lags
        return None

    def deduce(self, lags: Lags) -> bool:
        """Order every disjoint pair that has only one order left in a closed table; False: one has none."""
        inner = lags[: self.count, : self.count]
        durations = self.durations[:, None]
        while True:
            impossible = self.disjoint & (-durations < inner.T)
            if (impossible & impossible.T).any():
                return False
            ordered = impossible.T & (inner < durations)
            if not ordered.any():
                return True
            np.copyto(inner, durations, where=ordered)
            if not close(lags):
                return False

    def windows(self, lags: Lags) -> tuple[npt.NDArray[np.int64], npt.NDArray[np.int64]]:
        """Earliest and latest starts."""
        return lags[self.origin, : self.count], -lags[: self.count, self.origin]

    def undecided(self, lags: Lags) -> list[tuple[int, int]]:
        """Disjoint pairs whose order is still open, the lower number first."""
        inner = lags[: self.count, : self.count]
        done = inner >= self.durations[:, None]
        rest = np.triu(self.disjoint & ~done & ~done.T)
        return [(int(one), int(other)) for one, other in np.argwhere(rest)]

    def bound(self) -> int:
        """A makespan below which there is no schedule: the longest path, and the busiest resource.

        For a resource, the work that can't start before some moment or end after another, spread evenly.
        """
        if not self.possible:
            return 0
        heads = self._lags[self.origin, : self.count]
        tails = self._lags[: self.count, self.end] - self.durations
        best = int(self._lags[self.origin, self.end])
        for resource, capacity in enumerate(self.capacities):
            work = self.durations * self.demands[:, resource]
            best = max(best, _spread(heads, tails, work, int(capacity)))
        return best


def _spread(
    heads: npt.NDArray[np.int64], tails: npt.NDArray[np.int64], work: npt.NDArray[np.int64], capacity: int
) -> int:
    best = 0
    for head in np.unique(heads[work > 0]):
        for tail in np.unique(tails[work > 0]):
            inside = int(work[(heads >= head) & (tails >= tail)].sum())
            if inside:
                best = max(best, int(head) + int(tail) - (-inside // capacity))
    return best
