"""The clocks of food out of temperature control: which run, since when, and what was said of them.

A clock starts by itself with the step that cools cooked food, or when the cook says so. It is worked out afresh from
the marks like everything else, so that what is taken back is as if it had never been. How its limits follow from when
it started and from the readings is in kitchen.holding.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from enum import StrEnum

from scheduler.domain.cooling import cools, heats, is_cold
from scheduler.domain.kitchen.hazards import stepwords
from scheduler.domain.kitchen.holding import Clock, Kind, Limit, State, limits, verdict
from scheduler.domain.kitchen.rules import Rules
from scheduler.domain.marks import Mark, MarkKind
from scheduler.domain.plan import Plan, Step
from scheduler.domain.progress import Progress
from scheduler.domain.progress import State as Stands

OWN = 0
"""The number of the clock that a cooling step starts by itself; those a cook starts count from 1."""

STANDS_OUT = (Kind.OUT, Kind.OUT_COLD)
"""Kinds of food that only stands out, rather than being on its way to cold."""

SPOKEN_OF = timedelta(hours=18)
"""How long after it started a clock may still be spoken of; no published limit is as long."""

TOGETHER = timedelta(minutes=30)
"""Limits no further apart are warned of in one message, rather than as the first one passes (our choice)."""

HOTTEST_C = 100.0
"""What is hotter is an oven, not the middle of food that cools (our choice: water boils)."""

READING = re.compile(r"(-?\d+(?:\.\d+)?) ([CF])")


class Act(StrEnum):
    """What a mark says of a clock."""

    START = "start"
    STOP = "stop"
    READING = "reading"
    LATER = "later"


@dataclass(frozen=True, slots=True)
class OfClock:
    """What a CLOCK mark holds in its text: about which clock of the step's food, and what.

    The mark is about the moment it started, stopped or was measured; LATER carries `until`. `celsius` is what was
    measured, also with a stop.
    """

    act: Act
    number: int = OWN
    kind: Kind = Kind.COOLING
    celsius: float | None = None

    def as_text(self) -> str:
        return json.dumps(
            {"act": self.act, "number": self.number, "kind": self.kind, "celsius": self.celsius}
        )

    @staticmethod
    def from_text(text: str) -> OfClock:
        """The other way round; KeyError or ValueError for anything else."""
        told = json.loads(text)
        return OfClock(Act(told["act"]), told["number"], Kind(told["kind"]), told["celsius"])


@dataclass(frozen=True, slots=True)
class FoodClock:
    """One clock. `name` is what it is of, `step` one of its steps, `number` tells several of one step apart.

    `known` is when the cook said so, where that was later than it `started`. `stopped`: food is under control again,
    eaten or gone. `later`: the cook asked to be told again then.
    """

    name: str
    clock: Clock
    step: int
    number: int = OWN
    known: datetime | None = None
    stopped: datetime | None = None
    later: datetime | None = None

    @property
    def started(self) -> datetime:
        return self.clock.started

    def at_reading(self, at: datetime, celsius: float) -> FoodClock:
        """The same with one more temperature of its middle."""
        return replace(self, clock=measured(self.clock, at, celsius))


def measured(clock: Clock, at: datetime, celsius: float) -> Clock:
    return replace(clock, readings=(*clock.readings, (at, celsius)))


def celsius_in(text: str) -> float | None:
    """The temperature that a note consists of ("30 C", "70 F"), in degrees Celsius; None for one that no food has."""
    found = READING.fullmatch(text.strip())
    if found is None:
        return None
    celsius = float(found[1]) if found[2] == "C" else round((float(found[1]) - 32) / 1.8, 1)
    return celsius if celsius <= HOTTEST_C else None


# ---------------------------------------------------------------- what has to be told


def told_limits(clock: Clock, rules: Rules) -> tuple[Limit, ...]:
    """The limits still to be met, without those that a limit no later than them says already."""
    kept: list[Limit] = []
    for limit in sorted(limits(clock, rules), key=lambda limit: (limit.at, _asks(limit))):
        if not any(_asks(other) <= _asks(limit) for other in kept):
            kept.append(limit)
    return tuple(kept)


def warned_with(limit: Limit, told: Iterable[Limit]) -> tuple[Limit, ...]:
    """A limit, and those that come so soon after it that one warning speaks of both."""
    return tuple(each for each in told if limit.at <= each.at <= limit.at + TOGETHER)


def _asks(limit: Limit) -> float:
    """How much a limit asks for: to be gone is more than to be however cold."""
    return float("-inf") if limit.to_c is None else limit.to_c


def coldest(clock: Clock, rules: Rules) -> float:
    """What "cold" means for it, in degrees Celsius."""
    asked = [stage.to_c for stage in (rules.ambient if clock.kind is Kind.AMBIENT else rules.cooling)]
    return min([rules.cold_c, *asked])


def runs(clock: FoodClock, rules: Rules, now: datetime) -> bool:
    """Whether it has a limit still to come, and nothing ended it."""
    if clock.stopped is not None or verdict(clock.clock, rules, now).state is State.MET:
        return False
    return any(limit.at >= now for limit in told_limits(clock.clock, rules))


def running(plan: Plan, progress: Progress, rules: Rules, now: datetime) -> tuple[FoodClock, ...]:
    """The clocks that run, the one whose limit comes next first."""
    every = [each for each in clocks(plan, progress) if runs(each, rules, now)]
    return tuple(sorted(every, key=lambda each: next_limit(each.clock, rules, now).at))


def next_limit(clock: Clock, rules: Rules, now: datetime) -> Limit:
    """The limit to come next; the last one where all have passed."""
    told = told_limits(clock, rules)
    if not told:
        raise ValueError("every limit of this clock is met")
    return next((limit for limit in told if limit.at >= now), told[-1])


def under_way(plan: Plan, progress: Progress, now: datetime) -> tuple[FoodClock, ...]:
    """The clocks that a cook may be speaking of, whatever the rules: nothing ended them, and they are not old."""
    return tuple(
        each for each in clocks(plan, progress) if each.stopped is None and now - each.started < SPOKEN_OF
    )


# ---------------------------------------------------------------- worked out from the marks


def clocks(plan: Plan, progress: Progress) -> tuple[FoodClock, ...]:
    """Every clock that was started and stands, those that are over included."""
    spoken = tuple(_spoken(plan, progress))
    own = (each for each in _own(plan, progress) if not any(_covers(other, each, plan) for other in spoken))
    found = (_with_what_was_said(each, plan, progress.notes) for each in (*own, *spoken))
    return tuple(_ended_by_the_plan(each, plan, progress) for each in found)


def number_of_next(marks: Iterable[Mark]) -> int:
    """The number for one more clock that a cook starts; never one that was used, taken back or not."""
    said = (OfClock.from_text(mark.text) for mark in marks if mark.kind is MarkKind.CLOCK)
    return 1 + max((told.number for told in said), default=OWN)


def _own(plan: Plan, progress: Progress) -> Iterator[FoodClock]:
    """Those of steps that cool; of several steps that cool one thing, the first one's."""
    for step in plan.steps:
        since = _cools_since(plan, progress, step) if cools(plan, step) else None
        if since is not None and not _cools_on(plan, step):
            yield FoodClock(step.component, Clock(Kind.COOLING, _minute(since)), step.number)


