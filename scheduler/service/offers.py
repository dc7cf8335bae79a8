"""What Crockbell has to say of meals that do not fit, and of what was, or could be, changed so that they do."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from scheduler.changes import Change
from scheduler.domain.kitchen.ferments import Pace
from scheduler.domain.plan import Plan
from scheduler.domain.timetable import Timetable
from scheduler.explain import Misfit
from scheduler.service.deeds import Deed
from scheduler.service.view import View


@dataclass(frozen=True, slots=True)
class NoFit:
    """A plan, draft or under way, that no timetable fits at the hour asked for.

    `revision` is that of the plan its remedies were worked out for; `shown` of them were shown before.
    """

    plan_id: int
    plan: Plan
    misfit: Misfit
    now: datetime
    under_way: bool = False
    revision: int = 0
    shown: int = 0


@dataclass(frozen=True, slots=True)
class Moved:
    """One step that starts at another time than before."""

    step: int
    was: datetime
    now: datetime


@dataclass(frozen=True, slots=True)
class Reestimate:
    """What one step would take at the temperature that was said, in degrees Celsius: `change` is that, as data."""

    step: int
    planned_c: float
    said_c: float
    pace: Pace
    change: Change


@dataclass(frozen=True, slots=True)
class NotKnown:
    """A step at a temperature of which nothing is known, and why."""

    step: int
    why: str


@dataclass(frozen=True, slots=True)
class Reckoned:
    """Steps take longer or shorter from now on, as the cook agreed; `misfit` when the meal fits no more."""

    view: View
    changes: tuple[Change, ...]
    moved: tuple[Moved, ...] = ()
    misfit: Misfit | None = None


@dataclass(frozen=True, slots=True)
class HourFits:
    """Another serving hour would fit; asks before moving it."""

    view: View
    serve: datetime
    timetable: Timetable
    moved: tuple[Moved, ...]


@dataclass(frozen=True, slots=True)
class HourMoved:
    view: View
    moved: tuple[Moved, ...]


@dataclass(frozen=True, slots=True)
class Noted:
    """A note was taken; `found` is what a temperature in it makes of what ferments and rises.

    `maybe`: the food it may be of instead, and the deed that says so.
    """

    view: View
    text: str
    step: int | None
    found: tuple[Reestimate | NotKnown, ...] = ()
    maybe: tuple[str, Deed] | None = None


@dataclass(frozen=True, slots=True)
class ServesChanged:
    """The amounts are for others at the table than before: `before` and now; `others` are plans left as they are."""

    before: View
    view: View
    others: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ChangeMade:
    """Something about the kitchen was changed so that the meal fits: what, in words, and what moves for it."""

    view: View
    what: str
    moved: tuple[Moved, ...]
