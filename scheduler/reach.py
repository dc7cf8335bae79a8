"""Between which moments each step can lie by lengths, order, the present and the serving hour alone.

Hours, hands and gear are left aside, so a real timetable never reaches further. It is what says which nights
and which hours out of the house can matter to a step at all.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta

from scheduler.domain.links import live_links
from scheduler.domain.plan import NO_TIME, Plan
from scheduler.domain.progress import Progress, State, end_bounds

Reach = dict[int, tuple[datetime, datetime]]
"""The earliest start and the latest end by step number; the end lies before the start where nothing fits."""

Rule = tuple[int, int, timedelta]
"""The moment of the second lies at least so long after the moment of the first."""


def reach(plan: Plan, progress: Progress, now: datetime, serve: datetime) -> Reach:
    """For every step not begun and every one under way."""
    live = (State.WAITING, State.RUNNING)
    numbers = [step.number for step in plan.steps if progress.state(step.number) in live]
    rules = list(_rules(plan, progress, numbers))
    first = {2 * number + side: now for number in numbers for side in (0, 1)}
    last = {2 * number + side: serve for number in numbers for side in (0, 1)}
    for number in numbers:
        started = progress.of(number).started
        if started is not None:
            first[2 * number] = last[2 * number] = started
            first[2 * number + 1] = end_bounds(plan.steps[number], progress.of(number), now)[0]
    for number, limit in _to_the_table(plan, progress, serve):
        first[2 * number + 1] = max(first[2 * number + 1], limit)
    for _ in range(2 * len(numbers) + 1):
        if not _tightened(rules, first, last):
            break
    return {number: (first[2 * number], last[2 * number + 1]) for number in numbers}


def _tightened(rules: list[Rule], first: dict[int, datetime], last: dict[int, datetime]) -> bool:
    """Carry every rule over once, forwards and backwards; whether anything moved."""
    moved = False
    for before, after, apart in rules:
        if first[before] + apart > first[after]:
            first[after], moved = first[before] + apart, True
        if last[after] - apart < last[before]:
            last[before], moved = last[after] - apart, True
    return moved


def _rules(plan: Plan, progress: Progress, numbers: list[int]) -> Iterator[Rule]:
    """Starts are even, ends odd. What keeps only so long holds what comes before it back."""
    for number in numbers:
        if progress.state(number) is State.WAITING:
            shortest, longest = plan.steps[number].range.planned()
            yield 2 * number, 2 * number + 1, shortest
            if longest is not None:
                yield 2 * number + 1, 2 * number, -longest
    for link in live_links(plan, progress.dropped):
        if link.before in numbers and link.after in numbers:
            yield 2 * link.before + 1, 2 * link.after, link.shortest
            if link.longest is not None:
                yield 2 * link.after, 2 * link.before + 1, -link.longest


def _to_the_table(plan: Plan, progress: Progress, serve: datetime) -> Iterator[tuple[int, datetime]]:
    """How early the last steps may end: what they made keeps only so long."""
    for link in live_links(plan, progress.dropped):
        at_table = link.after is None and progress.state(link.before) in (State.WAITING, State.RUNNING)
        if at_table and link.longest is not None and link.longest >= NO_TIME:
            yield link.before, serve - link.longest
