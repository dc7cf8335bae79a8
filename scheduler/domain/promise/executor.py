"""Whoever carries a plan out: times every step as ends are seen, and knows no more than the kitchen does."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from scheduler.domain.promise.dispatch import Dispatcher
from scheduler.domain.promise.layout import Layout
from scheduler.domain.promise.spots import Path, Spot
from scheduler.domain.promise.stnu import Answer

Draw = Mapping[int, int]
"""How long each step that nature ends lasts this time, in minutes, by number."""


class Done(NamedTuple):
    """When a step really ran, in minutes since 1970, and whose hands it took."""

    start: int
    end: int
    cook: str | None


class Executor:
    """Made once for a layout that can be executed; then run against one draw after another.

    What a draw says of a step lies within the ranges of the layout; beyond them it goes on as well as it can.
    """

    def __init__(self, layout: Layout, answer: Answer) -> None:
        self.layout = layout
        self.dispatcher = Dispatcher(layout.network, answer.waits)
        self.spots = [(spot, [end.link for end in spot.ends]) for spot in layout.spots]
        self.shares = layout.ends.shares
        self.longest = [self.shares[n].high + self.shares[n].shift for n in range(len(self.shares))]

    def run(self, draw: Draw) -> dict[int, Done]:
        """The times of every step not over yet."""
        chosen, lasts = self._pieces(draw)
        times = self.dispatcher.run(lasts)
        found: dict[int, Done] = {}
        for spot, piece in chosen:
            end = spot.ends[piece].point
            now = self.layout.given.now
            start = spot.first if spot.start is None else now + times[spot.start.node] + spot.start.offset
            found[spot.step.number] = Done(start, now + times[end.node] + end.offset, spot.cook)
        return found

    def _pieces(self, draw: Draw) -> tuple[list[tuple[Spot, int]], list[int]]:
        """The places that come about, each with the piece of it that does, and how long every link lasts."""
        real: Path = frozenset()
        lasts = list(self.longest)
        chosen: list[tuple[Spot, int]] = []
        for spot, links in self.spots:
            if spot.path and not spot.path <= real:
                continue
            piece = 0
            link = links[0]
            if link is not None:
                length = draw[spot.step.number]
                while piece < len(links) - 1 and length > self._high(links[piece]):
                    piece += 1
                own = links[piece]
                if own is not None:
                    lasts[own] = length + self.shares[own].shift
                if len(links) > 1:
                    real = real | {(spot.number, piece)}
            chosen.append((spot, piece))
        return chosen, lasts

    def _high(self, link: int | None) -> int:
        return self.shares[link].high if link is not None else 0
