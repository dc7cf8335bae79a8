"""The vocabulary of nudges: what one is about, and how pressing it has become."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum


class Stage(StrEnum):
    """How pressing a nudge is."""

    HEADS_UP = "heads-up"
    NOW = "now"
    WAITING = "waiting"
    CLOSING = "closing"
    MISSED = "missed"


class About(StrEnum):
    """What a nudge is about: beginning or ending a step, looking at one that nature ends, a touch of a
    tend, shopping or bringing out what a step needs, something early tomorrow, the day ahead, a timer the
    cook set, a limit on how long food may be out of temperature control.
    """

    START = "start"
    END = "end"
    LOOK = "look"
    TEND = "tend"
    BUY = "buy"
    EARLY = "early"
    DAY = "day"
    TIMER = "timer"
    CLOCK = "clock"


@dataclass(frozen=True, slots=True)
class Nudge:
    """One message owed at a time; every time an aware UTC instant.

    `subject` is the moment it is about: the planned start or end, the touch, the first moment to look; for
    shopping and the day's card the local midnight at which that day begins. After `expires` it is of no use.
    `step` is None for the day card. `occurrence` counts touches, looks, and repeats within a stage (from 0); of a
    clock it is the clock's number, whose limit `subject` is.
    """

    about: About
    stage: Stage
    due: datetime
    expires: datetime
    subject: datetime
    step: int | None = None
    occurrence: int = 0

    @property
    def key(self) -> str:
        """The same for the same nudge in every revision of the timetable, so that it is sent once."""
        where = "-" if self.step is None else str(self.step)
        return f"{self.about}/{where}/{self.stage}/{self.occurrence}/{self.subject:%Y%m%dT%H%M}"
