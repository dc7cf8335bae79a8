"""What `check` prints."""

from __future__ import annotations

import json
from datetime import datetime, timedelta

from bot.report import as_json, as_text
from scheduler.domain.plan import Plan
from scheduler.domain.timetable import Timetable
from scheduler.explain import Misfit
from scheduler.planfile import read
from scheduler.planning import time_out
from tests.talk_kit import SUPPER, ZONE, on

PLAN = read(SUPPER, zone=ZONE)
SERVE = on(9, "19:30")
NIGHTLY = SUPPER.replace("every: 1 d,", "every: 5 h,")
"""A jar that wants venting at night too."""


NOW, TOO_LATE = on(5, "20:00"), on(8, "20:00")


def timed(plan: Plan = PLAN) -> Timetable:
    found = time_out(plan, SERVE, NOW)
    assert isinstance(found, Timetable)
    return found


def misfit() -> Misfit:
    found = time_out(PLAN, SERVE, TOO_LATE)
    assert isinstance(found, Misfit)
    return found


def test_the_text_names_every_step_once_by_day() -> None:
    """Each with its start, its length, its end and who is needed; days in order."""
    lines = list(as_text(PLAN, timed()))
    assert lines[0] == "Supper for four: it fits. At the table Sat 9 May 19:30."
    for step in PLAN.steps:
        assert sum(f"  {step.name} ({step.component})," in line for line in lines) == 1
    assert "\nWed 6 May" in lines and "\nSat 9 May" in lines
    salted = next(line for line in lines if "Salt the radishes" in line)
    assert salted.startswith("  07:00  Salt the radishes (Pickle), 15 min, to 07:15 [hands-on]")


def test_a_step_with_room_says_until_when_it_may_start() -> None:
    """The same last call as the chat tells; a step without room says nothing of it."""
    timetable = timed()
    lines = list(as_text(PLAN, timetable))
    for slot in timetable.slots:
        line = next(line for line in lines if f"  {PLAN.steps[slot.step].name} (" in line)
        assert ("may start until" in line) == (slot.last_call > slot.start)
    assert "; may start until 19:00" in next(line for line in lines if "Salt the radishes" in line)


def test_tends_are_counted_and_troubled_ones_told() -> None:
    """How often and from when to when; those that fall where nobody is up are worth knowing."""
    plan = read(NIGHTLY, zone=ZONE)
    lines = list(as_text(plan, timed(plan)))
    tended = next(line for line in lines if line.startswith("  Vent the jar (Pickle), "))
    assert "14 times, Wed 6 May" in tended
    worth_knowing = lines[lines.index("\nWorth knowing") + 1 :]
    assert any(line.startswith("- Vent the jar: ") for line in worth_knowing)


def test_a_misfit_gives_its_reasons_and_what_would_do() -> None:
    """In the plan's own words."""
    lines = list(as_text(PLAN, misfit()))
    assert lines[0] == "Supper for four: no timetable fits Sat 9 May 19:30."
    assert "- “Radishes ferment” may take 3 d until pleasantly sour" in lines
    assert lines[-1].startswith("- Serve at ") and lines[-1].endswith(", the earliest hour that fits")


def test_the_json_of_a_fit_has_what_the_design_lists() -> None:
    """Section 7: serve, zone, status, proven, steps and tends, instants ISO 8601 with offset."""
    found = json.loads(json.dumps(as_json(PLAN, timed())))
    assert (found["serve"], found["zone"], found["status"]) == ("2026-05-09T19:30:00+01:00", ZONE, "fits")
    assert found["misfit"] is None and isinstance(found["proven"], bool)
    wanted = {
        "component",
        "name",
        "start",
        "end",
        "earliest_start",
        "latest_start",
        "attention",
        "cook",
        "gear",
    }
    assert all(wanted <= step.keys() for step in found["steps"]) and len(found["steps"]) == len(PLAN.steps)
    for step in found["steps"]:
        first, start, last = (
            datetime.fromisoformat(step[key]) for key in ("earliest_start", "start", "latest_start")
        )
        assert first <= start <= last and start.utcoffset() == timedelta(hours=1)
    bake = next(step for step in found["steps"] if step["name"] == "Bake the flan")
    assert (bake["gear"], bake["attention"]) == (["oven"], "nearby")
    assert [tend["occurrence"] for tend in found["tends"]] == [1, 2] and found["tends"][0][
        "name"
    ] == "Vent the jar"


def test_the_json_of_a_misfit_has_what_the_design_lists() -> None:
    """Section 7: the facts in conflict, and remedies that fit."""
    found = json.loads(json.dumps(as_json(PLAN, misfit())))
    assert (found["status"], found["steps"], found["tends"]) == ("misfit", [], [])
    assert len(found["misfit"]["because"]) >= 2
    remedy = found["misfit"]["remedies"][0]
    offered = datetime.fromisoformat(remedy["serve"])
    assert remedy["change"].startswith("Serve at ") and isinstance(
        time_out(PLAN, offered, TOO_LATE), Timetable
    )