def _cools_since(plan: Plan, progress: Progress, step: Step) -> datetime | None:
    """When it began to cool. To leave the step out makes nothing cold: what is kept cools since it was heated."""
    standing = progress.of(step.number)
    if standing.state is not Stands.DROPPED:
        return standing.started
    if all(progress.state(each.number) is Stands.DROPPED for each in stepwords.later(plan.components, step)):
        return None
    ends = [ended for number in step.follows if (ended := progress.of(number).ended) is not None]
    return max(ends, default=None)


def _cools_on(plan: Plan, step: Step) -> bool:
    """Whether it was cooling before that step, with no heat in between."""
    for other in reversed(plan.steps[: step.number]):
        if other.component != step.component or heats(other):
            return False
        if cools(plan, other):
            return True
    return False


def _spoken(plan: Plan, progress: Progress) -> Iterator[FoodClock]:
    for mark in progress.notes:
        if mark.kind is MarkKind.CLOCK and mark.step is not None:
            told = OfClock.from_text(mark.text)
            if told.act is Act.START:
                name = plan.steps[mark.step].component
                yield FoodClock(name, Clock(told.kind, mark.about), mark.step, told.number, mark.said)


def _covers(spoken: FoodClock, own: FoodClock, plan: Plan) -> bool:
    """Whether the cook had said that it cools before its step began: then that is the clock."""
    same = plan.steps[spoken.step].component == plan.steps[own.step].component
    return same and spoken.clock.kind is Kind.COOLING and spoken.started <= own.started


def _with_what_was_said(clock: FoodClock, plan: Plan, notes: Iterable[Mark]) -> FoodClock:
    for mark in notes:
        if mark.about < clock.started or mark.step is None:
            continue
        if mark.kind is MarkKind.NOTE and plan.steps[mark.step].component == plan.steps[clock.step].component:
            celsius = celsius_in(mark.text)
            clock = clock if celsius is None else clock.at_reading(mark.about, celsius)
        elif mark.kind is MarkKind.CLOCK and mark.step == clock.step:
            clock = _told(clock, mark, OfClock.from_text(mark.text))
    return clock


def _told(clock: FoodClock, mark: Mark, told: OfClock) -> FoodClock:
    if told.number != clock.number or told.act is Act.START:
        return clock
    if told.celsius is not None:
        clock = clock.at_reading(mark.about, told.celsius)
    if told.act is Act.STOP:
        return replace(clock, stopped=mark.about)
    return replace(clock, later=mark.until) if told.act is Act.LATER else clock


def _ended_by_the_plan(clock: FoodClock, plan: Plan, progress: Progress) -> FoodClock:
    """Over when the food is heated again, or, where it only stood out, when it is in the cold again."""
    food = _steps_of_its_food(clock, plan)
    out = clock.clock.kind in STANDS_OUT
    ends = [
        started
        for step in food
        if step.number != clock.step or out
        if heats(step) or (out and is_cold(step))
        if (started := progress.of(step.number).started) is not None and started > clock.started
    ]
    if not ends or (clock.stopped is not None and clock.stopped <= min(ends)):
        return clock
    return replace(clock, stopped=min(ends))


def _steps_of_its_food(clock: FoodClock, plan: Plan) -> list[Step]:
    """The steps of its component, and those elsewhere that follow one of them at once."""
    mine = {step.number for step in plan.steps if step.component == plan.steps[clock.step].component}
    return [step for step in plan.steps if step.number in mine or mine & set(step.follows)]


def _minute(at: datetime) -> datetime:
    """The whole minute it falls in: no later than it was."""
    return at.replace(second=0, microsecond=0)
