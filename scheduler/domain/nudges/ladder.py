"""One thing asked of the cook, said ever more plainly: now, waiting, closing, missed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from scheduler.domain.nudges.hours import Stretches, last_over, next_in
from scheduler.domain.nudges.policy import Policy
from scheduler.domain.plan import MINUTE, NO_TIME
from scheduler.domain.presence import holding
from scheduler.domain.stages import About, Nudge, Stage
from scheduler.domain.timetable import next_mark


@dataclass(frozen=True, slots=True)
class Matter:
    """What is asked, from when, and until when it can be done.

    `first` is when it is first said, `shut` when it is too late (None: never quite). For `busy` from then on
    the cook most likely has their hands in it, and is not asked again. `useful` is when nothing about it is
    worth saying any more. No two messages come closer than `apart`. `home` and `awake` are the hours they are
    moved into, None when someone is up anyway.
    """

    about: About
    step: int
    subject: datetime
    first: datetime
    shut: datetime | None
    useful: datetime
    apart: timedelta
    home: Stretches | None
    awake: Stretches | None
    occurrence: int = 0
    busy: timedelta = NO_TIME

    @property
    def too_late(self) -> datetime | None:
        """When it has surely not been done in time."""
        return None if self.shut is None else max(self.shut, self.first + self.busy)

    def nudge(self, stage: Stage, due: datetime, expires: datetime, occurrence: int = 0) -> Nudge:
        return Nudge(self.about, stage, due, expires, self.subject, self.step, occurrence)


def ladder(matter: Matter, offsets: Iterable[timedelta], policy: Policy, most: int | None) -> Iterator[Nudge]:
    """Everything said about a matter, in order; `offsets` from `first` are where to say it again, at `most`
    so many times (None: no limit).
    """
    closing, missed = closing_at(matter, policy), _missed_at(matter, policy)
    late = matter.useful if matter.too_late is None else matter.too_late + policy.grace
    again = said_again(matter, offsets, _last_repeat(matter, closing, policy), most)
    yield matter.nudge(Stage.NOW, matter.first, late, matter.occurrence)
    yield from repeats(matter, again, closing or missed or late)
    if closing is not None:
        yield matter.nudge(Stage.CLOSING, closing, late)
    if missed is not None:
        yield matter.nudge(Stage.MISSED, missed, max(matter.useful, missed + policy.missed_useful))


def repeats(matter: Matter, dues: Sequence[datetime], over: datetime) -> Iterator[Nudge]:
    """A waiting nudge for each of the moments; each is overtaken by the next, the last one by `over`."""
    for occurrence, (due, expires) in enumerate(zip(dues, [*dues[1:], over], strict=False)):
        yield matter.nudge(Stage.WAITING, due, expires, occurrence)


def said_again(
    matter: Matter, offsets: Iterable[timedelta], last: datetime | None, most: int | None
) -> list[datetime]:
    """When to say it again: at those offsets, put off to when someone can act, with the crowded ones left
    out; none after `last` and no more than `most` (None: no limit to either).
    """
    found: list[datetime] = []
    for offset in offsets:
        at = _next(matter.home, next_mark(matter.first + offset, MINUTE))
        crowded = at is None or at < (found[-1] if found else matter.first) + matter.apart
        if at is not None and not crowded and (last is None or at <= last):
            found.append(at)
    return found[:most]


def closing_at(matter: Matter, policy: Policy) -> datetime | None:
    """When to say that the window is about to shut; ahead of a night or an absence, not in it."""
    window = NO_TIME if matter.shut is None else matter.shut - matter.first
    if matter.shut is None or window < policy.closing_least:
        return None
    at = next_mark(matter.shut - policy.lead(window), MINUTE)
    if matter.home is not None and not holding(matter.home, at):
        stretch = last_over(matter.home, at)
        if stretch is None:
            return None
        at = max(stretch[0], stretch[1] - policy.before_leaving)
    if at < matter.first + matter.busy:
        return _when_hands_are_free(matter, policy)
    return at if at >= matter.first + policy.apart else None


def _when_hands_are_free(matter: Matter, policy: Policy) -> datetime | None:
    """The last word to someone whose hands are most likely in it, where that leaves time to act on it."""
    free = _next(matter.home, next_mark(matter.first + matter.busy, MINUTE))
    if free is None or matter.shut is None or matter.shut - free < policy.closing_least:
        return None
    return free


def _missed_at(matter: Matter, policy: Policy) -> datetime | None:
    if matter.too_late is None:
        return None
    return _next(matter.awake, next_mark(matter.too_late + policy.grace, MINUTE))


def _last_repeat(matter: Matter, closing: datetime | None, policy: Policy) -> datetime | None:
    """The last moment to say it again: well before the last word, or once where there is none."""
    if closing is not None:
        return closing - matter.apart
    return None if matter.shut is None else max(matter.shut, matter.first + matter.busy + policy.apart)


def _next(hours: Stretches | None, at: datetime) -> datetime | None:
    return at if hours is None else next_in(hours, at)
