"""How comfortable a timetable is for its cooks: five measures, the weightiest first; less is better."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import timedelta

from scheduler.domain.hours import Interval
from scheduler.domain.load import HOUR, MARGIN, Load, Piece, load
from scheduler.domain.plan import MINUTE, NO_TIME, Attention, Plan
from scheduler.domain.presence import Presence, holding
from scheduler.domain.timetable import Timetable

QUARTER = 15 * MINUTE
"""The margin a cook has between hands-on work and bedtime or leaving, and before whatever follows a wait."""


@dataclass(frozen=True, slots=True, order=True)
class Comfort:
    """Compared measure by measure, in this order; the smaller is the more comfortable.

    `untended`: tends for which nobody is there with free hands. `tight`: margins of a quarter of an hour that
    are missing. `odd_hours`: hands-on time within an hour of waking or of bedtime. `busiest`: hands-on time in
    the busiest hour. `fullest`: hands-on time on the fullest day.
    """

    untended: int
    tight: int
    odd_hours: timedelta
    busiest: timedelta
    fullest: timedelta


def comfort(plan: Plan, timetable: Timetable) -> Comfort:
    """The measures of a timetable in which nothing has begun."""
    work = load(plan, timetable)
    return Comfort(
        untended=sum(touch.trouble is not None for touch in timetable.touches),
        tight=sum(_tight_ends(plan, timetable)) + sum(_tight_waits(plan, timetable)),
        odd_hours=sum((_odd(piece) for piece in work.pieces if piece.busy), NO_TIME),
        busiest=work.busiest.hands_on if work.busiest else NO_TIME,
        fullest=_fullest(work),
    )


def _fullest(work: Load) -> timedelta:
    return max((day.hands_on for day in work.days), default=NO_TIME)


def _tight_ends(plan: Plan, timetable: Timetable) -> Iterator[bool]:
    """Hands-on work that ends less than a quarter of an hour before its cook goes to bed or leaves."""
    moments = [timetable.serve, *(slot.start for slot in timetable.slots)]
    presence = Presence(plan, min(moments) - MARGIN, max(moments) + MARGIN)
    for slot in timetable.slots:
        if plan.steps[slot.step].attention is Attention.HANDS_ON and slot.cook is not None:
            there = holding(presence.home(slot.cook), slot.start)
            yield there is not None and there[1] - slot.end < QUARTER


def _tight_waits(plan: Plan, timetable: Timetable) -> Iterator[bool]:
    """Gaps that may be longer than a quarter of an hour, and leave less for the steps before to slip by."""
    for link in plan.links:
        before = timetable.slot(link.before)
        after = None if link.after is None else timetable.slot(link.after)
        if before is None or (after is None and link.after is not None):
            continue
        if link.longest is not None and link.longest > QUARTER:
            begins = timetable.serve if after is None else after.start
            yield begins - before.end - link.shortest < QUARTER


def _odd(piece: Piece) -> timedelta:
    """How much of it falls within an hour of waking or of bedtime; all of it in the night."""
    if piece.waking is None:
        return piece.hands_on
    woke, bed = piece.waking
    quiet = (woke + HOUR, bed - HOUR)
    return piece.hands_on - _inside((piece.start, piece.end), quiet)


def _inside(one: Interval, other: Interval) -> timedelta:
    return max(min(one[1], other[1]) - max(one[0], other[0]), NO_TIME)
