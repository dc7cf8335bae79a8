"""What the steps around one leave it, in whole minutes."""

from __future__ import annotations

from scheduler.domain.check.facts import Facts
from scheduler.domain.plan import MINUTE, Link
from scheduler.domain.progress import State, end_bounds, latest_after
from scheduler.domain.slack.room import NEVER, Bounds, Place, minute
from scheduler.domain.timetable import Timetable, next_mark


class Neighbours:
    """The steps of a timetable, where they stand, and the links between them that still bind.

    `places` has those that have not begun. `start`, `end`, `into` and `out` go by step number; all times are
    in minutes.
    """

    def __init__(self, facts: Facts, timetable: Timetable, places: dict[int, Place]) -> None:
        self.facts, self.places = facts, places
        self.now, self.serve = minute(facts.now), minute(timetable.serve)
        self.start = {slot.step: minute(slot.start) for slot in timetable.slots}
        self.end = {slot.step: minute(slot.end) for slot in timetable.slots}
        self.into: dict[int, list[Link]] = {number: [] for number in self.start}
        self.out: dict[int, list[Link]] = {number: [] for number in self.start}
        for link in facts.links:
            if link.before in self.start and (link.after is None or link.after in places):
                self.out[link.before].append(link)
                if link.after is not None:
                    self.into[link.after].append(link)

    def alone(self, number: int) -> Bounds:
        """What a step is left while every other stays where it is."""
        put_off = self.facts.progress.of(number).not_before
        first = self.now if put_off is None else max(self.now, minute(next_mark(put_off, MINUTE)))
        into, out = self.into[number], self.out[number]
        return Bounds(
            max([first, *(self.end[link.before] + least(link) for link in into)]),
            min((self.no_later(link) for link in into), default=NEVER),
            self.soonest_end(number),
            min((self.start_after(link) - least(link) for link in out), default=NEVER),
        )

    def start_after(self, link: Link) -> int:
        return self.serve if link.after is None else self.start[link.after]

    def soonest_end(self, number: int) -> int:
        """So that nothing after it, where it stands now, waits too long."""
        return max((self.start_after(link) - most(link) for link in self.out[number]), default=-NEVER)

    def no_later(self, link: Link) -> int:
        """The latest start of what follows a link while the earlier step ends when it does."""
        ended = self.facts.progress.of(link.before).ended
        if ended is None:
            return self.end[link.before] + most(link)
        limit = latest_after(link, ended, self.facts.now)
        return NEVER if limit is None else minute(limit)

    def running_on(self, link: Link) -> int:
        """The latest start of what follows a link if the earlier step, where it may, runs on to meet it."""
        if self.facts.progress.of(link.before).ended is not None:
            return self.no_later(link)
        others = [other for other in self.out[link.before] if other is not link]
        latest = [
            self._longest_end(link.before),
            *(self.start_after(other) - least(other) for other in others),
        ]
        return max(self.end[link.before], min(latest)) + most(link)

    def _longest_end(self, number: int) -> int:
        place = self.places.get(number)
        if place is not None:
            return self.end[number] if place.hands_on else place.start + place.longest
        standing = self.facts.progress.of(number)
        if standing.state is not State.RUNNING:
            return self.end[number]
        last = end_bounds(self.facts.plan.steps[number], standing, self.facts.now)[1]
        return NEVER if last is None else minute(last)


def least(link: Link) -> int:
    return link.shortest // MINUTE


def most(link: Link) -> int:
    return NEVER if link.longest is None else link.longest // MINUTE
