"""Touches: due at every interval, moved as little as the cooks' hours and hands ask, with trouble told."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.domain.check import check
from scheduler.domain.hours import local
from scheduler.domain.plan import MINUTE, Plan, Tend
from scheduler.domain.presence import Presence, within
from scheduler.domain.progress import MarkKind, Progress, at_the_start, fold
from scheduler.domain.tends import due_times, touches
from scheduler.domain.timetable import Slot, Timetable, Touch
from tests.plans_for_tests import PARIS, Draft, at, component, cook, mark, plan, slot, span, step, tend

DAY = "2026-12-09"
HOUR = span("1 h")
SINCE, UNTIL = at("2026-12-01 00:00"), at("2026-12-31 00:00")


def clock(text: str, day: str = DAY) -> datetime:
    return at(f"{day} {text}")


def waiting(tending: Tend, *others: Draft, cooks: int = 1, by: str | None = None) -> Plan:
    """A wait with a tend, and other steps beside it."""
    rise = step("Rise", unattended="1 h to 30 d", keeps="30 d", tend=tending, cook=by)
    people = [cook(name) for name in ("Ada", "Noor")[:cooks]]
    return plan(
        component("Dough", rise),
        *(component(f"Beside {n}", each) for n, each in enumerate(others)),
        cooks=people,
    )


def placed(made: Plan, *slots: Slot, progress: Progress | None = None) -> tuple[Touch, ...]:
    return touches(made, slots, progress or at_the_start(made), Presence(made, SINCE, UNTIL))


def at_clock(found: tuple[Touch, ...]) -> list[str]:
    return [f"{local(touch.at, PARIS):%H:%M}" for touch in found]


# ---------------------------------------------------------------- when they are due


@pytest.mark.parametrize(
    ("every", "lasting", "lasts", "due"),
    [
        ("45 min", "2 h 15 min", 5, [45, 90, 135]),
        ("45 min", None, 3, [45, 90, 135]),
        ("1 h", None, 3, [60, 120]),
        ("1 h", "3 h", 3, [60, 120]),
        ("4 h", None, 3, []),
        ("1 h", "30 min", 3, []),
    ],
)
def test_touches_are_due_after_each_interval_until_the_end(
    every: str, lasting: str | None, lasts: int, due: list[int]
) -> None:
    """From one interval after the start, as long as it goes on, and strictly before the step ends."""
    start = clock("10:00")
    window = Slot(0, start, start + lasts * HOUR, start, start, start)
    found = list(due_times(tend("Fold", every, lasting), window))
    assert found == [(n, start + minutes * MINUTE) for n, minutes in enumerate(due, 1)]


def test_a_real_start_counts_from_its_minute() -> None:
    """Forty seconds past the minute do not make every touch forty seconds odd."""
    start = clock("10:00") + timedelta(seconds=40)
    window = Slot(0, start, clock("12:00"), start, start, start)
    assert list(due_times(tend("Fold", "1 h"), window)) == [(1, clock("11:00"))]


# ---------------------------------------------------------------- where they fall


def test_a_touch_in_free_hours_falls_when_it_is_due() -> None:
    """Nothing in the way leaves every touch at its own moment, without trouble."""
    made = waiting(tend("Fold", "45 min"))
    found = placed(made, slot(made, "Rise", f"{DAY} 10:00", f"{DAY} 12:30"))
    assert found == tuple(
        Touch(0, n, clock(due), clock(due)) for n, due in enumerate(["10:45", "11:30", "12:15"], 1)
    )


def test_a_touch_moves_out_of_the_night_to_the_nearest_waking_moment() -> None:
    """Due at two with four hours' leave it comes before bed, all of it; due at four it comes on waking."""
    made = waiting(tend("Turn", "16 h", hands_on="5 min"))
    late = placed(made, slot(made, "Rise", f"{DAY} 10:00", "2026-12-10 09:00"))
    assert [(touch.due, touch.at) for touch in late] == [(clock("02:00", "2026-12-10"), clock("22:25"))]
    early = placed(made, slot(made, "Rise", f"{DAY} 12:00", "2026-12-10 09:00"))
    assert [touch.at for touch in early] == [clock("07:00", "2026-12-10")]


