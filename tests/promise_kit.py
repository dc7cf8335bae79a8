"""What the tests of promises share: timetables, draws, and the verifier as a second judge."""

from __future__ import annotations

import random
from collections.abc import Iterator, Mapping
from datetime import datetime
from importlib import resources

from scheduler.domain.check import misplaced
from scheduler.domain.check.facts import Facts
from scheduler.domain.plan import Plan
from scheduler.domain.progress import Progress, at_the_start
from scheduler.domain.promise import Bet, Done, Draw
from scheduler.domain.slack.room import moment
from scheduler.domain.timetable import Slot, Timetable, in_order
from scheduler.planfile import read
from scheduler.planning import time_out
from tests.plans_for_tests import PARIS, at, component, plan, slot, step, timetable

FREE = {"mark", "window", "touch", "now"}
"""Rules of the verifier about planned times only: real ends keep to no marks of the clock."""


def timed(made: Plan, serve: datetime, now: datetime) -> Timetable:
    found = time_out(made, serve, now)
    assert isinstance(found, Timetable)
    return found


def bet_on(made: Plan, timetable: Timetable, now: datetime, progress: Progress | None = None) -> Bet:
    return Bet(made, timetable, now, progress or at_the_start(made))


def bundled(name: str) -> Plan:
    return read((resources.files("bot") / "plans" / name).read_bytes(), zone=PARIS, awake="07:00-22:30")


def random_draws(bet: Bet, count: int, seed: int) -> Iterator[Draw]:
    """Lengths anywhere in the ranges."""
    dice = random.Random(seed)
    for _ in range(count):
        yield {n: dice.randint(low, high) for n, (low, high) in bet.ranges.items()}


def adversarial_draws(bet: Bet, count: int, seed: int) -> Iterator[Draw]:
    """Lengths at the ends of the ranges, as planned, and a minute either side of where the executor changes its
    mind: the ends of the pieces it has split the ranges into.
    """
    dice, executor = random.Random(seed), bet.executor()
    marks = {n: {low, high, bet.planned[n]} for n, (low, high) in bet.ranges.items()}
    for share in executor.shares.values() if executor else ():
        low, high = bet.ranges[share.step]
        near = (share.low - 1, share.low, share.high, share.high + 1)
        marks[share.step] |= {at for at in near if low <= at <= high}
    choices = {n: sorted(found) for n, found in marks.items()}
    for _ in range(count):
        yield {n: dice.choice(found) for n, found in choices.items()}


def as_run(bet: Bet, done: Mapping[int, Done]) -> Timetable:
    """What was really done, as a timetable."""
    slots = [
        Slot(n, start, moment(each.end), start, start, start, each.cook)
        for n, each in done.items()
        for start in [moment(each.start)]
    ]
    return Timetable(bet.timetable.serve, in_order(slots))


def breaches(bet: Bet, done: Mapping[int, Done]) -> list[str]:
    """What the verifier of timetables has against what was done, but for rules about planned times."""
    facts = Facts(bet.plan, bet.now, bet.progress)
    nature = set(bet.ranges)
    return [
        breach.text
        for breach in misplaced(facts, as_run(bet, done))
        if breach.rule not in FREE and not (breach.rule == "length" and breach.steps[0] in nature)
    ]


# ---------------------------------------------------------------- beans for supper

MORNING = at("2026-12-12 07:00")


def of_beans(keeps: str | None = "1 h", usually: str | None = None) -> Plan:
    """Beans that simmer until tender, then a dressing, then the table."""
    return plan(
        component("Beans", step("Simmer", nearby="1 h to 2 h", until="tender", usually=usually, keeps=keeps)),
        component("Table", step("Dress and serve", hands_on="20 min", after=["Beans"], keeps="5 min")),
    )


def beans(made: Plan, start: str, end: str) -> Timetable:
    return timetable(
        made,
        "2026-12-12 19:30",
        slot(made, "Simmer", f"2026-12-12 {start}", f"2026-12-12 {end}"),
        slot(made, "Dress and serve", "2026-12-12 19:10", "2026-12-12 19:30"),
    )


def a_rise_till_bedtime() -> tuple[Plan, Timetable]:
    """A rise that someone has to be near, planned to end twenty minutes before bedtime."""
    made = plan(
        component(
            "Loaf",
            step("Mix", hands_on="10 min"),
            step("Rise", nearby="1 h to 3 h", until="doubled", usually="2 h"),
            step("Into the cold", unattended="8 h to 20 h", keeps="1 d"),
        )
    )
    given = timetable(
        made,
        "2026-12-13 12:00",
        slot(made, "Mix", "2026-12-12 20:00", "2026-12-12 20:10"),
        slot(made, "Rise", "2026-12-12 20:10", "2026-12-12 22:10"),
        slot(made, "Into the cold", "2026-12-12 22:10", "2026-12-13 10:00"),
    )
    return made, given
