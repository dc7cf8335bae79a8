"""The places a step takes in the network of a timetable: one, or one for each stretch of hours it may fall in.

What follows a step that nature ends may have to happen in one stretch of waking hours or in another, according
to when the end comes. A network knows no "or". So the range of such a step is split where the stretch changes,
its end is put in once for each piece, as if every piece came about, and what has to follow in that stretch is
put in once for each piece too, until a step that can wait for all of them in one place.

If that larger network can be executed, so can the real thing: in the real kitchen one piece comes about. For
the pieces before it the executor makes believe they ended at their last moment, which has passed; for the ones
after it, that they will; nothing it does looks ahead. Every constraint of the real kitchen is one of the larger
network's. So a "yes" is sound; a "no" may only mean that the pieces were chosen badly.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import NamedTuple

from scheduler.domain.plan import Step
from scheduler.domain.promise.openings import Opening

Path = frozenset[tuple[int, int]]
"""Which piece of which split a place belongs to; splits go by the number of their place."""

COMMON: Path = frozenset()


def exclude(one: Path, other: Path) -> bool:
    """Whether two places never come about together."""
    pieces = dict(one)
    return any(pieces.get(split, piece) != piece for split, piece in other)


class Point(NamedTuple):
    """A moment: so many minutes after a point of the network."""

    node: int
    offset: int


@dataclass(frozen=True, slots=True)
class End:
    """One end of a place; about when it comes: as early as `early`, and between `low` and `high` for what follows.

    `low` is the earliest it can be held to and `high` the latest it can be pressed to. `link` is its contingent
    link.
    """

    path: Path
    point: Point
    early: int
    low: int
    high: int
    link: int | None = None


@dataclass(slots=True)
class Spot:
    """A step in one place. `first` and `last`: about when it starts. `planned`: where the timetable has it."""

    number: int
    step: Step
    path: Path
    start: Point | None
    opening: Opening | None
    first: int
    last: int
    planned: bool
    ends: list[End] = field(default_factory=list)

    @property
    def cook(self) -> str | None:
        return self.opening.cook if self.opening else None


@dataclass(frozen=True, slots=True)
class Into:
    """What comes into a step by one link from one end; minutes, `most` None without limit."""

    end: End
    least: int
    most: int | None
    tied: bool


def earliest(into: Iterable[Into]) -> int | None:
    """About when all of it has come, at worst."""
    return max((each.end.high + each.least for each in into), default=None)


def latest(into: Iterable[Into]) -> int | None:
    """About until when it may wait, at worst; None without limit."""
    return min((each.end.low + each.most for each in into if each.most is not None), default=None)
