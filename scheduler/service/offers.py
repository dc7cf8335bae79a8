"""What Crockbell has to say of meals that do not fit, and of what was, or could be, changed so that they do."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from scheduler.domain.plan import Plan
from scheduler.domain.timetable import Timetable
from scheduler.explain import Misfit
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
class ChangeMade:
    """Something about the kitchen was changed so that the meal fits: what, in words, and what moves for it."""

    view: View
    what: str
    moved: tuple[Moved, ...]
