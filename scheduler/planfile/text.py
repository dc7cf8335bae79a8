"""The words a plan is written in: names, durations, hours of the day, days and dates.

Every function takes text as a cook wrote it and raises TextError, which says what was expected. Capitals
and repeated spaces make no difference. The patterns are shared with the JSON Schema, so they keep to what
both Python and ECMA-262 regular expressions understand.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator
from datetime import date, datetime, time, timedelta
from decimal import Decimal

from scheduler.domain.hours import DAY, Dated, Hours, Span, Weekly

LONGEST_NAME = 80
LONGEST_TEXT = 400
LONGEST_DURATION = timedelta(days=400)
FIRST_YEAR, LAST_YEAR = 2000, 2199

A_DURATION = "a duration such as 25 min, 2 h 30 min or 7 d"
A_RANGE = "a duration such as 25 min, 7 d to 10 d or at least 12 h"
SOME_HOURS = "hours such as 07:00-22:30, mon-fri 08:30-17:45 or 2026-12-10 18:00-23:00"
WEEKLY_HOURS = "hours such as 09:00-12:00 or sat 09:00-12:00"
A_DAY = "a day or date such as sat, mon-fri or 2026-12-12"
A_MOMENT = "a date and time such as 2026-12-12 19:30"


class TextError(ValueError):
    """Text that does not read as it should. `expected` says what would; `found` overrides the text."""

    def __init__(self, expected: str, found: str | None = None) -> None:
        super().__init__(f"expected {expected}")
        self.expected = expected
        self.found = found


def _tidy(text: str) -> str:
    if len(text) > LONGEST_TEXT:
        raise TextError(f"at most {LONGEST_TEXT} characters", f"{len(text)} characters")
    return " ".join(text.split()).casefold()


# ---------------------------------------------------------------- names and texts

_UNSEEN = re.compile(
    "[\x00-\x09\x0b-\x1f\x7f-\x9f]"  # controls, all but the line feed
    "|[\u2028\u2029\u202a-\u202e\u2066-\u2069]"  # separators, direction overrides and isolates
    "|[\ufeff\ud800-\udfff]"  # a byte order mark, halves of characters
)


def words(text: str, longest: int = LONGEST_TEXT) -> str:
    """Text on one line, spaces tidied, in Unicode's composed form (NFC)."""
    if unseen := _UNSEEN.search(text):
        raise TextError("text without control characters", f"the character U+{ord(unseen[0]):04X}")
    tidy = unicodedata.normalize("NFC", " ".join(text.split()))
    if not tidy:
        raise TextError("some text", "nothing")
    if len(tidy) > longest:
        raise TextError(f"at most {longest} characters", f"{len(tidy)} characters")
    return tidy


def name(text: str) -> str:
    """A name: at most 80 characters."""
    return words(text, LONGEST_NAME)


def key(text: str) -> str:
    """What two spellings of one name have in common, for looking it up."""
    return " ".join(text.split()).casefold()


# ---------------------------------------------------------------- durations

NUMBER = r"[0-9]{1,6}(?:\.[0-9]{1,4})?"
_UNITS = (
    ("w", "(?:weeks?|w)", 7 * 86400),
    ("d", "(?:days?|d)", 86400),
    ("h", "(?:hours?|hrs?|h)", 3600),
    ("min", "(?:minutes?|mins?)", 60),
    ("s", "(?:seconds?|secs?|s)", 1),
)
DURATION = "(?=[0-9])" + " ?".join(f"(?:{NUMBER} ?{unit})?" for _, unit, _ in _UNITS)
RANGE = f"(?:at least {DURATION}|(?:(?:{NUMBER}|{DURATION}) to )?{DURATION})"
_PART = re.compile(f"({NUMBER}) ?([a-z]+)")


def duration(text: str) -> timedelta:
    """Reads "2 h 30 min": whole seconds, at most 400 d; nothing at all ("0 min") is a duration too."""
    tidy = _tidy(text)
    if not re.fullmatch(DURATION, tidy):
        raise TextError(A_DURATION)
    seconds = sum((Decimal(n) * _seconds_in(unit) for n, unit in _PART.findall(tidy)), Decimal(0))
    if seconds > int(LONGEST_DURATION.total_seconds()):
        raise TextError("at most 400 d")
    if seconds != int(seconds):
        raise TextError("whole seconds")
    return timedelta(seconds=int(seconds))


def _seconds_in(word: str) -> int:
    return next(seconds for _, unit, seconds in _UNITS if re.fullmatch(unit, word))


def span_of(text: str) -> tuple[timedelta, timedelta | None]:
    """The shortest and longest of "25 min", "7 d to 10 d", "7 to 10 d" or "at least 12 h" (longest None)."""
    tidy = _tidy(text)
    if not re.fullmatch(RANGE, tidy):
        raise TextError(A_RANGE)
    if tidy.startswith("at least "):
        return duration(tidy.removeprefix("at least ")), None
    first, _, last = tidy.rpartition(" to ")
    longest = duration(last)
    if re.fullmatch(NUMBER, first):
        first += _PART.findall(last)[0][1]
    shortest = duration(first) if first else longest
    if longest < shortest:
        raise TextError("the shorter time first")
    return shortest, longest


