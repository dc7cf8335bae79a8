"""A duck that is cooked, cooled, chilled and crisped, for the tests of the clocks of food."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from scheduler.domain.clocks import (
    OWN,
    Act,
    OfClock,
)
from scheduler.domain.hours import local
from scheduler.domain.kitchen.holding import Kind
from scheduler.domain.kitchen.rules import FOOD_CODE
from scheduler.domain.marks import Mark, MarkKind
from scheduler.domain.nudges import Policy
from scheduler.domain.progress import Progress, fold
from scheduler.domain.stages import About
from tests.nudge_kitchen import ALONE, DAY, HANDS, HOUR, MIN, NEARBY, ZONE, Row, Table, at, table

SERVE = at(16, "19:00")
CODE = Policy(rules=FOOD_CODE)
"""By the Food Code alone: 21 C within 2 h, 5 C within 6 h."""

T0 = at(14, "14:00")


def duck(cooling: str = "Cool under the fat", day: int = 14) -> Table:
    """A duck cooked from 11:00, cooled from 14:00, kept in the fridge till it is crisped on the 16th."""
    rows = [
        Row("Duck", "Cook the duck in fat", NEARBY, day, "11:00", 3 * HOUR, oven=110),
        Row("Duck", cooling, NEARBY, day, "14:00", HOUR),
        Row("Duck", "Duck rests in the fridge", ALONE, day, "15:00", 2 * DAY, keeps=5 * DAY),
        Row("Duck", "Crisp the duck", HANDS, 16, "18:00", 20 * MIN, oven=220, keeps=HOUR),
    ]
    kitchen = table(rows, SERVE)
    return replace(kitchen, policy=CODE)


def stands(kitchen: Table, now: datetime, *marks: Mark) -> Progress:
    return fold(kitchen.plan, marks, now, kitchen.timetable)


def of_clocks(kitchen: Table, now: datetime, *marks: Mark) -> list[tuple[str, str]]:
    """Stage and local time of every nudge about a clock."""
    owed = kitchen.owed(now, *marks)
    return [(n.stage.value, f"{local(n.due, ZONE):%d %H:%M}") for n in owed if n.about is About.CLOCK]


def said(
    kitchen: Table, act: Act, when: datetime, number: int = OWN, kind: Kind = Kind.COOLING, **more: object
) -> Mark:
    """A CLOCK mark about the second step's food, said at once unless `at` says when it was known."""
    celsius, until, known = more.get("celsius"), more.get("until"), more.get("known", when)
    assert celsius is None or isinstance(celsius, float)
    assert until is None or isinstance(until, datetime)
    assert isinstance(known, datetime)
    text = OfClock(act, number, kind, celsius).as_text()
    return Mark(MarkKind.CLOCK, when, known, f"{act}/{when}/{number}", 1, until=until, text=text)


STARTED = (MarkKind.STARTED, "Cool under the fat", T0)
