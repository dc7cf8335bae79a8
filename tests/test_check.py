"""The verifier: a good timetable has no breach, and each rule broken by hand is reported as that rule."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.domain.check import check
from scheduler.domain.hours import local
from scheduler.domain.plan import MINUTE
from scheduler.domain.timetable import Slot, Timetable
from tests.plans_for_tests import component, cook, moved, number_of, plan, slot, step, timetable
from tests.supper import GOOD, MONDAY, SERVE, SUPPER, VENTS, on, shifted, vent


def test_a_good_timetable_has_no_breach() -> None:
    """Nothing is reported of a timetable that keeps to every rule, to the last minute allowed."""
    assert check(SUPPER, GOOD, MONDAY) == ()
    assert check(SUPPER, GOOD, on(8, "18:00")) == ()


BROKEN = [
    ("mark", shifted("Roll", on(12, "14:58"), on(12, "15:28"))),
    ("length", shifted("Boil", on(12, "14:30"), on(12, "15:05"))),
    ("length", shifted("Simmer", on(12, "12:10"), on(12, "13:00"))),
    ("link", shifted("Boil", on(12, "14:15"), on(12, "14:45"))),
    ("link", shifted("Shape", on(12, "11:00"), on(12, "11:10"))),
    ("link", shifted("Shape", on(12, "07:20"), on(12, "07:30"))),
    ("table", shifted("Warm", on(12, "18:35"), on(12, "18:55"))),
    ("table", shifted("Warm", on(12, "19:15"), on(12, "19:35"))),
    ("someone", shifted("Soak", on(11, "23:05"), on(12, "12:00"))),
    ("hands-on", shifted("Chop", on(12, "10:50"), on(12, "11:10"))),
    ("hands-on", shifted("Drain", on(12, "12:00"), on(12, "12:10"), "Noor")),
    ("two at once", shifted("Roll", on(12, "14:10"), on(12, "14:40"), "Ada")),
    ("nearby", shifted("Bake", on(12, "16:40"), on(12, "17:20"))),
    ("wait", shifted("Rise", on(11, "22:10"), on(12, "06:00"))),
    ("gear", shifted("Boil", on(12, "18:50"), on(12, "19:20"))),
    ("oven", shifted("Bake", on(12, "18:25"), on(12, "19:05"))),
    ("between", shifted("Chop", on(12, "08:50"), on(12, "09:10"))),
    ("on", shifted("Roll", on(11, "16:00"), on(11, "16:30"))),
    ("touch", replace(GOOD, touches=VENTS[:1])),
    ("touch", replace(GOOD, touches=(*VENTS, VENTS[0]))),
    ("touch", replace(GOOD, touches=(*VENTS, vent(3, on(10, "18:15"))))),
    ("touch", replace(GOOD, touches=(*VENTS[:1], vent(2, on(10, "02:20"), on(9, "22:30"))))),
    ("touch", replace(GOOD, touches=(VENTS[0], vent(2, on(10, "02:15"), on(9, "22:10"))))),
    ("touch", replace(GOOD, touches=(VENTS[0], vent(2, on(10, "02:15"), on(9, "22:59"))))),
    ("touch", replace(GOOD, touches=(VENTS[0], vent(2, on(10, "02:15"))))),
    ("window", replace(GOOD, slots=(replace(GOOD.slots[0], latest=on(8, "17:55")), *GOOD.slots[1:]))),
    ("window", replace(GOOD, slots=(replace(GOOD.slots[0], earliest=on(8, "18:05")), *GOOD.slots[1:]))),
    ("slot", replace(GOOD, slots=GOOD.slots[1:])),
    ("slot", replace(GOOD, slots=(*GOOD.slots, GOOD.slots[0]))),
    ("slot", replace(GOOD, slots=(*GOOD.slots, replace(GOOD.slots[0], step=99)))),
    ("slot", shifted("Warm", on(12, "19:00"), on(12, "18:00"))),
    ("slot", shifted("Warm", on(12, "19:00"), on(12, "19:20") + timedelta(seconds=1))),
    ("slot", shifted("Warm", on(12, "19:00"), on(12, "19:20").replace(tzinfo=None))),
    ("slot", shifted("Warm", on(12, "19:00"), local(on(12, "19:20"), SUPPER.zone))),
]


@pytest.mark.parametrize(("rule", "broken"), BROKEN)
def test_each_rule_broken_is_reported_as_that_rule(rule: str, broken: Timetable) -> None:
    """One thing wrong gives that rule's name and no other, and says so in words."""
    breaches = check(SUPPER, broken, MONDAY)
    assert {breach.rule for breach in breaches} == {rule}
    assert all(breach.text and breach.steps for breach in breaches)


