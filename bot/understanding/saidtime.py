"""Times and lengths as people say them: the words for what was found, and the text it was found in.

Each time found is replaced by a word in capitals, so that what is left can be read without caring which hour
or how many minutes were meant: CLOCK "at 8:40", LEN "half an hour", AHEAD "in 10 minutes", AGO "an hour ago",
DAY "tomorrow", PART "in the morning", VAGUE "in a bit". `timewords` finds them; `instants` says what instant
one stands for.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, timedelta

TOKEN = re.compile(r"\b(?:LEN|AGO|AHEAD|CLOCK|DAY|PART|VAGUE)\b")

SOME_YEAR = 1904
"""The year of a date said without one; it holds every day there is."""


@dataclass(frozen=True, slots=True)
class Clock:
    """A wall-clock time as said. `open`: it may be before noon (as it stands here) or after."""

    hour: int
    minute: int = 0
    open: bool = False


@dataclass(frozen=True, slots=True)
class Day:
    """A day as said: so many days from today, a weekday (0 is Monday) or a date, and perhaps a part of it.

    `name` is its short word. A date in SOME_YEAR is a day and a month only.
    """

    name: str
    ahead: int | None = None
    weekday: int | None = None
    date: date | None = None
    part: str | None = None


Value = timedelta | Clock | Day | str


@dataclass(frozen=True, slots=True)
class Said:
    """Plain words with times set apart, and the times in the order they stand."""

    text: str
    times: tuple[tuple[str, Value], ...] = ()

    def _length(self, kind: str) -> timedelta | None:
        return next((v for k, v in self.times if k == kind and isinstance(v, timedelta)), None)

    @property
    def length(self) -> timedelta | None:
        return self._length("LEN")

    @property
    def ago(self) -> timedelta | None:
        return self._length("AGO")

    @property
    def ahead(self) -> timedelta | None:
        """How long from now: "in 10 minutes"."""
        return self._length("AHEAD")

    @property
    def clock(self) -> Clock | None:
        return next((v for _, v in self.times if isinstance(v, Clock)), None)

    @property
    def day(self) -> Day | None:
        return next((v for _, v in self.times if isinstance(v, Day)), None)

    @property
    def part(self) -> str | None:
        """morning, breakfast, lunch, afternoon or evening."""
        part = next((v for k, v in self.times if k == "PART" and isinstance(v, str)), None)
        return part or (self.day.part if self.day else None)

    @property
    def gone_by(self) -> bool:
        """Whether a day was named that is over, or how long ago something was."""
        return self.ago is not None or (self.day is not None and (self.day.ahead or 0) < 0)

    @property
    def to_come(self) -> bool:
        """Whether a moment was named that can only lie ahead."""
        return self.ahead is not None or (self.day is not None and (self.day.ahead or 0) > 0)

    def pieces(self, splitter: re.Pattern[str]) -> list[tuple[str, Said]]:
        """The text cut at `splitter`: what stood before each piece, and the piece with its own times."""
        left, pieces, begin, before = list(self.times), [], 0, ""
        for cut in (*splitter.finditer(self.text), None):
            text = self.text[begin : cut.start() if cut else None]
            count = len(TOKEN.findall(text))
            pieces.append((before, Said(text.strip(" .,;:"), tuple(left[:count]))))
            left = left[count:]
            begin, before = (cut.end(), cut[0]) if cut else (0, "")
        return [(before, piece) for before, piece in pieces if piece.text]
