"""A network with uncertainty as a game against nature, small enough to be played out by brute force."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from itertools import product

from hypothesis import strategies as st

from scheduler.domain.promise.stnu import Network

LATEST = 9


@dataclass(frozen=True)
class Tiny:
    """A network small enough to play out: `edges` and `links` between points 0..count-1; 0 is at time 0."""

    count: int
    edges: tuple[tuple[int, int, int], ...]
    links: tuple[tuple[int, int, int, int], ...]


@st.composite
def tiny(draw: st.DrawFn) -> Tiny:
    plain = draw(st.integers(1, 3))
    count = 1 + plain
    links = []
    for _ in range(draw(st.integers(1, 2))):
        low = draw(st.integers(0, 2))
        links.append((draw(st.integers(0, count - 1)), count, low, low + draw(st.integers(0, 3))))
        count += 1
    pair = st.tuples(st.integers(0, count - 1), st.integers(0, count - 1), st.integers(-3, 4))
    edges = draw(st.lists(pair.filter(lambda e: e[0] != e[1]), min_size=1, max_size=5))
    return Tiny(count, tuple(edges), tuple(links))


def network_of(game: Tiny) -> Network:
    network = Network()
    for _ in range(game.count - 1):
        network.point()
    for point in range(1, game.count):
        network.between(0, point, 0, LATEST)
    for tail, head, weight in game.edges:
        network.at_most(tail, head, weight)
    for begin, end, low, high in game.links:
        network.contingent(begin, end, low, high)
    return network


def can_be_won(game: Tiny) -> bool:
    """Whether whoever times the free points wins, minute by minute, against every nature there is."""
    ends = {end: (begin, low, high) for begin, end, low, high in game.links}
    free = [point for point in range(1, game.count) if point not in ends]

    def holds(times: tuple[int | None, ...]) -> bool:
        for tail, head, weight in game.edges:
            a, b = times[tail], times[head]
            if a is not None and b is not None and b - a > weight:
                return False
        return all(at is None or at <= LATEST for at in times)

    def open_ends(times: tuple[int | None, ...], now: int) -> list[tuple[int, bool]]:
        """Links under way that may end now, each with whether it must."""
        found = []
        for end, (begin, low, high) in ends.items():
            began = times[begin]
            if times[end] is None and began is not None and low <= now - began <= high:
                found.append((end, now - began == high))
        return found

    @cache
    def nature(times: tuple[int | None, ...], now: int, just: frozenset[int]) -> bool:
        """Nature moves: of what may end (`just`: only what was begun this minute, ending at once)."""
        choices = [(end, must) for end, must in open_ends(times, now) if not just or ends[end][0] in just]
        for picked in product((False, True), repeat=len(choices)):
            if any(must and not chosen for (_, must), chosen in zip(choices, picked, strict=True)):
                continue
            after = list(times)
            for (end, _), chosen in zip(choices, picked, strict=True):
                if chosen:
                    after[end] = now
            done = frozenset(end for (end, _), chosen in zip(choices, picked, strict=True) if chosen)
            if any(begin in done and low == 0 for begin, low, _ in ends.values()):
                if not nature(tuple(after), now, done):
                    return False
            elif not cook(tuple(after), now):
                return False
        return True

    @cache
    def cook(times: tuple[int | None, ...], now: int) -> bool:
        if not holds(times):
            return False
        if all(at is not None for at in times):
            return True
        for started in subsets([point for point in free if times[point] is None]):
            after = list(times)
            for point in started:
                after[point] = now
            if not holds(tuple(after)):
                continue
            sudden = frozenset(p for p in started if any(b == p and low == 0 for b, low, _ in ends.values()))
            if sudden:
                if nature(tuple(after), now, sudden):
                    return True
            elif now < LATEST + 1 and nature(tuple(after), now + 1, frozenset()):
                return True
        return False

    first: list[int | None] = [0] + [None] * (game.count - 1)
    return nature(tuple(first), 0, frozenset())


def subsets(points: list[int]) -> Iterator[tuple[int, ...]]:
    for picked in product((False, True), repeat=len(points)):
        yield tuple(point for point, chosen in zip(points, picked, strict=True) if chosen)
