"""What each step takes up while it lasts, and the stretches it has to lie in."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from scheduler.domain.plan import Attention, Step
from scheduler.domain.progress import State
from scheduler.facts import FactKind
from scheduler.solver.places import Place, Places
from scheduler.solver.ranges import DAY, Ranges
from scheduler.solver.serial.arrays import Flags
from scheduler.solver.serial.rooms import Room, Rooms, Stay

UNCOUNTED = 10**6
"""How many a room holds whose limit is left out."""


@dataclass(frozen=True, slots=True)
class Use:
    """A step's demands: so many `needs` of each room, an oven at `heat`, one of `cooks` (at home if `hours`).

    `least` is its shortest length in minutes; `closed` flags minutes that must not lie inside it.
    """

    number: int
    start: Place
    end: Place
    least: int
    needs: tuple[tuple[str, int], ...]
    heat: int | None
    cooks: tuple[str, ...]
    hours: bool
    closed: Flags | None

    @property
    def fixed(self) -> bool:
        """Whether how long it lasts is settled."""
        return self.start.head == self.end.head

    @property
    def free(self) -> bool:
        """Whether it gets in nobody's way and nobody in its."""
        return not self.needs and self.heat is None and not self.cooks and self.closed is None


def room_of(heat: int) -> str:
    return f"oven at {heat}"


class Kitchen:
    """The rooms of a plan, the steps that use them, and when each cook is not there."""

    def __init__(self, places: Places) -> None:
        self.places = places
        first = min(places.first, places.now) - DAY
        last = max([places.last, places.now, *(places.span(step.number)[1] for step in self._live())])
        self.rooms = Rooms(first, last + 2 * DAY)
        self.ovens = places.task.plan.kitchen.ovens
        if places.without(FactKind.GEAR, name="oven"):
            self.ovens = UNCOUNTED
        self.away = {
            cook.name: self._not_in(places.stretches.home(cook)) for cook in places.task.plan.kitchen.cooks
        }
        self._make_rooms()
        self.uses = [use for step in self._live() if not (use := self._use(step)).free]

    def _live(self) -> Iterator[Step]:
        states = (State.WAITING, State.RUNNING)
        return (s for s in self.places.task.plan.steps if self.places.state(s.number) in states)

    def _running(self, step: Step) -> bool:
        return self.places.state(step.number) is State.RUNNING

    def _not_in(self, stretches: Ranges) -> Flags:
        """The minutes outside half-open stretches."""
        flags = np.ones(self.rooms.last - self.rooms.first, dtype=np.bool_)
        for low, high in stretches:
            flags[max(0, low - self.rooms.first) : max(0, high - self.rooms.first)] = False
        return flags

    def _make_rooms(self) -> None:
        """Steps under way may share a thing more than it holds, since they do; nothing is begun beside them."""
        plan, under_way = self.places.task.plan, [step for step in self._live() if self._running(step)]
        for name, count in plan.kitchen.gear.items():
            dropped = self.places.without(FactKind.GEAR, name=name)
            in_use = sum(step.gear.count(name) for step in under_way)
            self.rooms.make(name, UNCOUNTED if dropped else max(count, in_use))
        for cook in plan.kitchen.cooks:
            dropped = self.places.without(FactKind.COOK, name=cook.name)
            self.rooms.make(f"cook {cook.name}", UNCOUNTED if dropped else 1)
        self.heats = sorted({step.oven for step in self._live() if step.oven is not None})
        for heat in self.heats:
            self.rooms.make(room_of(heat), UNCOUNTED)

    def _use(self, step: Step) -> Use:
        places, running = self.places, self._running(step)
        start = places.at_fixed(places.now) if running else places.starts[step.number]
        least, most = (0, 0) if running else places.lengths(step)
        gear = [name for name in dict.fromkeys(step.gear) if self.rooms[name].holds < UNCOUNTED]
        hands = step.attention is Attention.HANDS_ON
        return Use(
            step.number,
            start,
            places.ends[step.number],
            least,
            tuple((name, step.gear.count(name)) for name in gear),
            step.oven if self.ovens < UNCOUNTED else None,
            tuple(cook.name for cook in places.task.plan.cooks_of(step)) if hands else (),
            not running and not places.without(FactKind.HOURS, step=step.number),
            self._closed(step) if not running and least != most else None,
        )

    def _closed(self, step: Step) -> Flags | None:
        """For a length that is chosen: what it must not lie over, whoever does it."""
        places, inside = self.places, []
        if step.attention is Attention.NEARBY and not places.without(FactKind.HOURS, step=step.number):
            inside = [places.stretches.someone(step)]
        if step.attention is Attention.HANDS_ON and not places.without(FactKind.ONLY, step=step.number):
            inside = places.stretches.wholly(step)
        found = [self._not_in(stretches) for stretches in inside]
        return np.asarray(np.logical_or.reduce(found), dtype=np.bool_) if found else None

    def rooms_of(self, use: Use) -> list[Room]:
        """Every room a step may use."""
        names = [name for name, _ in use.needs] + [f"cook {cook}" for cook in use.cooks]
        heats = [] if use.heat is None else [room_of(heat) for heat in self.heats]
        return [self.rooms[name] for name in names + heats]

    def settle(self, use: Use, start: int, end: int, cook: str | None, block: int | None) -> None:
        """Take up what a step needs."""
        for name, count in use.needs:
            self.rooms[name].add(use.number, Stay(start, end, count, block))
        if use.heat is not None:
            self.rooms[room_of(use.heat)].add(use.number, Stay(start, end, 1, block))
        if cook is not None:
            self.rooms[f"cook {cook}"].add(use.number, Stay(start, end, 1, block))

    def lift(self, use: Use, cook: str | None) -> None:
        """Give back what a step took up."""
        for name, _ in use.needs:
            self.rooms[name].remove(use.number)
        if use.heat is not None:
            self.rooms[room_of(use.heat)].remove(use.number)
        if cook is not None:
            self.rooms[f"cook {cook}"].remove(use.number)
