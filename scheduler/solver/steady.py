"""With a timetable in force: what is to stay as it was, in the order in which that matters.

1. What has kept too long begins as soon as it can.
2. What was announced stays: the starts within the hour, and those that are due and not spoken of.
3. No start moves by less than five minutes: nobody re-reads the clock for that.
4. As few starts move as can be, and then as few cooks change.
5. Those that move, move as little as can be.
6. The ends that are chosen move as little as can be.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Any

from scheduler.domain.plan import FIVE_MINUTES, MINUTE, Step
from scheduler.domain.progress import State, overdue
from scheduler.domain.timetable import Slot, Timetable, next_mark

if TYPE_CHECKING:
    from scheduler.solver.model import Model
    from scheduler.solver.places import Place

ANNOUNCED = timedelta(hours=1)
"""How far ahead of now a start counts as announced; no heads-up goes out earlier than that."""

LEAST = int(FIVE_MINUTES / MINUTE)
"""The least worth moving a start by, in minutes."""

FAR = 1 << 40
"""Minutes: beyond everything."""


@dataclass(slots=True)
class Group:
    """Steps of one chain that are all as far from where they were as `place` is from minute `was`.

    `due`: the earliest of them that was to start before now, and may do so only where it was.
    """

    place: Place
    was: int
    steps: list[Step] = field(default_factory=list)
    announced: int = 0
    due: Place | None = None

    def weight(self, many: int) -> int:
        """What moving it disturbs, where `many` is more than all steps: one that was announced outweighs all
        that were not, and every little move.
        """
        return self.announced * many * many + len(self.steps)


@dataclass(frozen=True, slots=True)
class Held:
    """Sums to be kept small, one after another: overdue, disturbance (2 to 4), distance, ends; None: nothing.

    `local` holds when only what has to move does, and `least` is what the disturbance comes to at the very
    least. Where it is no more than that under `local`, nothing better can be found without: every start that
    has to move moves in any timetable, and one more would disturb more.
    """

    overdue: Any
    disturbance: Any
    distance: Any
    ends: Any
    local: Any
    least: int

    def in_turn(self) -> Iterator[Any]:
        sums = (self.overdue, self.disturbance, self.distance, self.ends)
        return (each for each in sums if each is not None)


class Steady:
    """What `previous` asks of a model at `now`, which may be later than the model's own present."""

    def __init__(self, model: Model, previous: Timetable, now: datetime) -> None:
        self.model, self.previous = model, previous
        self.now, self.minute = now, model.minute(next_mark(now, MINUTE))

    def held(self) -> Held:
        groups, changed = list(self._groups()), list(self._cooks_changed())
        moving = [self._moves(group) for group in groups]
        many = sum(len(group.steps) for group in groups) + 1
        little = [
            len(group.steps) * self._moves_little(group) for group in groups if self._may_move_little(group)
        ]
        disturbance = sum(group.weight(many) * moves for group, moves in zip(groups, moving, strict=True))
        disturbance = (disturbance + many * sum(little)) * (len(changed) + 1) + sum(changed)
        return Held(
            _sum(self._late()),
            disturbance if groups else None,
            _sum([len(group.steps) * self._away(group) for group in groups]),
            _sum(self._ends_away({(group.place.head, group.was) for group in groups})),
            self._local(groups, moving),
            sum(self._least(group, many) for group in groups if not self._may_stay(group))
            * (len(changed) + 1),
        )

    def _local(self, groups: list[Group], moving: list[Any]) -> Any:
        local = self.model.cp.new_bool_var("local")
        for group, moves in zip(groups, moving, strict=True):
            if self._may_stay(group):
                self.model.cp.add_implication(local, ~moves)
        return local

    def _least(self, group: Group, many: int) -> int:
        """What a group that has to move disturbs by itself."""
        at = group.was - group.place.offset
        allowed = self.model.heads[group.place.head or 0].allowed
        little = all(low - at > -LEAST and high - at < LEAST for low, high in allowed)
        return group.weight(many) + many * len(group.steps) * little

    # ------------------------------------------------------------ starts

    def _groups(self) -> Iterator[Group]:
        """The steps not begun whose start can be chosen, by what they move with."""
        found: dict[tuple[int, int], Group] = {}
        for step in self.model.waiting():
            slot, place = self.previous.slot(step.number), self.model.starts[step.number]
            if slot is None or place.head is None:
                continue
            was = self.model.minute(slot.start)
            group = found.setdefault((place.head, was - place.offset), Group(place, was))
            group.steps.append(step)
            group.announced += slot.start <= self.now + ANNOUNCED
            if was < self.minute and (group.due is None or place.offset < group.due.offset):
                group.due = place
        yield from found.values()

    def _moves(self, group: Group) -> Any:
        """Whether the group starts at another time than it did; what is due may not start before now."""
        cp, moves = self.model.cp, self.model.cp.new_bool_var(f"moves{group.steps[0].number}")
        if group.due is not None:
            cp.add(self.model.at(group.due) >= self.minute).only_enforce_if(moves)
        if self._may_stay(group):
            cp.add(self.model.at(group.place) == group.was).only_enforce_if(~moves)
        else:
            cp.add(moves == 1)
        return moves

    def _may_stay(self, group: Group) -> bool:
        head, at = self.model.heads[group.place.head or 0], group.was - group.place.offset
        return at % head.unit == 0 and any(low <= at <= high for low, high in head.allowed)

    def _may_move_little(self, group: Group) -> bool:
        head = self.model.heads[group.place.head or 0]
        at = group.was - group.place.offset
        return head.unit < LEAST or at % head.unit != 0

    def _moves_little(self, group: Group) -> Any:
        cp = self.model.cp
        little = cp.new_bool_var(f"little{group.steps[0].number}")
        domain = _domain([(-FAR, -LEAST), (0, 0), (LEAST, FAR)])
        cp.add_linear_expression_in_domain(self.model.at(group.place) - group.was, domain).only_enforce_if(
            ~little
        )
        return little

    def _away(self, group: Group) -> Any:
        return self._distance(group.place, group.was, f"far{group.steps[0].number}")

    def _distance(self, place: Place, was: int, name: str) -> Any:
        """How many minutes a moment that can be chosen is from where it was."""
        head = self.model.heads[place.head or 0]
        first, last = head.allowed[0][0] + place.offset, head.allowed[-1][1] + place.offset
        far = self.model.cp.new_int_var(0, max(abs(first - was), abs(last - was)), name)
        self.model.cp.add(far >= self.model.at(place) - was)
        self.model.cp.add(far >= was - self.model.at(place))
        return far

    # ------------------------------------------------------------ what is overdue

    def _late(self) -> Iterator[Any]:
        """How many five minutes later than before each step starts whose turn has passed; fewer than none is
        earlier. Counted so, it is not moved for less.
        """
        task = self.model.task
        after = {link.after for link in overdue(task.plan, task.progress, self.now)}
        for number in sorted(number for number in after if number is not None):
            place, slot = self.model.starts[number], self.previous.slot(number)
            if place.head is not None:
                was = self.minute if slot is None else self.model.minute(slot.start)
                yield self._fives(place, was, f"late{number}")

    def _fives(self, place: Place, was: int, name: str) -> Any:
        most = (self.model.last - self.model.first + abs(was)) // LEAST + 1
        fives = self.model.cp.new_int_var(-most, most, name)
        self.model.cp.add(LEAST * fives >= self.model.at(place) - was)
        return fives

    # ------------------------------------------------------------ cooks and ends

    def _cooks_changed(self) -> Iterator[Any]:
        """One for each job of the hands that passes to another cook, where there is a choice."""
        for (number, name), there in self.model.by_cook.items():
            slot = self.previous.slot(number)
            waiting = self.model.state(number) is State.WAITING
            if waiting and slot is not None and slot.cook == name and not isinstance(there, int):
                yield 1 - there

    def _ends_away(self, known: set[tuple[int | None, int]]) -> Iterator[Any]:
        """How far each end that is chosen is from where it was, unless a start already says so."""
        for number, place in sorted(self.model.ends.items()):
            slot = self.previous.slot(number)
            if slot is None or place.head is None or place.head == self.model.starts[number].head:
                continue
            was = self.model.minute(slot.end)
            if (place.head, was - place.offset) not in known:
                yield self._distance(place, was, f"end{number}")


