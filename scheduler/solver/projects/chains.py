"""A schedule's order as lags: chains of activities that hand units of a resource on to each other.

Keeping the chains of some activities keeps those within capacity whatever their starts, while the others are
free to move. Source: partial-order schedules after Policella and others (2004), and their use in a search of
large neighbourhoods after Godard, Laborie and Nuijten (2005).
"""

from __future__ import annotations

from collections.abc import Sequence
from heapq import heapify, heappop, heappush

from scheduler.solver.projects.network import Network


def handed_on(network: Network, starts: Sequence[int], free: frozenset[int]) -> set[tuple[int, int]]:
    """Pairs (before, after): the second takes a unit that the first gives up. Those in `free` take part in none."""
    lengths: list[int] = network.durations.tolist()
    order = sorted((start, number) for number, start in enumerate(starts) if number not in free)
    links: set[tuple[int, int]] = set()
    for resource, capacity in enumerate(network.capacities.tolist()):
        demands: list[int] = network.demands[:, resource].tolist()
        units = [(0, -1)] * capacity
        heapify(units)
        for start, number in order:
            if demands[number]:
                links |= _taken(units, demands[number], number, start + lengths[number])
    return links


def _taken(units: list[tuple[int, int]], demand: int, number: int, end: int) -> set[tuple[int, int]]:
    givers = {heappop(units)[1] for _ in range(demand)}
    for _ in range(demand):
        heappush(units, (end, number))
    return {(giver, number) for giver in givers if giver >= 0}
