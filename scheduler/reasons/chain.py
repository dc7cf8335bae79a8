"""Bounds and facts as reasons, in order from the step outwards."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace
from datetime import datetime, timedelta

from scheduler.domain.plan import MINUTE, Step
from scheduler.domain.presence import holding
from scheduler.domain.slack.room import moment
from scheduler.domain.timetable import Slot, Timetable
from scheduler.facts import Fact, FactKind
from scheduler.reasons.limits import Furthest
from scheduler.reasons.network import Network
from scheduler.reasons.propagate import Entry
from scheduler.reasons.records import Because, Reason


def told(net: Network, timetable: Timetable, limit: Furthest) -> tuple[Reason, ...]:
    """Why a start can be no later, or no earlier, than its limit.

    Where no single chain of bounds says it (hours of one step move another, and those the first again; or
    hands or gear are short), each fact stands for itself, with its numbers as they are in the timetable.
    """
    if limit.entry is not None and not _comes_back(limit.entry):
        return drawn(net, limit.entry, frozenset(limit.facts))
    order = {slot.step: index for index, slot in enumerate(timetable.slots)}
    found = [_standing(net, timetable, fact, limit) for fact in limit.facts]
    return tuple(sorted(found, key=lambda reason: _outwards(reason, order, limit)))


def _comes_back(entry: Entry) -> bool:
    """Whether a chain of bounds comes back to a moment it has left."""
    moments = [each.moment for each in entry.chain()]
    left = [at for at, following in zip(moments, [*moments[1:], None], strict=True) if at != following]
    return len(left) != len(set(left))


def _outwards(reason: Reason, order: dict[int, int], limit: Furthest) -> tuple[int, int]:
    """The step asked about and on from there in time, then the steps the other way, then what is about none."""
    if reason.step is None or reason.because in (Because.COOK, Because.GEAR):
        return (2, 0 if reason.because in (Because.COOK, Because.GEAR) else 1)
    place = order.get(reason.step, 0) - order.get(limit.step, 0)
    outwards = place if limit.later else -place
    return (0, outwards) if outwards >= 0 else (1, -outwards)


# ---------------------------------------------------------------- a chain of bounds

WHEN = (Because.HOURS, Because.ONLY)
"""What moves a bound only where it falls badly: left out where that makes no difference."""


def drawn(net: Network, entry: Entry, needed: Collection[Fact]) -> tuple[Reason, ...]:
    """A chain of bounds as reasons; `needed` are the facts of the minimal set."""
    found: list[Reason] = []
    mark: Entry | None = None
    for each in entry.chain():
        because = each.cause.because
        if because is Because.WAIT:
            found = _follows(found, each)
        if because is Because.MARK:
            mark = mark or each
        elif because is not Because.WAIT or each.cause.length:
            reason = _reason(net, each, needed)
            on_mark = mark is not None and mark.moment == each.moment
            found.append(replace(reason, by=moment(mark.at)) if mark and on_mark else reason)
            mark = None
    told = [each for each in found if each.facts or not needed or each.because not in WHEN]
    return tuple(each for before, each in zip([None, *told], told, strict=False) if not _again(before, each))


def _again(before: Reason | None, reason: Reason) -> bool:
    """Whether the days a step is bound to are told of right after its hours: they are one fact."""
    return (
        before is not None and before.because is reason.because is Because.ONLY and before.step == reason.step
    )


def _follows(found: list[Reason], entry: Entry) -> list[Reason]:
    """The length last told of leads to the step that comes after."""
    before, after = entry.cause.step, entry.cause.other
    if entry.upper and found and found[-1].because is Because.LENGTH and found[-1].step == before:
        return [*found[:-1], replace(found[-1], other=after)]
    return found


def _reason(net: Network, entry: Entry, needed: Collection[Fact]) -> Reason:
    cause = entry.cause
    source = entry.source.at if entry.source is not None else None
    if cause.because in (Because.SERVE, Because.KEEPS) and source is None and cause.other is None:
        source = net.serve
    reason = Reason(
        cause.because,
        tuple(fact for fact in net.facts if fact in cause.facts and fact in needed),
        cause.step,
        cause.other,
        by=moment(entry.at),
        at=None if source is None else moment(source),
        length=cause.length * MINUTE if cause.because in LASTING else None,
        end=entry.moment % 2 == 1,
    )
    if cause.because is Because.HOURS and entry.hours is not None:
        return _absent(net, reason, entry)
    return reason


LASTING = (Because.LENGTH, Because.LONGEST, Because.KEEPS, Because.WAIT)


def _absent(net: Network, reason: Reason, entry: Entry) -> Reason:
    """The stretch in which nobody is there that moved the bound."""
    step = net.plan.steps[entry.cause.step or 0]
    pieces = net.presence.someone(step)
    if entry.upper:
        since = moment(entry.at + entry.cause.length)
        until = next((start for start, _ in pieces if start >= since), None)
        asleep = not _awake(net, step, since)
    else:
        until = moment(entry.at)
        since = next((end for _, end in reversed(pieces) if end <= until), until)
        asleep = not _awake(net, step, until - MINUTE)
    return replace(reason, since=since, until=until, asleep=asleep)


def _awake(net: Network, step: Step, at: datetime) -> bool:
    return any(holding(net.presence.awake(cook.name), at) for cook in net.plan.cooks_of(step))


# ---------------------------------------------------------------- facts with no single chain


def _standing(net: Network, timetable: Timetable, fact: Fact, limit: Furthest) -> Reason:
    """A fact with its numbers as they stand in the timetable."""
    reason = Reason(Because(fact.kind.value), (fact,), fact.step, fact.other, fact.name)
    slot = timetable.slot(fact.step) if fact.step is not None else None
    if fact.kind is FactKind.SERVE:
        return replace(reason, at=timetable.serve)
    if fact.kind is FactKind.NOW:
        return replace(reason, at=moment(net.now))
    if fact.kind in (FactKind.GEAR, FactKind.COOK):
        return _in_use(net, timetable, reason, limit)
    if slot is None:
        return reason
    if fact.kind is FactKind.LENGTH:
        return replace(reason, length=net.plan.steps[slot.step].range.planned()[0])
    if fact.kind is FactKind.KEEPS:
        at = timetable.serve if fact.other is None else None
        return replace(reason, length=_keeps(net, fact), at=at)
    if fact.kind is FactKind.PUT_OFF:
        return replace(reason, by=net.progress.of(slot.step).not_before)
    return reason if fact.kind is FactKind.ONLY else _hours(net, reason, slot, limit)


def _keeps(net: Network, fact: Fact) -> timedelta | None:
    return next(
        (link.longest for link in net.links if (link.before, link.after) == (fact.step, fact.other)), None
    )


def _hours(net: Network, reason: Reason, slot: Slot, limit: Furthest) -> Reason:
    """The stretch in which nobody is there that moved a bound, the one told of first where several did."""
    ways = [limit.entry] if limit.entry is not None else limit.against
    same_way_first = sorted(ways, key=lambda bound: bound.upper != limit.later)
    chain = (entry for bound in same_way_first for entry in bound.chain())
    moved = next((entry for entry in chain if _in_hours(entry, slot.step)), None)
    if moved is None:
        return _nearest(net, reason, slot, limit)
    if moved.moment % 2 and moved.upper == limit.later:
        reason = replace(reason, by=moment(moved.at), end=True)
    return _absent(net, reason, moved)


def _in_hours(entry: Entry, step: int) -> bool:
    return entry.cause.because is Because.HOURS and entry.cause.step == step


def _nearest(net: Network, reason: Reason, slot: Slot, limit: Furthest) -> Reason:
    """The nearest stretch, that way, in which nobody is there for a step: for the one asked about, from its
    limit on.
    """
    step = net.plan.steps[slot.step]
    pieces = net.presence.someone(step)
    piece = holding(pieces, limit.at if slot.step == limit.step else slot.start)
    if piece is None:
        return reason
    if limit.later:
        until = next((start for start, _ in pieces if start > piece[1]), None)
        return replace(reason, since=piece[1], until=until, asleep=not _awake(net, step, piece[1]))
    since = next((end for _, end in reversed(pieces) if end < piece[0]), piece[0])
    return replace(reason, since=since, until=piece[0], asleep=not _awake(net, step, piece[0] - MINUTE))


def _in_use(net: Network, timetable: Timetable, reason: Reason, limit: Furthest) -> Reason:
    """What has the hands or the gear next, or had it last: until when, or from when."""
    here = timetable.slot(limit.step)
    users = [slot for slot in timetable.slots if slot.step != limit.step and _uses(net, slot, reason)]
    if here is None or not users:
        return reason
    after = [slot for slot in users if slot.start >= here.end]
    before = [slot for slot in users if slot.end <= here.start]
    if limit.later and after:
        return replace(reason, step=after[0].step, since=after[0].start, until=after[0].end)
    if not limit.later and before:
        last = max(before, key=lambda slot: slot.end)
        return replace(reason, step=last.step, since=last.start, until=last.end)
    return reason


def _uses(net: Network, slot: Slot, reason: Reason) -> bool:
    step = net.plan.steps[slot.step]
    if reason.because is Because.COOK:
        return slot.cook == reason.name
    return reason.name in step.gear or (reason.name == "oven" and step.oven is not None)
