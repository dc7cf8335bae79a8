"""Hours as people say them: as they come back every week, and as they fall."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime

from scheduler import words
from scheduler.domain.hours import Dated, Hours, Interval, Weekly, local


def spans(hours: Hours) -> str:
    """ "Mon to Fri 08:30 to 17:45 and Thu 10 Dec 18:00 to 23:00"."""
    return words.listed([_span(span) for span in hours])


def _span(span: Weekly | Dated) -> str:
    clock = f"{span.start:%H:%M} to {span.end:%H:%M}"
    if isinstance(span, Dated):
        return f"{words.date_name(span.start.date())} {clock}"
    return clock if len(span.days) == 7 else f"{days(span.days)} {clock}"


def days(named: Iterable[int | date]) -> str:
    """ "Tue to Sat", "Mon, Wed and Fri", "Sat 12 Dec"; weekdays as numbers, 0 is Monday."""
    every = list(named)
    weekdays = sorted(day for day in every if isinstance(day, int))
    dates = sorted(day for day in every if isinstance(day, date))
    return words.listed([*_runs(weekdays), *map(words.date_name, dates)])


def _runs(weekdays: list[int]) -> list[str]:
    """Three weekdays or more on end become one run."""
    runs: list[list[int]] = []
    for day in weekdays:
        if runs and runs[-1][-1] == day - 1:
            runs[-1].append(day)
        else:
            runs.append([day])
    said = []
    for run in runs:
        names = [words.DAYS[day] for day in run]
        said += [f"{names[0]} to {names[-1]}"] if len(names) > 2 else names
    return said


def stretch(piece: Interval, zone: str, now: datetime) -> str:
    """ "until Thu 10 Dec 17:45" of one that has begun; "Fri 11 Dec 22:30 to Sat 07:00" of one to come."""
    start, end = piece
    if start <= now:
        return f"until {words.day_and_clock(end, zone)}"
    last = words.clock(end, zone)
    if words.days_ahead(end, zone, start):
        last = f"{words.DAYS[local(end, zone).weekday()]} {last}"
    return f"{words.day_and_clock(start, zone)} to {last}"
