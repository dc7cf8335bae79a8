"""What the verifier knows of a plan at a moment, worked out once for every rule to ask."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

from scheduler.domain.hours import DAY, Interval, covering, expand, local, merge, without
from scheduler.domain.plan import MINUTE, NO_TIME, Plan, Step
from scheduler.domain.progress import Progress, State, live_links, may_miss_mark
from scheduler.domain.timetable import Slot, Timetable, next_mark


@dataclass(frozen=True, slots=True)
class Breach:
    """One rule broken: its short name, the numbers of the steps concerned, and a sentence about it.

    Rules: slot, now, put off, mark, length, real, link, table, someone, hands-on, two at once, nearby, wait,
    gear, oven, between, on, touch, window.
    """

    rule: str
    steps: tuple[int, ...]
    text: str


class Facts:
    """`now` is rounded up to the whole minute; `off_mark` holds the steps that may miss their mark."""

    def __init__(self, plan: Plan, now: datetime, progress: Progress) -> None:
        self.plan, self.progress, self.now = plan, progress, next_mark(now, MINUTE)
        self.links = live_links(plan, progress.dropped)
        self.off_mark = may_miss_mark(plan, progress, now)
        self.home: dict[str | None, tuple[Interval, ...]] = {}
        self.between: dict[int, tuple[Interval, ...]] = {}
        self._known: Interval | None = None

    def learn_hours(self, timetable: Timetable) -> None:
        """Fill `home` (by cook; None is anyone) and `between` for a stretch that holds the timetable."""
        moments = [self.now, timetable.serve]
        moments += [moment for slot in timetable.slots for moment in (slot.start, slot.end)]
        since, until = min(moments), max(moments)
        if self._known and self._known[0] <= since - DAY and until + DAY <= self._known[1]:
            return
        since, until = self._known = since - 4 * DAY, until + 4 * DAY
        zone = self.plan.zone
        for cook in self.plan.kitchen.cooks:
            awake = expand(cook.awake, zone, since, until)
            there = without(awake, expand(cook.away, zone, since, until))
            self.home[cook.name] = merge((*there, *expand(cook.home, zone, since, until)))
        self.home[None] = merge(piece for cook in self.plan.kitchen.cooks for piece in self.home[cook.name])
        limited = [step for step in self.plan.steps if step.between]
        self.between = {step.number: expand(step.between, zone, since, until) for step in limited}

    def waits(self, number: int) -> bool:
        """Whether a step has not begun, so that its time can still be chosen."""
        return self.progress.state(number) is State.WAITING

    def in_use(self, timetable: Timetable) -> list[Slot]:
        """Slots not over yet: what is done takes up nothing any more."""
        return [slot for slot in timetable.slots if self.progress.state(slot.step) is not State.DONE]

    def step(self, slot: Slot) -> Step:
        return self.plan.steps[slot.step]

    def name(self, number: int) -> str:
        return self.plan.steps[number].name

    def clock(self, at: datetime) -> str:
        """A moment as a cook would say it."""
        return f"{local(at, self.plan.zone):%a %d %b %H:%M}"


def inside(pieces: Iterable[Interval], start: datetime, end: datetime) -> bool:
    """Whether a half-open stretch lies wholly inside one of `pieces`."""
    piece = covering(pieces, start)
    return piece is not None and end <= piece[1]


def span(length: timedelta) -> str:
    """A length in days, hours and minutes, as people write it."""
    minutes = abs(length) // MINUTE
    parts = [(minutes // 1440, "d"), (minutes // 60 % 24, "h"), (minutes % 60, "min")]
    text = " ".join(f"{count} {unit}" for count, unit in parts if count) or "0 min"
    return f"-{text}" if length < NO_TIME else text