def test_a_touch_that_cannot_leave_the_night_stays_and_says_so() -> None:
    """A rinse every eight hours cannot all be done awake; the one at three is told as it is."""
    made = waiting(tend("Rinse", "8 h"))
    (first, second) = placed(made, slot(made, "Rise", f"{DAY} 11:00", "2026-12-10 09:00"))
    assert first == Touch(0, 1, clock("19:00"), clock("19:00"))
    assert second == Touch(
        0, 2, clock("03:00", "2026-12-10"), clock("03:00", "2026-12-10"), "everyone is asleep"
    )


@pytest.mark.parametrize(
    ("by", "away", "trouble"),
    [
        (None, ["08:00-20:00"], "nobody is at home"),
        ("Ada", ["08:00-20:00"], "Ada is not at home"),
        ("Ada", [], "Ada is asleep"),
    ],
)
def test_trouble_says_who_is_missing(by: str | None, away: list[str], trouble: str) -> None:
    """Away and asleep are told apart, and a step that names its cook names them."""
    asleep = ["22:00-06:00"] if by and not away else ["07:00-22:30"]
    rise = step("Rise", unattended="4 h", keeps="1 d", cook=by, tend=tend("Fold", "2 h"))
    made = plan(component("A", rise), cooks=[cook("Ada", asleep, away)])
    assert [touch.trouble for touch in placed(made, slot(made, "Rise", f"{DAY} 11:00", f"{DAY} 15:00"))] == [
        trouble
    ]


def test_a_touch_steps_aside_for_hands_on_work() -> None:
    """With one cook busy when it is due, the touch comes just after, or just before if that is no further."""
    made = waiting(tend("Fold", "1 h"), step("Knead", hands_on="20 min", keeps="1 d"))
    rise = slot(made, "Rise", f"{DAY} 10:00", f"{DAY} 11:30")
    assert at_clock(placed(made, rise, slot(made, "Knead", f"{DAY} 10:50", f"{DAY} 11:10"))) == ["11:10"]
    assert at_clock(placed(made, rise, slot(made, "Knead", f"{DAY} 10:55", f"{DAY} 11:15"))) == ["10:50"]
    assert at_clock(placed(made, rise, slot(made, "Knead", f"{DAY} 10:52", f"{DAY} 11:10"))) == ["10:50"]


def test_a_cook_with_free_hands_takes_the_touch() -> None:
    """While one kneads the other folds; unless the step is for the one who is busy."""
    knead = step("Knead", hands_on="40 min", keeps="1 d", cook="Ada")
    for by, expected, trouble in ((None, "11:00", None), ("Ada", "11:00", "Ada is busy with Knead")):
        made = waiting(tend("Fold", "1 h"), knead, cooks=2, by=by)
        (touch,) = placed(
            made,
            slot(made, "Rise", f"{DAY} 10:00", f"{DAY} 11:30"),
            slot(made, "Knead", f"{DAY} 10:40", f"{DAY} 11:20"),
        )
        assert (at_clock((touch,)), touch.trouble) == ([expected], trouble)


def test_work_that_is_done_is_in_nobody_s_way() -> None:
    """Hands are free again once the kneading was said to be done."""
    made = waiting(tend("Fold", "1 h"), step("Knead", hands_on="20 min", keeps="1 d"))
    kneaded = fold(made, [mark(MarkKind.DONE, 1, clock("10:58"))], clock("10:58"))
    rise, knead = (
        slot(made, "Rise", f"{DAY} 10:00", f"{DAY} 11:30"),
        slot(made, "Knead", f"{DAY} 10:50", f"{DAY} 11:10"),
    )
    assert at_clock(placed(made, rise, knead, progress=kneaded)) == ["11:00"]


