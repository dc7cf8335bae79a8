"""A timetable made cheaper by taking a few blocks out and putting them in again, in another order.

Each block goes where it costs least beside the rest, so a round in which nothing moves is a local optimum; to
leave it, a block takes the place it would have if it were alone, and those in its way look for another
(large neighbourhood search: Shaw, "Using constraint programming and local search methods to solve vehicle
routing problems", CP 1998). Random choices come from a fixed seed.
"""

from __future__ import annotations

import random
from collections.abc import Iterable

from scheduler.solver.serial.blocks import Block
from scheduler.solver.serial.schedule import Schedule

AROUND = 120
"""Minutes around a block's uses within which others count as near it."""


class Improver:
    """`cost` is what the schedule costs; `puts` counts how often a block was put in."""

    def __init__(self, schedule: Schedule, least: float = 0.5) -> None:
        """`least`: by how much something has to be cheaper to count as such."""
        self.schedule, self.least = schedule, least
        self.rng = random.Random(1)
        self.cost = schedule.cost_of(schedule.at)
        self.puts = 0

    def descend(self, most: int) -> None:
        """Put each block where it costs least beside the others, until none moves or `most` puts are made."""
        steady = 0
        blocks = self.schedule.blocks
        while steady < len(blocks) and self.puts < most:
            block = blocks[self.puts % len(blocks)]
            steady = 0 if self._again([block], None) else steady + 1

    def search(self, most: int, bound: float) -> None:
        """Let blocks that could cost less take their best place, until the bound is met or puts run out."""
        while self.puts < most and self.cost > bound:
            wanting = [(block, much) for block in self.schedule.blocks if (much := self.regret(block)) > 0.5]
            if not wanting:
                return
            for _ in range(max(4, len(wanting))):
                block = self.rng.choices([b for b, _ in wanting], [much for _, much in wanting])[0]
                self._again(self._near(block), block if self.rng.random() < 0.7 else None)
                if self.puts >= most or self.cost <= bound:
                    return

    def regret(self, block: Block) -> float:
        """How much less a block would cost if it were alone in the kitchen."""
        mine = self.schedule.cost_of(block.heads)
        if mine < 0.5:
            return 0.0
        kept = self.schedule.forget(block.heads)
        alone = block.forest.least(self.schedule.costs(block.heads, (), self.schedule.hard))
        self.schedule.at.update(kept)
        return mine - alone

    def _near(self, block: Block) -> list[Block]:
        """A block and some of those that it might have to change places with."""
        near = self.schedule.near(block, AROUND)
        joined = sorted({self.schedule.block_of[head].number for head in block.neighbours})
        some = self.rng.sample(near, min(len(near), self.rng.randint(0, 4)))
        some += [n for n in joined if self.rng.random() < 0.3]
        return [block, *(self.schedule.blocks[n] for n in dict.fromkeys(some) if n != block.number)]

    def _again(self, out: list[Block], first: Block | None) -> bool:
        """Take blocks out and put them in again, `first` and what is in its way before the rest.

        True when that made it cheaper; what would make it dearer is undone.
        """
        schedule = self.schedule
        kept = schedule.keep(out)
        before = self._take_out(out)
        if first is not None:
            pushed = schedule.would_push(first)
            kept += schedule.keep(pushed)
            before += self._take_out(pushed)
            out = [*out, *pushed]
        self.rng.shuffle(out)
        if first is not None:
            out.sort(key=lambda block: block is not first)
        if (
            self._put(out)
            and (after := schedule.cost_of(h for b in out for h in b.heads)) <= before + self.least
        ):
            self.cost += after - before
            return after < before - self.least
        for block in out:
            schedule.take_out(block)
        schedule.bring_back(kept)
        return False

    def _take_out(self, blocks: list[Block]) -> float:
        """What the blocks cost, taken out."""
        cost = self.schedule.cost_of(head for block in blocks for head in block.heads)
        for block in blocks:
            self.schedule.take_out(block)
        return cost

    def _put(self, blocks: Iterable[Block]) -> bool:
        for block in blocks:
            self.puts += 1
            if not self.schedule.put(block):
                return False
        return True
