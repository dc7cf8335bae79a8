"""Who is awake, and who is awake and at home, between two instants."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from datetime import datetime
from functools import cached_property

from scheduler.domain.hours import Interval, expand, merge, without
from scheduler.domain.plan import Cook, Plan, Step


def holding(pieces: Sequence[Interval], at: datetime) -> Interval | None:
    """The stretch of ordered, disjoint `pieces` that `at` lies in, its end not included."""
    index = bisect_right(pieces, at, key=lambda piece: piece[0]) - 1
    return pieces[index] if index >= 0 and at < pieces[index][1] else None


def within(pieces: Sequence[Interval], start: datetime, end: datetime) -> bool:
    """Whether the half-open stretch from `start` to `end` lies wholly inside one of `pieces`.

    An empty stretch still needs its moment inside.
    """
    piece = holding(pieces, start)
    return piece is not None and end <= piece[1]


def at_home(cook: Cook, zone: str, since: datetime, until: datetime) -> tuple[Interval, ...]:
    """When a cook is awake and at home between two instants; `home` wins over `away`."""
    up = without(expand(cook.awake, zone, since, until), expand(cook.away, zone, since, until))
    return merge((*up, *expand(cook.home, zone, since, until)))


class Presence:
    """The cooks' hours between `since` and `until`, worked out once; outside that, nobody is known of.

    Every stretch is half-open, in order, and touches no other. Names that are not a cook's raise KeyError.
    """

    def __init__(self, plan: Plan, since: datetime, until: datetime) -> None:
        self.plan, self.since, self.until = plan, since, until
        cooks = plan.kitchen.cooks
        self._awake = {c.name: expand((*c.awake, *c.home), plan.zone, since, until) for c in cooks}
        self._home = {c.name: at_home(c, plan.zone, since, until) for c in cooks}

    def awake(self, cook: str) -> tuple[Interval, ...]:
        """When that cook is awake, at home or not."""
        return self._awake[cook]

    def home(self, cook: str) -> tuple[Interval, ...]:
        """When that cook is awake and at home."""
        return self._home[cook]

    def someone(self, step: Step) -> tuple[Interval, ...]:
        """When at least one of a step's cooks is awake and at home."""
        return self._at_home if step.cook is None else self._home[step.cook]

    def awake_someone(self) -> tuple[Interval, ...]:
        """When anyone at all is awake, at home or not."""
        return self._anyone_awake

    @cached_property
    def _at_home(self) -> tuple[Interval, ...]:
        return _together(self._home.values())

    @cached_property
    def _anyone_awake(self) -> tuple[Interval, ...]:
        return _together(self._awake.values())

    def is_awake(self, at: datetime, at_home: bool = True) -> bool:
        """Whether anyone is awake (and at home, unless that does not matter) at that moment."""
        return holding(self._any(at_home), at) is not None

    def next_awake(self, at: datetime, at_home: bool = True) -> datetime | None:
        """The nearest moment not before `at` when someone is; None when there is none before `until`."""
        pieces = self._any(at_home)
        if holding(pieces, at):
            return at
        return next((start for start, _ in pieces if start > at), None)

    def _any(self, at_home: bool) -> tuple[Interval, ...]:
        return self._at_home if at_home else self._anyone_awake


def _together(many: Iterable[Iterable[Interval]]) -> tuple[Interval, ...]:
    return merge(piece for pieces in many for piece in pieces)
