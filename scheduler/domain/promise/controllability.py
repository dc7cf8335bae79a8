"""Whether a network with uncertainty can be executed whatever nature does.

It is dynamically controllable when the points that nature does not choose can be timed as things are seen so that
every constraint holds in the end. The check is the cubic algorithm of P. Morris, "Dynamic controllability and
dispatchability relationships" (CPAIOR 2014): from every point with a negative edge into it, distances are propagated
back until they are no longer negative; coming back to a point whose own propagation is under way shows a
semi-reducible negative cycle, and that is the witness. Reacting at the very moment of an end is allowed. Without
contingent links this is the consistency of a plain network.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from heapq import heappop, heappush

from scheduler.domain.promise.stnu import Answer, Edge, Network, Wait


def controllable(network: Network) -> Answer:
    """The answer of the check, with what an executor needs or with the witness."""
    return _Check(network).answer()


class _Loop(Exception):
    """A negative cycle; its edges in order."""

    def __init__(self, cycle: tuple[Edge, ...]) -> None:
        super().__init__("a semi-reducible negative cycle")
        self.cycle = cycle


@dataclass(slots=True)
class _Frame:
    """One propagation under way: from which point, and by which edge each point reached goes on towards it."""

    source: int
    towards: dict[int, Edge]

    def path(self, point: int) -> tuple[Edge, ...]:
        found = [self.towards[point]]
        while found[-1].head != self.source:
            found.append(self.towards[found[-1].head])
        return tuple(found)


class _Check:
    def __init__(self, network: Network) -> None:
        self.into: list[dict[tuple[int, int | None], Edge]] = [{} for _ in range(network.count)]
        self.negative: list[list[Edge]] = [[] for _ in range(network.count)]
        self.waits: dict[tuple[int, int, int | None], int] = {}
        self.done: set[int] = set()
        self.frames: list[_Frame] = []
        for edge in network.edges:
            self._add(edge)

    def answer(self) -> Answer:
        try:
            for point, edges in enumerate(self.negative):
                if edges:
                    self._propagate(point)
        except _Loop as loop:
            return Answer(False, cycle=loop.cycle)
        return Answer(
            True, tuple(Wait(p, after, least, link) for (p, after, link), least in self.waits.items())
        )

    def _add(self, edge: Edge) -> None:
        if edge.weight <= 0 and edge.lower is None and edge.upper is None:
            self._wait(edge.tail, edge.head, -edge.weight, None)
        if edge.weight < 0:
            self.negative[edge.head].append(edge)
            return
        known = self.into[edge.head].get((edge.tail, edge.lower))
        if known is None or edge.weight < known.weight:
            self.into[edge.head][edge.tail, edge.lower] = edge

    def _wait(self, point: int, after: int, least: int, link: int | None) -> None:
        key = (point, after, link)
        if point != after and least > self.waits.get(key, -1):
            self.waits[key] = least

    def _propagate(self, source: int) -> None:
        if any(frame.source == source for frame in self.frames):
            raise _Loop(self._cycle(source))
        if source in self.done:
            return
        frame = _Frame(source, {})
        self.frames.append(frame)
        # An upper case edge is the only negative one into its point: see Network.contingent.
        self._spread(frame, self.negative[source], next((e.upper for e in self.negative[source]), None))
        self.frames.pop()
        self.done.add(source)

    def _spread(self, frame: _Frame, first: Iterable[Edge], link: int | None) -> None:
        source, towards = frame.source, frame.towards
        distance: dict[int, int] = {}
        queue: list[tuple[int, int]] = []
        for edge in first:
            if edge.weight < distance.get(edge.tail, 0):
                distance[edge.tail], towards[edge.tail] = edge.weight, edge
                heappush(queue, (edge.weight, edge.tail))
        while queue:
            far, point = heappop(queue)
            if far > distance[point]:
                continue
            if far >= 0:
                self._add(Edge(point, source, far, via=frame.path(point)))
                continue
            self._wait(point, source, -far, link)
            if self.negative[point]:
                self._propagate(point)
            for (tail, lower), edge in tuple(self.into[point].items()):
                reached = far + edge.weight
                known = distance.get(tail)
                # Back at the source only with something negative left; never by the same link's lower case.
                nearer = (known is None or reached < known) and (tail != source or reached < 0)
                if nearer and (lower is None or lower != link):
                    distance[tail], towards[tail] = reached, edge
                    heappush(queue, (reached, tail))

    def _cycle(self, source: int) -> tuple[Edge, ...]:
        """From the ancestor back to itself, through the sources found since."""
        start = next(n for n, frame in enumerate(self.frames) if frame.source == source)
        found: list[Edge] = []
        point = source
        for frame in reversed(self.frames[start:]):
            found += frame.path(point)
            point = frame.source
        return tuple(original for edge in found for original in edge.originals())
