"""How late a step may start when what follows gives way as far as it may."""

from __future__ import annotations

from dataclasses import replace

from scheduler.domain.check import misplaced
from scheduler.domain.check.facts import Facts
from scheduler.domain.plan import Link
from scheduler.domain.slack.links import Neighbours, least, most
from scheduler.domain.slack.room import NEVER, Bounds, moment, up_to
from scheduler.domain.slack.shared import Shared
from scheduler.domain.timetable import Slot, Timetable

TRIES = 4
"""How many last calls are put to the verifier for one step before it keeps to its window."""


class LastCalls:
    """Worked out from the table back: how far each step may slip if only what comes after it has a say."""

    def __init__(self, facts: Facts, timetable: Timetable, around: Neighbours, shared: Shared) -> None:
        self.facts, self.timetable, self.around, self.shared = facts, timetable, around, shared
        self.places = around.places
        self.after: dict[int, frozenset[int]] = {}
        self.reach: dict[int, int] = {}
        for number in reversed(facts.plan.order):
            if number in self.places:
                self._look_ahead(number)

    def of(self, number: int, latest: int) -> int:
        """The last call of a step, in minutes: the verifier has passed what it pushes; else `latest`."""
        place = self.places[number]
        limits = [self.reach[number], *(self.around.running_on(link) for link in self.around.into[number])]
        at = place.start + (min(limits) - place.start) // place.grain * place.grain
        for _ in range(TRIES):
            if at <= latest:
                break
            if next(misplaced(self.facts, self._pushed(number, at)), None) is None:
                return at
            at = latest + (at - latest) // 2 // place.grain * place.grain
        return latest

    def _look_ahead(self, number: int) -> None:
        place, around, out = self.places[number], self.around, self.around.out[number]
        after = {link.after for link in out if link.after is not None}
        self.after[number] = frozenset(after.union(*(self.after[n] for n in after)))
        latest_end = min((self._give_way(link) - least(link) for link in out), default=NEVER)
        bounds = Bounds(-NEVER, NEVER, around.soonest_end(number), latest_end)
        self.reach[number] = place.run(1, bounds, self.shared.blocked(place, self.after[number]))

    def _give_way(self, link: Link) -> int:
        """The latest start of what follows a link, whatever else comes before that staying where it is."""
        if link.after is None:
            return self.around.serve
        others = [other for other in self.around.into[link.after] if other is not link]
        return min([self.reach[link.after], *(self.around.running_on(other) for other in others)])

    def _pushed(self, number: int, at: int) -> Timetable:
        """The timetable when one step starts at `at` and what follows moves no more than it has to."""
        around = self.around
        start: dict[int, int] = {number: at}
        end: dict[int, int] = {}
        for n in self.facts.plan.order:
            if n in self.after[number]:
                need = max(
                    end.get(link.before, around.end[link.before]) + least(link) for link in around.into[n]
                )
                if need > around.start[n]:
                    start[n] = up_to(need, self.places[n].grain)
            if n in start:
                end[n] = self.places[n].first_end(start[n], around.soonest_end(n))
        self._run_on(start, end)
        slots = (_moved(slot, start, end) for slot in self.timetable.slots)
        return replace(self.timetable, slots=tuple(slots))

    def _run_on(self, start: dict[int, int], end: dict[int, int]) -> None:
        """Let what comes before a step that moved last until that step may start."""
        for n, at in start.items():
            for link in self.around.into[n]:
                needed = at - most(link)
                if needed > end.get(link.before, self.around.end[link.before]):
                    end[link.before] = needed


def _moved(slot: Slot, start: dict[int, int], end: dict[int, int]) -> Slot:
    if slot.step in start:
        return replace(slot, start=moment(start[slot.step]), end=moment(end[slot.step]))
    return replace(slot, end=moment(end[slot.step])) if slot.step in end else slot
