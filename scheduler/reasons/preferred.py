"""Why a start lies where it does between the first and the last one possible: what the planner prefers.

Freshness first, then margins, then hands-on work spread out and starts on quarter hours (see DEVELOPERS.md).
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta

from scheduler.domain.plan import FIVE_MINUTES, NO_TIME, Link
from scheduler.domain.progress import State
from scheduler.domain.timetable import Slot, Timetable
from scheduler.reasons.beside import Beside
from scheduler.reasons.network import Network
from scheduler.reasons.records import Because, Reason

A_DAY = timedelta(days=1)


def preferred(
    net: Network, timetable: Timetable, slot: Slot, earliest: datetime, latest: datetime
) -> tuple[Reason, ...]:
    """What keeps it from its first start, then what keeps it from its last."""
    beside = Beside(net, timetable, slot)
    found: list[Reason] = []
    if earliest < slot.start:
        found += _not_earlier(net, timetable, slot) or beside.before()
    if slot.start < latest:
        found += beside.after()
        found.append(Reason(Because.ROOM, step=slot.step, at=latest, length=latest - slot.start))
    return tuple(found)


def _not_earlier(net: Network, timetable: Timetable, slot: Slot) -> list[Reason]:
    return [*_follows(net, timetable, slot)] or [*_fresh(net, timetable, slot)]


def _follows(net: Network, timetable: Timetable, slot: Slot) -> Iterator[Reason]:
    """It follows at once on what is planned before it."""
    for into in net.links:
        before = timetable.slot(into.before)
        if into.after == slot.step and into.tied and before is not None and before.end == slot.start:
            yield Reason(Because.FOLLOWS, step=into.before, other=slot.step, at=before.end)
            return


def _fresh(net: Network, timetable: Timetable, slot: Slot) -> Iterator[Reason]:
    """Earlier, something would keep for longer, by more than is free."""
    last = _end_of_chain(net, timetable, slot)
    if last is None:
        return
    if _goes_on(net, last):
        yield Reason(Because.FRESH, step=last.step)
        return
    link = _gap_after(net, timetable, last)
    begins = None if link is None else _begins(timetable, link)
    if link is None or begins is None or not link.longest:
        return
    if _costs(begins - last.end - link.shortest, link.longest):
        yield Reason(Because.FRESH, (), last.step, link.after, None, last.end, begins, link.longest)


def _end_of_chain(net: Network, timetable: Timetable, slot: Slot) -> Slot | None:
    """The last of what moves with a step when it is begun earlier; None where a wait takes that up for free."""
    while True:
        _, longest = net.plan.steps[slot.step].range.planned()
        if longest is not None and slot.end - slot.start < longest:
            return None
        out = [link for link in net.links if link.before == slot.step]
        after = timetable.slot(out[0].after) if out and out[0].after is not None else None
        if longest is None or after is None or not all(link.tied for link in out):
            return slot
        if net.state(after.step) is not State.WAITING:
            return None
        slot = after


def _goes_on(net: Network, slot: Slot) -> bool:
    """Whether it lasts "at least" so long: begun earlier, it would only last longer."""
    return net.plan.steps[slot.step].range.planned()[1] is None


def _gap_after(net: Network, timetable: Timetable, slot: Slot) -> Link | None:
    loose = [link for link in net.links if link.before == slot.step and not link.tied]
    return min(loose, key=lambda link: _begins(timetable, link) or slot.end, default=None)


def _begins(timetable: Timetable, link: Link) -> datetime | None:
    if link.after is None:
        return timetable.serve
    after = timetable.slot(link.after)
    return None if after is None else after.start


def _costs(gap: timedelta, keeps: timedelta) -> bool:
    """Whether an eighth more of a wait would count: the first quarter (a day at most) is free."""
    eighth = max(FIVE_MINUTES, keeps / 8)
    return gap + eighth > min(A_DAY, keeps / 4) and gap >= NO_TIME