def written(length: timedelta) -> str:
    """A duration as a plan file writes it: `duration` reads it back."""
    left, parts = int(length.total_seconds()), []
    for unit, _, seconds in _UNITS[1:]:
        count, left = divmod(left, seconds)
        parts += [f"{count} {unit}"] if count else []
    return " ".join(parts) or "0 min"


# ---------------------------------------------------------------- days, dates and hours

_DAY_NAMES = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_WEEKDAY = "[A-Za-z]{3,9}"
_TO = " ?[-\u2013] ?"
_DAY_RANGE = f"{_WEEKDAY}(?:{_TO}{_WEEKDAY})?"
DAYS = f"{_DAY_RANGE}(?: ?, ?{_DAY_RANGE})*"
DATE = "[0-9]{4}-[0-9]{2}-[0-9]{2}"
_CLOCK = "(?:[01]?[0-9]|2[0-3]):[0-5][0-9]"
_END = f"(?:{_CLOCK}|24:00)"
WEEKLY = f"(?:{DAYS} )?{_CLOCK}{_TO}{_END}"
STRETCH = f"(?:{WEEKLY}|{DATE} {_CLOCK}{_TO}(?:{DATE} )?{_END})"
MOMENT = f"{DATE}[ T]{_CLOCK}(?::00)?"
_READ_STRETCH = re.compile(f"(?:(?:({DAYS})|({DATE})) )?({_CLOCK}){_TO}(?:({DATE}) )?({_END})")
_BETWEEN_STRETCHES = re.compile("(?<=:[0-9]{2}) ?[,;] ?")


def clock(text: str) -> time:
    """The time of day of "18:30"; "24:00" is midnight too."""
    hour, minute = text.split(":")[:2]
    return time(int(hour) % 24, int(minute))


def calendar_date(text: str) -> date:
    """The date of "2026-12-12", from 2000 to 2199."""
    try:
        day = date.fromisoformat(text.strip())
    except ValueError:
        raise TextError("a date that exists, such as 2026-12-12") from None
    if not FIRST_YEAR <= day.year <= LAST_YEAR:
        raise TextError(f"a year from {FIRST_YEAR} to {LAST_YEAR}")
    return day


def local_datetime(text: str) -> datetime:
    """The naive local date-time of "2026-12-12 19:30"."""
    tidy = " ".join(text.split())
    if not re.fullmatch(MOMENT, tidy):
        raise TextError(A_MOMENT)
    return datetime.combine(calendar_date(tidy[:10]), clock(tidy[11:]))


def weekdays(text: str) -> tuple[int, ...]:
    """Reads "mon", "mon-fri", "fri-mon" (over the weekend) or "mon, wed", in the order written.

    Names may be cut to three letters or more. 0 is Monday.
    """
    tidy = _tidy(text)
    if not re.fullmatch(DAYS, tidy):
        raise TextError(A_DAY)
    return tuple(dict.fromkeys(day for part in tidy.split(",") for day in _day_range(part.strip())))


def _day_range(text: str) -> Iterator[int]:
    first, *last = (_weekday(word) for word in re.split(_TO, text))
    for step in range(((last[0] if last else first) - first) % 7 + 1):
        yield (first + step) % 7


def _weekday(word: str) -> int:
    for number, known in enumerate(_DAY_NAMES):
        if known.startswith(word):
            return number
    raise TextError(A_DAY, f"the day '{word}'")


def days(text: str) -> tuple[int | date, ...]:
    """Weekdays, or one date, as `on:` takes them."""
    return (calendar_date(text),) if re.fullmatch(DATE, text.strip()) else weekdays(text)


def hours(text: str | Iterable[str]) -> Hours:
    """Hours as `awake:` and `away:` take them, weekly or dated, one or several.

    "07:00-22:30" is every day, "mon-fri 08:30-17:45" on those, "2026-12-10 18:00-23:00" once, and
    "2026-12-10 18:00 - 2026-12-12 09:00" a trip. An end not after its start is on the next day.
    """
    texts = [text] if isinstance(text, str) else list(text)
    pieces = [piece for item in texts for piece in _BETWEEN_STRETCHES.split(_tidy(item))]
    if not pieces:
        raise TextError(SOME_HOURS, "nothing")
    return tuple(_stretch(piece) for piece in pieces)


def weekly_hours(text: str) -> tuple[Weekly, ...]:
    """Hours that come back every day or week, as `between:` takes them."""
    found: list[Weekly] = []
    for span in hours(text):
        if isinstance(span, Dated):
            raise TextError(WEEKLY_HOURS)
        found.append(span)
    return tuple(found)


def _stretch(text: str) -> Span:
    match = _READ_STRETCH.fullmatch(text)
    if match is None:
        raise TextError(SOME_HOURS)
    on, day, start, last_day, end = match.groups()
    if start == end and not last_day:
        raise TextError("an end other than the start (a whole day is 00:00-24:00)")
    if day:
        return _dated(calendar_date(day), clock(start), calendar_date(last_day) if last_day else None, end)
    if last_day:
        raise TextError(SOME_HOURS)
    return Weekly(frozenset(weekdays(on) if on else range(7)), clock(start), clock(end))


def _dated(day: date, start: time, last_day: date | None, end: str) -> Dated:
    begins = datetime.combine(day, start)
    ends = datetime.combine(last_day or day, clock(end))
    if end == "24:00" or (last_day is None and ends <= begins):
        ends += DAY
    if ends <= begins:
        raise TextError("an end after its start")
    return Dated(begins, ends)
