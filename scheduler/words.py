"""Times and lengths as people say them. The only place where they become text."""

from __future__ import annotations

from datetime import date, datetime, timedelta

from scheduler.domain import hours
from scheduler.domain.plan import Range

DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
LONG_DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def length(time: timedelta) -> str:
    """ "2 h 30 min", "7 d", "30 s": as a plan file writes them."""
    seconds = round(abs(time).total_seconds())
    if seconds >= 3600:
        seconds = round(seconds / 60) * 60
    parts = []
    for unit, size in (("d", 86400), ("h", 3600), ("min", 60), ("s", 1)):
        count, seconds = divmod(seconds, size)
        if count:
            parts.append(f"{count} {unit}")
    return " ".join(parts) or "0 min"


def span(range_: Range) -> str:
    """ "12 h to 18 h", "at least 4 h", "25 min"."""
    if range_.longest is None:
        return f"at least {length(range_.shortest)}"
    if range_.longest == range_.shortest:
        return length(range_.shortest)
    return f"{length(range_.shortest)} to {length(range_.longest)}"


def clock(at: datetime, zone: str) -> str:
    """ "13:40"."""
    return hours.local(at, zone).strftime("%H:%M")


def day(at: datetime, zone: str) -> str:
    """ "Sat 12 Dec"."""
    return date_name(hours.local(at, zone).date())


def date_name(day: date) -> str:
    """ "Sat 12 Dec"."""
    return f"{DAYS[day.weekday()]} {day.day} {MONTHS[day.month - 1]}"


def day_and_clock(at: datetime, zone: str) -> str:
    """ "Sat 12 Dec 13:40"."""
    return f"{day(at, zone)} {clock(at, zone)}"


def when(at: datetime, zone: str, now: datetime) -> str:
    """ "13:40 today", "13:40 tomorrow", "Saturday 13:40" within a week, else "Sat 12 Dec 13:40"."""
    ahead = days_ahead(at, zone, now)
    if ahead in (-1, 0, 1):
        return f"{clock(at, zone)} {('yesterday', 'today', 'tomorrow')[ahead + 1]}"
    if 1 < ahead < 7:
        return f"{LONG_DAYS[hours.local(at, zone).weekday()]} {clock(at, zone)}"
    return day_and_clock(at, zone)


def at_time(at: datetime, zone: str, now: datetime) -> str:
    """ "at 13:40" today, "at 13:40 tomorrow", "on Saturday at 13:40", "on Sat 12 Dec at 13:40"."""
    ahead = days_ahead(at, zone, now)
    if ahead in (-1, 0, 1):
        return f"at {clock(at, zone)}{(' yesterday', '', ' tomorrow')[ahead + 1]}"
    named = LONG_DAYS[hours.local(at, zone).weekday()] if 1 < ahead < 7 else day(at, zone)
    return f"on {named} at {clock(at, zone)}"


def brief(at: datetime, zone: str, now: datetime) -> str:
    """ "13:40" today, "Sat 13:40" within five days either way, else "Sat 12 Dec 13:40": for lists."""
    ahead = days_ahead(at, zone, now)
    if ahead == 0:
        return clock(at, zone)
    if abs(ahead) < 6:
        return f"{DAYS[hours.local(at, zone).weekday()]} {clock(at, zone)}"
    return day_and_clock(at, zone)


def days_ahead(at: datetime, zone: str, now: datetime) -> int:
    """How many local dates `at` lies ahead of `now`; negative for the past."""
    return (hours.local(at, zone).date() - hours.local(now, zone).date()).days


def ordinal(number: int) -> str:
    """ "1st", "2nd", "3rd", "11th"."""
    ending = "th" if number % 100 in (11, 12, 13) else {1: "st", 2: "nd", 3: "rd"}.get(number % 10, "th")
    return f"{number}{ending}"


def listed(names: list[str]) -> str:
    """ "a, b and c"."""
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}" if names else ""


def counted(number: int, word: str) -> str:
    """ "1 burner", "2 burners"."""
    return f"{number} {word}" if number == 1 else f"{number} {word}s"
