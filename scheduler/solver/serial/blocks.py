"""The heads of a plan in blocks that are placed together: roughly, one for each component."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from itertools import pairwise

from scheduler.solver.places import Places
from scheduler.solver.serial.problem import Problem
from scheduler.solver.serial.tree import Forest
from scheduler.solver.serial.uses import Kitchen, Use


@dataclass(eq=False)
class Block:
    """Heads placed in one go, and the uses that then are settled. `weight` grows with every failure."""

    number: int
    problem: Problem
    heads: list[int]
    uses: list[Use] = field(default_factory=list)
    weight: float = 1.0

    @cached_property
    def forest(self) -> Forest:
        return Forest(self.problem, self.heads)

    @cached_property
    def neighbours(self) -> list[int]:
        """Heads of other blocks that an arc leads to."""
        mine = set(self.heads)
        touching = self.problem.touching
        return sorted({a.other(h) for h in self.heads for a in touching[h] if a.other(h) not in mine})


def blocks_of(problem: Problem, kitchen: Kitchen) -> list[Block]:
    """Every block, those nearest the table first, among equals the one with the least room."""
    roots = _joined(problem.places)
    groups: dict[int, list[int]] = {}
    for head in range(len(problem.moments)):
        groups.setdefault(roots[head], []).append(head)
    ranks = _ranks(problem, roots)
    ordered = sorted(
        groups.items(), key=lambda g: (ranks[g[0]], min(len(problem.moments[h]) for h in g[1]), g[0])
    )
    found = [Block(number, problem, heads[::-1]) for number, (_, heads) in enumerate(ordered)]
    where = {head: block for block in found for head in block.heads}
    for use in kitchen.uses:
        moving = [place.head for place in (use.end, use.start) if place.head is not None]
        if moving:
            where[moving[0]].uses.append(use)
    return found


def _joined(places: Places) -> list[int]:
    """For each head, the first head of its block: heads of one component move together."""
    roots = list(range(len(places.heads)))

    def root(head: int) -> int:
        while roots[head] != head:
            head = roots[head]
        return head

    for component in places.task.plan.components:
        numbers = [step.number for step in component.steps]
        found = [p.head for n in numbers for p in (places.starts.get(n), places.ends.get(n)) if p is not None]
        heads = [head for head in found if head is not None]
        for one, other in pairwise(heads):
            first, second = sorted((root(one), root(other)))
            roots[second] = first
    return [root(head) for head in range(len(roots))]


def _ranks(problem: Problem, roots: list[int]) -> dict[int, int]:
    """How many blocks there are between each and the table, at most (by the order of their arcs)."""
    after: dict[int, set[int]] = {root: set() for root in roots}
    for arc in problem.arcs:
        if roots[arc.earlier] != roots[arc.later]:
            after[roots[arc.earlier]].add(roots[arc.later])
    ranks: dict[int, int] = dict.fromkeys(after, 0)
    for _ in ranks:
        changed = False
        for root, later in after.items():
            rank = max((ranks[each] + 1 for each in later), default=0)
            if rank > ranks[root] and rank <= len(ranks):
                ranks[root], changed = rank, True
        if not changed:
            break
    return ranks
