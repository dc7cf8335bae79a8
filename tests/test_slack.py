"""How far each start may move while every other step stays where it is."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from scheduler.domain.presence import Presence
from scheduler.domain.progress import MarkKind, at_the_start, fold
from scheduler.domain.slack import with_windows
from tests.plans_for_tests import (
    Draft,
    at,
    component,
    cook,
    mark,
    plan,
    slot,
    span,
    step,
)
from tests.window_kit import DAY, WEEKS, today, windows

# ---------------------------------------------------------------- alone


def test_a_gap_that_may_be_longer_or_shorter_lets_both_sides_move() -> None:
    """What keeps two hours gives the step before and the step after their room, within the serving hour."""
    made = plan(
        component(
            "A", step("Chop", hands_on="20 min", keeps="2 h"), step("Fry", hands_on="10 min", keeps="1 h")
        )
    )
    found = windows(
        made, f"{DAY} 13:00", today(made, "Chop", "11:00", "11:20"), today(made, "Fry", "12:30", "12:40")
    )
    assert found == {"Chop": "10:10 12:10 12:30", "Fry": "11:50 12:50 12:50"}


def test_a_wait_of_chosen_length_takes_up_a_later_start() -> None:
    """A soak of twelve to eighteen hours may begin earlier or later while what follows stays where it is."""
    made = plan(
        component("A", step("Soak", unattended="12 h to 18 h"), step("Drain", hands_on="10 min", keeps="1 h"))
    )
    soak = slot(made, "Soak", "2026-12-11 18:00", f"{DAY} 08:00")
    found = windows(
        made, f"{DAY} 08:30", soak, today(made, "Drain", "08:00", "08:10"), now=at("2026-12-10 09:00")
    )
    assert found == {"Soak": "14:00 20:00 20:20", "Drain": "08:00 08:00 08:20"}


def test_what_is_tied_cannot_move_alone() -> None:
    """Steps without a gap between have no window of their own, only a last call together."""
    made = plan(component("A", step("Mix", hands_on="10 min"), step("Bake", nearby="30 min", keeps="1 h")))
    found = windows(
        made, f"{DAY} 13:00", today(made, "Mix", "11:50", "12:00"), today(made, "Bake", "12:00", "12:30")
    )
    assert found == {"Mix": "11:50 11:50 12:20", "Bake": "12:00 12:00 12:00"}


BUSY = step("Fry", hands_on="30 min", cook="Ada", keeps="1 d", gear=["pan"])
HOT = step("Roast", nearby="30 min", oven=200, keeps="1 d")


@pytest.mark.parametrize(
    ("draft", "window"),
    [
        (step("This", hands_on="20 min", keeps="1 d"), "10:30 11:10"),
        (step("This", hands_on="20 min", keeps="1 d", cook="Noor"), "08:00 13:10"),
        (step("This", nearby="20 min", keeps="1 d", gear=["pan"]), "10:30 11:10"),
        (step("This", nearby="20 min", keeps="1 d", oven=150), "10:30 11:10"),
        (step("This", nearby="20 min", keeps="1 d", oven=200), "07:00 13:10"),
        (step("This", nearby="20 min", keeps="1 d"), "07:00 13:10"),
        (step("This", hands_on="20 min", keeps="1 d", cook="Noor", between=["09:00-12:00"]), "09:00 11:40"),
        (step("This", nearby="20 min", keeps="1 d", between=["09:00-12:00"]), "09:00 11:55"),
    ],
)
def test_hands_gear_ovens_and_hours_bound_a_window(draft: Draft, window: str) -> None:
    """Between two busy stretches a step moves only as far as what it needs is free."""
    made = plan(
        component("A", draft),
        *(
            component(f"{n}", replace(each, step=replace(each.step, name=f"{each.step.name} {n}")))
            for n, each in enumerate((BUSY, BUSY, HOT, HOT))
        ),
        cooks=[cook("Ada"), cook("Noor", ["08:00-13:30"])],
        gear={"pan": 1, "oven": 1},
    )
    found = windows(
        made,
        f"{DAY} 13:30",
        today(made, "This", "11:00", "11:20"),
        *(today(made, name, "10:00", "10:30") for name in ("Fry 0", "Roast 2")),
        *(today(made, name, "11:30", "12:00") for name in ("Fry 1", "Roast 3")),
    )
    assert found["This"].split()[:2] == window.split()


def test_a_window_ends_where_people_go_to_bed_or_out() -> None:
    """Hands-on work stays whole within one stretch at home; a wait only has to begin in one."""
    away = [cook("Ada", away=["sat-sat 12:00-14:00"])]
    work = plan(component("A", step("This", hands_on="20 min", keeps="1 d")), cooks=away)
    assert windows(work, f"{DAY} 20:00", today(work, "This", "11:00", "11:20")) == {
        "This": "07:00 11:40 11:40"
    }
    wait = plan(component("A", step("This", unattended="20 min", keeps="1 d")), cooks=away)
    assert windows(wait, f"{DAY} 20:00", today(wait, "This", "11:00", "11:20")) == {
        "This": "07:00 11:55 11:55"
    }


def test_a_wait_that_does_not_keep_ends_while_someone_is_up() -> None:
    """Its latest start is the one from which its shortest time ends at bedtime."""
    made = plan(
        component(
            "A",
            step("Rise", unattended="6 h to 10 h"),
            step("Shape", hands_on="10 min", wait="30 min to 12 h"),
        )
    )
    rise, shape = (
        today(made, "Rise", "12:00", "21:00"),
        slot(made, "Shape", "2026-12-13 08:00", "2026-12-13 08:10"),
    )
    assert windows(made, "2026-12-13 08:10", rise, shape)["Rise"] == "10:00 16:30 16:30"


def test_days_bound_a_window_by_the_local_date() -> None:
    """Kept to Saturdays, a step cannot slip back over midnight into Friday."""
    made = plan(
        component("A", step("This", unattended="1 h", keeps="2 d", on=[5])),
        cooks=[cook("Ada", ["00:00-00:00"])],
    )
    found = windows(
        made, "2026-12-13 12:00", today(made, "This", "11:00", "12:00"), now=at("2026-12-11 09:00")
    )
    assert found == {"This": "00:00 23:55 23:55"}


def test_short_steps_and_those_off_the_mark_move_by_the_minute() -> None:
    """A two-minute step has its window to the minute, and so has what an odd length carries along."""
    made = plan(
        component(
            "A",
            step("Blanch", hands_on="2 min", keeps="33 min"),
            step("Chill", nearby="10 min", keeps="2 min"),
        )
    )
    found = windows(
        made, f"{DAY} 12:42", today(made, "Blanch", "12:10", "12:12"), today(made, "Chill", "12:30", "12:40")
    )
    assert found == {"Blanch": "11:55 12:28 12:30", "Chill": "12:30 12:32 12:32"}


def test_nobody_looks_further_than_three_days() -> None:
    """What keeps for a month has a window of three days either side and no more."""
    made = plan(
        component("A", step("Salt", unattended="1 h", keeps="30 d")), cooks=[cook("Ada", ["00:00-00:00"])]
    )
    salt, now, serve = (
        slot(made, "Salt", f"{DAY} 12:00", f"{DAY} 13:00"),
        at("2026-12-01 12:00"),
        at("2026-12-30 12:00"),
    )
    presence = Presence(made, now - WEEKS, serve + WEEKS)
    (found,) = with_windows(made, [salt], now, serve, at_the_start(made), presence)
    assert found.start - found.earliest == found.latest - found.start == span("3 d")


# ---------------------------------------------------------------- what has been said


def test_a_window_opens_now_or_when_it_was_put_off_to() -> None:
    """Nothing can start before the next whole minute's mark, nor before the cook said."""
    made = plan(component("A", step("Chop", hands_on="20 min", keeps="6 h")))
    chop = today(made, "Chop", "11:00", "11:20")
    now = at(f"{DAY} 09:02") + timedelta(seconds=5)
    assert windows(made, f"{DAY} 13:00", chop, now=now) == {"Chop": "09:05 12:40 12:40"}
    quick = plan(component("A", step("Blanch", hands_on="2 min", keeps="6 h")))
    assert windows(quick, f"{DAY} 13:00", today(quick, "Blanch", "11:00", "11:02"), now=now) == {
        "Blanch": "09:03 12:58 12:58"
    }
    later = fold(made, [mark(MarkKind.LATER, 0, now, until=at(f"{DAY} 10:12"))], now)
    assert windows(made, f"{DAY} 13:00", chop, now=now, progress=later) == {"Chop": "10:15 12:40 12:40"}


def test_a_step_that_has_begun_has_no_window() -> None:
    """Done and running steps stay where they are, and bound what follows them by their real ends."""
    made = plan(
        component(
            "A", step("Chop", hands_on="20 min", keeps="2 h"), step("Fry", hands_on="10 min", keeps="3 h")
        )
    )
    now = at(f"{DAY} 11:21")
    chopped = fold(
        made, [mark(MarkKind.STARTED, 0, at(f"{DAY} 11:00")), mark(MarkKind.DONE, 0, at(f"{DAY} 11:20"))], now
    )
    fry = today(made, "Fry", "12:30", "12:40")
    found = windows(
        made, f"{DAY} 14:00", today(made, "Chop", "11:00", "11:20"), fry, now=now, progress=chopped
    )
    assert found == {"Chop": "11:00 11:00 11:00", "Fry": "11:25 13:20 13:20"}