def steady(model: Model) -> Any:
    """One sum, for a search that has only one aim: what is overdue and the disturbance; and the distance, where
    nothing is overdue, for the numbers would grow beyond what a search can hold.
    """
    task = model.task
    if task.previous is None:
        raise ValueError("there is no timetable in force")
    held = Steady(model, task.previous, task.now).held()
    many = len(task.plan.steps) + 1
    disturbance, distance = (0 if each is None else each for each in (held.disturbance, held.distance))
    if held.overdue is not None:
        return held.overdue * many**4 + disturbance
    return disturbance * (many * 2 * (model.last - model.first) + 1) + distance


def hints(model: Model, previous: Timetable) -> dict[int, int]:
    """For each head that had a time, the value of its variable that is nearest to it."""
    found: dict[int, int] = {}
    for slot in previous.slots:
        for place, at in _moments(model, slot):
            if place is not None and place.head is not None:
                found.setdefault(
                    place.head, (model.minute(at) - place.offset) // model.heads[place.head].unit
                )
    return found


def _moments(model: Model, slot: Slot) -> Iterator[tuple[Place | None, datetime]]:
    yield model.starts.get(slot.step), slot.start
    yield model.ends.get(slot.step), slot.end


def _sum(parts: Iterator[Any] | list[Any]) -> Any:
    every = list(parts)
    return sum(every) if every else None


def _domain(pairs: list[tuple[int, int]]) -> Any:
    from ortools.sat.python import cp_model

    return cp_model.Domain.from_intervals([list(pair) for pair in pairs])
