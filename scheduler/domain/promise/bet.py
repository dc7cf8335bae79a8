"""A timetable and what nature may do to it: whether there is an executor for given ranges, and which."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime

from scheduler.domain.plan import MINUTE, Plan
from scheduler.domain.progress import Progress
from scheduler.domain.promise.controllability import controllable
from scheduler.domain.promise.executor import Executor
from scheduler.domain.promise.layout import Layout
from scheduler.domain.promise.lengths import Ranges, as_nature_has_it, as_planned
from scheduler.domain.promise.openings import Openings
from scheduler.domain.promise.order import keep_in_turn
from scheduler.domain.promise.rules import Rules
from scheduler.domain.promise.setting import Setting
from scheduler.domain.promise.spots import Path
from scheduler.domain.promise.stnu import Edge
from scheduler.domain.slack.room import minute
from scheduler.domain.timetable import Timetable, next_mark

TRIES = 10
"""How many ways of laying a timetable out are looked at before it is given up."""


@dataclass(frozen=True, slots=True)
class Way:
    """One way of laying a timetable out: which places are moved to another stretch, and see Layout for `apart`."""

    moves: frozenset[tuple[tuple[int, Path], int]] = frozenset()
    apart: bool = False


class Bet:
    """`ranges` are all the lengths nature may choose and `planned` those of the timetable, in minutes by step.

    `unsure` are the steps with a choice; `rules` judges what was done.
    """

    def __init__(self, plan: Plan, timetable: Timetable, now: datetime, progress: Progress) -> None:
        self.plan, self.timetable, self.now, self.progress = plan, timetable, now, progress
        self.ranges = as_nature_has_it(plan, timetable, now, progress)
        self.planned = {
            n: min(max(as_planned(slot), low), high)
            for n, (low, high) in self.ranges.items()
            if (slot := timetable.slot(n)) is not None
        }
        self.unsure = tuple(n for n, (low, high) in self.ranges.items() if low < high)
        reach = max((high - self.planned[n] for n, (_, high) in self.ranges.items()), default=0)
        self.openings = Openings(plan, timetable, minute(next_mark(now, MINUTE)), reach)
        self.rules = Rules(plan, timetable, now, progress, self.openings)
        self._known: dict[tuple[int, ...], bool] = {}

    def free(self, steps: Iterable[int]) -> Ranges:
        """Only these steps are left to nature; the others last as planned."""
        chosen = set(steps)
        return {n: self.ranges[n] if n in chosen else (self.planned[n],) * 2 for n in self.ranges}

    def up_to(self, step: int, off: int) -> Ranges:
        """Only this step is left to nature, and only up to so far from its planned length."""
        planned = self.planned[step]
        return {**self.free(()), step: (min(planned, planned + off), max(planned, planned + off))}

    def room(self, step: int, towards: int) -> int:
        """How far nature may take a step from its planned length, longer (1) or shorter (-1)."""
        low, high = self.ranges[step]
        return high - self.planned[step] if towards > 0 else self.planned[step] - low

    def kept_towards(self, step: int, towards: int) -> bool:
        """Whether nothing goes wrong however far this step alone is off its planned length in one direction."""
        return self.executor(self.up_to(step, towards * self.room(step, towards))) is not None

    def lost(self) -> Iterator[tuple[int, int]]:
        """Each step that alone loses it, with the direction (see room) in which it does."""
        for step in self.unsure:
            if not self.kept((step,)):
                yield from ((step, to) for to in (1, -1) if not self.kept_towards(step, to))

    def kept(self, steps: tuple[int, ...] | None = None) -> bool:
        """Whether nothing goes wrong whatever these steps, or else all of them, do."""
        chosen = self.unsure if steps is None else steps
        if chosen not in self._known:
            self._known[chosen] = self.executor(self.free(chosen)) is not None
        return self._known[chosen]

    def executor(self, ranges: Ranges | None = None) -> Executor | None:
        """One that is never late within the ranges, if one is found: with every step in its planned stretch of
        hours, or else with some moved to another, or with work in another order, where the witness says so.
        """
        given = self._given(self.ranges if ranges is None else ranges)
        tried: set[Way] = set()
        ways = [Way()]
        while ways and len(tried) < TRIES:
            way = ways.pop(0)
            if way in tried:
                continue
            tried.add(way)
            layout = laid_out(given, way)
            answer = controllable(layout.network)
            if answer.controllable:
                return Executor(layout, answer)
            ways += _other_ways(layout, answer.cycle, way)
        return None

    def _given(self, ranges: Ranges) -> Setting:
        return Setting(self.plan, self.timetable, self.now, self.progress, ranges, self.openings)


def laid_out(given: Setting, way: Way) -> Layout:
    """The whole network."""
    layout = Layout(given, dict(way.moves), way.apart)
    keep_in_turn(layout)
    layout.stand_still()
    return layout


def _other_ways(layout: Layout, cycle: tuple[Edge, ...], way: Way) -> Iterator[Way]:
    """What to try instead, from what stands in the way: work in another order, or another stretch of hours."""
    whys = [edge.why for edge in cycle if isinstance(edge.why, tuple)]
    if not way.apart and any(why[0] == "turn" for why in whys):
        yield Way(way.moves, True)
    for kind, number, *_ in whys:
        if kind in ("closes", "stay", "opens"):
            spot = layout.spots[number]
            place, by = (spot.step.number, spot.path), -1 if kind == "opens" else 1
            moves = dict(way.moves)
            moves[place] = moves.get(place, 0) + by
            if spot.step.number in layout.moved and moves[place] * by > 0:
                yield Way(frozenset(moves.items()), way.apart)
