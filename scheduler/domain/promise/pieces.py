"""Where what nature may choose is split, and which places what follows takes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from scheduler.domain.promise.openings import Opening
from scheduler.domain.promise.spots import COMMON, Into, Path, earliest, exclude, latest
from scheduler.domain.slack.room import NEVER

MOST_PIECES = 24
"""A range is split no further than this; what is left is one piece."""


def pieces_of(
    found: list[tuple[int, int]], start: int, openings: Sequence[Opening], least: int, together: int
) -> list[tuple[int, int]]:
    """The pieces of a range, split where what follows has to go to the next opening.

    `start`: the latest the step itself starts; `together`: how long what follows holds someone. Ends count
    towards an opening until the last moment at which what follows still gets done in it.
    """
    low, high = found[0][0], found[-1][1]
    cuts = {b for _, b in found[:-1]}
    for opening in openings:
        last = opening.last if opening.stay is None else min(opening.last, opening.stay - together)
        at = last - least - start
        if last >= opening.first and low <= at < high:
            cuts.add(at)
    marks = [low - 1, *sorted(cuts)[: MOST_PIECES - 1], high]
    return [(a + 1, b) for a, b in pairwise(marks)]


def between_jobs(opening: Opening, jobs: Sequence[tuple[int, int]]) -> list[Opening]:
    """An opening of a cook as the stretches between that cook's other work, each until the next job begins."""
    inside = sorted(start for start, end in jobs if opening.first < end and start < (opening.stay or start))
    return [replace(opening, stay=start) for start in inside] + [opening]


def follow(into: Sequence[Into], planned: Opening | None, apart: bool) -> list[Path]:
    """The paths a step has to be put in for: one place if one will do, else one for each piece before it.

    `apart`: a place for each piece that ends just before it, though one would do.
    """
    ways = [each for each in into if each.end.path != COMMON]
    if not ways or (
        _one_will_do(into, planned) and not (apart and any(e.end.link is not None for e in ways))
    ):
        return [COMMON]
    # The pieces of one split only: what is split otherwise is waited for in every piece.
    worst = min(ways, key=lambda each: (NEVER if each.most is None else each.most, -len(each.end.path)))
    split = {n for n, _ in worst.end.path}
    paths = {each.end.path for each in ways if {n for n, _ in each.end.path} == split}
    return sorted(paths, key=lambda path: sorted(path))


def _one_will_do(into: Sequence[Into], planned: Opening | None) -> bool:
    """Whether the planned stretch suits every end, and one moment in it all the pieces of one split."""
    soon, late = earliest(into), latest(into)
    if (
        planned is None
        or (soon is not None and planned.last < soon)
        or (late is not None and planned.first > late)
    ):
        return False
    return all(
        one.most is None or other.end.high + other.least <= one.end.low + one.most
        for one in into
        for other in into
        if exclude(one.end.path, other.end.path)
    )
