"""How far apart the heads of a plan may be, and what that leaves of where each can be.

The network is a simple temporal one over domains with holes (waking hours). Making it arc-consistent before
any search leaves each head only moments from which every neighbour can still be reached; on a tree that is all
there is to know. (Dechter, Meiri, Pearl, "Temporal constraint networks", Artificial Intelligence 49, 1991.)
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from scheduler.domain.plan import MINUTE, Link
from scheduler.domain.progress import State, latest_after
from scheduler.facts import SERVE, FactKind
from scheduler.solver.ranges import Ranges, both, either, in_units

if TYPE_CHECKING:
    from scheduler.solver.places import Place, Places

FAR = 10**8
"""Minutes: no limit."""


@dataclass(frozen=True, slots=True)
class Edge:
    """The moment of head `later` less that of head `earlier` lies between `low` and `high`, in minutes."""

    earlier: int
    later: int
    low: int
    high: int


Apart = tuple["Place", "Place", int, int]
"""Two places, and the least and most minutes from the first to the second."""


def distances(places: Places) -> Iterator[Apart]:
    """Every bound on how far two places may be apart: lengths that are chosen, and links."""
    for step in places.waiting():
        least, most = places.lengths(step)
        if least != most:
            yield places.starts[step.number], places.ends[step.number], least, FAR if most is None else most
    for link in places.links:
        yield from _to_table(places, link) if link.after is None else _between(places, link, link.after)


def _to_table(places: Places, link: Link) -> Iterator[Apart]:
    if SERVE in places.task.dropped or places.state(link.before) is State.DONE:
        return
    ended, least = places.ends[link.before], int(link.shortest / MINUTE)
    most = 0 if link.longest is None else int(link.longest / MINUTE)
    yield ended, places.at_fixed(places.latest_serve), least, FAR
    if not places.without(FactKind.KEEPS, step=link.before, other=None):
        yield ended, places.at_fixed(places.serve), -FAR, most


def _between(places: Places, link: Link, after: int) -> Iterator[Apart]:
    if places.state(after) is not State.WAITING or places.starts[after] == places.ends[link.before]:
        return
    ended, started = places.ends[link.before], places.starts[after]
    yield ended, started, int(link.shortest / MINUTE), FAR
    if link.longest is None or places.without(FactKind.KEEPS, step=link.before, other=after):
        return
    really = places.task.progress.of(link.before).ended
    if places.state(link.before) is not State.DONE or really is None:
        yield ended, started, -FAR, int(link.longest / MINUTE)
    elif latest := latest_after(link, really, places.task.now):
        yield places.at_fixed(places.minute(latest)), started, -FAR, 0


def edges(places: Places, apart: Iterable[Apart]) -> list[Edge]:
    """The bounds between two heads, one edge for each pair; bounds within one head or to a fixed place narrow
    down where that head can be.
    """
    found: dict[tuple[int, int], tuple[int, int]] = {}
    for first, second, low, high in apart:
        if first.head is None or second.head is None or first.head == second.head:
            _fix(places, first, second, low, high)
            continue
        by = first.offset - second.offset
        low, high = max(-FAR, low + by), min(FAR, high + by)
        key = (first.head, second.head)
        if key[::-1] in found:
            key, low, high = key[::-1], -high, -low
        known = found.get(key, (-FAR, FAR))
        found[key] = max(low, known[0]), min(high, known[1])
    return [Edge(*key, low, high) for key, (low, high) in found.items()]


def _fix(places: Places, first: Place, second: Place, low: int, high: int) -> None:
    if second.head is None and first.head is not None:
        places.allow(first, [(second.offset - high, second.offset - low)])
    elif first.head is None and second.head is not None:
        places.allow(second, [(first.offset + low, first.offset + high)])
    elif not low <= second.offset - first.offset <= high:
        places.impossible = True


def tighten(places: Places, all_edges: list[Edge]) -> None:
    """Leave each head only moments that every neighbour can be reached from."""
    touching: dict[int, list[Edge]] = {}
    for edge in all_edges:
        touching.setdefault(edge.earlier, []).append(edge)
        touching.setdefault(edge.later, []).append(edge)
    for head in places.heads:
        head.allowed = _trimmed(head.allowed, head.unit)
        places.impossible |= not head.allowed
    queue = deque(range(len(places.heads)))
    waiting = set(queue)
    while queue and not places.impossible:
        index = queue.popleft()
        waiting.discard(index)
        for edge in touching.get(index, ()):
            changed = _reach(places, edge, index)
            if changed is not None and changed not in waiting:
                queue.append(changed)
                waiting.add(changed)


def _reach(places: Places, edge: Edge, index: int) -> int | None:
    """Narrow down the other end of an edge; which head that was, if it changed."""
    forward = edge.earlier == index
    other = edge.later if forward else edge.earlier
    low, high = (edge.low, edge.high) if forward else (-edge.high, -edge.low)
    head = places.heads[other]
    reached = _widened(places.heads[index].allowed, low, high)
    left = _trimmed(both(head.allowed, reached), head.unit)
    if left == head.allowed:
        return None
    head.allowed = left
    places.impossible |= not left
    return other


def _widened(ranges: Ranges, low: int, high: int) -> Ranges:
    return either([(a + low, b + high) for a, b in ranges])


def _trimmed(ranges: Ranges, unit: int) -> Ranges:
    """Each range from its first multiple of `unit` to its last; those without one left out."""
    return [(a * unit, b * unit) for a, b in in_units(ranges, unit)]
