"""When each step may start, stretch by stretch: the hours of whoever does it, `between` and `on` together.

All times are whole minutes since 1970-01-01 00:00 UTC, as in slack.room.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import timedelta

from scheduler.domain.hours import Interval
from scheduler.domain.plan import MINUTE, Attention, Plan, Step
from scheduler.domain.presence import Presence
from scheduler.domain.slack.room import NEVER, Place, Stretch, minute
from scheduler.domain.timetable import Slot, Timetable

AROUND = timedelta(days=8)
"""How far beyond the timetable the hours are worked out."""


@dataclass(frozen=True, slots=True)
class Opening:
    """One stretch: a start from `first` to `last`, both allowed, and an end not after `stay` (None: anywhen).

    `cook` does it there; None where nobody has to have free hands.
    """

    first: int
    last: int
    stay: int | None
    cook: str | None


class Openings:
    """The openings of every step of a timetable from `now` on, in order, and the hours its ends may fall in."""

    def __init__(self, plan: Plan, timetable: Timetable, now: int, reach: int) -> None:
        """`reach`: how many minutes after the last planned end something may still go on."""
        moments = [at for slot in timetable.slots for at in (slot.start, slot.end)] + [timetable.serve]
        until = max(moments) + AROUND + timedelta(minutes=reach)
        self.plan, self.now = plan, now
        self.presence = Presence(plan, min(moments) - AROUND, until)
        self._places = {slot.step: Place(plan, slot, 1, self.presence) for slot in timetable.slots}
        self._of: dict[int, tuple[Opening, ...]] = {}

    def of(self, step: Step) -> tuple[Opening, ...]:
        """Where it may start, for each cook who may do it, in order."""
        if step.number not in self._of:
            found = [o for cook, home in self._homes(step) for o in self._inside(step, cook, home)]
            self._of[step.number] = tuple(sorted(found, key=lambda o: (o.first, o.last, o.cook or "")))
        return self._of[step.number]

    def planned(self, step: Step, slot: Slot) -> Opening | None:
        """The opening its planned start lies in."""
        at = max(minute(slot.start), self.now)
        mine = [o for o in self.of(step) if o.first <= at <= o.last and o.cook in (None, slot.cook)]
        return max(mine, key=lambda o: NEVER if o.stay is None else o.stay, default=None)

    def seen(self, step: Step) -> list[Stretch]:
        """When someone sees its end; the last moment of each stretch counts."""
        return _minutes(self.presence.someone(step))

    def _homes(self, step: Step) -> list[tuple[str | None, list[Stretch]]]:
        if step.attention is Attention.HANDS_ON:
            cooks = self.plan.cooks_of(step)
            return [(cook.name, _minutes(self.presence.home(cook.name))) for cook in cooks]
        return [(None, self.seen(step))]

    def _inside(self, step: Step, cook: str | None, home: list[Stretch]) -> list[Opening]:
        stays = step.attention is not Attention.UNATTENDED
        found = [Opening(a, b - 1, b if stays else None, cook) for a, b in home]
        for hours, whole in self._places[step.number].only:
            found = [_cut(opening, piece, whole) for opening in found for piece in hours]
        least = step.range.shortest // MINUTE
        fits = (_from(opening, self.now) for opening in found)
        return [o for o in fits if o.first <= o.last and (o.stay is None or o.first + least <= o.stay)]


def _cut(opening: Opening, piece: Stretch, whole: bool) -> Opening:
    stay = opening.stay if opening.stay is None or not whole else min(opening.stay, piece[1])
    return Opening(max(opening.first, piece[0]), min(opening.last, piece[1] - 1), stay, opening.cook)


def _from(opening: Opening, now: int) -> Opening:
    return Opening(max(opening.first, now), opening.last, opening.stay, opening.cook)


def _minutes(pieces: Iterable[Interval]) -> list[Stretch]:
    return [(minute(a), minute(b)) for a, b in pieces]
