"""A chilli of kidney beans and a stock as a view, and deeds done to it, for the tests of hard limits."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from functools import cache

from scheduler.domain.progress import at_the_start
from scheduler.domain.timetable import Timetable
from scheduler.planners import Here
from scheduler.planning import time_out
from scheduler.records import PlanRow, PlanStatus
from scheduler.service.acting import Result, Said, act
from scheduler.service.answers import Refused, Taken
from scheduler.service.deeds import Deed, Verb
from scheduler.service.view import View, read_plan
from tests.hazard_plans import CHILLI, HEAD, STOCK, step_of
from tests.talk_kit import ZONE, on

MINUTE = timedelta(minutes=1)
HOUR = timedelta(hours=1)
SERVE, BEFORE = on(9, "19:30"), on(8, "08:00")
BOILING, COOLING, BONES = "Boil the kidney beans", "Cool the stock", "Simmer the bones"


@cache
def fresh(source: str = HEAD + CHILLI + STOCK) -> View:
    plan = read_plan(source, ZONE, "07:00-23:00")
    timetable = time_out(plan, SERVE, BEFORE)
    assert isinstance(timetable, Timetable)
    row = PlanRow(
        1, plan.title, source, ZONE, "07:00-23:00", SERVE, BEFORE, 1, PlanStatus.ACTIVE, 1, timetable
    )
    return View(row, plan, (), at_the_start(plan), BEFORE)


def said(view: View, *deeds: Deed) -> Result:
    return act(view, deeds, Said(f"batch {len(view.marks)}", "Ada"), Here())


def refused(view: View, *deeds: Deed) -> Refused:
    answer = said(view, *deeds).answer
    assert isinstance(answer, Refused), answer
    return answer


def taken(view: View, *deeds: Deed) -> Taken:
    answer = said(view, *deeds).answer
    assert isinstance(answer, Taken), answer
    return answer


def of(view: View, verb: Verb, name: str, until: datetime | None = None) -> Deed:
    return Deed(verb, 1, step_of(view.plan, name).number, until=until)


def at(view: View, moment: datetime) -> View:
    return replace(view, now=moment).with_marks(())


def boiling(view: View, for_: timedelta) -> View:
    """The beans on the boil since their planned start, so long."""
    slot = view.timetable.slot(step_of(view.plan, BOILING).number)
    assert slot is not None
    begun = taken(at(view, slot.start), of(view, Verb.START, BOILING)).view
    return at(begun, slot.start + for_)
