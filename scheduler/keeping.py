"""Timetables that keep their promise: where the best one is a bet, a few others are tried.

Every one of them is a timetable of the plan as written; only some starts are kept within narrower bounds.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta
from itertools import islice

from scheduler.domain.plan import FIVE_MINUTES, MINUTE, Plan
from scheduler.domain.progress import Progress
from scheduler.domain.promise import Bet, Break, break_by
from scheduler.domain.timetable import Timetable
from scheduler.solver import Bound

AS_MANY = 120
"""Steps up to which another timetable is looked for."""

TRIES = 3
"""How many more timetables are tried."""

Solve = Callable[[Plan, tuple[Bound, ...]], Timetable | None]
"""A timetable of a plan, with some starts kept within bounds, that the verifier has passed; or None."""


def surer(plan: Plan, first: Timetable, now: datetime, progress: Progress, solve: Solve) -> Timetable:
    """The first timetable, or another that keeps its promise where that one is a bet.

    Each try moves the starts that its bet turned on by as much as nature may be off; it gives up at the first
    bet that moving a start does not mend.
    """
    if len(first.slots) > AS_MANY or not any(step.range.by_nature for step in plan.steps):
        return first
    bounds: tuple[Bound, ...] = ()
    bet = Bet(plan, first, now, progress)
    for _ in range(TRIES):
        if bet.kept():
            return bet.timetable
        lost = _first_lost(bet)
        if lost is None:
            return first
        bounds = _with(bounds, moved_start(bet, lost))
        timetable = solve(plan, bounds)
        if timetable is None:
            return first
        bet = Bet(plan, timetable, now, progress)
        if not bet.kept_towards(lost.steps[0], lost.towards):
            return first
    return bet.timetable if bet.kept() else first


def _first_lost(bet: Bet) -> Break | None:
    """The first break of one step; none where there are more than can be mended in time, or none of one step."""
    found = list(islice(bet.lost(), TRIES + 1)) if bet.kept(()) else []
    return break_by(bet, *found[0]) if 0 < len(found) <= TRIES else None


def moved_start(bet: Bet, lost: Break) -> Bound:
    """The start of the step a bet turns on, moved by what nature may be off beyond what does no harm."""
    (lasting,) = lost.draw
    step, slot = lasting.step, bet.timetable.slot(lasting.step)
    if slot is None:
        raise ValueError("the step has no time")
    off = abs(lasting.lasts // MINUTE - bet.planned[step])
    by = _fives((bet.room(step, lost.towards) - off + 1) * MINUTE)
    if lost.towards > 0:
        return Bound(step, not_after=slot.start - by)
    return Bound(step, not_before=slot.start + by)


def _fives(length: timedelta) -> timedelta:
    return -(-length // FIVE_MINUTES) * FIVE_MINUTES


def _with(bounds: tuple[Bound, ...], new: Bound) -> tuple[Bound, ...]:
    """Both sides of one step's bound together."""
    old = next((bound for bound in bounds if bound.step == new.step), Bound(new.step))
    both = Bound(new.step, new.not_before or old.not_before, new.not_after or old.not_after)
    return (*(bound for bound in bounds if bound.step != new.step), both)
