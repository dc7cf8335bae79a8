"""Nudges about food out of temperature control: before each limit of a clock, and at it.

They come whatever the hour: asleep or out, the food goes on getting warmer or not getting cold.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta

from scheduler.domain.clocks import FoodClock, clocks, told_limits, warned_with
from scheduler.domain.kitchen.holding import Limit
from scheduler.domain.nudges.outlook import Outlook
from scheduler.domain.nudges.policy import Policy
from scheduler.domain.plan import MINUTE
from scheduler.domain.stages import About, Nudge, Stage


def food_out(outlook: Outlook) -> Iterator[Nudge]:
    """CLOCK nudges: CLOSING ahead of each limit that no reading shows to be met, MISSED at it, and WAITING where
    the cook asked to be told again.

    Of a limit that had passed when the clock was first spoken of, the answer told.
    """
    for clock in clocks(outlook.plan, outlook.progress):
        if clock.stopped is None:
            yield from _of_clock(clock, outlook.policy)


def _of_clock(clock: FoodClock, policy: Policy) -> Iterator[Nudge]:
    told = list(limits_of(clock, policy))
    for stage, due, limit in told:
        expires = limit if stage is Stage.CLOSING else limit + policy.clock_useful
        yield _nudge(clock, stage, due, expires, limit)
    later = clock.later
    coming = next((limit for _, _, limit in told if later is not None and limit > later), None)
    if later is not None and coming is not None:
        yield _nudge(clock, Stage.WAITING, later, coming, later)


def limits_of(clock: FoodClock, policy: Policy) -> Iterator[tuple[Stage, datetime, datetime]]:
    """Stage, due time and limit of each thing to be said, limit after limit; all on whole minutes."""
    known = clock.known or clock.started
    warned: list[Limit] = []
    told = [limit for limit in told_limits(clock.clock, policy.rules) if whole(limit.at) > known]
    for limit in told:
        at = whole(limit.at)
        if limit not in warned:
            warned += warned_with(limit, told)
            yield Stage.CLOSING, warning_at(clock, limit, policy), at
        yield Stage.MISSED, at, at


def _nudge(clock: FoodClock, stage: Stage, due: datetime, expires: datetime, subject: datetime) -> Nudge:
    return Nudge(About.CLOCK, stage, due, expires, subject, clock.step, clock.number)


def warning_at(clock: FoodClock, limit: Limit, policy: Policy) -> datetime:
    """When to say that a limit comes: early enough to act. Halfway to it where that was past when it was known, or
    where the cook has just measured and so been told of it.
    """
    known, at = max(clock.known or clock.started, clock.started), whole(limit.at)
    due = at - policy.clock_lead(at - clock.started)
    measured = [when for when, _ in clock.clock.readings if timedelta(0) <= due - when < policy.clock_told]
    known = max(known, *measured) if measured else known
    return due if due > known and not measured else known + (at - known) / 2 // MINUTE * MINUTE


def whole(at: datetime) -> datetime:
    """The whole minute of a limit: no later than it."""
    return at.replace(second=0, microsecond=0)
