"""When can we eat: the earliest serving hour, the first that is wanted, or the most comfortable.

Every hour comes from the solver, which seeks the earliest quarter hour of a whole stretch at once, and every
timetable from `scheduler.planning`, which verifies it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta

from scheduler.domain.comfort import Comfort, comfort
from scheduler.domain.hours import Interval, local
from scheduler.domain.plan import MINUTE, Plan
from scheduler.domain.progress import Progress, at_the_start
from scheduler.domain.timetable import Timetable
from scheduler.domain.wanted import ANY_HOUR, MEALTIMES, NoHours, Wanted, on_any_day
from scheduler.explain import Misfit
from scheduler.planning import TO_AGREE, time_out, within
from scheduler.solver import Task, Verdict, solve

AHEAD = timedelta(days=14)
"""How far past the plan's own length a serving hour is looked for; and for a comfortable one, past the first."""

FARTHEST = timedelta(days=400)
"""How far ahead a date may be named."""

PATIENCE = 5
"""After so many stretches that the solver could neither fit nor refuse, no more are tried."""

FITTING_DAYS = 3
"""Comfort is looked for on at least so many days, however far apart they are."""

NARROWED = 3
"""In so many of the most comfortable stretches, more than the first hour that fits is tried."""

HALF_HOUR = 30 * MINUTE


def earliest(plan: Plan, now: datetime) -> Timetable | Misfit:
    """The timetable for the earliest quarter hour from `now` at which it can be on the table.

    Only hours at which someone is awake and at home count, and none between midnight and six. The misfit, if
    nothing fits within the plan's length and two weeks, is that of the last hour looked at.
    """
    return first_within(plan, now, on_any_day(ANY_HOUR))


def first_within(
    plan: Plan, now: datetime, wanted: Wanted, progress: Progress | None = None
) -> Timetable | Misfit:
    """The timetable for the first quarter hour wanted that fits, or the misfit of the last one asked about.

    Without `progress` nothing has been done yet. `proven` is False when an earlier one may fit, or a better
    timetable. Raises NoHours.
    """
    spans = windows(plan, now, wanted)
    asked = Task(plan, progress or at_the_start(plan), now, now)
    hour = _first(asked, spans)
    if hour is None:
        return time_out(plan, spans[-1][1], now, progress)
    return _timed(asked, hour)


def to_offer(
    plan: Plan, now: datetime, wanted: Wanted, progress: Progress | None = None
) -> Timetable | Misfit:
    """The first that is wanted and will still fit when a cook has read the offer and agreed to it."""
    return first_within(plan, now + TO_AGREE, wanted, progress)


def most_comfortable(plan: Plan, now: datetime, wanted: Wanted | None = None) -> Timetable | Misfit:
    """The most comfortable timetable (`domain.comfort`) among the hours wanted, lunch and supper if None.

    Of every stretch from the first hour that fits until two weeks later, or until three days fit, the first
    hour that fits is tried; then every half hour in the three most comfortable. The earlier of two as good; and
    of stretches that come back every week a later one only where it has more margins, or fewer tends left over.
    """
    wanted = wanted or on_any_day(MEALTIMES)
    first = first_within(plan, now, wanted)
    if isinstance(first, Misfit):
        return first
    later = [window for window in windows(plan, now, wanted) if window[1] >= first.serve]
    trial = _Trial(Task(plan, at_the_start(plan), now, now))
    best = sorted(_best_week(list(trial.one_of_each(first.serve, later))), key=_Tried.rank)[:NARROWED]
    tried = [*best, *(each for one in best for each in trial.half_hours(one))]
    chosen = _timed(trial.asked, _Hour(min(tried, key=_Tried.rank).timetable.serve, True)) if tried else first
    both = [_Tried(plan, later[0], each) for each in (first, chosen) if isinstance(each, Timetable)]
    return min(both, key=_Tried.rank).timetable


# ---------------------------------------------------------------- hours that fit


@dataclass(frozen=True, slots=True)
class _Hour:
    """An hour that fits; not `proven` when one before it may."""

    serve: datetime
    proven: bool


