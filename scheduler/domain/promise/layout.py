"""The network of a timetable: where each step goes, and what binds the places.

Time is counted in minutes from now. A step that nothing of nature's comes before keeps to its planned start:
nobody is told to begin at another time while nothing has happened. What comes after an end of nature's may move
within its stretch of hours. The order in which steps use the same hands, gear and ovens is the timetable's.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from scheduler.domain.plan import MINUTE, Attention, Step
from scheduler.domain.progress import State, latest_after
from scheduler.domain.promise.ends import Ends
from scheduler.domain.promise.openings import Opening
from scheduler.domain.promise.pieces import follow
from scheduler.domain.promise.setting import Canvas, Setting
from scheduler.domain.promise.spots import COMMON, Into, Path, Point, Spot, earliest, exclude, latest
from scheduler.domain.promise.stnu import ZERO, Network
from scheduler.domain.slack.room import NEVER, minute
from scheduler.domain.timetable import Slot, next_mark

Moves = Mapping[tuple[int, Path], int]
"""By how many stretches of hours a place is moved from the one it would have, later or (negative) earlier."""


class Layout:
    """Built step by step, each after what it follows.

    `apart`: hands-on work right after an end of nature's has its place before or after each other job of the cook,
    according to when the end comes.
    """

    def __init__(self, given: Setting, moves: Moves, apart: bool) -> None:
        self.given, self.moves, self.apart = given, moves, apart
        self.canvas = Canvas(given.now)
        self.ends = Ends(given, self.canvas, apart)
        self.spots: list[Spot] = []
        self.of: dict[int, list[Spot]] = {}
        self.loose: set[int] = set()
        self.moved: set[int] = set()
        self.turns: list[tuple[int, int]] = []
        for number in given.plan.order:
            self._place(given.plan.steps[number])
        self._serve()

    @property
    def network(self) -> Network:
        return self.canvas.network

    # ------------------------------------------------------------ one step

    def _place(self, step: Step) -> None:
        state, slot = self.given.progress.state(step.number), self.given.slot(step.number)
        self.of[step.number] = []
        if slot is None or state not in (State.WAITING, State.RUNNING):
            return
        before = [link.before for link in self.given.links_into[step.number]]
        if any(n in self.loose or self.given.unsure(n) for n in before):
            self.loose.add(step.number)
        if state is State.RUNNING:
            start = minute(slot.start)
            spot = Spot(len(self.spots), step, COMMON, None, None, start, start, True)
            self._keep(spot, Point(ZERO, start - self.given.now), slot)
            return
        into, planned = self._into(step), self.given.openings.planned(step, slot)
        for path in follow(into, planned, self.apart and step.attention is Attention.HANDS_ON):
            mine = [each for each in into if not exclude(each.end.path, path)]
            self._put(step, slot, path, mine, planned)

    def _keep(self, spot: Spot, start: Point, slot: Slot) -> None:
        self.ends.give(spot, start, slot)
        self.spots.append(spot)
        self.of[spot.step.number].append(spot)

    def _into(self, step: Step) -> list[Into]:
        """What comes before, where it has not ended yet."""
        found = []
        for link in self.given.links_into[step.number]:
            most = None if link.longest is None else link.longest // MINUTE
            for spot in self.of[link.before]:
                found += [Into(end, link.shortest // MINUTE, most, link.tied) for end in spot.ends]
        return found

    def _put(self, step: Step, slot: Slot, path: Path, into: Sequence[Into], planned: Opening | None) -> None:
        opening = self._opening(step, path, into, planned)
        stays = path == COMMON and opening == planned
        first, last = self._about(slot, opening, into, stays)
        tied = [each for each in into if each.tied]
        start = tied[0].end.point if len(tied) == 1 else self.canvas.point()
        spot = Spot(len(self.spots), step, path, start, opening, first, last, stays)
        self._open(spot, start, minute(slot.start))
        for each in into:
            self.canvas.within(each.end.point, start, each.least, each.most, ("link", spot.number))
        self._after_real_ends(spot, start)
        self._keep(spot, start, slot)

    def _opening(
        self, step: Step, path: Path, into: Sequence[Into], planned: Opening | None
    ) -> Opening | None:
        """The planned stretch; for one piece, the first that will do; moved by as many as was asked."""
        every, chosen = self.given.openings.of(step), planned
        if path != COMMON or planned is None:
            soon, late = earliest(into) or self.given.now, latest(into)
            after = [o for o in every if o.last >= soon]
            chosen = next(
                (o for o in after if late is None or o.first <= late), after[0] if after else planned
            )
        by = self.moves.get((step.number, path), 0)
        if chosen is None or not by:
            return chosen
        return every[min(max(every.index(chosen) + by, 0), len(every) - 1)]

    def _about(
        self, slot: Slot, opening: Opening | None, into: Sequence[Into], stays: bool
    ) -> tuple[int, int]:
        """About when it starts, at the earliest and at the latest."""
        soon, late = earliest(into), latest(into)
        wish = max(minute(slot.start), self.given.now)
        if not stays and opening is not None:
            wish = max([opening.first, *(each.end.early + each.least for each in into)])
        return wish if late is None else min(wish, late), wish if soon is None else max(wish, soon)

    # ------------------------------------------------------------ what binds it

    def _open(self, spot: Spot, start: Point, planned: int) -> None:
        put_off = self.given.progress.of(spot.step.number).not_before
        first = self.given.now if put_off is None else max(self.given.now, minute(next_mark(put_off, MINUTE)))
        if spot.step.number not in self.loose:
            first = max(first, planned)
        self.canvas.bound(start, first, None, ("planned", spot.number))
        if spot.opening is None:
            self.canvas.bound(start, NEVER, None, ("never", spot.number))
        else:
            self.canvas.bound(start, spot.opening.first, None, ("opens", spot.number))
            self.canvas.bound(start, None, spot.opening.last, ("closes", spot.number))

    def _after_real_ends(self, spot: Spot, start: Point) -> None:
        for link in self.given.links_into[spot.step.number]:
            ended = self.given.progress.of(link.before).ended
            if ended is not None:
                limit = latest_after(link, ended, self.given.facts.now)
                last = None if limit is None else minute(limit)
                self.canvas.bound(start, minute(ended + link.shortest), last, ("ended", spot.number))

    def _serve(self) -> None:
        for link in self.given.links:
            if link.after is None and self.given.progress.state(link.before) is not State.DONE:
                first = None if link.longest is None else self.given.serve - link.longest // MINUTE
                last = self.given.serve - link.shortest // MINUTE
                for spot in self.of[link.before]:
                    for end in spot.ends:
                        self.canvas.bound(end.point, first, last, ("table", spot.number))

    def in_turn(self, one: Spot, other: Spot) -> None:
        """`other` starts when `one` is over."""
        self.turns.append((one.step.number, other.step.number))
        for end in one.ends:
            if other.start is not None:
                self.canvas.within(end.point, other.start, 0, None, ("turn", one.number, other.number))

    def stand_still(self) -> None:
        """Keep to its planned start whatever nothing of nature's comes before, in its dish or in its turn."""
        follows = list(self.turns)
        follows += [(link.before, link.after) for link in self.given.links if link.after is not None]
        shaken = {number for number in self.of if self.given.unsure(number)}
        while more := {after for before, after in follows if before in shaken | self.moved} - self.moved:
            self.moved |= more
        for spot in self.spots:
            slot = self.given.slot(spot.step.number)
            if (
                spot.planned
                and spot.start is not None
                and slot is not None
                and spot.step.number not in self.moved
            ):
                at = max(minute(slot.start), self.given.now)
                self.canvas.bound(spot.start, None, at, ("still", spot.number))
