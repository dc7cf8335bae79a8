"""Which instant a time said without a date stands for: the nearest one that makes sense.

Wall-clock times are turned into instants by `scheduler.domain.hours`, so that nights on which the clocks
change are read as everywhere else.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from datetime import date, datetime, time, timedelta

from bot.understanding.saidtime import SOME_YEAR, Clock, Day, Said
from scheduler.domain.hours import DAY, expand, instant, local
from scheduler.domain.plan import Plan

PART_HOURS = {
    "morning": (5, 12), "breakfast": (6, 10), "lunch": (12, 14), "afternoon": (12, 18), "evening": (17, 24),
}  # fmt: skip
"""From which hour to which a part of the day runs, as people use the words (common usage, no source)."""

REMIND_AT = {"morning": 8, "breakfast": 8, "lunch": 12, "afternoon": 14, "evening": 18}
"""The hour meant by "in the morning" and the like when no other is said (our choice)."""

MEAL_HOURS = {
    "breakfast": (6, 11), "brunch": (9, 14), "lunch": (11, 16), "dinner": (17, 24), "supper": (17, 24),
}  # fmt: skip
"""From which hour to which a meal may be served (common usage, no source)."""

ANY_MEAL = (11, 24)
WAKING = (7, 23)
"""Looked at first when no plan says when its cooks are awake."""

EARLIER = re.compile(r"\b(?:earlier|sooner|forwards?|bring|early)\b")


# ---------------------------------------------------------------- what has been


def past(said: Said, now: datetime, zone: str) -> datetime | None:
    """The instant something done is about: the latest such time not after `now`; None if none was said."""
    if said.ago is not None:
        return now - said.ago
    if said.clock is None:
        return _part_gone_by(said, now, zone)
    today = local(now, zone).date()
    days = [_date(said.day, today, back=True)] if said.day else [today, today - DAY]
    return max((at for at in _readings(said, said.clock, days, zone) if at <= now), default=None)


def _part_gone_by(said: Said, now: datetime, zone: str) -> datetime | None:
    """ "This morning", "yesterday": about the middle of it, or the same time of day; never after `now`."""
    here = local(now, zone)
    if said.day is None and said.part is None:
        return None
    day = _date(said.day, here.date(), back=True) if said.day else here.date()
    if said.part in PART_HOURS:
        return min(_at(day, sum(PART_HOURS[said.part]) // 2, zone), now)
    return min(_same_time(here, day, zone), now)


# ---------------------------------------------------------------- what is to come


def future(said: Said, now: datetime, plan: Plan | None, zone: str) -> datetime | None:
    """The instant something is put off to: the next such time, in waking hours where two would do."""
    if (length := said.ahead or (said.length if said.clock is None else None)) is not None:
        return now + length
    if said.clock is None:
        return _part_to_come(said, now, zone)
    today = local(now, zone).date()
    days = [_date(said.day, today)] if said.day else [today, today + DAY]
    found = sorted(at for at in _readings(said, said.clock, days, zone) if at > now)
    return next((at for at in found if _waking(at, plan, zone)), found[0] if found else None)


def _part_to_come(said: Said, now: datetime, zone: str) -> datetime | None:
    today = local(now, zone).date()
    day = _date(said.day, today) if said.day else today
    if said.part in REMIND_AT:
        at = _at(day, REMIND_AT[said.part], zone)
        return at if at > now else (None if said.day else _at(day + DAY, REMIND_AT[said.part], zone))
    return _at(day, REMIND_AT["morning"], zone) if day > today else None


def day_of(said: Said, now: datetime, zone: str) -> datetime | None:
    """The local midnight at which the day spoken of begins."""
    return _at(_date(said.day, local(now, zone).date()), 0, zone) if said.day else None


def next_waking(plan: Plan | None, now: datetime, zone: str) -> datetime | None:
    """When the first cook next wakes; None when no plan says."""
    if plan is None:
        return None
    cook = plan.kitchen.cooks[0]
    starts = (start for start, _ in expand((*cook.awake, *cook.home), zone, now - DAY, now + 3 * DAY))
    return next((start for start in starts if start > now), None)


# ---------------------------------------------------------------- another serving hour


def serving(said: Said, serve: datetime | None, now: datetime, zone: str) -> datetime | None:
    """Another serving hour: on the day of the planned one unless a day was said, as near it as may be."""
    today = local(now, zone).date()
    near = local(serve, zone).date() if serve and serve > now else today
    day = _serving_day(said.day, near, today) if said.day else near
    if said.clock is None:
        return _moved(said, serve, day, zone)
    found = [at for at in _readings(said, said.clock, [day], zone) if at > now]
    named = next((hours for meal, hours in MEAL_HOURS.items() if meal in said.text), None)
    first, last = named or _as_planned(serve, zone)
    fitting = [at for at in found if first <= local(at, zone).hour < last] or found
    return min(fitting, key=lambda at: abs(at - (serve or now)), default=None)


def _as_planned(serve: datetime | None, zone: str) -> tuple[int, int]:
    """At which hours a meal may be meant to be; any, for one planned at an unusual one."""
    usual = serve is None or ANY_MEAL[0] <= local(serve, zone).hour < ANY_MEAL[1]
    return ANY_MEAL if usual else (0, 24)


def _moved(said: Said, serve: datetime | None, day: date, zone: str) -> datetime | None:
    """ "An hour later", "on Sunday instead": from the hour planned."""
    if serve is None:
        return None
    if (length := said.length or said.ahead) is not None:
        return serve - length if EARLIER.search(said.text) else serve + length
    return _same_time(local(serve, zone), day, zone) if said.day else None


def _serving_day(said: Day, near: date, today: date) -> date:
    """A weekday means the one nearest to the day planned, but not gone by."""
    if said.weekday is None:
        return _date(said, today)
    choices = (near + offset * DAY for offset in range(-6, 14))
    fitting = (day for day in choices if day.weekday() == said.weekday and day >= today)
    return min(fitting, key=lambda day: abs(day - near))


# ---------------------------------------------------------------- days and clocks


def _date(said: Day, today: date, back: bool = False) -> date:
    if said.ahead is not None:
        return today + said.ahead * DAY
    if said.weekday is not None:
        ahead = (said.weekday - today.weekday()) % 7
        return today + (ahead - 7 if back and ahead else ahead) * DAY
    if said.date is None or said.date.year != SOME_YEAR:
        return said.date or today
    return _nearest_year(said.date, today, back)


def _nearest_year(day: date, today: date, back: bool) -> date:
    """The last such date, or the next; the 29th of February counts as the 28th where there is none."""
    last = 28 if (day.month, day.day) == (2, 29) else day.day
    choices = [date(year, day.month, last) for year in (today.year - 1, today.year, today.year + 1)]
    return max(d for d in choices if d <= today) if back else min(d for d in choices if d >= today)


def _readings(said: Said, clock: Clock, days: Iterable[date], zone: str) -> Iterator[datetime]:
    """The instants a clock time may stand for on these days, those of the part of the day that was said."""
    for day in days:
        for hour in (clock.hour, clock.hour + 12) if clock.open else (clock.hour,):
            first, last = PART_HOURS.get(said.part or "", (0, 24))
            if not clock.open or first <= hour < last:
                yield instant(datetime.combine(day, time(hour, clock.minute)), zone)


def _at(day: date, hour: int, zone: str) -> datetime:
    return instant(datetime.combine(day, time(hour)), zone)


def _same_time(here: datetime, day: date, zone: str) -> datetime:
    return instant(datetime.combine(day, time(here.hour, here.minute)), zone)


def _waking(at: datetime, plan: Plan | None, zone: str) -> bool:
    if plan is None:
        return WAKING[0] <= local(at, zone).hour < WAKING[1]
    near = timedelta(minutes=15)
    return any(expand((*cook.awake, *cook.home), zone, at - near, at + near) for cook in plan.kitchen.cooks)
