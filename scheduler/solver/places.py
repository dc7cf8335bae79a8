"""Where a plan's steps can be, before any search: which of them move as one, and what each may reach.

A step tied to one of fixed length needs no variable of its own: it starts a fixed time after the head of
its chain. Waking hours, marks of the clock and the present narrow down where a head can be, which is what
makes the search short.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Any

from scheduler.domain.plan import FIVE_MINUTES, MINUTE, Attention, Step
from scheduler.domain.progress import State, end_bounds, live_links, may_miss_mark
from scheduler.domain.timetable import EPOCH, next_mark
from scheduler.facts import NOW, SERVE, Fact, FactKind
from scheduler.solver.network import distances, edges, tighten
from scheduler.solver.ranges import DAY, Ranges, both, shifted, starts_within
from scheduler.solver.stretches import Stretches

if TYPE_CHECKING:
    from scheduler.solver.search import Task


@dataclass(slots=True)
class Head:
    """What moves as one: its moment is `unit` times its variable, in minutes from the base."""

    unit: int
    allowed: Ranges
    var: Any = None


@dataclass(frozen=True, slots=True)
class Place:
    """A moment: an offset in minutes from a head, or from the base when there is none."""

    head: int | None
    offset: int


class Places:
    """The start and end of every step still part of the meal, as places. `impossible`: one can be nowhere."""

    def __init__(self, task: Task) -> None:
        self.task = task
        self.base = int((task.now - EPOCH) / timedelta(days=1)) * DAY
        self.now = self.minute(next_mark(task.now, MINUTE))
        self.serve = self.minute(task.serve)
        self.latest_serve = self.minute(task.latest_serve or task.serve)
        spare = int(task.plan.horizon() / MINUTE) + abs(self.serve - self.now)
        self.first = self.now - spare if NOW in task.dropped else self._not_before()
        self.last = self.latest_serve + (spare if SERVE in task.dropped else 0)
        self.stretches = Stretches(task.plan, self.base, self.first - DAY, self.last + DAY)
        self.links = live_links(task.plan, task.progress.dropped)
        self.off_mark = may_miss_mark(task.plan, task.progress, task.now)
        self.heads: list[Head] = []
        self.starts: dict[int, Place] = {}
        self.ends: dict[int, Place] = {}
        self.impossible = False
        self._place_steps()
        self._restrict()
        self.edges = edges(self, distances(self))
        tighten(self, self.edges)

    def _not_before(self) -> int:
        """The present; or, long before the meal, the first moment at which anything needs to begin."""
        if self.task.from_now or SERVE in self.task.dropped:
            return self.now
        return max(self.now, (self.serve - int(self.task.plan.horizon() / MINUTE)) // DAY * DAY)

    # ------------------------------------------------------------ moments

    def minute(self, at: datetime) -> int:
        return int((at - EPOCH) / MINUTE) - self.base

    def moment(self, minute: int) -> datetime:
        return EPOCH + timedelta(minutes=minute + self.base)

    def without(self, kind: FactKind, **of: Any) -> bool:
        return bool(self.task.dropped) and Fact(kind, **of) in self.task.dropped

    def state(self, number: int) -> State:
        return self.task.progress.state(number)

    def waiting(self) -> Iterator[Step]:
        return (step for step in self.task.plan.steps if self.state(step.number) is State.WAITING)

    def lengths(self, step: Step) -> tuple[int, int | None]:
        """The shortest and longest a step not begun may last, in minutes."""
        shortest, longest = step.range.planned()
        least = 1 if self.without(FactKind.LENGTH, step=step.number) else int(shortest / MINUTE)
        return least, None if longest is None else int(longest / MINUTE)

    # ------------------------------------------------------------ places

    def _place_steps(self) -> None:
        for number in self.task.plan.order:
            step, state = self.task.plan.steps[number], self.state(number)
            if state is State.WAITING:
                self._place_start(step)
                self._place_end(step)
            elif state is State.RUNNING:
                self._place_running(step)
            elif state is State.DONE:
                standing = self.task.progress.of(number)
                self.starts[number] = self._fixed(standing.started)
                self.ends[number] = self._fixed(standing.ended)

    def _fixed(self, at: datetime | None) -> Place:
        if at is None:
            raise ValueError("a step that was begun has no time at which it was")
        return self.at_fixed(self.minute(at))

    def moments(self, place: Place) -> Ranges:
        """Every moment a place can be."""
        if place.head is None:
            return [(place.offset, place.offset)]
        return shifted(self.heads[place.head].allowed, place.offset)

    def span(self, number: int) -> tuple[int, int]:
        """The first moment a step can take up and the last, half-open; what is under way counts from now."""
        first = self.moments(self.starts[number])[0][0]
        if self.state(number) is State.RUNNING:
            first = self.now
        return first, self.moments(self.ends[number])[-1][1]

    @staticmethod
    def at_fixed(minute: int) -> Place:
        return Place(None, minute)

    def _head(self, unit: int) -> Place:
        self.heads.append(Head(unit, [(self.first, self.last)]))
        return Place(len(self.heads) - 1, 0)

    def _place_start(self, step: Step) -> None:
        for link in self.links:
            end = self.ends.get(link.before)
            if link.after != step.number or not link.tied or end is None or end.head is None:
                continue
            if not self.without(FactKind.KEEPS, step=link.before, other=link.after):
                self.starts[step.number] = end
                return
        on_minutes = step.number in self.off_mark or step.grain < FIVE_MINUTES
        self.starts[step.number] = self._head(1 if on_minutes else 5)

    def _place_end(self, step: Step) -> None:
        start = self.starts[step.number]
        least, most = self.lengths(step)
        if least == most:
            self.ends[step.number] = Place(start.head, start.offset + least)
        else:
            self.ends[step.number] = self._head(self._end_unit(step))

    def _end_unit(self, step: Step) -> int:
        """An end that the planner chooses falls on the mark of whatever is tied to it, else on fives."""
        tied = [link.after for link in self.links if link.before == step.number and link.tied]
        marks = [n for n in tied if n is not None and n not in self.off_mark]
        if any(self.task.plan.steps[n].grain == FIVE_MINUTES for n in marks):
            return 5
        return 1 if tied or step.grain < FIVE_MINUTES or step.number in self.off_mark else 5

    def _place_running(self, step: Step) -> None:
        standing = self.task.progress.of(step.number)
        self.starts[step.number] = self._fixed(standing.started)
        first, last = end_bounds(step, standing, self.task.now)
        if self.without(FactKind.LENGTH, step=step.number):
            first = next_mark(self.task.now, MINUTE)
        if first == last:
            self.ends[step.number] = Place(None, self.minute(first))
            return
        place = self._head(self._end_unit(step))
        self.heads[-1].allowed = [(self.minute(first), self.last if last is None else self.minute(last))]
        self.ends[step.number] = place

    # ------------------------------------------------------------ domains

    def allow(self, place: Place, allowed: Ranges) -> None:
        """Leave a place only those moments; `impossible` when a fixed one is none of them."""
        if place.head is not None:
            head = self.heads[place.head]
            head.allowed = both(head.allowed, shifted(allowed, -place.offset))
        elif not both([(place.offset, place.offset)], allowed):
            self.impossible = True

    def _restrict(self) -> None:
        for step in self.waiting():
            start = self.starts[step.number]
            standing = self.task.progress.of(step.number)
            if standing.not_before and not self.without(FactKind.PUT_OFF, step=step.number):
                self.allow(start, [(self.minute(standing.not_before), self.last)])
            if not self.without(FactKind.HOURS, step=step.number):
                self.allow(start, self._homely_starts(step))
            if (step.between or step.on) and not self.without(FactKind.ONLY, step=step.number):
                for stretches in self.stretches.only(step):
                    self.allow(start, starts_within(stretches, 0))
                for stretches in self.stretches.wholly(step):
                    self.allow(start, starts_within(stretches, self.lengths(step)[0]))
                    self.allow(self.ends[step.number], stretches)
            self._restrict_end(step)
        for bound in self.task.bounds:
            low = self.first if bound.not_before is None else self.minute(next_mark(bound.not_before, MINUTE))
            high = self.last if bound.not_after is None else self.minute(bound.not_after)
            self.allow(self.starts[bound.step], [(low, high)] if low <= high else [])

    def _restrict_end(self, step: Step) -> None:
        """A wait that does not keep ends with someone there; so does all that has a length to choose."""
        least, most = self.lengths(step)
        chosen = step.attention is not Attention.UNATTENDED and least != most
        needed = step.attention is Attention.UNATTENDED and not step.fresh_for
        if (chosen or needed) and not self.without(FactKind.HOURS, step=step.number):
            self.allow(self.ends[step.number], self.stretches.someone(step))

    def _homely_starts(self, step: Step) -> Ranges:
        if step.attention is Attention.UNATTENDED:
            return starts_within(self.stretches.someone(step), 0)
        if step.attention is Attention.NEARBY:
            return starts_within(self.stretches.someone(step), self.lengths(step)[0])
        return self.stretches.starts_of_any(step, self.lengths(step)[0])
