"""The clock of food that cools, or that stands neither hot nor cold: what has to be true by when.

Everything is elapsed time, so a change of the clocks neither gives nor takes an hour. A limit counts from when the
middle of the food passes the heat it begins at. That moment is rarely known, so the earliest is taken that the
readings allow: the last reading at that heat or above, or else the start of the clock. A limit that begins where
another ends (FSIS's second stage) counts from that one's moment until a reading shows it was passed sooner.

A stage counts as met by the first reading that shows it, only if that is on time, and only if no warmer one follows
while the stage lasts: then the first was not of the warmest part. Nothing else gives time back: food that is heated
up begins a new clock. Readings are taken as they are, for the rules say nothing of what a thermometer may be off.
Nothing here says that food is fit to eat.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from enum import StrEnum

from scheduler.domain.kitchen.rules import CoolingLimit, OutLimit, Rules, Then
from scheduler.domain.kitchen.sources import Source
from scheduler.domain.kitchen.written import degrees


class Kind(StrEnum):
    """What a clock runs for."""

    COOLING = "cooling"
    """Cooked food on its way from hot to cold."""
    AMBIENT = "cooling from room temperature"
    """Food made from things at room temperature, on its way to cold."""
    OUT = "out"
    """Neither held hot nor cold."""
    OUT_COLD = "out cold"
    """Out of the cold, having begun cold and never getting warm."""


@dataclass(frozen=True, slots=True)
class Limit:
    """By `at` what it `says` must be true: "5 C or below in the middle". `then` is what the rule says if it is not.

    `to_c` is what the middle must be down to; None where food has to be eaten or thrown away, which is at once where
    it was above `max_c`. `rule` is the limit as the rules have it, `but` what else its source says. Nothing may go past
    a `hard` one.
    """

    at: datetime
    says: str
    source: Source
    hard: bool
    then: Then
    to_c: float | None = None
    max_c: float | None = None
    rule: str = ""
    but: str = ""


@dataclass(frozen=True, slots=True)
class Clock:
    """`readings` are temperatures of the middle in C with their moments, in any order; all moments are aware."""

    kind: Kind
    started: datetime
    readings: tuple[tuple[datetime, float], ...] = ()


class State(StrEnum):
    WITHIN = "within"
    """Every limit is yet to come."""
    PASSED = "passed"
    """A limit went by, and no reading shows that it was met in time."""
    MET = "met"
    """Readings show that every stage was met in time."""


@dataclass(frozen=True, slots=True)
class Miss:
    """A limit that went by, how long ago, or by how much where a later reading shows the stage was met then.

    `shown`: a reading shows that it was not met; otherwise nothing shows that it was.
    """

    limit: Limit
    by: timedelta
    shown: bool


@dataclass(frozen=True, slots=True)
class Verdict:
    """`next` is the limit to come next, `left` the time until then. `missed` are in the order of their moments."""

    state: State
    next: Limit | None = None
    left: timedelta | None = None
    missed: tuple[Miss, ...] = ()

    @property
    def until(self) -> datetime | None:
        """When the next limit falls."""
        return self.next.at if self.next else None

    @property
    def then(self) -> Then | None:
        """What the rules say now that a limit was passed: the sternest of what they say."""
        return min((miss.limit.then for miss in self.missed), key=lambda then: then.again, default=None)


def limits(clock: Clock, rules: Rules) -> tuple[Limit, ...]:
    """The limits of a clock in order of their moments, without the stages that a reading shows were met in time."""
    match clock.kind:
        case Kind.COOLING:
            found = _cooling(clock, rules.cooling)
        case Kind.AMBIENT:
            found = _cooling(clock, rules.ambient)
        case Kind.OUT:
            found = [_out(clock, limit) for limit in rules.standing]
        case Kind.OUT_COLD:
            found = [_out(clock, limit) for limit in rules.standing_cold]
    return tuple(sorted(found, key=lambda limit: limit.at))


def verdict(clock: Clock, rules: Rules, now: datetime) -> Verdict:
    """How a clock stands at `now`, by what was read so far; a limit that falls at `now` has not been passed."""
    known = replace(clock, readings=tuple(reading for reading in clock.readings if reading[0] <= now))
    open_limits = limits(known, rules)
    missed = tuple(miss for limit in open_limits if (miss := _miss(limit, known, now)) is not None)
    over = {miss.limit for miss in missed}
    coming = next((limit for limit in open_limits if limit not in over), None)
    left = coming.at - now if coming else None
    if missed:
        return Verdict(State.PASSED, coming, left, missed)
    return Verdict(State.WITHIN, coming, left) if coming else Verdict(State.MET)


# ---------------------------------------------------------------- cooling


def _cooling(clock: Clock, stages: Sequence[CoolingLimit]) -> list[Limit]:
    found = [_stage(clock, stage, stages) for stage in stages]
    return [limit for limit in found if not _met(clock, limit)]


def _stage(clock: Clock, stage: CoolingLimit, stages: Sequence[CoolingLimit]) -> Limit:
    at = _begins(clock, stage, stages) + stage.within
    says = f"{degrees(stage.to_c)} or below in the middle"
    return Limit(at, says, stage.source, True, stage.then, stage.to_c, rule=str(stage))


def _begins(clock: Clock, stage: CoolingLimit, stages: Sequence[CoolingLimit]) -> datetime:
    """When the middle passed the heat that a stage counts from: the earliest moment the readings allow."""
    if stage.from_c is None:
        return clock.started
    readings = sorted(clock.readings)
    below = next((at for at, celsius in readings if celsius < stage.from_c), None)
    before = next((other for other in stages if other.to_c == stage.from_c), None)
    if below is None and before is not None:
        return _begins(clock, before, stages) + before.within
    hot = [at for at, celsius in readings if celsius >= stage.from_c and (below is None or at < below)]
    begins = max([clock.started, *hot])
    return begins if below is None else min(begins, below)


def _reached(clock: Clock, limit: Limit) -> datetime | None:
    """The first reading at which the middle was down to what a limit asks for, and stayed there while it lasts."""
    asked = limit.to_c
    if asked is None:
        return None
    still_warm = [at for at, celsius in clock.readings if celsius > asked and at <= limit.at]
    since = max(still_warm, default=None)
    down = (at for at, celsius in sorted(clock.readings) if celsius <= asked)
    return next((at for at in down if since is None or at > since), None)


def _met(clock: Clock, limit: Limit) -> bool:
    reached = _reached(clock, limit)
    return reached is not None and reached <= limit.at


# ---------------------------------------------------------------- standing out


def _out(clock: Clock, rule: OutLimit) -> Limit:
    """Where food may not get warm, the first reading that is too warm ends its time."""
    warm = (at for at, celsius in sorted(clock.readings) if _above(celsius, rule.max_c))
    at = min([clock.started + rule.within, *(max(each, clock.started) for each in warm)])
    says, told = "eaten or thrown away", str(rule)
    return Limit(at, says, rule.source, True, rule.then, max_c=rule.max_c, rule=told, but=rule.but)


def _above(celsius: float, limit: float | None) -> bool:
    return limit is not None and celsius > limit


# ---------------------------------------------------------------- passed


def _miss(limit: Limit, clock: Clock, now: datetime) -> Miss | None:
    """How a limit was missed, if it was."""
    if limit.to_c is None:
        over = limit.at < now or any(_above(celsius, limit.max_c) for _, celsius in clock.readings)
        return Miss(limit, now - limit.at, shown=True) if over else None
    if limit.at >= now:
        return None
    reached = _reached(clock, limit)
    above = any(at >= limit.at and celsius > limit.to_c for at, celsius in clock.readings)
    return Miss(limit, (reached or now) - limit.at, shown=above)
