"""The words in which a serving hour is wished for: "sat or sun, 12:00-14:00 or 18:00-21:00"."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from datetime import date, datetime, time

from scheduler.domain.hours import DAY, Dated, Hours, Weekly
from scheduler.domain.wanted import ANY_HOUR, EVERY_DAY, Clocks, Wanted
from scheduler.planfile import text as plantext
from scheduler.planfile.text import DATE, LONGEST_TEXT, TextError

A_WISH = (
    "days, hours or both, such as sat or sun, 12:00-14:00 or 18:00-21:00 "
    "(days: sat, mon-fri, weekdays, weekend, 2026-12-12, 2026-12-24 to 2026-12-26)"
)
MOST_DAYS = 366

PARTS = {
    "breakfast": "07:00-10:00", "brunch": "10:00-13:00", "morning": "08:00-12:00", "lunch": "12:00-14:00",
    "lunchtime": "12:00-14:00", "afternoon": "14:00-18:00", "dinner": "18:00-21:00",
    "dinnertime": "18:00-21:00", "supper": "18:00-21:00", "evening": "18:00-21:00",
}  # fmt: skip
"""The hours meant by a meal or a part of the day (common usage, no source)."""

SETS = {"weekday": "mon-fri", "weekdays": "mon-fri", "weekend": "sat-sun", "weekends": "sat-sun"}

_TO = "(?: ?[-\u2013] ?| to )"
_PIECE = re.compile(
    rf"(?P<hours>[0-9]{{1,2}}:[0-9]{{2}}{_TO}[0-9]{{1,2}}:[0-9]{{2}})"
    rf"|(?P<dates>{DATE}(?:{_TO}{DATE})?)"
    rf"|(?P<words>[a-z]+(?:{_TO}[a-z]+)?)"
)
_BETWEEN = re.compile(r"(?:[ ,;]|\b(?:or|and|on|in|at|the)\b)*")


@dataclass
class _Group:
    """Days, and the hours that were named after them."""

    weekdays: set[int] = field(default_factory=set)
    dates: list[date] = field(default_factory=list)
    clocks: list[tuple[time, time]] = field(default_factory=list)

    @property
    def dayless(self) -> bool:
        return not self.weekdays and not self.dates

    def hours(self, otherwise: Clocks) -> Iterator[Weekly | Dated]:
        weekdays = EVERY_DAY if self.dayless else frozenset(self.weekdays)
        for start, end in self.clocks or otherwise:
            if weekdays:
                yield Weekly(weekdays, start, end)
            for day in self.dates:
                yield Dated(datetime.combine(day, start), datetime.combine(day + DAY * (end <= start), end))


def wanted(text: str, otherwise: Clocks = ANY_HOUR) -> Wanted:
    """Reads days, then hours, joined by "or" or commas; either may be left out.

    Days without hours mean the hours `otherwise`, while someone is awake and at home. Hours without days mean
    every day. New days after hours begin anew: "sat 12:00-14:00 or sun 18:00-21:00". Raises TextError.
    """
    if len(text) > LONGEST_TEXT:
        raise TextError(f"at most {LONGEST_TEXT} characters", f"{len(text)} characters")
    groups: list[_Group] = []
    for kind, piece in _pieces(" ".join(text.split()).casefold()):
        _take(kind, piece, groups)
    if not groups:
        raise TextError(A_WISH, "nothing")
    if len(groups) > 1 and groups[0].dayless:
        raise TextError("the days first, then the hours, such as sat or sun, 12:00-14:00")
    return Wanted(
        said=_all(group.hours(()) for group in groups if group.clocks),
        at_home=_all(group.hours(otherwise) for group in groups if not group.clocks),
    )


def _all(many: Iterable[Iterator[Weekly | Dated]]) -> Hours:
    return tuple(span for spans in many for span in spans)


def _pieces(text: str) -> Iterator[tuple[str, str]]:
    position = _skip(text, 0)
    while position < len(text):
        match = _PIECE.match(text, position)
        if match is None or match.lastgroup is None:
            raise TextError(A_WISH, repr(text[position:].split(",")[0]))
        yield match.lastgroup, match[0]
        position = _skip(text, match.end())


def _skip(text: str, position: int) -> int:
    match = _BETWEEN.match(text, position)
    return match.end() if match else position


def _take(kind: str, piece: str, groups: list[_Group]) -> None:
    """One piece, into the group it belongs to."""
    plain = re.sub(_TO, "-", piece) if kind != "dates" else piece
    clocks = PARTS.get(plain, plain if kind == "hours" else None)
    if not groups or (clocks is None and groups[-1].clocks):
        groups.append(_Group())
    group = groups[-1]
    if clocks is not None:
        span = plantext.weekly_hours(clocks)[0]
        group.clocks.append((span.start, span.end))
    elif kind == "dates":
        group.dates += _dates(piece)
    else:
        group.weekdays.update(_weekdays(plain))


def _dates(piece: str) -> Iterator[date]:
    found = [plantext.calendar_date(day) for day in re.findall(DATE, piece)]
    first, last = found[0], found[-1]
    if last < first:
        raise TextError("the earlier date first")
    if (last - first).days >= MOST_DAYS:
        raise TextError(f"at most {MOST_DAYS} days")
    return (first + DAY * ahead for ahead in range((last - first).days + 1))


def _weekdays(words: str) -> tuple[int, ...]:
    names = SETS.get(words) or "-".join(re.sub("days$", "day", word) for word in words.split("-"))
    try:
        return plantext.weekdays(names)
    except TextError:
        raise TextError(A_WISH, repr(words)) from None
