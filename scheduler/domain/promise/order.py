"""The order of gear, ovens and cooks that a timetable induces: who uses the same thing goes one after another.

Where a thing has a count, each user takes over pieces from users before it in the timetable (a chaining in the
sense of Policella and others, "From precedence constraint posting to partial order schedules", 2007), so that
whatever happens there are enough. A place that is not where the timetable has the step gives way to every other
user in its stretch of hours.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from itertools import combinations, pairwise

from scheduler.domain.plan import Attention
from scheduler.domain.promise.layout import Layout
from scheduler.domain.promise.spots import Spot, exclude
from scheduler.domain.slack.room import minute


def keep_in_turn(layout: Layout) -> None:
    """Add the order of everything shared to a layout."""
    turns = _Turns(layout)
    for cook in layout.given.plan.kitchen.cooks:
        turns.hands(cook.name)
    for name, count in sorted(layout.given.plan.kitchen.gear.items()):
        turns.gear(name, count)
    turns.ovens(layout.given.plan.kitchen.ovens)


class _Turns:
    def __init__(self, layout: Layout) -> None:
        self.layout = layout
        self.before: dict[int, frozenset[int]] = {}
        for number in layout.given.plan.order:
            links = layout.given.links_into[number]
            mine = {link.before for link in links}
            self.before[number] = frozenset(mine.union(*(self.before[n] for n in mine)))

    # ------------------------------------------------------------ what is shared

    def hands(self, cook: str) -> None:
        users = [spot for spot in self.layout.spots if self._cook(spot) == cook]
        placed = self._in_order(users)
        for one, other in pairwise(placed):
            self._turn(one, other)
        self._elsewhere(users, lambda one, other: True)

    def gear(self, name: str, count: int) -> None:
        users = [spot for spot in self.layout.spots if name in spot.step.gear]
        need = {spot.number: spot.step.gear.count(name) for spot in users}
        holders: list[Spot | None] = [None] * count
        for spot in self._in_order(users):
            taken = sorted(range(len(holders)), key=lambda n: self._preference(holders[n], spot))
            for n in taken[: need[spot.number]]:
                self._turn(holders[n], spot)
                holders[n] = spot
        total = sum(need.values())
        if total > count:
            self._elsewhere(users, lambda one, other: True)

    def ovens(self, count: int) -> None:
        users = [spot for spot in self.layout.spots if spot.step.oven is not None]
        now: list[list[Spot]] = [[] for _ in range(count)]
        past: list[list[Spot]] = [[] for _ in range(count)]
        for spot in self._in_order(users):
            n = self._oven(now, spot)
            if now[n] and now[n][0].step.oven != spot.step.oven:
                past[n], now[n] = now[n], []
            now[n].append(spot)
            for one in past[n]:
                self._turn(one, spot)
        self._elsewhere(users, lambda one, other: one.step.oven != other.step.oven)

    def _oven(self, now: list[list[Spot]], spot: Spot) -> int:
        start = self._planned(spot)[0]

        def fit(n: int) -> tuple[bool, bool, int]:
            end = max((self._planned(one)[1] for one in now[n]), default=0)
            same = bool(now[n]) and now[n][0].step.oven == spot.step.oven
            return not same, not (same or end <= start), end

        return min(range(len(now)), key=fit)

    # ------------------------------------------------------------ who goes first

    def _in_order(self, users: Iterable[Spot]) -> list[Spot]:
        return sorted((spot for spot in users if spot.planned), key=self._planned)

    def _planned(self, spot: Spot) -> tuple[int, int, int]:
        slot = self.layout.given.slot(spot.step.number)
        return (minute(slot.start), minute(slot.end), spot.number) if slot else (0, 0, spot.number)

    def _cook(self, spot: Spot) -> str | None:
        if spot.step.attention is not Attention.HANDS_ON:
            return None
        slot = self.layout.given.slot(spot.step.number)
        return spot.cook if spot.start is not None else slot.cook if slot else None

    def _preference(self, holder: Spot | None, spot: Spot) -> tuple[bool, bool, int]:
        """A piece whose last user comes before anyway; then the one that has been free longest."""
        if holder is None:
            return False, False, 0
        end = self._planned(holder)[1]
        related = holder.step.number in self.before[spot.step.number]
        return end > self._planned(spot)[0], not related, end

    def _elsewhere(self, users: list[Spot], clash: Callable[[Spot, Spot], bool]) -> None:
        for one, other in combinations(users, 2):
            if (one.planned and other.planned) or exclude(one.path, other.path):
                continue
            if one.step.number == other.step.number or not clash(one, other):
                continue
            if self._apart(one, other) or self._apart(other, one):
                continue
            first, second = (one, other) if self._goes_first(one, other) else (other, one)
            self._turn(first, second)

    def _apart(self, one: Spot, other: Spot) -> bool:
        """Whether hours alone see to it that one is over before the other starts."""
        if one.opening is None or other.opening is None:
            return False
        over = one.opening.stay
        return over is not None and over <= other.opening.first

    def _goes_first(self, one: Spot, other: Spot) -> bool:
        if one.step.number in self.before[other.step.number] or one.start is None:
            return True
        if other.step.number in self.before[one.step.number] or other.start is None:
            return False
        if one.planned != other.planned:
            moved, stays = (other, one) if one.planned else (one, other)
            return (moved.last + self._takes(moved) <= stays.first) is (moved is one)
        return (one.first, one.last, one.number) <= (other.first, other.last, other.number)

    def _takes(self, spot: Spot) -> int:
        return max(end.high for end in spot.ends) - spot.last

    def _turn(self, one: Spot | None, other: Spot) -> None:
        if one is not None and one is not other:
            self.layout.in_turn(one, other)
