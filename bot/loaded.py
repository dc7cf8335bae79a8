"""The work a timetable makes, as `check` prints it: a line for each day, the busiest hour, the hours to be up."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import datetime, time, timedelta
from typing import Any

from scheduler import words
from scheduler.domain import hours
from scheduler.domain.hours import DAY
from scheduler.domain.load import HOUR, DayLoad, Load, Share
from scheduler.domain.plan import MINUTE, Plan


def as_json(plan: Plan, load: Load) -> dict[str, Any]:
    """Instants in ISO 8601 with the zone's offset, days as dates, lengths in minutes."""
    cooks = [cook.name for cook in plan.kitchen.cooks if load.shares_of(cook.name)]
    return {
        "days": [_day(plan, day) for day in load.days],
        "busiest": _busiest(plan, load),
        "wake_up": {cook: _moment(plan, _wake_up(plan, load.shares_of(cook)), "first") for cook in cooks},
        "bedtime": {cook: _moment(plan, _bedtime(plan, load.shares_of(cook)), "last") for cook in cooks},
    }


def _iso(at: datetime, plan: Plan) -> str:
    return hours.local(at, plan.zone).isoformat()


def _day(plan: Plan, day: DayLoad) -> dict[str, Any]:
    return {
        "day": day.day.isoformat(),
        "hands_on_minutes": day.hands_on / MINUTE,
        "first": _iso(day.first, plan),
        "last": _iso(day.last, plan),
        "by_cook": {
            share.cook: {
                "hands_on_minutes": share.hands_on / MINUTE,
                "first": _iso(share.first, plan),
                "last": _iso(share.last, plan),
            }
            for share in day.shares
        },
    }


def _busiest(plan: Plan, load: Load) -> dict[str, Any] | None:
    if load.busiest is None:
        return None
    return {
        "start": _iso(load.busiest.start, plan),
        "end": _iso(load.busiest.end, plan),
        "hands_on_minutes": load.busiest.hands_on / MINUTE,
        "by_cook": {cook: busy / MINUTE for cook, busy in load.busiest.by_cook},
    }


def _moment(plan: Plan, share: Share, which: str) -> dict[str, str]:
    return {"day": share.day.isoformat(), "at": _iso(getattr(share, which), plan)}


# ---------------------------------------------------------------- earliest and latest


def _wake_up(plan: Plan, shares: Iterable[Share]) -> Share:
    """The day that begins earliest by the clock, the first of them."""
    return min(shares, key=lambda share: _into(share.first, share, plan))


def _bedtime(plan: Plan, shares: Iterable[Share]) -> Share:
    """The day that ends latest by the clock, past midnight being later still; the first of them."""
    return max(shares, key=lambda share: _into(share.last, share, plan))


def _into(at: datetime, share: Share, plan: Plan) -> timedelta:
    """How far into its day a moment is, by the wall clock."""
    there = hours.local(at, plan.zone).replace(tzinfo=None)
    return there - datetime.combine(share.day, time())


# ---------------------------------------------------------------- for people


def as_text(plan: Plan, load: Load) -> Iterator[str]:
    """Hands-on work by day, from the first moment someone has to be up to the last; then the extremes."""
    if not load.days:
        return
    yield "\nHands-on work by day, and from when to when someone has to be up"
    rows = [_row(plan, days) for days in _runs(plan, load.days)]
    wide = max(len(label) for label, _ in rows)
    yield from (f"  {label:<{wide}}  {text}" for label, text in rows)
    if load.busiest is not None:
        start, end = load.busiest.start, load.busiest.end
        span = f"{words.day_and_clock(start, plan.zone)} to {words.clock(end, plan.zone)}"
        yield f"Busiest hour: {span}, {words.length(load.busiest.hands_on)} hands-on{_shared(load)}"
    for cook in plan.kitchen.cooks:
        if shares := load.shares_of(cook.name):
            yield _extremes(plan, cook.name, shares)


def _runs(plan: Plan, days: Iterable[DayLoad]) -> Iterator[list[DayLoad]]:
    """Days one after another that look the same, together."""
    run: list[DayLoad] = []
    for day in days:
        if run and (day.day - run[-1].day != DAY or _same(plan, day) != _same(plan, run[-1])):
            yield run
            run = []
        run.append(day)
    if run:
        yield run


def _same(plan: Plan, day: DayLoad) -> list[tuple[str, ...]]:
    return [
        (
            share.cook,
            words.length(share.hands_on),
            words.clock(share.first, plan.zone),
            words.clock(share.last, plan.zone),
        )
        for share in day.shares
    ]


def _row(plan: Plan, days: list[DayLoad]) -> tuple[str, str]:
    day, each = days[0], " a day" if len(days) > 1 else ""
    label = words.date_name(day.day)
    if each:
        label += f" to {words.date_name(days[-1].day)}"
    whole = f"{words.length(day.hands_on)}{each}"
    if len(plan.kitchen.cooks) == 1:
        return label, f"{whole}, {_between(plan, day.first, day.last)}"
    if len(day.shares) == 1:
        return label, f"{whole}, {day.shares[0].cook}, {_between(plan, day.first, day.last)}"
    shares = [f"{s.cook} {words.length(s.hands_on)}, {_between(plan, s.first, s.last)}" for s in day.shares]
    return label, f"{whole}: {'; '.join(shares)}"


def _between(plan: Plan, first: datetime, last: datetime) -> str:
    start, end = words.clock(first, plan.zone), words.clock(last, plan.zone)
    return f"at {start}" if start == end else f"{start} to {end}"


def _shared(load: Load) -> str:
    by_cook = load.busiest.by_cook if load.busiest is not None else ()
    if len(by_cook) < 2:
        return "."
    return f" ({', '.join(f'{cook} {words.length(busy)}' for cook, busy in by_cook)})."


def _extremes(plan: Plan, cook: str, shares: tuple[Share, ...]) -> str:
    first, last = _wake_up(plan, shares), _bedtime(plan, shares)
    early = f"{_clock(first.first, first, plan)}{_after_waking(first)}"
    late = f"{_clock(last.last, last, plan)}{_before_bed(last)}"
    name = f"{cook}: up" if len(plan.kitchen.cooks) > 1 else "Up"
    return f"{name} earliest at {early}, latest until {late}."


def _clock(at: datetime, share: Share, plan: Plan) -> str:
    """With the day it belongs to, which after midnight is the one before."""
    past_midnight = hours.local(at, plan.zone).date() > share.day
    on = "in the night of" if past_midnight else "on"
    return f"{words.clock(at, plan.zone)} {on} {words.date_name(share.day)}"


def _after_waking(share: Share) -> str:
    gap = None if share.waking is None else share.first - share.waking[0]
    return _near(gap, "after waking", "on waking")


def _before_bed(share: Share) -> str:
    gap = None if share.waking is None else share.waking[1] - share.last
    return _near(gap, "before bedtime", "at bedtime")


def _near(gap: timedelta | None, some: str, none: str) -> str:
    """Said only where it is within an hour."""
    if gap is None or gap > HOUR:
        return ""
    return f" ({words.length(gap)} {some})" if gap >= MINUTE else f" ({none})"