def test_far_apart_touches_fall_on_five_minute_marks() -> None:
    """Every twenty minutes or more on a mark of the clock; closer together on the minute."""
    coarse, fine = waiting(tend("Fold", "33 min")), waiting(tend("Stir", "7 min"))
    assert at_clock(placed(coarse, slot(coarse, "Rise", f"{DAY} 10:00", f"{DAY} 11:10"))) == [
        "10:35",
        "11:05",
    ]
    assert at_clock(placed(fine, slot(fine, "Rise", f"{DAY} 10:00", f"{DAY} 10:20"))) == ["10:07", "10:14"]


def test_finished_steps_have_no_touches_and_done_touches_stay() -> None:
    """A touch done is listed where it was due, whatever the hour; a step done needs none at all."""
    made = waiting(tend("Rinse", "8 h"))
    rise = slot(made, "Rise", f"{DAY} 11:00", "2026-12-10 09:00")
    started = mark(MarkKind.STARTED, 0, clock("11:00"))
    rinsed = fold(
        made, [started, mark(MarkKind.DONE, 0, clock("19:00"), occurrence=2)], SINCE + 30 * span("1 d")
    )
    assert [touch.trouble for touch in placed(made, rise, progress=rinsed)] == [None, None]
    over = fold(made, [started, mark(MarkKind.DONE, 0, clock("20:00"))], SINCE + 30 * span("1 d"))
    assert placed(made, rise, progress=over) == ()


# ---------------------------------------------------------------- in general


@st.composite
def tended(draw: st.DrawFn) -> tuple[Plan, tuple[Slot, ...]]:
    """A wait with a tend of any interval, and hands-on work at any time beside it."""
    every = draw(st.integers(1, 2000)) * MINUTE
    tending = Tend("Turn", every, None, draw(st.sampled_from([1, 3, 10])) * MINUTE)
    made = waiting(tending, step("Knead", hands_on="50 min", keeps="1 d"), cooks=draw(st.integers(1, 2)))
    start = clock("07:00") + draw(st.integers(0, 180)) * 5 * MINUTE
    end = start + draw(st.integers(1, 6)) * every + draw(st.integers(60, 600)) * MINUTE
    rise = Slot(0, start, min(end, start + 300 * every), start, start, start)
    begins = start + draw(st.integers(0, 200)) * 5 * MINUTE
    return made, (rise, Slot(1, begins, begins + 50 * MINUTE, begins, begins, begins, "Ada"))


@given(tended())
@settings(max_examples=60, deadline=None)
def test_wherever_touches_fall_they_keep_their_bounds(case: tuple[Plan, tuple[Slot, ...]]) -> None:
    """In order and apart, near when due, inside the step; attended, on a mark and free unless it says so."""
    made, slots = case
    here = Presence(made, SINCE, UNTIL)
    found = touches(made, slots, at_the_start(made), here)
    tending, rise = made.steps[0].tend, slots[0]
    assert tending is not None
    assert [touch.occurrence for touch in found] == list(range(1, len(found) + 1))
    assert all(earlier.at < later.at for earlier, later in pairwise(found))
    for touch in found:
        assert touch.due == rise.start + touch.occurrence * tending.every
        assert abs(touch.at - touch.due) <= tending.tolerance
        assert rise.start <= touch.at < rise.end
        homes = [here.home(each.name) for each in made.kitchen.cooks]
        there = any(within(home, touch.at, touch.at + tending.hands_on) for home in homes)
        assert there or touch.trouble in ("everyone is asleep", "nobody is at home")
        assert touch.trouble or touch.at.minute % (5 if tending.every >= span("20 min") else 1) == 0


@given(tended())
@settings(max_examples=40, deadline=None)
def test_the_verifier_agrees_with_every_touch(case: tuple[Plan, tuple[Slot, ...]]) -> None:
    """Touches as placed are exactly those the verifier asks for; one fewer is one too few."""
    made, slots = case
    serve = max(each.end for each in slots)
    good = Timetable(serve, slots, placed(made, *slots))
    assert not [breach for breach in check(made, good, SINCE) if breach.rule == "touch"]
    if good.touches:
        fewer = replace(good, touches=good.touches[1:])
        assert [breach for breach in check(made, fewer, SINCE) if breach.rule == "touch"]
