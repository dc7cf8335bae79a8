"""How late a start may be when what follows gives way."""

from __future__ import annotations

from scheduler.domain.progress import MarkKind, fold
from tests.plans_for_tests import (
    at,
    component,
    mark,
    plan,
    slot,
    step,
)
from tests.window_kit import DAY, today, windows


def test_what_follows_gives_way_as_far_as_the_table() -> None:
    """A chain of tied work, waits and gaps is pushed until its last step meets the serving hour."""
    made = plan(
        component(
            "A",
            step("Mix", hands_on="10 min"),
            step("Rest", unattended="30 min to 2 h"),
            step("Roll", hands_on="10 min", keeps="1 h"),
            step("Bake", nearby="20 min", keeps="30 min"),
        )
    )
    found = windows(
        made,
        f"{DAY} 13:00",
        today(made, "Mix", "09:50", "10:00"),
        today(made, "Rest", "10:00", "11:40"),
        today(made, "Roll", "11:40", "11:50"),
        today(made, "Bake", "12:20", "12:40"),
    )
    # Back from 13:00: bake 12:40, roll 12:30, rest 30 min from 12:00, mix 11:50.
    assert found == {
        "Mix": "09:50 09:50 11:50",
        "Rest": "10:00 10:00 10:00",
        "Roll": "11:40 11:40 12:00",
        "Bake": "12:10 12:40 12:40",
    }


def test_a_wait_before_runs_on_only_as_long_as_it_may() -> None:
    """Draining can wait for the soak's longest time, and no longer; nature's waits do not run on."""
    for until, expected in ((None, "08:00 08:00 09:00"), ("soft", "08:00 08:00 08:00")):
        made = plan(
            component(
                "A",
                step("Soak", unattended="12 h to 14 h", until=until, usually="13 h" if until else None),
                step("Drain", hands_on="10 min", keeps="6 h"),
            )
        )
        soak = slot(made, "Soak", "2026-12-11 19:00", f"{DAY} 08:00")
        found = windows(
            made, f"{DAY} 12:00", soak, today(made, "Drain", "08:00", "08:10"), now=at("2026-12-11 09:00")
        )
        assert found["Drain"] == expected


def test_work_does_not_run_on_to_meet_what_follows() -> None:
    """Kneading may take half an hour, but nobody kneads on because the oven is late."""
    made = plan(
        component("A", step("Knead", hands_on="20 min to 30 min"), step("Bake", nearby="30 min", keeps="6 h"))
    )
    found = windows(
        made, f"{DAY} 14:00", today(made, "Knead", "10:40", "11:00"), today(made, "Bake", "11:00", "11:30")
    )
    assert found["Bake"] == "11:00 11:00 11:00"


def test_a_wait_does_not_run_into_what_else_follows_it() -> None:
    """Soaked beans also wanted half an hour before nine have to be out by half past eight."""
    made = plan(
        component(
            "A", step("Soak", unattended="12 h to 14 h"), step("Drain", hands_on="10 min", keeps="6 h")
        ),
        component("B", step("Sprout", hands_on="5 min", after=["Soak"], wait="30 min to 2 h", keeps="6 h")),
    )
    soak = slot(made, "Soak", "2026-12-11 19:00", f"{DAY} 08:00")
    drain, sprout = today(made, "Drain", "08:00", "08:10"), today(made, "Sprout", "09:00", "09:05")
    found = windows(made, f"{DAY} 12:00", soak, drain, sprout, now=at("2026-12-11 09:00"))
    assert found["Drain"] == "08:00 08:00 08:30"


def test_a_soak_under_way_runs_on_too() -> None:
    """The last call of draining follows from the soak's real start and its longest time."""
    made = plan(
        component("A", step("Soak", unattended="12 h to 14 h"), step("Drain", hands_on="10 min", keeps="6 h"))
    )
    now = at("2026-12-11 20:00")
    soaking = fold(made, [mark(MarkKind.STARTED, 0, at("2026-12-11 19:20"))], now)
    soak, drain = (
        slot(made, "Soak", "2026-12-11 19:20", f"{DAY} 08:00"),
        today(made, "Drain", "08:00", "08:10"),
    )
    found = windows(made, f"{DAY} 12:00", soak, drain, now=now, progress=soaking)
    assert found["Drain"] == "08:00 08:00 09:20"


def test_what_else_is_waiting_is_not_kept_too_long() -> None:
    """Beans that keep an hour hold the plating, and with it the sauce that could slip further by itself."""
    made = plan(
        component("Beans", step("Simmer", nearby="1 h", keeps="1 h")),
        component("Sauce", step("Reduce", nearby="30 min", keeps="5 min")),
        component("Plate", step("Plate", hands_on="10 min", keeps="2 h", after=["Beans", "Sauce"])),
    )
    found = windows(
        made,
        f"{DAY} 14:00",
        today(made, "Simmer", "11:00", "12:00"),
        today(made, "Reduce", "12:00", "12:30"),
        today(made, "Plate", "12:30", "12:40"),
    )
    assert found == {
        "Simmer": "10:30 11:30 11:35",
        "Reduce": "11:55 12:00 12:30",
        "Plate": "12:30 12:35 12:35",
    }


def test_what_gives_way_does_not_pass_other_work_of_the_same_hands() -> None:
    """Of two chains from one step, the first is pushed no further than the second leaves its cook free."""
    made = plan(
        component("Base", step("Mix", hands_on="10 min", keeps="3 h")),
        component("One", step("Fry", hands_on="30 min", keeps="2 h", after=["Base"])),
        component("Two", step("Grill", hands_on="30 min", keeps="2 h", after=["Base"])),
    )
    found = windows(
        made,
        f"{DAY} 13:00",
        today(made, "Mix", "10:00", "10:10"),
        today(made, "Fry", "11:00", "11:30"),
        today(made, "Grill", "12:00", "12:30"),
    )
    assert found["Mix"] == "08:50 10:50 11:20"
