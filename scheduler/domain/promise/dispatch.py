"""Executing a controllable network as early as may be.

Each point is timed as soon as everything it waits for has come: other points, or the end of a contingent link
or else a fixed while after that began. Both are known when they pass, so no decision looks ahead. That early
execution keeps to every constraint of a controllable network follows from Morris 2014, section 5, where the
check leaves a dispatchable network behind.
"""

from __future__ import annotations

from collections.abc import Sequence

from scheduler.domain.promise.stnu import ZERO, Network, Wait

Instruction = tuple[list[int], list[tuple[int, int]], list[tuple[int, int, int]], list[tuple[int, int]]]
"""Points that coincide; what they wait for: points, each with how long after it; points unless the end of a link
is seen sooner; or the end they are, as its activated point and its link.
"""


class Dispatcher:
    """Made once for a network and the waits its check found; then run against one draw after another."""

    def __init__(self, network: Network, waits: Sequence[Wait]) -> None:
        self.count = network.count
        self.links = network.contingents
        given = {ZERO, *(link.end for link in self.links), *(link.activated for link in self.links)}
        free = [wait for wait in waits if wait.point not in given]
        after: list[set[int]] = [set() for _ in range(network.count)]
        for wait in free:
            after[wait.point].add(wait.after)
        for link in self.links:
            after[link.activated].add(link.begin)
            after[link.end].add(link.activated)
        self.ends = {link.end: (number, link) for number, link in enumerate(self.links)}
        self.starts = {link.activated: link for link in self.links}
        self.program = [self._instruction(group, free) for group in _in_order(after)]

    def _instruction(self, group: list[int], waits: list[Wait]) -> Instruction:
        inside = set(group)
        mine = [wait for wait in waits if wait.point in inside and wait.after not in inside]
        plain: dict[int, int] = {}
        for wait in mine:
            if wait.link is None:
                plain[wait.after] = max(wait.least, plain.get(wait.after, 0))
        begun = [self.starts[n] for n in group if n in self.starts and self.starts[n].begin not in inside]
        plain.update((link.begin, link.low) for link in begun)
        unless = [(w.after, w.least, w.link) for w in mine if w.link is not None]
        ended = [self.ends[n] for n in group if n in self.ends]
        ended_by = [(link.activated, number) for number, link in ended if link.activated not in inside]
        return group, list(plain.items()), unless, ended_by

    def run(self, lasts: Sequence[int]) -> list[int]:
        """The time of every point when each contingent link lasts as given."""
        times = [0] * self.count
        extra = [length - link.low for length, link in zip(lasts, self.links, strict=True)]
        for group, plain, unless, ended_by in self.program:
            at = 0
            for after, least in plain:
                if times[after] + least > at:
                    at = times[after] + least
            for after, least, link in unless:
                if least > extra[link]:
                    least = extra[link]
                if times[after] + least > at:
                    at = times[after] + least
            for activated, link in ended_by:
                at = times[activated] + extra[link]
            for point in group:
                times[point] = at
        return times


def _in_order(after: list[set[int]]) -> list[list[int]]:
    """Points so that each comes after all it waits for; those that wait for one another together.

    Strongly connected components in the order R. Tarjan's algorithm (1972) finds them, without recursion.
    """
    index: dict[int, int] = {}
    low: dict[int, int] = {}
    stack: list[int] = []
    on_stack: set[int] = set()
    found: list[list[int]] = []
    for root in range(len(after)):
        if root in index:
            continue
        work = [(root, iter(sorted(after[root])))]
        index[root] = low[root] = len(index)
        stack.append(root)
        on_stack.add(root)
        while work:
            point, others = work[-1]
            for other in others:
                if other not in index:
                    index[other] = low[other] = len(index)
                    stack.append(other)
                    on_stack.add(other)
                    work.append((other, iter(sorted(after[other]))))
                    break
                if other in on_stack:
                    low[point] = min(low[point], index[other])
            else:
                work.pop()
                if work:
                    low[work[-1][0]] = min(low[work[-1][0]], low[point])
                if low[point] == index[point]:
                    found.append(_popped(stack, on_stack, point))
    return found


def _popped(stack: list[int], on_stack: set[int], point: int) -> list[int]:
    group: list[int] = []
    while not group or group[-1] != point:
        group.append(stack.pop())
        on_stack.discard(group[-1])
    return group
