"""What Crockbell has to say in reply, before it is put into words.

`bot.wording` turns each of these into a message.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Protocol

from scheduler.commands import Target
from scheduler.domain.kitchen.rules import STRICTER, Rules
from scheduler.domain.stages import Nudge
from scheduler.domain.timetable import Timetable
from scheduler.explain import Misfit
from scheduler.planfile import Problem
from scheduler.reasons import Reasons
from scheduler.records import Button
from scheduler.service.asides import AsItWas as AsItWas
from scheduler.service.asides import AskHours as AskHours
from scheduler.service.asides import Failed as Failed
from scheduler.service.asides import Help as Help
from scheduler.service.asides import HoursUnclear as HoursUnclear
from scheduler.service.asides import NoPlan as NoPlan
from scheduler.service.asides import QuietUntil as QuietUntil
from scheduler.service.asides import Settled as Settled
from scheduler.service.asides import Timer as Timer
from scheduler.service.asides import TimerGone as TimerGone
from scheduler.service.asides import TimersAre as TimersAre
from scheduler.service.asides import TimerSet as TimerSet
from scheduler.service.asides import Unclear as Unclear
from scheduler.service.asides import Undelivered as Undelivered
from scheduler.service.asides import Welcome as Welcome
from scheduler.service.asides import ZoneUnclear as ZoneUnclear
from scheduler.service.clock_answers import ClockDue as ClockDue
from scheduler.service.clock_answers import ClockIs as ClockIs
from scheduler.service.clock_answers import ClockLine as ClockLine
from scheduler.service.clock_answers import NoClock as NoClock
from scheduler.service.deeds import Deed
from scheduler.service.offers import ChangeMade as ChangeMade
from scheduler.service.offers import HourFits as HourFits
from scheduler.service.offers import HourMoved as HourMoved
from scheduler.service.offers import Moved as Moved
from scheduler.service.offers import NoFit as NoFit
from scheduler.service.offers import Noted as Noted
from scheduler.service.offers import NotKnown as NotKnown
from scheduler.service.offers import Reckoned as Reckoned
from scheduler.service.offers import Reestimate as Reestimate
from scheduler.service.offers import ServesChanged as ServesChanged
from scheduler.service.view import View


@dataclass(frozen=True, slots=True)
class Said:
    """A message: its first line is its heading."""

    text: str
    buttons: tuple[Button, ...] = ()


@dataclass(frozen=True, slots=True)
class BadFile:
    problems: tuple[Problem, ...]


@dataclass(frozen=True, slots=True)
class AskServe:
    """The plan names no serving hour, or another one is wanted and not named."""

    title: str


@dataclass(frozen=True, slots=True)
class Proposed:
    """A plan that fits, waiting for the cook's word. `beside` names plans already under way."""

    view: View
    warnings: tuple[str, ...] = ()
    beside: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Accepted:
    view: View


@dataclass(frozen=True, slots=True)
class Discarded:
    title: str


@dataclass(frozen=True, slots=True)
class Taken:
    """Marks were taken. `misfit` when what is left no longer fits the serving hour; `again` when that was
    said with the last marks already. `clocks` are those of food that were started with them.
    """

    deeds: tuple[Deed, ...]
    before: View
    view: View
    moved: tuple[Moved, ...] = ()
    misfit: Misfit | None = None
    late: tuple[str, ...] = ()
    again: bool = False
    clocks: tuple[ClockLine, ...] = ()


@dataclass(frozen=True, slots=True)
class Refused:
    """A deed that cannot be taken as said; `instead` are deeds to offer."""

    why: str
    instead: tuple[tuple[str, Deed], ...] = ()


@dataclass(frozen=True, slots=True)
class AskWhich:
    """The step meant is not clear."""

    view: View
    verb: str
    choices: tuple[tuple[str, Deed], ...]


@dataclass(frozen=True, slots=True)
class Confirm:
    """Something not lightly undone: asked before it counts."""

    question: str
    yes: Deed
    plan: int


@dataclass(frozen=True, slots=True)
class AskUntil:
    """Put off, but until when?"""

    view: View
    step: int
    occurrence: int | None
    choices: tuple[datetime, ...]


