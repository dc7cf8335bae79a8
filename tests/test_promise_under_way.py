"""Promises half-way through a plan, and the rules by which what was done is judged."""

from __future__ import annotations

from dataclasses import replace

from scheduler.domain.marks import MarkKind
from scheduler.domain.plan import Attention
from scheduler.domain.progress import fold
from scheduler.domain.promise import promise
from scheduler.domain.slack.room import minute
from tests.plans_for_tests import (
    at,
    component,
    cook,
    mark,
    number_of,
    plan,
    slot,
    step,
    timetable,
    utc,
)
from tests.promise_kit import MORNING, beans, bet_on, breaches, of_beans, timed


def test_a_step_under_way_can_only_end_from_now_on() -> None:
    """What was a bet on an early end is none any more once that moment has passed."""
    made = of_beans(keeps="40 min")
    given = beans(made, "17:10", "19:10")
    assert promise(made, given, MORNING).kept is False
    begun = [mark(MarkKind.STARTED, 0, at("2026-12-12 17:10"))]
    for clock, kept in (("18:20", False), ("18:26", True)):
        now = at(f"2026-12-12 {clock}")
        assert promise(made, given, now, fold(made, begun, now)).kept is kept


def test_a_real_end_binds_what_follows_it() -> None:
    """A step that is done leaves only its real end: what it keeps counts from there."""
    made = plan(
        component("Beans", step("Simmer", nearby="1 h", keeps="2 h")),
        component("Sauce", step("Reduce", nearby="20 min to 40 min", until="thick", keeps="1 h")),
        component("Table", step("Serve", hands_on="10 min", after=["Beans", "Sauce"], keeps="5 min")),
    )
    given = timetable(
        made,
        "2026-12-12 19:30",
        slot(made, "Simmer", "2026-12-12 16:30", "2026-12-12 17:30"),
        slot(made, "Reduce", "2026-12-12 18:30", "2026-12-12 19:10"),
        slot(made, "Serve", "2026-12-12 19:20", "2026-12-12 19:30"),
    )
    now = at("2026-12-12 17:35")
    done = [mark(MarkKind.DONE, 0, at("2026-12-12 17:30"))]
    assert promise(made, given, now, fold(made, done, now)).kept
    sooner = [mark(MarkKind.DONE, 0, at("2026-12-12 17:10"))]
    moved = replace(given, slots=(replace(given.slots[0], end=at("2026-12-12 17:10")), *given.slots[1:]))
    assert promise(made, moved, now, fold(made, sooner, now)).kept is not True


def test_the_rules_agree_with_the_verifier_on_what_goes_wrong() -> None:
    """Each rule the executor is judged by is broken by hand once, and the verifier of timetables sees it too."""
    made = plan(
        component(
            "A", step("Chop", hands_on="30 min", keeps="1 h"), step("Fry", nearby="30 min", keeps="30 min")
        ),
        component("B", step("Stir", hands_on="30 min", gear=["pan"], keeps="8 h")),
        component("C", step("Beat", hands_on="30 min", gear=["pan"], keeps="8 h", cook="Noor")),
        cooks=[cook("Ada"), cook("Noor")],
        gear={"pan": 1},
    )
    good = timed(made, at("2026-12-12 19:00"), MORNING)
    bet = bet_on(made, good, MORNING)
    executor = bet.executor()
    assert executor is not None
    done = executor.run({})
    assert bet.rules.broken(done) is None
    assert breaches(bet, done) == []
    chop, fry, stir, beat = (number_of(made, name) for name in ("Chop", "Fry", "Stir", "Beat"))
    night = minute(at("2026-12-12 23:00")) - done[stir].start
    changes = {
        "late": (fry, 40),
        "early": (fry, -60),
        "kept": (chop, -120),
        "soon": (chop, 60),
        "hours": (stir, night),
        "gear": (beat, done[stir].start - done[beat].start),
    }
    for rule, (number, by) in changes.items():
        each = done[number]
        wrong = {**done, number: each._replace(start=each.start + by, end=each.end + by)}
        assert rule in {trouble.rule for trouble in bet.rules.troubles(wrong)}, rule
        assert breaches(bet, wrong), rule
    both = {**done, stir: done[chop]._replace(cook=done[chop].cook)}
    assert "busy" in {trouble.rule for trouble in bet.rules.troubles(both)}
    longer = {**done, chop: done[chop]._replace(end=done[chop].end + 5)}
    assert "long" in {trouble.rule for trouble in bet.rules.troubles(longer)}
    assert made.steps[chop].attention is Attention.HANDS_ON


def test_times_with_seconds_are_taken_as_whole_minutes() -> None:
    """A step begun at a quarter past the minute is counted from that minute on."""
    made = of_beans(keeps="1 h")
    given = beans(made, "17:10", "19:10")
    really = at("2026-12-12 17:10").replace(second=15)
    now = utc("2026-12-12 16:30").replace(second=40)
    progress = fold(made, [mark(MarkKind.STARTED, 0, really)], now)
    begun = replace(given, slots=(replace(given.slots[0], start=really), *given.slots[1:]))
    assert promise(made, begun, now, progress).kept
