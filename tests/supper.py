"""One supper, planned by hand so that it breaks no rule: what the verifier's tests start from."""

from __future__ import annotations

from datetime import datetime

from scheduler.domain.timetable import Slot, Timetable, Touch
from tests.plans_for_tests import at, component, cook, moved, number_of, plan, slot, step, tend, timetable

SUPPER = plan(
    component(
        "Pickle",
        step("Salt", hands_on="15 min"),
        step(
            "Ferment",
            unattended="2 d to 4 d",
            until="sour",
            usually="2 d",
            tend=tend("Vent", "16 h"),
            keeps="5 d",
        ),
    ),
    component(
        "Beans",
        step("Soak", unattended="12 h to 18 h"),
        step("Drain", hands_on="10 min", cook="Ada"),
        step("Simmer", nearby="1 h to 1 h 30 min", gear=["burner"], keeps="8 h"),
    ),
    component(
        "Dough",
        step("Mix", hands_on="10 min"),
        step("Rise", unattended="6 h to 10 h"),
        step("Shape", hands_on="10 min", wait="30 min to 3 h", keeps="1 d"),
    ),
    component(
        "Soup",
        step("Chop", hands_on="20 min", between=["09:00-18:00"], keeps="6 h"),
        step("Boil", nearby="30 min", gear=["burner"], keeps="6 h"),
    ),
    component(
        "Pie",
        step("Roll", hands_on="30 min", on=[5], keeps="1 d"),
        step("Bake", nearby="40 min", oven=200, keeps="6 h"),
    ),
    component("Rolls", step("Warm", nearby="20 min", oven=150, gear=["burner"], keeps="30 min")),
    cooks=[
        cook("Ada", away=["sat-sat 10:00-11:00", "sat-sat 17:00-18:00"]),
        cook("Noor", ["08:00-23:00"], ["sat-sat 17:00-18:00"]),
    ],
    gear={"burner": 1, "oven": 1},
)
MONDAY = at("2026-12-07 09:00")
SERVE = "2026-12-12 19:30"


def on(day: int, clock: str) -> datetime:
    """A local time in that week of December."""
    return at(f"2026-12-{day:02} {clock}")


def placed(
    name: str, day: int, start: str, end: str, until: int | None = None, by: str | None = None
) -> Slot:
    return slot(SUPPER, name, f"2026-12-{day:02} {start}", f"2026-12-{until or day:02} {end}", by)


def vent(occurrence: int, due: datetime, moment: datetime | None = None, trouble: str | None = None) -> Touch:
    return Touch(number_of(SUPPER, "Ferment"), occurrence, due, moment or due, trouble)


VENTS = (vent(1, on(9, "10:15")), vent(2, on(10, "02:15"), on(9, "22:30")))
GOOD = timetable(
    SUPPER,
    SERVE,
    placed("Salt", 8, "18:00", "18:15"),
    placed("Ferment", 8, "18:15", "18:15", 10),
    placed("Soak", 11, "22:00", "12:00", 12),
    placed("Drain", 12, "12:00", "12:10"),
    placed("Simmer", 12, "12:10", "13:20"),
    placed("Mix", 11, "22:00", "22:10"),
    placed("Rise", 11, "22:10", "07:00", 12),
    placed("Shape", 12, "07:30", "07:40"),
    placed("Chop", 12, "14:00", "14:20"),
    placed("Boil", 12, "14:30", "15:00"),
    placed("Roll", 12, "15:00", "15:30", by="Noor"),
    placed("Bake", 12, "15:30", "16:10"),
    placed("Warm", 12, "19:00", "19:20"),
    touches=VENTS,
)


def shifted(name: str, start: datetime, end: datetime, by: str | None = None) -> Timetable:
    return moved(GOOD, number_of(SUPPER, name), start, end, by)
