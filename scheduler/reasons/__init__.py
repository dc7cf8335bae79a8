"""Why a step is when it is: how late and how early it can start, and the least facts that say so.

Bounds are drawn from the plan's facts (`network`, `propagate`); where hands or gear are short, every order is
tried (`refute`). The solver has the last word on how far a start can move; where the facts cannot be found
that way, it finds them (`scheduler.explain.conflict`).
"""

from __future__ import annotations

from datetime import datetime

from scheduler.domain.plan import Plan
from scheduler.domain.progress import Progress, State
from scheduler.domain.slack.room import moment
from scheduler.domain.timetable import Slot, Timetable
from scheduler.reasons.chain import drawn, told
from scheduler.reasons.constraints import end_of
from scheduler.reasons.limits import Limits
from scheduler.reasons.network import Network
from scheduler.reasons.preferred import preferred
from scheduler.reasons.propagate import Bounds, Crossed, TooLong
from scheduler.reasons.records import Because as Because
from scheduler.reasons.records import Reason as Reason
from scheduler.reasons.records import Reasons as Reasons


def reasons(plan: Plan, timetable: Timetable, step: int, now: datetime, progress: Progress) -> Reasons:
    """Why a step of the timetable is when it is.

    A step that is over has no reasons but its real times; for one under way `no_later` says when it is
    to end. Raises ValueError for a step that is not part of the timetable.
    """
    slot = timetable.slot(step)
    if slot is None:
        raise ValueError(f"step {step} has no time in this timetable")
    net = Network(plan, progress, now, timetable.serve)
    if progress.state(step) is not State.WAITING:
        return _begun(net, slot)
    limits = Limits(net, slot)
    later, earlier = limits.find(later=True), limits.find(later=False)
    return Reasons(
        step,
        State.WAITING,
        slot.start,
        slot.end,
        later.at,
        earlier.at,
        told(net, timetable, later),
        told(net, timetable, earlier),
        preferred(net, timetable, slot, earlier.at, later.at),
        later.facts,
        earlier.facts,
    )


def _begun(net: Network, slot: Slot) -> Reasons:
    """For a step that is over its real times; for one under way by when it has to end, and why."""
    state, latest = net.state(slot.step), slot.end
    chain: tuple[Reason, ...] = ()
    if state is State.RUNNING:
        try:
            entry = Bounds(net.constraints(frozenset(net.facts))).upper.get(end_of(slot.step))
        except (Crossed, TooLong):
            entry = None
        if entry is not None and moment(entry.at) >= slot.end:
            latest, chain = moment(entry.at), drawn(net, entry, frozenset())
    return Reasons(slot.step, state, slot.start, slot.end, latest, slot.start, chain)
