"""The ends of a place: one, or one for each piece of what nature may choose."""

from __future__ import annotations

from typing import NamedTuple

from scheduler.domain.plan import MINUTE, Attention, Link, Step
from scheduler.domain.promise.lengths import by_choice
from scheduler.domain.promise.openings import Opening
from scheduler.domain.promise.pieces import between_jobs, pieces_of
from scheduler.domain.promise.setting import Canvas, Setting
from scheduler.domain.promise.spots import COMMON, End, Point, Spot
from scheduler.domain.slack.room import NEVER, minute
from scheduler.domain.timetable import Slot

NO_BREAK = 30 * MINUTE
"""A gap that can be no longer does not let anyone away in between."""


class Share(NamedTuple):
    """Which lengths of a step one contingent link stands for, from its point of the network `shift` earlier."""

    step: int
    low: int
    high: int
    shift: int


class Ends:
    """Gives places their ends. `apart`: see Layout."""

    def __init__(self, given: Setting, canvas: Canvas, apart: bool) -> None:
        self.given, self.canvas, self.apart = given, canvas, apart
        self.shares: dict[int, Share] = {}

    def give(self, spot: Spot, start: Point, slot: Slot) -> None:
        """Put in how long it lasts, who has to stay with it, and who has to see it end."""
        step = spot.step
        if step.number in self.given.ranges:
            self._nature(spot, start)
        else:
            self._choice(spot, start, slot)
        for end in spot.ends:
            if step.attention is not Attention.UNATTENDED and spot.opening is not None:
                self.canvas.bound(end.point, None, spot.opening.stay, ("stay", spot.number))
            elif step.attention is Attention.UNATTENDED and not step.fresh_for and not self._handed_on(step):
                self._seen(spot, end, minute(slot.end))

    def _choice(self, spot: Spot, start: Point, slot: Slot) -> None:
        low, high = by_choice(spot.step, slot, self.given.facts.now, self.given.progress)
        point = Point(start.node, start.offset + low)
        if low != high:
            point = self.canvas.point()
            self.canvas.within(start, point, low, high, ("length", spot.number))
        longest = NEVER if high is None else high
        spot.ends.append(End(spot.path, point, spot.first + low, spot.first + longest, spot.last + low))

    def _nature(self, spot: Spot, start: Point) -> None:
        pieces = self._pieces(spot, *self.given.ranges[spot.step.number])
        network = self.canvas.network
        for piece, (low, high) in enumerate(pieces):
            path = spot.path if len(pieces) == 1 else spot.path | {(spot.number, piece)}
            point, link = self.canvas.point(), len(network.contingents)
            shift = start.offset
            network.contingent(
                start.node, point.node, low + shift, high + shift, ("nature", spot.number, link)
            )
            self.shares[link] = Share(spot.step.number, low, high, shift)
            spot.ends.append(End(path, point, spot.first + low, spot.first + low, spot.last + high, link))

    # ------------------------------------------------------------ pieces

    def _pieces(self, spot: Spot, low: int, high: int) -> list[tuple[int, int]]:
        found = [(low, high)]
        for link, after in self.given.followers(spot.step) if low < high else ():
            hands = self.apart and after.attention is Attention.HANDS_ON
            if hands or not self._one_will_do(spot, link, after, low, high):
                found = pieces_of(
                    found, spot.last, self._stretches(after), link.shortest // MINUTE, self._together(after)
                )
        return found

    def _one_will_do(self, spot: Spot, link: Link, after: Step, low: int, high: int) -> bool:
        """Whether what follows can begin in its planned stretch whenever the end comes."""
        slot = self.given.slot(after.number)
        planned = self.given.openings.planned(after, slot) if slot and spot.path == COMMON else None
        most = NEVER if link.longest is None else link.longest // MINUTE
        return (
            planned is not None
            and planned.first <= spot.first + low + most
            and planned.last >= spot.last + high + link.shortest // MINUTE
        )

    def _stretches(self, step: Step) -> list[Opening]:
        """Its openings; those of a cook cut where other work of that cook is planned."""
        every = list(self.given.openings.of(step))
        if step.attention is not Attention.HANDS_ON:
            return every
        return [part for opening in every for part in between_jobs(opening, self._jobs(step, opening.cook))]

    def _jobs(self, step: Step, cook: str | None) -> list[tuple[int, int]]:
        """The other hands-on work of a cook, but for what comes right after the step."""
        return [
            (minute(slot.start), minute(slot.end))
            for slot in self.given.timetable.slots
            if slot.cook == cook
            and slot.step != step.number
            and self.given.waits(slot.step)
            and step.number not in self.given.plan.steps[slot.step].follows
        ]

    def _together(self, step: Step) -> int:
        """How long a step and what is tied to it may need someone without a break, in minutes."""
        if step.attention is Attention.UNATTENDED:
            return 1
        own = self.given.ranges.get(step.number, (0, step.range.planned()[0] // MINUTE))[1]
        after = [
            link.shortest // MINUTE + self._together(other)
            for link, other in self.given.followers(step)
            if link.longest is not None and link.longest - link.shortest < NO_BREAK
        ]
        return own + max(after, default=0)

    # ------------------------------------------------------------ someone there

    def _handed_on(self, step: Step) -> bool:
        """Whether what begins at its very end sees to it that someone is there."""
        after = [other for link, other in self.given.followers(step) if link.tied and not link.shortest]
        return any(step.cook in (None, other.cook) for other in after)

    def _seen(self, spot: Spot, end: End, planned: int) -> None:
        """Someone sees it end: within one stretch, the last moment of which counts."""
        hours = self.given.openings.seen(spot.step)
        fitting = [(a, b) for a, b in hours if end.link is not None and a <= end.low and end.high <= b]
        about = planned if spot.path == COMMON and spot.planned else end.early
        near = [(a, b) for a, b in hours if a <= about <= b] or [(a, b) for a, b in hours if about < a]
        first, last = (fitting or near or [(NEVER, NEVER)])[0]
        self.canvas.bound(end.point, first, last, ("seen", spot.number))
