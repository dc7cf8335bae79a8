"""The verifier and what has really happened: real times stand, and what is past binds no more."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

from scheduler.domain.check import check
from scheduler.domain.plan import MINUTE
from scheduler.domain.progress import Mark, MarkKind, Progress, fold
from scheduler.domain.timetable import Timetable
from tests.plans_for_tests import at, component, mark, moved, number_of, plan, slot, step, timetable
from tests.supper import GOOD, MONDAY, SUPPER, VENTS, on, vent


def rules(given: Timetable, now: datetime, progress: Progress) -> set[str]:
    return {breach.rule for breach in check(SUPPER, given, now, progress)}


def so_far(now: datetime, *marks: Mark) -> Progress:
    return fold(SUPPER, marks, now)


def begun(name: str, when: datetime) -> Mark:
    return mark(MarkKind.STARTED, number_of(SUPPER, name), when)


def done(name: str, when: datetime) -> Mark:
    return mark(MarkKind.DONE, number_of(SUPPER, name), when)


SALTED = [begun("Salt", on(8, "18:00") + timedelta(seconds=40)), done("Salt", on(8, "18:15"))]


def test_a_step_put_off_does_not_start_before() -> None:
    """ "Not before half past two" holds from that minute on."""
    chop = number_of(SUPPER, "Chop")
    for until, expected in ((on(12, "14:30"), {"put off"}), (on(12, "14:00"), set())):
        put_off = so_far(MONDAY, mark(MarkKind.LATER, chop, MONDAY, until=until))
        assert rules(GOOD, MONDAY, put_off) == expected


def test_real_times_stand_to_the_minute() -> None:
    """A start and an end that were said are kept to the minute, and no further off."""
    now = on(8, "18:20")
    assert rules(GOOD, now, so_far(now, *SALTED)) == set()
    early = so_far(now, begun("Salt", on(8, "17:58")), done("Salt", on(8, "18:15")))
    assert rules(GOOD, now, early) == {"real"}
    late = so_far(now, begun("Salt", on(8, "18:00")), done("Salt", on(8, "18:17")))
    assert rules(GOOD, now, late) == {"real"}


def test_a_running_step_ends_when_it_still_can() -> None:
    """Work begun three minutes late cannot end when it was to, nor a soak of twelve hours after six."""
    now = on(8, "18:10")
    assert rules(GOOD, now, so_far(now, begun("Salt", on(8, "18:03")))) == {"real"}
    now = on(11, "22:05")
    soaking = so_far(
        now,
        *SALTED,
        done("Ferment", on(10, "18:15")),
        begun("Mix", on(11, "22:00")),
        begun("Soak", on(11, "22:00")),
    )
    assert rules(without_touches(GOOD), now, soaking) == set()
    short = moved(without_touches(GOOD), number_of(SUPPER, "Soak"), end=on(12, "04:00"))
    assert rules(short, now, soaking) >= {"real"}


def without_touches(given_: Timetable) -> Timetable:
    return replace(given_, touches=())


def test_limits_after_a_real_end_bind_while_they_can() -> None:
    """Once what was chopped has kept too long, boiling it late is no breach any more."""
    boiled_late = moved(GOOD, number_of(SUPPER, "Boil"), on(12, "20:25"), on(12, "20:55"))
    boiled_late = replace(without_touches(boiled_late), serve=on(12, "21:00"))
    chopped = [*SALTED, done("Ferment", on(10, "18:15")), done("Chop", on(12, "14:20"))]
    pair = (number_of(SUPPER, "Chop"), number_of(SUPPER, "Boil"))
    for now, bound in ((on(12, "20:20"), True), (on(12, "20:21"), False)):
        found = check(SUPPER, boiled_late, now, so_far(now, *chopped))
        assert (("link", pair) in {(breach.rule, breach.steps) for breach in found}) == bound


def test_a_limit_counts_to_the_minute() -> None:
    """Chopped at forty seconds past, it may be boiled in the minute that six hours later falls in."""
    made = plan(
        component(
            "A", step("Chop", hands_on="5 min", keeps="6 h"), step("Blanch", hands_on="2 min", keeps="1 h")
        )
    )
    now = at("2026-12-12 14:21")
    chopped = fold(made, [mark(MarkKind.DONE, 0, now - timedelta(seconds=20))], now)
    chop = slot(made, "Chop", "2026-12-12 14:15", "2026-12-12 14:20")
    for start, expected in (("20:20", []), ("20:21", []), ("20:22", ["link"])):
        begin = at(f"2026-12-12 {start}")
        blanch = replace(
            slot(made, "Blanch", f"2026-12-12 {start}", "2026-12-12 20:30"), end=begin + 2 * MINUTE
        )
        found = check(made, timetable(made, "2026-12-12 20:30", chop, blanch), now, chopped)
        assert [breach.rule for breach in found] == expected


def test_what_has_begun_is_not_held_to_hours_or_to_what_came_before() -> None:
    """Work that runs into the night, and a step begun too early, are real and no longer a plan's fault."""
    made = plan(
        component("A", step("Chop", hands_on="1 h", keeps="1 h"), step("Boil", nearby="1 h", keeps="1 d"))
    )
    now = at("2026-12-11 22:31")
    progress = fold(
        made,
        [
            mark(MarkKind.STARTED, 0, at("2026-12-11 21:40")),
            mark(MarkKind.STARTED, 1, at("2026-12-11 22:20")),
        ],
        now,
    )
    real = timetable(
        made,
        "2026-12-12 12:00",
        slot(made, "Chop", "2026-12-11 21:40", "2026-12-11 22:20"),
        slot(made, "Boil", "2026-12-11 22:20", "2026-12-11 23:20"),
    )
    assert check(made, real, now, progress) == ()
    assert {breach.rule for breach in check(made, real, at("2026-12-11 20:00"))} == {
        "length",
        "mark",
        "nearby",
    } - {"mark"}


