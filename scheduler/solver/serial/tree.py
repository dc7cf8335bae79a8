"""The cheapest moments for some heads, given where others are: dynamic programming over a spanning forest.

Without shared cooks and gear the answer is exact where the arcs form a forest, and else a lower bound: arcs
left out of the forest are ignored on the way up, and only kept to on the way down.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from scheduler.solver.serial.arrays import NEVER, Costs
from scheduler.solver.serial.problem import Arc, At, Problem


class Forest:
    """Some heads, each after the one it hangs on (its arc; None for a root)."""

    def __init__(self, problem: Problem, heads: Sequence[int]) -> None:
        self.problem = problem
        self.heads = list(heads)
        self.order: list[tuple[int, Arc | None]] = []
        free = set(heads)
        for root in heads:
            if root in free:
                free.discard(root)
                self._grow(root, free)

    def _grow(self, root: int, free: set[int]) -> None:
        self.order.append((root, None))
        stack = [root]
        while stack:
            head = stack.pop()
            for arc in self.problem.touching[head]:
                other = arc.other(head)
                if other in free:
                    free.discard(other)
                    self.order.append((other, arc))
                    stack.append(other)

    def up(self, costs: dict[int, Costs]) -> dict[int, Costs]:
        """For each moment of each head, the least that it and all that hangs on it cost."""
        total = dict(costs)
        for head, arc in reversed(self.order):
            if arc is not None:
                parent = arc.other(head)
                total[parent] = total[parent] + arc.message(self.problem, parent, total[head])
        return total

    def least(self, costs: dict[int, Costs]) -> float:
        """A lower bound on what the heads cost."""
        total = self.up(costs)
        return sum(float(total[head].min(initial=NEVER)) for head, arc in self.order if arc is None)

    def marginals(self, costs: dict[int, Costs]) -> dict[int, Costs]:
        """For each moment of each head, a lower bound on what all the heads cost when it is there."""
        total = self.up(costs)
        lowest = {root: float(total[root].min(initial=NEVER)) for root, arc in self.order if arc is None}
        root_of: dict[int, int] = {}
        for head, arc in self.order:
            root_of[head] = head if arc is None else root_of[arc.other(head)]
            if arc is not None:
                parent = arc.other(head)
                beside = total[parent] - arc.message(self.problem, parent, total[head])
                total[head] = total[head] + arc.message(self.problem, head, np.maximum(beside, 0.0))
        rest = sum(lowest.values())
        return {head: total[head] + (rest - lowest[root_of[head]]) for head in total}

    def best(self, costs: dict[int, Costs]) -> At | None:
        """The cheapest moments, the latest of equals; None when a head can be nowhere."""
        total = self.up(costs)
        at: At = {}
        for head, _ in self.order:
            mine = total[head]
            for arc in self.problem.touching[head]:
                if arc.other(head) in at:
                    mine = mine + arc.from_fixed(head, self.problem.moments[head], at[arc.other(head)])
            index = len(mine) - 1 - int(np.argmin(mine[::-1]))
            if mine[index] >= NEVER:
                return None
            at[head] = int(self.problem.moments[head][index])
        return at