def test_words_name_the_steps_and_the_numbers() -> None:
    """A breach can be read without knowing the code."""
    (late,) = check(SUPPER, shifted("Warm", on(12, "18:35"), on(12, "18:55")), MONDAY)
    assert late.text == "Warm ends 35 min before the serving hour; 30 min at most is wanted"
    (both,) = check(SUPPER, shifted("Roll", on(12, "14:10"), on(12, "14:40"), "Ada"), MONDAY)
    assert both.text == "Ada is to do Chop and Roll at the same time"
    assert both.steps == (number_of(SUPPER, "Chop"), number_of(SUPPER, "Roll"))


def test_what_is_past_cannot_be_planned() -> None:
    """A step not begun starts at the next whole minute at the earliest."""
    late = check(SUPPER, GOOD, on(8, "18:00") + timedelta(seconds=1))
    assert [(breach.rule, breach.steps) for breach in late] == [("now", (number_of(SUPPER, "Salt"),))]


def test_sharing_within_the_rules_is_no_breach() -> None:
    """Two cooks at once, one oven temperature for two, and gear handed over at one moment are all fine."""
    made = plan(
        component("A", step("Roast", nearby="1 h", oven=180, keeps="1 h")),
        component("B", step("Bake", nearby="30 min", oven=180, keeps="1 h")),
        component("C", step("Fry", hands_on="20 min", gear=["pan"], keeps="1 h")),
        component("D", step("Sear", hands_on="20 min", gear=["pan"], keeps="1 h")),
        component("E", step("Chop", hands_on="20 min", keeps="1 h")),
        cooks=[cook("Ada"), cook("Noor")],
        gear={"oven": 1, "pan": 1},
    )
    day = "2026-12-12"
    good = timetable(
        made,
        f"{day} 13:00",
        slot(made, "Roast", f"{day} 12:00", f"{day} 13:00"),
        slot(made, "Bake", f"{day} 12:10", f"{day} 12:40"),
        slot(made, "Fry", f"{day} 12:00", f"{day} 12:20"),
        slot(made, "Sear", f"{day} 12:20", f"{day} 12:40"),
        slot(made, "Chop", f"{day} 12:10", f"{day} 12:30", "Noor"),
    )
    assert check(made, good, MONDAY) == ()


def test_a_wait_may_end_at_bedtime_and_no_later() -> None:
    """What does not keep can be seen to at half past ten, just before bed, but not five minutes on."""
    made = plan(
        component(
            "A", step("Rise", unattended="1 h to 3 h"), step("Shape", hands_on="5 min", wait="1 h to 1 d")
        )
    )
    shape = slot(made, "Shape", "2026-12-12 08:00", "2026-12-12 08:05")
    for end, expected in (("22:30", []), ("22:35", ["wait"])):
        given_ = timetable(
            made, "2026-12-12 08:05", slot(made, "Rise", "2026-12-11 20:00", f"2026-12-11 {end}"), shape
        )
        assert [breach.rule for breach in check(made, given_, MONDAY)] == expected


def test_hands_on_work_ends_within_its_hours_too() -> None:
    """Twenty minutes begun at a quarter to six run out of hours that end at six; a wait would not."""
    made = plan(component("A", step("Chop", hands_on="20 min", between=["09:00-18:00"], keeps="6 h")))
    late = timetable(made, SERVE, slot(made, "Chop", "2026-12-12 17:45", "2026-12-12 18:05"))
    assert [breach.rule for breach in check(made, late, MONDAY)] == ["between"]
    whole = timetable(made, SERVE, slot(made, "Chop", "2026-12-12 17:40", "2026-12-12 18:00"))
    assert check(made, whole, MONDAY) == ()
    waits = plan(component("A", step("Chop", unattended="20 min", between=["09:00-18:00"], keeps="6 h")))
    assert check(waits, late, MONDAY) == ()


# ---------------------------------------------------------------- in general

MOVES = st.integers(-40, 40).map(lambda fives: fives * 5 * MINUTE)


@given(st.sampled_from(GOOD.slots), MOVES, MOVES, st.integers(1, 8))
@settings(max_examples=60, deadline=None)
def test_the_week_makes_no_difference(which: Slot, start: timedelta, end: timedelta, weeks: int) -> None:
    """The same timetable some weeks later, with the same thing wrong, breaks the same rules."""
    broken = moved(GOOD, which.step, which.start + start, max(which.start + start, which.end + end))
    later = weeks * timedelta(days=7)
    shifted_on = replace(
        broken,
        serve=broken.serve + later,
        slots=tuple(_on(each, later) for each in broken.slots),
        touches=tuple(replace(each, due=each.due + later, at=each.at + later) for each in broken.touches),
    )
    assert [(b.rule, b.steps) for b in check(SUPPER, broken, MONDAY)] == [
        (b.rule, b.steps) for b in check(SUPPER, shifted_on, MONDAY + later)
    ]


def _on(each: Slot, by: timedelta) -> Slot:
    return replace(
        each,
        start=each.start + by,
        end=each.end + by,
        earliest=each.earliest + by,
        latest=each.latest + by,
        last_call=each.last_call + by,
    )