def windows(plan: Plan, now: datetime, wanted: Wanted) -> tuple[Interval, ...]:
    """The stretches of quarter hours to look at, as far as the plan is long and two weeks, or the last date
    named; never none, but NoHours.
    """
    until = max(now + plan.horizon() + AHEAD, wanted.last_date(plan.zone) or now)
    spans = wanted.windows(plan, now, min(until, now + FARTHEST))
    if not spans:
        raise NoHours("none of these hours is still to come within 400 days")
    return spans


def _first(asked: Task, windows: Sequence[Interval]) -> _Hour | None:
    """The first hour of the windows that fits.

    The earliest of all the time they span is sought first: it rules out every window that ends before it.
    """
    verdict, since = _soonest(asked, (windows[0][0], windows[-1][1]))
    if verdict is Verdict.INFEASIBLE:
        return None
    floor = since if since is not None and verdict is Verdict.OPTIMAL else windows[0][0]
    left = [(max(start, floor), end) for start, end in windows if end >= floor]
    if left and since == left[0][0] == floor and verdict is Verdict.OPTIMAL:
        return _Hour(floor, True)
    return _first_of(asked, left)


def _first_of(asked: Task, windows: Sequence[Interval]) -> _Hour | None:
    unanswered = 0
    for window in windows:
        verdict, serve = _soonest(asked, window)
        if serve is not None:
            return _Hour(serve, verdict is Verdict.OPTIMAL and not unanswered)
        unanswered += verdict is not Verdict.INFEASIBLE
        if unanswered == PATIENCE:
            return None
    return None


def _soonest(asked: Task, window: Interval) -> tuple[Verdict, datetime | None]:
    answer = solve(replace(asked, serve=window[0], latest_serve=window[1]))
    return answer.verdict, answer.serve if answer.fits else None


def _timed(asked: Task, hour: _Hour) -> Timetable | Misfit:
    timing = time_out(asked.plan, hour.serve, asked.now, asked.progress)
    if isinstance(timing, Misfit) or hour.proven:
        return timing
    return replace(timing, proven=False)


# ---------------------------------------------------------------- comfort


@dataclass(frozen=True, slots=True)
class _Tried:
    plan: Plan
    window: Interval
    timetable: Timetable

    def rank(self) -> tuple[Comfort, datetime]:
        return comfort(self.plan, self.timetable), self.timetable.serve

    def rank_among_weeks(self) -> tuple[int, int, datetime]:
        measured = comfort(self.plan, self.timetable)
        return measured.untended, measured.tight, self.timetable.serve

    def weekly(self) -> tuple[int, time]:
        begins = local(self.window[0], self.plan.zone)
        return begins.weekday(), begins.time()


def _best_week(found: Sequence[_Tried]) -> Iterator[_Tried]:
    """One of each stretch that comes back on the same weekday at the same hour."""
    for key in dict.fromkeys(tried.weekly() for tried in found):
        yield min((each for each in found if each.weekly() == key), key=_Tried.rank_among_weeks)


@dataclass(frozen=True, slots=True)
class _Trial:
    """Tries one hour after another, without explaining what does not fit."""

    asked: Task

    def one_of_each(self, first: datetime, spans: Sequence[Interval]) -> Iterator[_Tried]:
        """The first hour that fits of every stretch that is worth a trial."""
        days: set[date] = set()
        for span in spans:
            if span[0] > first + AHEAD and len(days) >= FITTING_DAYS:
                return
            hour = _first_of(self.asked, [span])
            if hour is not None and (tried := self._at(hour.serve, span)) is not None:
                days.add(local(hour.serve, self.asked.plan.zone).date())
                yield tried

    def half_hours(self, tried: _Tried) -> Iterator[_Tried]:
        """The half hours of its stretch after the one it was tried at."""
        serve = tried.timetable.serve + HALF_HOUR
        while serve <= tried.window[1]:
            if (other := self._at(serve, tried.window)) is not None:
                yield other
            serve += HALF_HOUR

    def _at(self, serve: datetime, span: Interval) -> _Tried | None:
        asked = self.asked
        timetable = within(asked.plan, serve, asked.now, asked.progress, ())
        return None if timetable is None else _Tried(asked.plan, span, timetable)
