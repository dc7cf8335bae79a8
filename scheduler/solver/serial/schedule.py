"""A placement being built: blocks are put in where they cost least, and taken out again when others need it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

import numpy as np

from scheduler.solver.places import Places
from scheduler.solver.serial.arrays import NEVER, Costs
from scheduler.solver.serial.blocks import Block, blocks_of
from scheduler.solver.serial.clashes import SHUT, Clashes
from scheduler.solver.serial.fine import Fine
from scheduler.solver.serial.problem import At, Problem
from scheduler.solver.serial.rooms import Room, Stay
from scheduler.solver.serial.tree import Forest
from scheduler.solver.serial.uses import Kitchen, Use, room_of

PUSH = 1e3
"""What pushing out a block of weight one costs, a minute, beside the preferences."""

NOBODY: Mapping[int, str | None] = {}


class Schedule:
    """`at` says where the heads placed so far are, `cooks` who does what."""

    def __init__(self, places: Places, problem: Problem) -> None:
        self.places, self.problem = places, problem
        self.kitchen = Kitchen(places)
        self.blocks = blocks_of(problem, self.kitchen)
        self.block_of = {head: block for block in self.blocks for head in block.heads}
        self.at: At = {}
        self.cooks: dict[int, str | None] = {}
        self.fine: Fine | None = None
        self.hard = Clashes(self.kitchen)
        self.soft = Clashes(self.kitchen, self._weigh)
        for use in self.kitchen.uses:
            if use.start.head is None and use.end.head is None:
                start, end = self.span(use)
                cook, _ = self.choose(use, start, end, self.hard)
                self.kitchen.settle(use, start, end, cook, None)
                self.cooks[use.number] = cook

    def _weigh(self, stay: Stay) -> float:
        return SHUT if stay.block is None else PUSH * self.blocks[stay.block].weight

    def be_fine(self) -> None:
        """From now on the last preferences count too."""
        self.fine = Fine(self.places, self.problem.moments)

    # ------------------------------------------------------------ costs

    def costs(self, heads: Iterable[int], uses: Iterable[Use], clashes: Clashes) -> dict[int, Costs]:
        """What each moment of some heads costs by itself, beside the heads placed and what is in use."""
        found: dict[int, Costs] = {}
        for head in heads:
            found[head] = self.problem.own[head].copy()
            if self.fine is not None:
                found[head] += self.fine.costs(head, self.problem.moments[head], self.at)
            for arc in self.problem.touching[head]:
                if (other := self.at.get(arc.other(head))) is not None:
                    found[head] += arc.from_fixed(head, self.problem.moments[head], other)
        for use in uses:
            self._count(use, found, clashes)
        return found

    def _count(self, use: Use, found: dict[int, Costs], clashes: Clashes) -> None:
        start, end, moments = use.start, use.end, self.problem.moments
        if start.head is None:
            if end.head in found:
                found[end.head] += clashes.until(use, start.offset, moments[end.head] + end.offset)
            return
        if start.head in found:
            length = end.offset - start.offset if use.fixed else use.least
            found[start.head] += clashes.during(use, moments[start.head] + start.offset, length)
        if not use.fixed and end.head in found:
            ends = moments[end.head] + end.offset
            if start.head in self.at:
                found[end.head] += clashes.until(use, self.at[start.head] + start.offset, ends)
            else:
                found[end.head] += clashes.during(use, ends - use.least, use.least)

    # ------------------------------------------------------------ putting in

    def put(self, block: Block) -> bool:
        """Put a block in where it costs least and clashes with nothing; False, and nothing changed, if nowhere."""
        at = block.forest.best(self.costs(block.heads, block.uses, self.hard))
        if at is None:
            return False
        return self.settle(block, at) or self._put_by_one(block)

    def _put_by_one(self, block: Block) -> bool:
        """Head after head, each use settled before the next: for blocks that get in their own way."""
        heads = [head for head, _ in block.forest.order]
        at: At = {}
        for index, head in enumerate(heads):
            self.at.update(at)
            left = heads[index:]
            done = self._take_up(block, at)
            costs = self.costs(left, block.uses, self.hard) if done else {}
            found = Forest(self.problem, left).best(costs) if done else None
            self._give_back(block)
            self.forget(at)
            if found is None:
                return False
            at[head] = found[head]
        return self.settle(block, at)

    def settle(self, block: Block, at: At, cooks: Mapping[int, str | None] = NOBODY) -> bool:
        """Place a block, with such cooks if it is said who; False, and nothing changed, at a clash."""
        self.at.update(at)
        if self._take_up(block, at, cooks):
            return True
        self._give_back(block)
        self.forget(at)
        return False

    def forget(self, heads: Iterable[int]) -> At:
        """Heads are placed no longer; where they were."""
        return {head: self.at.pop(head) for head in heads if head in self.at}

    def _take_up(self, block: Block, at: At, cooks: Mapping[int, str | None] = NOBODY) -> bool:
        """Settle every use of which both ends are known, the choosiest about cooks first; False at a clash."""
        for use in sorted(block.uses, key=lambda use: (len(use.cooks), use.number)):
            if any(place.head is not None and place.head not in at for place in (use.start, use.end)):
                continue
            start, end = self.span(use)
            asked = use if use.number not in cooks else replace(use, cooks=_only(cooks[use.number]))
            cook, free = self.choose(asked, start, end, self.hard)
            if not free:
                return False
            self.kitchen.settle(use, start, end, cook, block.number)
            self.cooks[use.number] = cook
        return True

    def _give_back(self, block: Block) -> None:
        for use in block.uses:
            if use.number in self.cooks:
                self.kitchen.lift(use, self.cooks.pop(use.number))

    def span(self, use: Use) -> tuple[int, int]:
        start, end = self.problem.moment(use.start, self.at), self.problem.moment(use.end, self.at)
        return start, max(start, end)

    def choose(self, use: Use, start: int, end: int, clashes: Clashes) -> tuple[str | None, bool]:
        """The cook who can do it at the least cost, and whether it can be done there at all."""
        if start == end:
            return (use.cooks[0] if use.cooks else None), True
        costs = clashes.choices(use, start, end)
        least = int(np.argmin(costs))
        return (use.cooks[least] if use.cooks else None), costs[least] < NEVER

    def take_out(self, block: Block) -> None:
        self._give_back(block)
        self.forget(block.heads)

    # ------------------------------------------------------------ pushing out

    def push_in(self, block: Block) -> list[Block] | None:
        """Put a block in at the expense of others; which were taken out. None when it can be nowhere."""
        out = []
        at = block.forest.best(self.costs(block.heads, block.uses, self.soft))
        if at is None:
            out = self._free_neighbours(block)
            at = block.forest.best(self.costs(block.heads, block.uses, self.soft))
        if at is None:
            return None
        self.at.update(at)
        pushed = [each for use in block.uses for each in self._in_the_way(use)]
        self.forget(at)
        for each in dict.fromkeys(pushed):
            self.take_out(self.blocks[each])
            out.append(self.blocks[each])
        return out if self.settle(block, at) or self._put_by_one(block) else None

    def _free_neighbours(self, block: Block) -> list[Block]:
        placed = [head for head in block.neighbours if head in self.at]
        numbers = sorted({self.block_of[head].number for head in placed})
        for number in numbers:
            self.take_out(self.blocks[number])
        return [self.blocks[number] for number in numbers]

    def _in_the_way(self, use: Use) -> list[int]:
        """The blocks that have to go for a use to be settled, the lightest first."""
        start, end = self.span(use)
        if start == end:
            return []
        found = []
        for name, count in use.needs:
            found += self._too_many(self.kitchen.rooms[name], start, end, count)
        if use.heat is not None:
            found += self._other_heats(use.heat, start, end)
        if use.cooks:
            cook, _ = self.choose(use, start, end, self.soft)
            found += self._too_many(self.kitchen.rooms[f"cook {cook}"], start, end, 1)
        return found

    def _too_many(self, room: Room, start: int, end: int, count: int) -> list[int]:
        if not room.full(start, end, count).any():
            return []
        stays = [stay for stay in room.during(start, end) if stay.block is not None]
        return [stay.block for stay in stays if stay.block is not None]

    def _other_heats(self, heat: int, start: int, end: int) -> list[int]:
        rooms = [self.kitchen.rooms[room_of(h)] for h in self.kitchen.heats if h != heat]
        heats = sum(room.used(start, end).astype(np.int64) for room in rooms)
        if not rooms or not (np.asarray(heats) >= self.kitchen.ovens).any():
            return []
        return [stay.block for room in rooms for stay in room.during(start, end) if stay.block is not None]

    # ------------------------------------------------------------ changing places

    def cost_of(self, heads: Iterable[int]) -> float:
        """What placed heads cost: by themselves, and with every placed head they are bound to."""
        mine = set(heads)
        total = sum(self.problem.own_at(head, self.at[head]) for head in mine)
        if self.fine is not None:
            total += sum(self.fine.cost(head, self.problem.moments[head], self.at) for head in mine)
        arcs = {id(arc): arc for head in mine for arc in self.problem.touching[head]}
        placed = [arc for arc in arcs.values() if arc.earlier in self.at and arc.later in self.at]
        return total + sum(arc.price(self.at[arc.later] - self.at[arc.earlier]) for arc in placed)

    def keep(self, blocks: Iterable[Block]) -> list[tuple[Block, At, dict[int, str | None]]]:
        """Where blocks are and who does what, to bring them back to."""
        return [
            (
                block,
                {head: self.at[head] for head in block.heads},
                {use.number: self.cooks[use.number] for use in block.uses},
            )
            for block in blocks
        ]

    def bring_back(self, kept: list[tuple[Block, At, dict[int, str | None]]]) -> None:
        for block, at, cooks in kept:
            self.at.update(at)
            for use in block.uses:
                self.kitchen.settle(use, *self.span(use), cooks[use.number], block.number)
            self.cooks.update(cooks)

    def near(self, block: Block, around: int) -> list[int]:
        """Blocks that use what this one uses within so many minutes of it."""
        found = []
        for use in block.uses:
            start, end = self.span(use)
            for room in self.kitchen.rooms_of(use):
                found += [stay.block for stay in room.during(start - around, end + around)]
        return sorted({number for number in found if number is not None and number != block.number})

    def would_push(self, block: Block) -> list[Block]:
        """The blocks in the way of where a block that is out would go if nothing were in its way."""
        at = block.forest.best(self.costs(block.heads, (), self.hard))
        if at is None:
            return []
        self.at.update(at)
        pushed = [number for use in block.uses for number in self._in_the_way(use)]
        self.forget(at)
        return [self.blocks[number] for number in dict.fromkeys(pushed)]


def _only(cook: str | None) -> tuple[str, ...]:
    return () if cook is None else (cook,)
