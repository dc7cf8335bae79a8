"""How far each start may move: alone, and with what follows giving way."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime

from scheduler.domain.check.facts import Facts
from scheduler.domain.plan import MINUTE, Plan
from scheduler.domain.presence import Presence
from scheduler.domain.progress import Progress
from scheduler.domain.slack.calls import LastCalls
from scheduler.domain.slack.links import Neighbours
from scheduler.domain.slack.room import Place, moment
from scheduler.domain.slack.shared import Shared
from scheduler.domain.timetable import Slot, Timetable


def with_windows(
    plan: Plan, slots: Iterable[Slot], now: datetime, serve: datetime, progress: Progress, presence: Presence
) -> tuple[Slot, ...]:
    """The slots, in the order given, with `earliest`, `latest` and `last_call` worked out.

    `earliest` and `latest`: every mark between them is a start that keeps to all the rules while every other
    step stays where it is (its own length may change). `last_call`: a start not before `latest`, as late as
    can be, at which what follows can still give way: waits and gaps after it shrink, what is tied to it moves
    along, and a wait of chosen length just before it runs on. Starts are looked at up to three days either
    side (slack_room.AS_FAR), and `presence` has to reach that far. A step that has begun has no window.
    """
    timetable = Timetable(serve, tuple(slots))
    facts = Facts(plan, now, progress)
    places = {
        slot.step: Place(plan, slot, _grain(facts, slot), presence)
        for slot in timetable.slots
        if facts.waits(slot.step)
    }
    shared = Shared(plan, timetable.slots, progress)
    around = Neighbours(facts, timetable, places)
    calls = LastCalls(facts, timetable, around, shared)
    return tuple(_windowed(slot, around, shared, calls) for slot in timetable.slots)


def _grain(facts: Facts, slot: Slot) -> int:
    return 1 if slot.step in facts.off_mark else facts.step(slot).grain // MINUTE


def _windowed(slot: Slot, around: Neighbours, shared: Shared, calls: LastCalls) -> Slot:
    place = around.places.get(slot.step)
    if place is None:
        return replace(slot, earliest=slot.start, latest=slot.start, last_call=slot.start)
    bounds, blocked = around.alone(slot.step), shared.blocked(place, ())
    earliest, latest = place.run(-1, bounds, blocked), place.run(1, bounds, blocked)
    last_call = calls.of(slot.step, latest)
    return replace(slot, earliest=moment(earliest), latest=moment(latest), last_call=moment(last_call))
