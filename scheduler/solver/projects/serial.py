"""Serial schedule generation for projects without maximum lags, forwards and backwards.

Sources: Kelley's serial scheme; justification after Valls, Ballestin and Quintanilla (2005).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from heapq import heapify, heappop, heappush

from scheduler.solver.projects.packing import Packing, first_place
from scheduler.solver.projects.project import Project

Before = Sequence[Sequence[tuple[int, int]]]
"""For each activity, those that bind it and the least lags from their starts to its own."""


@dataclass(frozen=True, slots=True)
class Direction:
    """A project seen from its beginning, or mirrored in time and seen from its end."""

    before: Before
    durations: Sequence[int]
    packing: Packing
    horizon: int

    def schedule(self, order: Sequence[int]) -> list[int]:
        """Start the activities in this order (what binds one comes before it), each as early as it can."""
        free = [self.packing.free] * self.horizon
        guard, needs = self.packing.guard, self.packing.needs
        starts = [0] * len(self.durations)
        for activity in order:
            start = 0
            for other, lag in self.before[activity]:
                if starts[other] + lag > start:
                    start = starts[other] + lag
            need, duration = needs[activity], self.durations[activity]
            if need and duration:
                start = first_place(free, start, duration, need, guard)
                for moment in range(start, start + duration):
                    free[moment] -= need
            starts[activity] = start
        return starts


class Sides:
    """A project whose lags are all minimum lags, from both of its ends."""

    def __init__(self, project: Project) -> None:
        durations = [activity.duration for activity in project.activities]
        count = len(durations)
        packing = Packing(project.capacities, [activity.demands for activity in project.activities])
        before: list[list[tuple[int, int]]] = [[] for _ in range(count)]
        after: list[list[tuple[int, int]]] = [[] for _ in range(count)]
        for lag in project.lags:
            before[lag.after].append((lag.before, lag.least))
            mirrored = lag.least + durations[lag.after] - durations[lag.before]
            after[lag.before].append((lag.after, mirrored))
        horizon = sum(durations) + sum(max(0, lag.least) for lag in project.lags) + 1
        self.durations = durations
        self.forward = Direction(before, durations, packing, horizon)
        self.backward = Direction(after, durations, packing, horizon)
        self._order = _topological(before)
        self.earliest = self._alone(before, self._order)
        tails = self._alone(after, self._order[::-1])
        last = self.makespan(self.earliest)
        self.latest = [last - tail - duration for tail, duration in zip(tails, durations, strict=True)]
        self._rank = {activity: rank for rank, activity in enumerate(self._order)}

    @staticmethod
    def suits(project: Project) -> bool:
        """Whether every lag keeps both the order of starts and the order of ends, with no cycle."""
        durations = [activity.duration for activity in project.activities]
        if any(
            lag.least < 0 or lag.least + durations[lag.after] < durations[lag.before] for lag in project.lags
        ):
            return False
        before: list[list[tuple[int, int]]] = [[] for _ in durations]
        for lag in project.lags:
            before[lag.after].append((lag.before, lag.least))
        return len(_topological(before)) == len(durations)

    def _alone(self, before: Before, order: Sequence[int]) -> list[int]:
        """The earliest starts if nothing had to be shared."""
        starts = [0] * len(self.durations)
        for activity in order:
            starts[activity] = max((starts[other] + lag for other, lag in before[activity]), default=0)
        return starts

    def makespan(self, starts: Sequence[int]) -> int:
        return max(map(int.__add__, starts, self.durations), default=0)

    def by_start(self, starts: Sequence[int]) -> list[int]:
        rank = self._rank
        return sorted(rank, key=lambda activity: (starts[activity], rank[activity]))

    def justified(self, starts: Sequence[int]) -> list[int]:
        """As late as possible from the last to the first, then as early as possible: never longer."""
        rank, durations = self._rank, self.durations
        by_end = sorted(rank, key=lambda one: (-starts[one] - durations[one], -rank[one]))
        mirrored = self.backward.schedule(by_end)
        last = self.makespan(mirrored)
        late = [last - start - duration for start, duration in zip(mirrored, durations, strict=True)]
        return self.forward.schedule(self.by_start(late))

    def by_priority(self, priority: Sequence[float]) -> list[int]:
        """An order in which what binds an activity comes first, and otherwise low numbers do."""
        waiting = [len(before) for before in self.forward.before]
        ready = [(priority[one], one) for one, count in enumerate(waiting) if not count]
        heapify(ready)
        order = []
        while ready:
            _, activity = heappop(ready)
            order.append(activity)
            for other, _ in self.backward.before[activity]:
                waiting[other] -= 1
                if not waiting[other]:
                    heappush(ready, (priority[other], other))
        return order


def _topological(before: Before) -> list[int]:
    """Every activity after all that bind it; shorter than the project where there is a cycle."""
    after: list[list[int]] = [[] for _ in before]
    for activity, binding in enumerate(before):
        for other, _ in binding:
            after[other].append(activity)
    waiting = [len(binding) for binding in before]
    order = [activity for activity, count in enumerate(waiting) if not count]
    for activity in order:
        for other in after[activity]:
            waiting[other] -= 1
            if not waiting[other]:
                order.append(other)
    return order
