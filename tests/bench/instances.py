"""Readers of two published file formats: Patterson (PSPLIB single mode) and ProGen/max (RCPSP/max)."""

from __future__ import annotations

import re
from pathlib import Path

from scheduler.solver.projects import Activity, Lag, Project

END_OF_FILE = "\x1a \r\n\t"
"""Blanks, and the mark that ends some of the published files."""


class UnreadableInstance(ValueError):
    """A file in neither format, or damaged; the message says where."""


def read_instance(path: Path) -> Project:
    """The project in a file: `.sch` is read as ProGen/max, anything else as Patterson."""
    try:
        text = path.read_text(encoding="utf-8").rstrip(END_OF_FILE)
    except (OSError, UnicodeDecodeError) as error:
        raise UnreadableInstance(f"{path}: can't be read ({error})") from error
    parse = parse_progen_max if path.suffix.lower() == ".sch" else parse_patterson
    try:
        return parse(text)
    except ValueError as error:
        raise UnreadableInstance(f"{path}: {error}") from error


def parse_patterson(text: str) -> Project:
    """Patterson format: every line is numbers, and the ends of lines mean nothing.

    Count of activities and of resources; the capacities; then for each activity its duration, its demands,
    how many follow it and which (numbered from 1), each of them after this one has ended.
    Raises ValueError for anything else.
    """
    numbers = _Numbers(text.split())
    count, resources = numbers.take(2)
    capacities = tuple(numbers.take(resources))
    activities, lags = [], []
    for number in range(count):
        duration, *demands = numbers.take(1 + resources)
        activities.append(Activity(duration, tuple(demands)))
        followers = numbers.take(numbers.take(1)[0])
        lags += [Lag(number, follower - 1, duration) for follower in followers]
    numbers.finish()
    return Project(tuple(activities), capacities, tuple(lags))


def parse_progen_max(text: str) -> Project:
    """ProGen/max format: starts that keep minimum and maximum lags, an activity 0 first and n + 1 last.

    `n renewable 0 0`; for each activity its number, 1 (one mode), how many others are tied to it, which, and
    `[lag]` for each; then for each its number, 1, duration and demands; then the capacities.
    Time 0 is the start of activity 0, and nothing starts before it. Raises ValueError for anything else.
    """
    lines = [line.split() for line in text.splitlines() if line.strip()]
    if not lines or len(lines[0]) != 4:
        raise ValueError("line 1: expected four counts")
    inner, resources, *others = _whole(lines[0])
    if others != [0, 0] or inner < 0 or resources < 0:
        raise ValueError("line 1: only renewable resources are understood")
    count = inner + 2
    if len(lines) != 2 * count + 2:
        raise ValueError(f"expected {2 * count + 2} lines that aren't empty, found {len(lines)}")
    lags = [lag for number in range(count) for lag in _lags(lines[1 + number], number)]
    activities = [_activity(lines[1 + count + number], number, resources) for number in range(count)]
    # The first activity opens the project; with it earliest, the end is measured from it.
    lags += [Lag(0, number, 0) for number in range(1, count)]
    return Project(tuple(activities), tuple(_whole(lines[-1])), tuple(lags))


def _lags(words: list[str], number: int) -> list[Lag]:
    followers = _whole(words[2:3])[0] if len(words) > 2 else -1
    if words[:2] != [str(number), "1"] or len(words) != 3 + 2 * followers:
        raise ValueError(f"the lags of activity {number}: expected its number, 1, a count, and as many lags")
    found = [re.fullmatch(r"\[(-?\d+)\]", word) for word in words[3 + followers :]]
    least = [int(match.group(1)) for match in found if match]
    if len(least) != followers:
        raise ValueError(f"the lags of activity {number}: a lag is written like [3] or [-3]")
    return [
        Lag(number, after, lag) for after, lag in zip(_whole(words[3 : 3 + followers]), least, strict=True)
    ]


def _activity(words: list[str], number: int, resources: int) -> Activity:
    if words[:2] != [str(number), "1"] or len(words) != 3 + resources:
        raise ValueError(f"activity {number}: expected its number, 1, a duration and {resources} demands")
    duration, *demands = _whole(words[2:])
    return Activity(duration, tuple(demands))


def _whole(words: list[str]) -> list[int]:
    for word in words:
        if not re.fullmatch(r"[+-]?\d{1,9}", word):
            raise ValueError(f"expected a whole number, found {word[:30]!r}")
    return [int(word) for word in words]


class _Numbers:
    """Whole numbers taken from the front, a few at a time."""

    def __init__(self, words: list[str]) -> None:
        self._numbers = _whole(words)
        self._next = 0

    def take(self, count: int) -> list[int]:
        taken = self._numbers[self._next : self._next + max(count, 0)]
        if count < 0 or len(taken) < count:
            raise ValueError("the file ends before its activities do, or a count is wrong")
        self._next += count
        return taken

    def finish(self) -> None:
        if self._next != len(self._numbers):
            raise ValueError(f"{len(self._numbers) - self._next} numbers too many at the end")