def test_running_work_takes_up_its_cook_and_done_work_does_not() -> None:
    """While salting goes on nothing else can be done by the same hands; afterwards it can."""
    made = plan(
        component("A", step("Salt", hands_on="30 min", keeps="1 h")),
        component("B", step("Chop", hands_on="10 min", keeps="1 h")),
    )
    given_ = timetable(
        made,
        "2026-12-12 13:00",
        slot(made, "Salt", "2026-12-12 12:00", "2026-12-12 12:30"),
        slot(made, "Chop", "2026-12-12 12:20", "2026-12-12 12:30"),
    )
    running = [mark(MarkKind.STARTED, 0, at("2026-12-12 12:00"))]
    now = at("2026-12-12 12:20")
    assert [breach.rule for breach in check(made, given_, now, fold(made, running, now))] == ["two at once"]
    over = fold(made, [*running, mark(MarkKind.DONE, 0, at("2026-12-12 12:18"))], now)
    early = moved(given_, 0, end=at("2026-12-12 12:18"))
    assert check(made, early, now, over) == ()


def test_only_what_is_part_of_the_meal_has_a_time() -> None:
    """A step left out must not be planned, and nothing is missed when it is not."""
    roll = mark(MarkKind.SKIPPED, number_of(SUPPER, "Warm"), MONDAY)
    assert rules(GOOD, MONDAY, so_far(MONDAY, roll)) == {"slot"}
    left = replace(GOOD, slots=tuple(each for each in GOOD.slots if each.step != number_of(SUPPER, "Warm")))
    assert rules(left, MONDAY, so_far(MONDAY, roll)) == set()


def test_a_touch_already_done_may_stay_where_nobody_is() -> None:
    """History is listed where it was due; so is a touch that says what its trouble is."""
    at_night = replace(GOOD, touches=(VENTS[0], vent(2, on(10, "02:15"))))
    now = on(10, "09:00")
    ferment = number_of(SUPPER, "Ferment")
    vented = so_far(now, *SALTED, mark(MarkKind.DONE, ferment, on(10, "02:15"), occurrence=2))
    assert rules(at_night, now, vented) == set()
    assert rules(at_night, now, so_far(now, *SALTED)) == {"touch"}
    troubled = replace(GOOD, touches=(VENTS[0], vent(2, on(10, "02:15"), trouble="everyone is asleep")))
    assert rules(troubled, MONDAY, so_far(MONDAY)) == set()