@dataclass(frozen=True, slots=True)
class NextIs:
    """What to do now or next, the timers that run, and food out of temperature control."""

    view: View
    timers: tuple[Timer, ...] = ()
    clocks: tuple[ClockLine, ...] = ()


@dataclass(frozen=True, slots=True)
class DayIs:
    view: View
    day: date


@dataclass(frozen=True, slots=True)
class PlanIs:
    view: View


@dataclass(frozen=True, slots=True)
class WhenIs:
    view: View
    target: Target


@dataclass(frozen=True, slots=True)
class WhyIs:
    """`reasons` is None for a step that is over or left out."""

    view: View
    target: Target
    reasons: Reasons | None = None


@dataclass(frozen=True, slots=True)
class Undone:
    """What was taken back, or (`redone`) put in again; `misfit` and `clocks` as for marks that were taken."""

    view: View
    what: tuple[str, ...]
    moved: tuple[Moved, ...] = ()
    misfit: Misfit | None = None
    redone: bool = False
    clocks: tuple[ClockLine, ...] = ()


@dataclass(frozen=True, slots=True)
class Shopping:
    view: View
    detail: str


@dataclass(frozen=True, slots=True)
class AmountIs:
    view: View | None
    said: str


@dataclass(frozen=True, slots=True)
class SumIs:
    """A one-off question of the trade: `name` says which sum, `said` how it was asked, `now` when, on the clock of
    `zone`; limits are told by `rules`.
    """

    view: View | None
    name: str
    said: str
    now: datetime | None = None
    zone: str = "UTC"
    rules: Rules = STRICTER


@dataclass(frozen=True, slots=True)
class Caution:
    """A question about safety, asked at `now` on the clock of `zone`; limits are told by `rules`."""

    view: View | None
    said: str
    now: datetime | None = None
    zone: str = "UTC"
    rules: Rules = STRICTER


@dataclass(frozen=True, slots=True)
class Stopped:
    title: str


@dataclass(frozen=True, slots=True)
class StillGoing:
    """Looked at, and not ready: when it will be asked after again, if it will."""

    view: View
    step: int
    again: datetime | None


@dataclass(frozen=True, slots=True)
class AskHowLate:
    view: View


@dataclass(frozen=True, slots=True)
class CatchUp:
    """What is overdue, as one message; the most pressing nudge first, whose buttons it has.

    `since` is when something fell due that could not be sent; None when nothing of ours held it up.
    `consequence` is what follows when the first is a step that was missed.
    """

    views: tuple[View, ...]
    nudges: tuple[tuple[int, Nudge], ...]
    since: datetime | None
    now: datetime
    consequence: Consequence | None = None


Answer = (
    Welcome | ZoneUnclear | AskHours | HoursUnclear | Settled | BadFile | AskServe | Proposed | NoFit
    | Accepted | Discarded | Taken | Refused | AskWhich | Confirm | AskUntil | HourFits | HourMoved | ChangeMade
    | Reckoned | ServesChanged | NextIs | DayIs | PlanIs | WhenIs | WhyIs | Noted | Undone | TimerSet | TimerGone
    | TimersAre | Shopping | AmountIs | SumIs | Caution | QuietUntil | Stopped | StillGoing | AsItWas | AskHowLate
    | Help | NoPlan | Unclear | CatchUp | ClockIs | ClockDue | NoClock | Failed | Undelivered
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Consequence:
    """What follows if a step that was missed is begun now."""

    timetable: Timetable | None
    misfit: Misfit | None
    moved: tuple[Moved, ...] = field(default=())


class Words(Protocol):
    """Puts answers and nudges into words. Pure: the same in, the same out; never raises for valid input."""

    def answer(self, answer: Answer) -> Said: ...

    def nudge(self, nudge: Nudge, view: View, consequence: Consequence | None = None) -> Said:
        """The message for a nudge, as true at `view.now`."""
        ...

    def timer(self, label: str) -> Said:
        """The message for a timer that has run out; the label may be empty."""
        ...
