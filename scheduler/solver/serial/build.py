"""A first timetable without any search tree: blocks from the table backward, each where it costs least.

A block that fits nowhere pushes out whatever is in its way at the least cost and becomes heavier, so that in
time the hard ones settle first (ejection chains with weights learned from failures: Nagata and Bräysy, "A
powerful route minimization heuristic", Operations Research Letters 37, 2009).
"""

from __future__ import annotations

import heapq

from scheduler.solver.serial.blocks import Block
from scheduler.solver.serial.schedule import Schedule


def build(schedule: Schedule, pushes: int) -> bool:
    """Place every block that is not placed; False when that took more pushes than allowed."""
    queue = [_turn(block) for block in schedule.blocks if not _placed(schedule, block)]
    heapq.heapify(queue)
    while queue:
        block = schedule.blocks[heapq.heappop(queue)[1]]
        if schedule.put(block):
            continue
        pushes -= 1
        block.weight *= 2
        out = schedule.push_in(block)
        if out is None or pushes < 0:
            return False
        for each in out:
            heapq.heappush(queue, _turn(each))
    return True


def _turn(block: Block) -> tuple[int, int]:
    return (block.number, block.number)


def _placed(schedule: Schedule, block: Block) -> bool:
    return all(head in schedule.at for head in block.heads)
