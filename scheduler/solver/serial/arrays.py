"""Arrays of moments and of costs, and the lowest cost within windows of them."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from scheduler.solver.ranges import Ranges

Moments = NDArray[np.int64]
"""Ascending minutes from the base."""

Costs = NDArray[np.float64]
Flags = NDArray[np.bool_]

NEVER = 1e15
"""The cost of what cannot be."""


def moments_in(ranges: Ranges, unit: int) -> Moments:
    """The multiples of `unit` in ranges that begin and end on one."""
    pieces = [np.arange(low, high + 1, unit, dtype=np.int64) for low, high in ranges]
    return np.concatenate(pieces) if pieces else np.empty(0, dtype=np.int64)


def inside(ranges: Ranges, moments: Moments) -> Flags:
    """Which moments lie in one of the sorted, disjoint, closed ranges."""
    if not ranges:
        return np.zeros(len(moments), dtype=np.bool_)
    lows = np.array([low for low, _ in ranges], dtype=np.int64)
    highs = np.array([high for _, high in ranges], dtype=np.int64)
    at = np.searchsorted(lows, moments, side="right") - 1
    return np.asarray((at >= 0) & (moments <= highs[np.maximum(at, 0)]), dtype=np.bool_)


class Windows:
    """For each of some moments, the stretch of other moments between `low` and `high` minutes from it."""

    def __init__(self, moments: Moments, others: Moments, low: int, high: int) -> None:
        left = np.searchsorted(others, moments + low, side="left")
        right = np.searchsorted(others, moments + high, side="right")
        length = np.maximum(right - left, 1)
        level = np.frexp(length.astype(np.float64))[1].astype(np.int64) - 1
        # Kept for every arc and step of its cost: small numbers, so that large plans fit into memory.
        self.level = level.astype(np.int8)
        self.left = np.minimum(left, max(0, len(others) - 1)).astype(np.int32)
        self.right = np.maximum(right - (1 << level), 0).astype(np.int32)
        self.empty = np.asarray(right <= left, dtype=np.bool_)
        self.levels = int(level.max(initial=0)) + 1

    def lowest(self, table: Any) -> Costs:
        """The lowest cost in each stretch; NEVER where it is empty."""
        found = np.minimum(table[self.level, self.left], table[self.level, self.right])
        found[self.empty] = NEVER
        return np.asarray(found, dtype=np.float64)


def doubled(costs: Costs, levels: int) -> Costs:
    """Row k holds the lowest of 2**k costs from each index on (sparse table for range minima)."""
    table = np.empty((levels, len(costs)), dtype=np.float64)
    table[0] = costs
    for level in range(1, levels):
        half = 1 << (level - 1)
        table[level] = table[level - 1]
        np.minimum(table[level - 1][:-half], table[level - 1][half:], out=table[level][:-half])
    return table
