"""What is said of food out of temperature control before each limit and at it."""

from __future__ import annotations

from datetime import datetime

from bot.wording.clock_words import OneClock, due_buttons, rule, titled
from bot.wording.lines import message
from scheduler.domain import clocks
from scheduler.domain.kitchen.hazards import DEFERRAL
from scheduler.domain.kitchen.holding import Limit
from scheduler.domain.kitchen.rules import Rules
from scheduler.domain.nudges.clocks import whole
from scheduler.domain.stages import Nudge, Stage
from scheduler.service.answers import ClockDue, Said
from scheduler.service.clock_answers import ClockRef
from scheduler.service.view import View

FASTER = "To cool it faster: shallow pans, a bath of ice water, stirring."
"""Common practice, no source."""


# ---------------------------------------------------------------- ahead of a limit, and at it


def clock_nudge(nudge: Nudge, view: View, rules: Rules) -> Said:
    """A limit of a plan's clock that comes, or has come."""
    now = view.now.replace(second=0, microsecond=0)
    found = next(
        each
        for each in clocks.clocks(view.plan, view.progress)
        if (each.step, each.number) == (nudge.step, nudge.occurrence)
    )
    ref = ClockRef(view.id, found.step, found.number)
    return _due(OneClock(found.name, found.clock, ref, rules, view.zone, now), nudge.stage, nudge.subject)


def clock_due(due: ClockDue) -> Said:
    """The same of a clock that belongs to no plan."""
    now = due.now.replace(second=0, microsecond=0)
    of = OneClock(due.name, due.clock, ClockRef(), due.rules, due.zone, now)
    return _due(of, due.stage, due.limit)


def _due(of: OneClock, stage: Stage, subject: datetime) -> Said:
    told = clocks.told_limits(of.clock, of.rules)
    limit = next((limit for limit in told if whole(limit.at) >= subject), None)
    if limit is None:
        return message(f"{titled(of.name)}: every limit is met", DEFERRAL)
    if stage is Stage.MISSED or whole(limit.at) <= of.now:
        return _passed(of, limit)
    together = clocks.warned_with(limit, told)
    return message(
        f"{titled(of.name)}: {of.by(limit)}",
        f"{of.since}, {of.left(limit)} left. {'' if of.out else 'Measure it in the middle.'}",
        *(f"And {of.by(other)} ({other.source})." for other in together[1:]),
        "" if of.out else FASTER,
        f"If not by then: {limit.then.says}.",
        rule(limit),
        DEFERRAL,
        buttons=due_buttons(of, limit),
    )


def _passed(of: OneClock, limit: Limit) -> Said:
    at = of.brief(whole(limit.at))
    if of.out:
        heading = f"{titled(of.name)}: time was up at {at}"
        what = f"{of.since}. If it was still out by {at}: {limit.then.says}."
    else:
        heading = f"{titled(of.name)}: {limit.says} was due by {at}"
        what = f"Measure it now. If it was not down to that by {at}: {limit.then.says}."
    coming = of.next
    ahead = f"Next: {of.by(coming)}, {of.left(coming)} left ({coming.source})." if coming else ""
    return message(heading, what, ahead, rule(limit), DEFERRAL, buttons=due_buttons(of, limit))
