"""Large sets of activities of which no two can overlap, whichever resources keep them apart."""

from __future__ import annotations

import numpy as np

from scheduler.solver.projects.network import Network, Pairs

LARGE = 1 / 3
"""Share of all activities from which on a set is worth a constraint of its own (measured on RCPSP/max)."""

KEPT = 8
"""More sets than this cost more than they prune (measured)."""


def large_cliques(network: Network) -> list[list[int]]:
    """The sets with the longest work, each a list of activities in order; few or none in most projects."""
    least = max(4, round(network.count * LARGE))
    pairs = network.disjoint.copy()
    while True:
        lonely = (pairs.sum(axis=1) < least - 1) & pairs.any(axis=1)
        if not lonely.any():
            break
        pairs[lonely, :] = pairs[:, lonely] = False
    found = [clique for clique in _cover(pairs, network.durations.tolist()) if len(clique) >= least]
    lengths = network.durations
    return sorted(found, key=lambda clique: -int(lengths[clique].sum()))[:KEPT]


def _cover(pairs: Pairs, lengths: list[int]) -> list[list[int]]:
    """Sets grown from one pair after another, until every pair is in one or there are many."""
    uncovered = np.triu(pairs)
    cliques: list[list[int]] = []
    while uncovered.any() and len(cliques) < 4 * KEPT:
        one, other = np.argwhere(uncovered)[0]
        clique = _grown(pairs, [int(one), int(other)], lengths)
        uncovered[np.ix_(clique, clique)] = False
        cliques.append(clique)
    return cliques


def _grown(pairs: Pairs, clique: list[int], lengths: list[int]) -> list[int]:
    fitting = pairs[clique].all(axis=0)
    while fitting.any():
        candidates = np.flatnonzero(fitting)
        ties = pairs[np.ix_(candidates, candidates)].sum(axis=1)
        best = max(range(len(candidates)), key=lambda place: (int(ties[place]), lengths[candidates[place]]))
        clique.append(int(candidates[best]))
        fitting &= pairs[candidates[best]]
    return sorted(clique)
