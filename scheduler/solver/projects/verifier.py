"""Checks a schedule against its project, sharing nothing with the search that made it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from scheduler.solver.projects.project import Project


def faults(project: Project, starts: Sequence[int], makespan: int) -> list[str]:
    """Everything wrong with a schedule, in words; an empty list: it keeps every rule."""
    if len(starts) != len(project.activities):
        return [f"{len(starts)} starts for {len(project.activities)} activities"]
    return [
        *_before_time(starts),
        *_broken_lags(project, starts),
        *_overloads(project, starts),
        *_wrong_end(project, starts, makespan),
    ]


def _before_time(starts: Sequence[int]) -> Iterator[str]:
    for number, start in enumerate(starts):
        if start < 0:
            yield f"activity {number} starts at {start}, before time 0"


def _broken_lags(project: Project, starts: Sequence[int]) -> Iterator[str]:
    for lag in project.lags:
        apart = starts[lag.after] - starts[lag.before]
        if apart < lag.least:
            yield f"activity {lag.after} starts {apart} after {lag.before}, not at least {lag.least}"


def _overloads(project: Project, starts: Sequence[int]) -> Iterator[str]:
    """Use of a resource only rises where an activity starts, so those moments are enough."""
    for moment in sorted(set(starts)):
        running = [
            activity
            for activity, start in zip(project.activities, starts, strict=True)
            if start <= moment < start + activity.duration
        ]
        for resource, capacity in enumerate(project.capacities):
            used = sum(activity.demands[resource] for activity in running)
            if used > capacity:
                yield f"resource {resource} is used {used} times at {moment}, and there are {capacity}"


def _wrong_end(project: Project, starts: Sequence[int], makespan: int) -> Iterator[str]:
    ends = [start + activity.duration for activity, start in zip(project.activities, starts, strict=True)]
    last = max(ends, default=0)
    if last != makespan:
        yield f"the last activity ends at {last}, not at {makespan}"
