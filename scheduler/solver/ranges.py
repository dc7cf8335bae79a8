"""Sets of whole numbers as sorted, disjoint, closed ranges; the solver's moments, in minutes."""

from __future__ import annotations

from collections.abc import Iterable

Ranges = list[tuple[int, int]]

DAY = 1440
"""Minutes."""


def both(left: Ranges, right: Ranges) -> Ranges:
    """What lies in both sets."""
    found: Ranges = []
    i = j = 0
    while i < len(left) and j < len(right):
        low, high = max(left[i][0], right[j][0]), min(left[i][1], right[j][1])
        if low <= high:
            found.append((low, high))
        if left[i][1] < right[j][1]:
            i += 1
        else:
            j += 1
    return found


def either(*sets: Ranges) -> Ranges:
    """What lies in any of the sets."""
    joined: Ranges = []
    for low, high in sorted(pair for ranges in sets for pair in ranges):
        if joined and low <= joined[-1][1] + 1:
            joined[-1] = (joined[-1][0], max(joined[-1][1], high))
        else:
            joined.append((low, high))
    return joined


def shifted(ranges: Ranges, by: int) -> Ranges:
    return [(low + by, high + by) for low, high in ranges]


def in_units(ranges: Ranges, unit: int) -> Ranges:
    """The multiples of `unit` in the set, divided by it."""
    return [(-(-low // unit), high // unit) for low, high in ranges if -(-low // unit) <= high // unit]


def starts_within(stretches: Iterable[tuple[int, int]], length: int) -> Ranges:
    """Where something of that length may start to lie wholly inside one half-open stretch.

    A length of nothing still needs its moment inside.
    """
    return [(low, high - max(length, 1)) for low, high in stretches if high - low >= max(length, 1)]


def outside(stretches: Iterable[tuple[int, int]], low: int, high: int) -> Ranges:
    """The half-open gaps between sorted half-open stretches, from `low` to `high`."""
    gaps: Ranges = []
    for start, end in stretches:
        if start > low:
            gaps.append((low, start))
        low = max(low, end)
    if low < high:
        gaps.append((low, high))
    return gaps
