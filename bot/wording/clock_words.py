"""One clock of food out of temperature control, and the phrases and buttons that every message about it uses."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from bot.wording.lines import button, capital, short, some
from scheduler import words
from scheduler.domain import clocks
from scheduler.domain.kitchen.holding import Clock, Limit
from scheduler.domain.kitchen.rules import Rules
from scheduler.domain.kitchen.written import degrees
from scheduler.domain.nudges.clocks import whole
from scheduler.domain.plan import MINUTE
from scheduler.records import Button
from scheduler.service.answers import ClockLine
from scheduler.service.clock_answers import TENTHS, ClockRef
from scheduler.service.deeds import Deed, Verb


@dataclass(frozen=True, slots=True)
class OneClock:
    """A clock with what its phrases need."""

    name: str
    clock: Clock
    ref: ClockRef
    rules: Rules
    zone: str
    now: datetime

    @property
    def out(self) -> bool:
        return self.clock.kind in clocks.STANDS_OUT

    def brief(self, at: datetime) -> str:
        return words.brief(at, self.zone, self.now)

    @property
    def since(self) -> str:
        """ "Cooling since 14:00"."""
        return f"{'Out' if self.out else 'Cooling'} since {self.brief(self.clock.started)}"

    @property
    def next(self) -> Limit | None:
        told = clocks.told_limits(self.clock, self.rules)
        return next((limit for limit in told if limit.at > self.now), None)

    def left(self, limit: Limit) -> str:
        minutes = (whole(limit.at) - self.now.replace(second=0, microsecond=0)) // MINUTE * MINUTE
        return words.length(minutes)

    def by(self, limit: Limit) -> str:
        """ "26.7 C or below in the middle by 15:00"."""
        return f"{limit.says} by {self.brief(whole(limit.at))}"


def rule(limit: Limit) -> str:
    return f"The rule: {limit.rule or limit.says} ({limit.source})."


def titled(name: str) -> str:
    return capital(short(name, 40))


def clock_lines(lines: tuple[ClockLine, ...], zone: str, now: datetime, most: int = 3) -> list[str]:
    """ "Clock: duck legs, 21 C or below in the middle by 16:00", at most so many lines."""
    told = [
        f"Clock: {short(name, 40)}, {says} by {words.brief(whole(at), zone, now)}" for name, says, at in lines
    ]
    return some(told, most, "and {} more clocks")


# ---------------------------------------------------------------- buttons


def due_buttons(of: OneClock, limit: Limit | None) -> list[Button]:
    """What it is down to, cold, still warm, the rule; for food that only stands out that it is over."""
    if of.out:
        return [
            clock_button(of, "In the cold again", Verb.COLD),
            clock_button(of, "Eaten or gone", Verb.COLD),
            what_rule(of),
        ]
    target = None if limit is None else limit.to_c
    down = []
    if target is not None and target > clocks.coldest(of.clock, of.rules):
        down = [clock_button(of, f"{degrees(target)} or below", Verb.COLD, round(target * TENTHS))]
    return [
        *down,
        clock_button(of, "Cold now", Verb.COLD),
        clock_button(of, "Still warm", Verb.WARM),
        what_rule(of),
    ]


def what_rule(of: OneClock) -> Button:
    return clock_button(of, "What's the rule", Verb.RULE)


def clock_button(of: OneClock, label: str, verb: Verb, tenths: int | None = None) -> Button:
    return button(label, Deed(verb, of.ref.plan, of.ref.step, of.ref.number, minutes=tenths))


def undo_button(of: OneClock) -> list[Button]:
    return [] if of.ref.plan is None else [button("Undo", Deed(Verb.UNDO, of.ref.plan))]


def few_buttons(of: OneClock) -> list[Button]:
    """Buttons need to know the clock: in an answer only a plan's says which it is."""
    if of.ref.plan is None:
        return []
    over = clock_button(of, "In the cold again" if of.out else "Cold now", Verb.COLD)
    return [over, *([] if of.out else [clock_button(of, "Still warm", Verb.WARM)]), what_rule(of)]
