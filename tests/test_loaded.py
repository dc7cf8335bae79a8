"""How the load of a timetable is told: a line for each day, the busiest hour, the hours to be up."""

from __future__ import annotations

import json

from bot.loaded import as_json, as_text
from bot.report import as_json as reported
from scheduler.domain.load import load
from scheduler.domain.plan import Plan
from scheduler.domain.timetable import Timetable, Touch
from tests.plans_for_tests import (
    at,
    component,
    cook,
    number_of,
    plan,
    slot,
    step,
    tend,
    timetable,
)
from tests.test_report import PLAN, misfit, timed

TWO = [cook("Ada"), cook("Noor", ["08:00-01:00"])]


def ferment() -> tuple[Plan, Timetable]:
    """A jar packed on Monday and vented every evening of the week; a table laid by two on Saturday."""
    vent = tend("Vent", "1 d", hands_on="2 min")
    made = plan(
        component(
            "Pickle",
            step("Pack", hands_on="20 min"),
            step("Ferment", unattended="5 d", keeps="1 d", tend=vent),
        ),
        component("Dough", step("Knead", hands_on="45 min", cook="Noor", keeps="1 d")),
        component("Table", step("Plate", hands_on="30 min", cook="Ada", after=["Pickle", "Dough"])),
        cooks=TWO,
    )
    number = number_of(made, "Ferment")
    evenings = [at(f"2026-12-{day:02} 18:20") for day in range(8, 12)]
    return made, timetable(
        made,
        "2026-12-12 19:30",
        slot(made, "Pack", "2026-12-07 18:00", "2026-12-07 18:20"),
        slot(made, "Ferment", "2026-12-07 18:20", "2026-12-12 18:20"),
        slot(made, "Knead", "2026-12-12 00:05", "2026-12-12 00:50"),
        slot(made, "Plate", "2026-12-12 19:00", "2026-12-12 19:30"),
        touches=[Touch(number, n, when, when) for n, when in enumerate(evenings, 1)],
    )


def test_the_load_reads_aloud() -> None:
    """Days alike together; several cooks each with their own; the small hours belong to the day before."""
    made, given = ferment()
    assert list(as_text(made, load(made, given))) == [
        "\nHands-on work by day, and from when to when someone has to be up",
        "  Mon 7 Dec                20 min, Ada, 18:00 to 18:20",
        "  Tue 8 Dec to Thu 10 Dec  2 min a day, Ada, 18:20 to 18:22",
        "  Fri 11 Dec               47 min: Ada 2 min, 18:20 to 18:22; Noor 45 min, 00:05 to 00:50",
        "  Sat 12 Dec               30 min, Ada, 19:00 to 19:30",
        "Busiest hour: Sat 12 Dec 00:05 to 01:05, 45 min hands-on.",
        "Ada: up earliest at 18:00 on Mon 7 Dec, latest until 19:30 on Sat 12 Dec.",
        "Noor: up earliest at 00:05 in the night of Fri 11 Dec, "
        "latest until 00:50 in the night of Fri 11 Dec (10 min before bedtime).",
    ]


def test_the_load_as_json_has_what_the_text_has() -> None:
    """Days as dates, instants with the zone's offset, lengths in minutes."""
    made, given = ferment()
    found = json.loads(json.dumps(as_json(made, load(made, given))))
    assert [(day["day"], day["hands_on_minutes"]) for day in found["days"]] == [
        ("2026-12-07", 20), ("2026-12-08", 2), ("2026-12-09", 2),
        ("2026-12-10", 2), ("2026-12-11", 47), ("2026-12-12", 30),
    ]  # fmt: skip
    friday = found["days"][4]
    assert friday["first"] == "2026-12-11T18:20:00+01:00" and friday["last"] == "2026-12-12T00:50:00+01:00"
    assert friday["by_cook"]["Noor"] == {
        "hands_on_minutes": 45,
        "first": "2026-12-12T00:05:00+01:00",
        "last": "2026-12-12T00:50:00+01:00",
    }
    assert found["busiest"] == {
        "start": "2026-12-12T00:05:00+01:00",
        "end": "2026-12-12T01:05:00+01:00",
        "hands_on_minutes": 45,
        "by_cook": {"Noor": 45},
    }
    assert found["wake_up"]["Ada"] == {"day": "2026-12-07", "at": "2026-12-07T18:00:00+01:00"}
    assert found["bedtime"]["Noor"] == {"day": "2026-12-11", "at": "2026-12-12T00:50:00+01:00"}


def test_hands_of_two_cooks_in_one_hour_are_told_apart() -> None:
    """Each one's share; a cook who is needed all day long is named with the hours that pinch."""
    made = plan(
        component("Soup", step("Chop", hands_on="40 min", cook="Ada", keeps="1 d")),
        component("Dough", step("Knead", hands_on="30 min", cook="Noor", keeps="1 d")),
        cooks=[cook("Ada"), cook("Noor")],
    )
    given = timetable(
        made,
        "2026-12-12 19:30",
        slot(made, "Chop", "2026-12-12 07:00", "2026-12-12 07:40"),
        slot(made, "Knead", "2026-12-12 07:10", "2026-12-12 07:40"),
    )
    lines = list(as_text(made, load(made, given)))
    assert (
        lines[-3] == "Busiest hour: Sat 12 Dec 07:00 to 08:00, 1 h 10 min hands-on (Ada 40 min, Noor 30 min)."
    )
    assert "up earliest at 07:00 on Sat 12 Dec (on waking)" in lines[-2]
    assert "up earliest at 07:10 on Sat 12 Dec (10 min after waking)" in lines[-1]


def test_check_tells_the_load_of_what_fits_and_none_of_what_does_not() -> None:
    """In JSON: an object, or null."""
    found = reported(PLAN, timed())
    assert sum(day["hands_on_minutes"] for day in found["load"]["days"]) == 15 + 2 * 2 + 5 + 20 + 15
    assert reported(PLAN, misfit())["load"] is None
