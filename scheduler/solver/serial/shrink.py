"""Moments that no timetable as good as the best so far can use, left out before a search."""

from __future__ import annotations

import numpy as np

from scheduler.solver.ranges import Ranges
from scheduler.solver.serial.arrays import Moments
from scheduler.solver.serial.problem import Problem
from scheduler.solver.serial.tree import Forest

SLACK = 0.5
"""Costs are whole numbers; sums of them in floating point are exact to far less than this."""


def worth_having(problem: Problem, forest: Forest, cost: float) -> list[Ranges]:
    """For each head, the moments with which a timetable could cost no more than `cost`."""
    beside = forest.marginals(dict(enumerate(problem.own)))
    return [
        _ranges(moments[beside[head] <= cost - problem.fixed + SLACK], problem.places.heads[head].unit)
        for head, moments in enumerate(problem.moments)
    ]


def _ranges(moments: Moments, unit: int) -> Ranges:
    """Runs of moments `unit` apart."""
    if not len(moments):
        return []
    breaks = np.flatnonzero(np.diff(moments) != unit)
    lows = moments[np.concatenate([[0], breaks + 1])]
    highs = moments[np.concatenate([breaks, [len(moments) - 1]])]
    return [(int(low), int(high)) for low, high in zip(lows, highs, strict=True)]
