"""A project: activities of fixed length that share renewable resources and keep lags between their starts.

The words are those of the literature on resource-constrained project scheduling with generalised
precedence (Neumann, Schwindt and Zimmermann, "Project Scheduling with Time Windows and Scarce Resources").
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


@dataclass(frozen=True, slots=True)
class Activity:
    """Lasts `duration` whole time units (0 or more) and takes `demands[r]` of resource r all that time."""

    duration: int
    demands: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Lag:
    """`after` starts at least `least` time units after `before` starts.

    A negative `least` is a maximum lag the other way round: `before` starts at most `-least` after `after`.
    """

    before: int
    after: int
    least: int


@dataclass(frozen=True)
class Project:
    """Activities are numbered from 0; none starts before time 0; the aim is to end the last one early.

    Raises ValueError where the parts don't belong together.
    """

    activities: tuple[Activity, ...]
    capacities: tuple[int, ...] = ()
    lags: tuple[Lag, ...] = ()

    def __post_init__(self) -> None:
        if any(capacity < 0 for capacity in self.capacities):
            raise ValueError("a capacity is negative")
        for number, activity in enumerate(self.activities):
            if activity.duration < 0 or any(demand < 0 for demand in activity.demands):
                raise ValueError(f"activity {number} has a negative duration or demand")
            if len(activity.demands) != len(self.capacities):
                raise ValueError(f"activity {number} needs one demand for each resource")
        for lag in self.lags:
            if not (0 <= lag.before < len(self.activities) and 0 <= lag.after < len(self.activities)):
                raise ValueError(f"a lag from {lag.before} to {lag.after} names an activity that isn't there")


class Status(StrEnum):
    """What is known of a project when the search ends."""

    OPTIMAL = "OPTIMAL"
    FEASIBLE = "FEASIBLE"
    INFEASIBLE = "INFEASIBLE"
    NONE = "NONE"


@dataclass(frozen=True, slots=True)
class ProjectAnswer:
    """`starts` and `makespan` where a schedule was found; no schedule is shorter than `bound`."""

    status: Status
    starts: tuple[int, ...] | None = None
    makespan: int | None = None
    bound: int | None = None
