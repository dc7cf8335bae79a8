"""The supper as a view, and deeds done to it without a store."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from scheduler.domain.progress import State, at_the_start
from scheduler.domain.timetable import Timetable
from scheduler.planners import Here
from scheduler.planning import time_out
from scheduler.records import PlanRow, PlanStatus
from scheduler.service.acting import Said, act
from scheduler.service.answers import Refused, Taken
from scheduler.service.deeds import Deed, Verb
from scheduler.service.view import View, read_plan
from tests.talk_kit import SUPPER, ZONE, on

SERVE = on(9, "19:30")


PLAN = read_plan(SUPPER, ZONE, "07:00-23:00")


def fresh() -> View:
    """The supper as it was taken into use, on Tuesday evening."""
    now = on(5, "20:00")
    timetable = time_out(PLAN, SERVE, now)
    assert isinstance(timetable, Timetable)
    row = PlanRow(1, PLAN.title, SUPPER, ZONE, "07:00-23:00", SERVE, now, 1, PlanStatus.ACTIVE, 1, timetable)
    return View(row, PLAN, (), at_the_start(PLAN), now)


def at(view: View, day: int, clock: str) -> View:
    """The same later, with nothing more said."""
    return replace(view, now=on(day, clock)).with_marks(())


def done(view: View, *deeds: Deed) -> View:
    """The view after deeds that are taken."""
    result = act(view, deeds, said(view), Here())
    assert isinstance(result.answer, Taken), result.answer
    return result.view


def refused(view: View, *deeds: Deed) -> Refused:
    """The refusal of deeds; nothing comes of them."""
    result = act(view, deeds, said(view), Here())
    assert isinstance(result.answer, Refused) and not result.save and result.marks == ()
    assert result.view is view
    return result.answer


def said(view: View) -> Said:
    return Said(f"batch {len(view.marks)}", "Ada")


def do(name: str, **more: Any) -> Deed:
    return of(Verb.DONE, name, **more)


def start(name: str, **more: Any) -> Deed:
    return of(Verb.START, name, **more)


def of(verb: Verb, name: str, **more: Any) -> Deed:
    """The deed about the step of that name; `more` are fields of Deed."""
    return Deed(verb, 1, STEPS[name], **more)


STEPS = {step.name: step.number for step in PLAN.steps}


def state(view: View, name: str) -> State:
    return view.progress.state(STEPS[name])


def salted() -> View:
    return done(at(fresh(), 6, "07:15"), do("Salt the radishes"))


def soaking() -> View:
    return done(at(salted(), 9, "07:00"), start("Soak the beans"))
