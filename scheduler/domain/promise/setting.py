"""What a network is made from: a timetable, what has happened, and what is left to nature."""

from __future__ import annotations

from datetime import datetime

from scheduler.domain.check.facts import Facts
from scheduler.domain.plan import Link, Plan, Step
from scheduler.domain.progress import Progress, State
from scheduler.domain.promise.lengths import Ranges
from scheduler.domain.promise.openings import Openings
from scheduler.domain.promise.spots import Point
from scheduler.domain.promise.stnu import ZERO, Network
from scheduler.domain.slack.room import minute
from scheduler.domain.timetable import Slot, Timetable


class Setting:
    """Worked out once for a layout. `ranges`: what nature may choose, a single length where it may not."""

    def __init__(
        self,
        plan: Plan,
        timetable: Timetable,
        now: datetime,
        progress: Progress,
        ranges: Ranges,
        openings: Openings,
    ) -> None:
        self.plan, self.timetable, self.progress, self.ranges = plan, timetable, progress, ranges
        self.facts, self.openings = Facts(plan, now, progress), openings
        self.now, self.serve = minute(self.facts.now), minute(timetable.serve)
        self.links = self.facts.links
        self.links_into: dict[int, list[Link]] = {step.number: [] for step in plan.steps}
        self.links_out: dict[int, list[Link]] = {step.number: [] for step in plan.steps}
        for link in self.links:
            self.links_out[link.before].append(link)
            if link.after is not None:
                self.links_into[link.after].append(link)

    def unsure(self, number: int) -> bool:
        """Whether nature has a choice with this step."""
        low, high = self.ranges.get(number, (0, 0))
        return low < high

    def waits(self, number: int) -> bool:
        return self.progress.state(number) is State.WAITING

    def slot(self, number: int) -> Slot | None:
        return self.timetable.slot(number)

    def followers(self, step: Step) -> list[tuple[Link, Step]]:
        """What comes after a step and has not begun."""
        after = [(link, link.after) for link in self.links_out[step.number]]
        return [(link, self.plan.steps[n]) for link, n in after if n is not None and self.waits(n)]


class Canvas:
    """A network whose time is counted in minutes from `now`, written to in points with an offset."""

    def __init__(self, now: int) -> None:
        self.now = now
        self.network = Network()

    def point(self) -> Point:
        return Point(self.network.point(), 0)

    def bound(self, point: Point, first: int | None, last: int | None, why: tuple[object, ...]) -> None:
        """Keep a point between two moments, given in minutes since 1970."""
        low = None if first is None else first - self.now
        high = None if last is None else last - self.now
        self.within(Point(ZERO, 0), point, low, high, why)

    def within(
        self, one: Point, other: Point, low: int | None, high: int | None, why: tuple[object, ...]
    ) -> None:
        """Let `other` come between `low` and `high` after `one`; None is no limit."""
        shift = one.offset - other.offset
        if one.node == other.node:
            if (low is not None and low > -shift) or (high is not None and high < -shift):
                self.network.at_most(one.node, one.node, -1, why)
            return
        low = None if low is None else low + shift
        self.network.between(one.node, other.node, low, None if high is None else high + shift, why)
