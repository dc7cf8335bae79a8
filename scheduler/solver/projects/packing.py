"""Use of all resources over time, each moment packed into one number, for serial scheduling in plain Python.

Every resource has a field of bits with a guard bit above it. Subtracting what an activity needs from what is
free clears a guard exactly where there was too little, so that one comparison checks all resources at once.
"""

from __future__ import annotations

from collections.abc import Sequence


class Packing:
    """What each activity needs and what is free at the beginning, as packed numbers."""

    def __init__(self, capacities: Sequence[int], demands: Sequence[Sequence[int]]) -> None:
        shifts, width = [], 0
        for capacity in capacities:
            shifts.append(width)
            width += capacity.bit_length() + 1
        ends = [shift + capacity.bit_length() for shift, capacity in zip(shifts, capacities, strict=True)]
        self.guard = sum(1 << end for end in ends)
        self.free = self.guard + sum(c << shift for c, shift in zip(capacities, shifts, strict=True))
        self.needs = [sum(d << s for d, s in zip(row, shifts, strict=True)) for row in demands]


def first_place(free: list[int], start: int, duration: int, need: int, guard: int) -> int:
    """The first moment from `start` on at which the need is free for the whole duration.

    A moment with too little moves the search to just after it; the part already found free isn't looked at
    again. `free` is made longer as needed by the caller.
    """
    end = start + duration
    known = start
    moment = end - 1
    while moment >= known:
        if (free[moment] - need) & guard != guard:
            known, start = end, moment + 1
            end = start + duration
            moment = end - 1
        else:
            moment -= 1
    return start
