"""A first answer that needs no search tree, and what it says about where anything better must be."""

from __future__ import annotations

from collections.abc import Iterator

from scheduler.domain.timetable import Slot, in_order
from scheduler.solver.places import Places
from scheduler.solver.ranges import Ranges
from scheduler.solver.serial.build import build
from scheduler.solver.serial.improve import Improver
from scheduler.solver.serial.problem import At, Problem
from scheduler.solver.serial.schedule import Schedule
from scheduler.solver.serial.shrink import worth_having
from scheduler.solver.serial.tree import Forest

PUSHES = 150
"""How often blocks may push others out before the first timetable is given up."""

ROUNDS, MORE_ROUNDS, MANY = 2, 8, 200
"""How often, on average, each block is put in again while the timetable is made cheaper; more often where there
are more heads than `MANY`, for a search can then add little.
"""

TRIFLE = 1e-9
"""Less than any of the last preferences."""


def first_answer(places: Places, costs: bool = True, pushes: int = PUSHES) -> First | None:
    """A placement of every step, or None when none was found (which proves nothing)."""
    first = First(places, costs)
    return first if build(first.schedule, pushes) else None


class First:
    """A placement: `cost` and `bound` by the first preferences, `at` by head, `cooks` by step."""

    def __init__(self, places: Places, costs: bool = True) -> None:
        self.places = places
        self.problem = Problem(places, costs)
        self.schedule = Schedule(places, self.problem)
        self.forest = Forest(self.problem, range(len(self.problem.moments)))
        self.bound = 0

    @property
    def at(self) -> At:
        return self.schedule.at

    @property
    def cost(self) -> int:
        return self.problem.cost(self.at)

    def cook(self, step: int) -> str | None:
        return self.schedule.cooks.get(step)

    def slots(self) -> tuple[Slot, ...]:
        """The start and end of every step still part of the meal, with windows not yet worked out."""
        return in_order(self._slots())

    def _slots(self) -> Iterator[Slot]:
        for number, start in self.places.starts.items():
            begins = self.places.moment(self.problem.moment(start, self.at))
            ends = self.places.moment(self.problem.moment(self.places.ends[number], self.at))
            yield Slot(number, begins, ends, begins, begins, begins, self.cook(number))

    def improve(self) -> None:
        """Work out the bound, and come as near to it as a few rounds get."""
        rounds = MORE_ROUNDS if len(self.problem.moments) > MANY else ROUNDS
        least = self.forest.least(dict(enumerate(self.problem.own)))
        self.bound = min(self.cost, round(least) + self.problem.fixed)
        blocks = len(self.schedule.blocks)
        improver = Improver(self.schedule)
        improver.descend(2 * blocks)
        improver.search(rounds * blocks, least)

    def within(self) -> list[Ranges]:
        """For each head, the moments with which a timetable could be as good as this one."""
        return worth_having(self.problem, self.forest, self.cost)

    def take(self, at: At, cooks: dict[int, str | None]) -> bool:
        """Take over another placement; False, and nothing changed, when it clashes with something here."""
        kept = self.schedule.keep(self.schedule.blocks)
        for block in self.schedule.blocks:
            self.schedule.take_out(block)
        if all(self.schedule.settle(b, {h: at[h] for h in b.heads}, cooks) for b in self.schedule.blocks):
            return True
        for block in self.schedule.blocks:
            self.schedule.take_out(block)
        self.schedule.bring_back(kept)
        return False

    def polish(self) -> None:
        """Spread hands-on work and round times, at no cost to what comes before them."""
        self.schedule.be_fine()
        Improver(self.schedule, least=TRIFLE).descend(2 * len(self.schedule.blocks))
