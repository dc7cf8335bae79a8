"""Published critical-path examples, as (activity, duration, predecessors, earliest and latest start, critical).

Durations are in the units of the source (weeks or days). Three-point estimates (a, m, b) stand for their
expected time (a + 4m + b) / 6.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Activity:
    name: str
    duration: float | tuple[int, int, int]
    after: tuple[str, ...]
    earliest: float
    latest: float
    critical: bool


@dataclass(frozen=True)
class Example:
    """`length` is the published duration of the whole project; `source` says where, and whether it was read."""

    source: str
    length: float
    activities: tuple[Activity, ...]


TAYLOR_A = Example(
    "Taylor, Introduction to Management Science, ch. 8 solutions (read)",
    20,
    (
        Activity("1-2", 7, (), 0, 2, False),
        Activity("1-3", 10, (), 0, 0, True),
        Activity("2-4", 6, ("1-2",), 7, 9, False),
        Activity("3-4", 5, ("1-3",), 10, 10, True),
        Activity("3-5", 4, ("1-3",), 10, 14, False),
        Activity("4-5", 3, ("2-4", "3-4"), 15, 15, True),
        Activity("5-6", 2, ("3-5", "4-5"), 18, 18, True),
    ),
)

TAYLOR_B = Example(
    "Taylor, Introduction to Management Science, ch. 8 solutions (read)",
    38,
    (
        Activity("1-2", 8, (), 0, 1, False),
        Activity("1-3", 10, (), 0, 0, True),
        Activity("1-4", 9, (), 0, 6, False),
        Activity("2-5", 6, ("1-2",), 8, 9, False),
        Activity("2-6", 4, ("1-2",), 8, 16, False),
        Activity("3-5", 5, ("1-3",), 10, 10, True),
        Activity("4-5", 0, ("1-4",), 9, 15, False),
        Activity("4-7", 7, ("1-4",), 9, 20, False),
        Activity("5-7", 12, ("2-5", "3-5", "4-5"), 15, 15, True),
        Activity("5-8", 15, ("2-5", "3-5", "4-5"), 15, 16, False),
        Activity("6-9", 18, ("2-6",), 12, 20, False),
        Activity("7-8", 4, ("4-7", "5-7"), 27, 27, True),
        Activity("8-9", 7, ("5-8", "7-8"), 31, 31, True),
    ),
)

PERT_2 = Example(
    "textbook exercise with published estimates (estimates read, times computed)",
    50.8333,
    (
        Activity("A", (5, 5, 7), (), 0, 0, True),
        Activity("B", (1, 2, 5), (), 0, 8, False),
        Activity("C", (5, 5, 5), ("A",), 5.3333, 5.3333, True),
        Activity("D", (4, 8, 13), ("A",), 5.3333, 7.1667, False),
        Activity("E", (1, 10, 17), ("B", "C"), 10.3333, 10.3333, True),
        Activity("F", (1, 5, 7), ("D",), 13.5, 15.3333, False),
        Activity("G", (2, 6, 9), ("D",), 13.5, 18.5, False),
        Activity("H", (4, 4, 6), ("E", "F"), 20, 20, True),
        Activity("I", (2, 7, 10), ("G", "H"), 24.3333, 24.3333, True),
        Activity("J", (2, 4, 7), ("I",), 31, 33.5, False),
        Activity("K", (6, 10, 13), ("I",), 31, 31, True),
        Activity("L", (2, 6, 6), ("J",), 35.1667, 37.6667, False),
        Activity("M", (2, 2, 3), ("K",), 40.8333, 40.8333, True),
        Activity("N", (7, 7, 12), ("L", "M"), 43, 43, True),
    ),
)

PERT_3 = Example(
    "textbook exercise with published estimates (estimates read, times computed)",
    20.8333,
    (
        Activity("A", (2, 5, 6), (), 0, 0, True),
        Activity("B", (1, 5, 11), (), 0, 7.5, False),
        Activity("C", (4, 6, 10), ("A",), 4.6667, 4.6667, True),
        Activity("D", (2, 2, 2), ("B",), 5.3333, 12.8333, False),
        Activity("E", (1, 2, 9), ("A",), 4.6667, 8, False),
        Activity("F", (2, 4, 5), ("C", "D"), 11, 14.8333, False),
        Activity("G", (3, 8, 11), ("C", "E"), 11, 11, True),
        Activity("H", (1, 2, 4), ("F", "G"), 18.6667, 18.6667, True),
    ),
)

HL_1 = Example(
    "Hillier & Lieberman, Introduction to Operations Research, construction-project example, "
    "PERT/CPM chapter (durations read, predecessors from memory)",
    44,
    (
        Activity("A", 2, (), 0, 0, True),
        Activity("B", 4, ("A",), 2, 2, True),
        Activity("C", 10, ("B",), 6, 6, True),
        Activity("D", 6, ("C",), 16, 20, False),
        Activity("E", 4, ("C",), 16, 16, True),
        Activity("F", 5, ("E",), 20, 20, True),
        Activity("G", 7, ("D",), 22, 26, False),
        Activity("H", 9, ("E", "G"), 29, 33, False),
        Activity("I", 7, ("C",), 16, 18, False),
        Activity("J", 8, ("F", "I"), 25, 25, True),
        Activity("K", 4, ("J",), 33, 34, False),
        Activity("L", 5, ("J",), 33, 33, True),
        Activity("M", 2, ("H",), 38, 42, False),
        Activity("N", 6, ("K", "L"), 38, 38, True),
    ),
)

EXAMPLES = {
    "TAYLOR_A": TAYLOR_A,
    "TAYLOR_B": TAYLOR_B,
    "PERT_2": PERT_2,
    "PERT_3": PERT_3,
    "HL_1": HL_1,
}
