"""The search for single changes that make a task fit: what fits is asked first, what is best is not asked at all.

The nearest acceptable hour is a quarter hour of the same meal, at most two hours to either side on the same
date; where none fits, the hour asked for on the nearest other day, of the seven nearest on which it can be.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from datetime import datetime, timedelta

from scheduler import words
from scheduler.candidates import QUARTER, Candidates, longer
from scheduler.changes import Change, ChangeKind
from scheduler.domain.hours import instant, local
from scheduler.facts import Fact, FactKind
from scheduler.solver import Task, Verdict, fits

MOST_LOOKS = 60
"""How often the search may ask whether something fits: a count, so that the same input has the same answer."""

QUARTERS = 6
"""A bedtime may be later, an alarm earlier, by so many quarter hours at most."""

SAME_MEAL = 8
"""An hour up to so many quarter hours away on the same date is still the same meal."""

DAYS = 7

NO_ANSWER = 10
"""So many looks is one that found neither a timetable nor a proof that there is none: it took long."""

MOVES_HOURS = frozenset({FactKind.HOURS, FactKind.ONLY, FactKind.PUT_OFF})


def sooner_may_help(facts: Sequence[Fact]) -> bool:
    """Whether a sooner hour may fit: not where only time is short, nor where the hour is no part of it."""
    kinds = {fact.kind for fact in facts}
    return FactKind.SERVE in kinds and (FactKind.NOW not in kinds or bool(kinds & MOVES_HOURS))


def may_be_too_late(facts: Sequence[Fact]) -> bool:
    """Whether the hour asked for may be too late for something: then one before it may fit as well."""
    return any(fact.kind is FactKind.KEEPS and fact.other is None for fact in facts)


def made_to(task: Task, change: Change) -> Task:
    """The task with a change made."""
    if change.serve is not None:
        previous = None if task.previous is None else replace(task.previous, serve=change.serve)
        return replace(task, serve=change.serve, previous=previous)
    plan, progress = change.apply(task.plan, task.progress)
    return replace(task, plan=plan, progress=progress)


class Search:
    """Looks for changes that make a task fit, asking the solver no more often than it may."""

    def __init__(self, task: Task, facts: Sequence[Fact]) -> None:
        self.task, self.facts = task, facts
        self.looks = 0
        self.candidates = Candidates(task, facts)

    def fits(self, *changes: Change) -> bool:
        """Whether something fits with all of these made; not when it has asked often enough."""
        if self.looks >= MOST_LOOKS:
            return False
        self.looks += 1
        task = self.task
        for change in changes:
            task = made_to(task, change)
        verdict = fits(task)
        if verdict is Verdict.UNKNOWN:
            self.looks += NO_ANSWER - 1
        return verdict in (Verdict.OPTIMAL, Verdict.FEASIBLE)

    def changes(self, earliest: datetime | None) -> Iterator[Change]:
        """One change of each kind that helps, the cheap kinds to look for first."""
        hours = (earliest, self._acceptable(earliest))
        yield from (Change(ChangeKind.HOUR, serve=at) for at in dict.fromkeys(hours) if at is not None)
        yield from (change for change in self.candidates.gear() if self.fits(change))
        yield from [change for change in self.candidates.parts() if self.fits(change)][:1]
        yield from self._night()
        yield from self._one_of(self.candidates.hours_off())
        yield from self._one_of(self.candidates.helping())

    # ------------------------------------------------------------ one of many

    def _one_of(self, many: Sequence[Change]) -> list[Change]:
        """A single change that helps: halves are tried together, and only what helps is looked into.

        More hours never stop anything from fitting, so where all together do not help, none does.
        """
        if not many or not self.fits(*many):
            return []
        return self._within(many)

    def _within(self, many: Sequence[Change]) -> list[Change]:
        """The same where all together are known to help."""
        if len(many) == 1:
            return [many[0]]
        half = len(many) // 2
        return self._one_of(many[half:]) or self._one_of(many[:half])

    def _night(self) -> list[Change]:
        """The least later bedtime or earlier alarm."""
        least = self._least(lambda by: self.fits(*self.candidates.nights(by)))
        if least is None:
            return []
        alone = self._within(self.candidates.nights(least))
        if alone or least == QUARTERS * QUARTER:
            return alone
        alone = self._one_of(self.candidates.nights(QUARTERS * QUARTER))
        return [self._shortened(one) for one in alone]

    def _shortened(self, change: Change) -> Change:
        """As little of a later bedtime or an earlier alarm as is enough."""
        by = self._least(lambda by: self.fits(longer(change, by)))
        return change if by is None else longer(change, by)

    @staticmethod
    def _least(enough: Callable[[timedelta], bool]) -> timedelta | None:
        """The fewest quarter hours that are enough; None where none are."""
        low, high = 1, QUARTERS
        if not enough(high * QUARTER):
            return None
        while low < high:
            middle = (low + high) // 2
            low, high = (low, middle) if enough(middle * QUARTER) else (middle + 1, high)
        return high * QUARTER

    # ------------------------------------------------------------ another hour

    def _acceptable(self, earliest: datetime | None) -> datetime | None:
        """The nearest hour at which people eat; None when there is none."""
        asked, zone = self.task.serve, self.task.plan.zone
        near = self._sooner()
        if earliest is not None and words.days_ahead(earliest, zone, asked) == 0:
            near += [earliest] if earliest - asked <= SAME_MEAL * QUARTER else []
        if near:
            return min(near, key=lambda at: (abs(at - asked), at))
        return None if earliest is None else self._another_day(earliest)

    def _sooner(self) -> list[datetime]:
        """The nearest quarter hour before, on the same date; sooner never helps where only time is short."""
        if not sooner_may_help(self.facts):
            return []
        zone, asked = self.task.plan.zone, self.task.serve
        before = [asked - n * QUARTER for n in range(1, SAME_MEAL + 1)]
        same_date = [at for at in before if words.days_ahead(at, zone, asked) == 0 and at > self.task.now]
        return [at for at in same_date if self._fits_at(at)][:1]

    def _another_day(self, earliest: datetime) -> datetime | None:
        """The same time of day, the nearest day first, the later of two."""
        zone, asked = self.task.plan.zone, self.task.serve
        there = local(asked, zone).replace(tzinfo=None)
        days = [sign * n for n in range(1, 60) for sign in (1, -1)]
        at_that_time = [instant(there + timedelta(days=n), zone) for n in days]
        possible = [
            at
            for at in at_that_time
            if at >= earliest or (self.task.now < at < asked and sooner_may_help(self.facts))
        ]
        return next((at for at in possible[:DAYS] if self._fits_at(at)), None)

    def _fits_at(self, at: datetime) -> bool:
        return self.fits(Change(ChangeKind.HOUR, serve=at))
