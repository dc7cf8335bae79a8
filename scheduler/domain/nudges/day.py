"""The card of the day: one short message in the morning of a day on which something is to be done."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, datetime, time

from scheduler.domain.hours import instant, local
from scheduler.domain.nudges.outlook import Outlook
from scheduler.domain.stages import About, Nudge, Stage

NOON = time(12)


def cards(outlook: Outlook, events: Iterable[tuple[datetime, bool]]) -> Iterator[Nudge]:
    """One DAY nudge for each local day, up to the serving day, with an event still ahead of it.

    An event is its moment, and whether it is worth a card; a day on which none is has none.

    Its subject is the midnight at which the day begins; it is of use till noon.
    """
    last = local(outlook.timetable.serve, outlook.plan.zone).date()
    days: dict[date, list[datetime]] = {}
    worth = set()
    for event, worth_a_card in sorted(events):
        day = local(event, outlook.plan.zone).date()
        days.setdefault(day, []).append(event)
        if worth_a_card:
            worth.add(day)
    for day, found in days.items():
        if day not in worth:
            continue
        due = _card_due(outlook, day, found[0])
        if day <= last and due <= found[-1]:
            midnight, noon = (instant(datetime.combine(day, at), outlook.plan.zone) for at in (time(), NOON))
            yield Nudge(About.DAY, Stage.HEADS_UP, due, max(noon, due + outlook.policy.early), midnight)


def _card_due(outlook: Outlook, day: date, first: datetime) -> datetime:
    """Shortly after waking, and before the first thing to do where that leaves time."""
    woken = outlook.waking.morning(day, outlook.policy.morning)
    return max(woken, min(woken + outlook.policy.card, first - outlook.policy.card_ahead))
