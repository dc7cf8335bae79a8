"""Waking, at-home and other allowed hours as half-open stretches of the model's minutes."""

from __future__ import annotations

from datetime import date, datetime, timedelta

from scheduler.domain import hours
from scheduler.domain.plan import MINUTE, Attention, Cook, Plan, Step
from scheduler.domain.timetable import EPOCH
from scheduler.solver.ranges import Ranges, either, starts_within

ALL_DAY = timedelta(days=1)


class Stretches:
    """`first` and `last` bound every stretch, in minutes from the base."""

    def __init__(self, plan: Plan, base: int, first: int, last: int) -> None:
        self.plan = plan
        self.base = base
        self.since = EPOCH + timedelta(minutes=base + first)
        self.until = EPOCH + timedelta(minutes=base + last)
        self._home = {cook.name: self._minutes(self._at_home(cook)) for cook in plan.kitchen.cooks}

    def _at_home(self, cook: Cook) -> tuple[hours.Interval, ...]:
        awake = hours.expand(cook.awake, self.plan.zone, self.since, self.until)
        up = hours.without(awake, hours.expand(cook.away, self.plan.zone, self.since, self.until))
        return hours.merge((*up, *hours.expand(cook.home, self.plan.zone, self.since, self.until)))

    def _minutes(self, intervals: tuple[hours.Interval, ...]) -> Ranges:
        return [(self._minute(start), self._minute(end)) for start, end in intervals]

    def _minute(self, at: datetime) -> int:
        return int((at - EPOCH) / MINUTE) - self.base

    def home(self, cook: Cook) -> Ranges:
        return self._home[cook.name]

    def someone(self, step: Step) -> Ranges:
        """When at least one of its cooks is awake and at home."""
        closed = either(*([(a, b - 1) for a, b in self.home(cook)] for cook in self.plan.cooks_of(step)))
        return [(a, b + 1) for a, b in closed]

    def starts_of_any(self, step: Step, length: int) -> Ranges:
        """Where one of its cooks can start and stay with it for `length` minutes."""
        return either(*(starts_within(self.home(cook), length) for cook in self.plan.cooks_of(step)))

    def only(self, step: Step) -> list[Ranges]:
        """The stretches of its `between` and of its `on`; it must start in each present one."""
        found = [self._between(step)] if step.between else []
        if step.on:
            found.append(self._minutes(hours.merge(self._days(step))))
        return found

    def wholly(self, step: Step) -> list[Ranges]:
        """Of those, the ones it must also end in: the hours of hands-on work."""
        hands_on = step.attention is Attention.HANDS_ON
        return [self._between(step)] if step.between and hands_on else []

    def _between(self, step: Step) -> Ranges:
        return self._minutes(hours.expand(step.between, self.plan.zone, self.since, self.until))

    def _days(self, step: Step) -> list[hours.Interval]:
        first = hours.local(self.since, self.plan.zone).date()
        last = hours.local(self.until, self.plan.zone).date()
        days = [first + n * ALL_DAY for n in range((last - first).days + 1)]
        return [self._whole_day(day) for day in days if day in step.on or day.weekday() in step.on]

    def _whole_day(self, day: date) -> hours.Interval:
        midnight = datetime.combine(day, datetime.min.time())
        return (
            hours.instant(midnight, self.plan.zone),
            hours.instant(midnight + ALL_DAY, self.plan.zone),
        )
