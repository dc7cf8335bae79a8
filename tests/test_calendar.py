"""The calendar file, held against RFC 5545 (Internet Calendaring and Scheduling, 2009)."""

from __future__ import annotations

import re
import subprocess
import sys
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from icalendar import Calendar, Event

from bot.calendar import calendar
from bot.wording.lines import beware, one_line
from scheduler.domain.kitchen.amounts import Amount
from scheduler.domain.plan import Component, Plan
from scheduler.domain.timetable import Timetable
from tests.sample_plans import SAMPLES, clock_change, two_cooks, two_weeks
from tests.sample_timetables import D1, Draft, H, U, plan_of, tend, timetable_of

ROOT = Path(__file__).parent.parent
STAMP = datetime(2026, 11, 20, 9, 30, tzinfo=UTC)


def written(plan: Plan, timetable: Timetable | None = None) -> bytes:
    return calendar(plan, timetable or timetable_of(plan), stamp=STAMP)


def named(*names: str, title: str = "Supper") -> Plan:
    """A plan with one hands-on step of each name, after one another."""
    steps = [Draft(name, H, 10) for name in names]
    return plan_of(title, "2026-12-12 13:00", "Europe/Paris", {"Part": steps})


def unfolded(file: bytes) -> list[str]:
    """Content lines as RFC 5545 section 3.1 says: a line break and one space or tab are taken out."""
    return re.sub(rb"\r\n[ \t]", b"", file).decode("utf-8").split("\r\n")


def events(file: bytes) -> list[Event]:
    return list(Calendar.from_ical(file).walk("VEVENT"))


def event(file: bytes, summary: str) -> Event:
    return next(found for found in events(file) if str(found["SUMMARY"]) == summary)


@pytest.mark.parametrize("name", SAMPLES)
def test_lines_are_short_and_end_in_crlf(name: str) -> None:
    """Lines hold at most 75 octets and end in CRLF, with no bare CR or LF (RFC 5545, section 3.1)."""
    file = written(SAMPLES[name]())
    assert file.endswith(b"END:VCALENDAR\r\n")
    assert file.count(b"\n") == file.count(b"\r\n") == file.count(b"\r")
    assert max(len(line) for line in file.split(b"\r\n")) <= 75


def test_long_names_are_folded_by_octets() -> None:
    """Fifty e-acutes, 100 octets, are folded between characters and restored by unfolding (section 3.1)."""
    file = written(named("é" * 50))
    folded = [line for line in file.split(b"\r\n") if "é".encode() in line]
    assert len(folded) >= 4  # once as the name, once in the alarm
    assert all(len(line) <= 75 and line.decode("utf-8") for line in folded)
    assert f"SUMMARY:{'é' * 50}" in unfolded(file)


def test_text_is_escaped() -> None:
    """Backslash, semicolon and comma are escaped, a colon is not (RFC 5545, section 3.3.11)."""
    name = "Soak; beans, 12 h: keep C:\\cold \\New"
    file = written(named(name))
    assert "SUMMARY:Soak\\; beans\\, 12 h: keep C:\\\\cold \\\\New" in unfolded(file)
    assert str(events(file)[0]["SUMMARY"]) == name


def test_description_lines_are_joined_by_escaped_newlines() -> None:
    """A line break inside a TEXT value is written as backslash and n (RFC 5545, section 3.3.11)."""
    lines = unfolded(written(named("Knead")))
    said = r"Hands-on\, 10 min\nAt the very latest 13:20 (Europe/Paris)\, and then what follows moves"
    assert f"DESCRIPTION:{said}" in lines


def test_required_properties_are_there_once() -> None:
    """PRODID and VERSION once in the file (section 3.6); UID, DTSTAMP and DTSTART in each event (3.6.1)."""
    file = written(two_weeks())
    read = Calendar.from_ical(file)
    assert (str(read["PRODID"]), str(read["VERSION"])) == ("-//Crockbell//Crockbell//EN", "2.0")
    for block in b"".join(file.split(b"BEGIN:VEVENT")[1:]).split(b"END:VEVENT")[:-1]:
        for name in (b"UID", b"DTSTAMP", b"DTSTART"):
            assert len(re.findall(rb"^%s:" % name, block, re.MULTILINE)) == 1


@pytest.mark.parametrize("name", SAMPLES)
def test_instants_survive_the_round_trip(name: str) -> None:
    """Read back, every step starts and ends at its instants, in UTC (RFC 5545, section 3.3.5, form 2)."""
    plan = SAMPLES[name]()
    timetable = timetable_of(plan)
    read = events(written(plan, timetable))
    slots = [(found["DTSTART"].dt, found["DTEND"].dt) for found in read[: len(timetable.slots)]]
    assert slots == [(slot.start, slot.end) for slot in timetable.slots]
    assert all(start.utcoffset() == timedelta(0) for start, _ in slots)
    assert len(read) == len(timetable.slots) + len(timetable.touches) + 1


def test_three_weeks_across_a_clock_change_stay_504_hours() -> None:
    """A 21-day wait over the end of summer time lasts 504 hours; days are nominal (section 3.3.6), so no
    duration is written. Europe/Paris goes back on 2026-10-25 at 01:00 UTC (IANA time zone database).
    """
    wait = [Draft("Cabbage ferments", U, 21 * D1, keeps=D1)]
    plan = plan_of("Pickle", "2026-10-31 17:00", "Europe/Paris", {"Pickle": wait})
    file = written(plan)
    found = event(file, "Cabbage ferments")
    assert found["DTEND"].dt - found["DTSTART"].dt == timedelta(hours=504)
    assert found["DTSTART"].dt == datetime(2026, 10, 10, 16, tzinfo=UTC)  # 18:00 by the summer clock
    assert b"DURATION" not in file


def test_an_overnight_proof_keeps_its_twelve_hours() -> None:
    """Twelve hours over the night the clocks go forward are twelve hours between instants."""
    found = event(written(clock_change()), "Cold proof")
    assert found["DTEND"].dt - found["DTSTART"].dt == timedelta(hours=12)


def test_waits_leave_the_cook_free() -> None:
    """Unattended waits are TRANSPARENT, what needs someone is OPAQUE (RFC 5545, section 3.8.2.7)."""
    file = written(two_weeks())
    assert event(file, "Cabbage ferments")["TRANSP"] == "TRANSPARENT"
    for name in ("Salt and pack the cabbage", "Simmer the beans", "Vent the lid"):
        assert event(file, name)["TRANSP"] == "OPAQUE"


def test_alarms_sound_before_what_someone_has_to_begin() -> None:
    """Ten minutes before work and before a wait somebody begins, at a touch, never for a wait that begins
    itself; a negative trigger sounds before the start (RFC 5545, section 3.8.6.3).
    """
    file = written(two_weeks())

    def ahead(name: str) -> list[timedelta]:
        return [alarm["TRIGGER"].dt for alarm in event(file, name).walk("VALARM")]

    assert ahead("Salt and pack the cabbage") == [timedelta(minutes=-10)]
    assert ahead("Soak the beans") == [timedelta(minutes=-10)]
    assert ahead("Vent the lid") == [timedelta(0)]
    assert ahead("Cabbage ferments") == []


def test_alarms_have_what_a_display_alarm_needs() -> None:
    """A DISPLAY alarm holds ACTION, TRIGGER and DESCRIPTION (RFC 5545, section 3.6.6)."""
    alarms = Calendar.from_ical(written(two_weeks())).walk("VALARM")
    assert alarms
    assert all(alarm["ACTION"] == "DISPLAY" and alarm["TRIGGER"] and alarm["DESCRIPTION"] for alarm in alarms)


def test_the_meal_takes_no_invented_time() -> None:
    """Nobody said how long the meal lasts: its event has no end, and so ends as it starts (section 3.6.1)."""
    plan = two_weeks()
    meal = events(written(plan))[-1]
    assert (meal["DTSTART"].dt, "DTEND" in meal) == (plan.serve, False)
    assert str(meal["SUMMARY"]) == "At the table: Winter table for eight"


def test_identifiers_differ_and_last() -> None:
    """No two events share a UID (section 3.8.4.7); a moved timetable keeps them; no host name is in them
    (RFC 7986; section 5.3, from memory).
    """
    plan = two_weeks()
    timetable = timetable_of(plan)
    hour = timedelta(hours=1)
    moved = replace(
        timetable,
        serve=timetable.serve + hour,
        slots=tuple(replace(slot, start=slot.start + hour, end=slot.end + hour) for slot in timetable.slots),
    )
    first, second = ([str(found["UID"]) for found in events(written(plan, t))] for t in (timetable, moved))
    assert first == second
    assert len(set(first)) == len(first)
    assert all(re.fullmatch(r"[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}", identifier) for identifier in first)


def test_another_meal_has_other_identifiers() -> None:
    """The same plan on another day is another meal, also where only the timetable names the hour."""
    plan = replace(named("Knead"), serve=None)
    days = (datetime(2026, 12, day, 12, tzinfo=UTC) for day in (12, 13))
    first, second = ({found["UID"] for found in events(written(plan, Timetable(day, ())))} for day in days)
    assert not first & second


def test_the_description_says_what_a_cook_needs() -> None:
    """Amounts with their grams, the sign to wait for, gear, heat, cook and caution stand in the event."""
    plan = two_cooks()
    step = replace(
        plan.steps[0],
        amounts=(
            Amount("limes", Decimal(1), "kg"),
            Amount("salt", Decimal("2.5"), "%", ("limes",), Decimal("22.5")),
            Amount("eggs", Decimal(3)),
        ),
        gear=("burner", "pot"),
        oven=180,
        at=4.5,
        caution="mould",
    )
    first = Component("Lime pickle", (step, *plan.components[0].steps[1:]))
    kitchen = replace(plan.kitchen, gear={"burner": 1, "pot": 1, "oven": 1})
    plan = replace(plan, kitchen=kitchen, components=(first, *plan.components[1:]))
    file = written(plan)
    assert str(event(file, step.name)["DESCRIPTION"]).split("\n")[:-1] == [
        "Hands-on, 30 min",
        *("limes 1 kg", "salt 23 g (2.5 % of the limes' weight)", "eggs 3"),
        "Oven at 180 C; at 4.5 C; needs burner, pot.",
        "Cook: Mira",
        *beware(step),
    ]
    assert beware(step)
    assert "Until: doubled and airy" in str(event(file, "Batter rises")["DESCRIPTION"])


@pytest.mark.parametrize(
    ("latest", "last_call", "said"),
    [
        (0, 0, ["Has to start on time"]),
        (25, 25, ["May start until 13:15 (Europe/Paris)"]),
        (
            25,
            12 * 60,
            [
                "May start until 13:15 (Europe/Paris)",
                "At the very latest Sun 13 Dec 00:50 (Europe/Paris), and then what follows moves",
            ],
        ),
    ],
)
def test_the_window_is_told_in_local_time(latest: int, last_call: int, said: list[str]) -> None:
    """How late a step may start is said in the plan's zone, with the date where it is another."""
    plan = named("Knead")
    timetable = timetable_of(plan)
    slot = timetable.slots[0]
    start = slot.start
    slot = replace(
        slot,
        latest=start + timedelta(minutes=latest),
        last_call=start + timedelta(minutes=last_call),
    )
    file = written(plan, replace(timetable, slots=(slot,)))
    assert str(event(file, "Knead")["DESCRIPTION"]).split("\n")[1:] == said


def test_a_touch_that_falls_badly_says_why() -> None:
    """A touch names the wait it belongs to and its trouble, and lasts as long as the plan says."""
    wait = [Draft("Ferment", U, 3 * D1, tend=tend("Vent", timedelta(days=1)))]
    plan = plan_of("Pickle", "2026-12-12 13:00", "Europe/Paris", {"Pickle": wait})
    timetable = timetable_of(plan)
    touch = replace(timetable.touches[0], trouble="nobody is at home")
    found = event(written(plan, replace(timetable, touches=(touch,))), "Vent")
    assert str(found["DESCRIPTION"]) == "During: Ferment\nnobody is at home"
    assert found["DTEND"].dt - found["DTSTART"].dt == timedelta(minutes=2)


def test_the_same_timetable_gives_the_same_bytes() -> None:
    """Nothing but the arguments goes into the file; the stamp is the caller's (section 3.8.7.2)."""
    assert written(two_weeks()) == written(two_weeks())
    assert all(found["DTSTAMP"].dt == STAMP for found in events(written(two_weeks())))


def test_a_naive_stamp_is_refused() -> None:
    """A stamp without an offset names no instant."""
    with pytest.raises(ValueError, match="offset"):
        calendar(two_weeks(), timetable_of(two_weeks()), stamp=STAMP.replace(tzinfo=None))


@settings(max_examples=25, deadline=None)
@given(st.text(max_size=60), st.text(max_size=60))
def test_any_name_is_written_and_read_back(title: str, name: str) -> None:
    """Whatever a plan says, the file parses, holds no control character, and restores the words."""
    file = written(named(name, title=title))
    read = events(file)
    assert len(read) == 2
    assert not re.search(rb"[\x00-\x09\x0b\x0c\x0e-\x1f\x7f]", file)
    assert str(read[0]["SUMMARY"]) == one_line(name)


def test_importing_is_cheap() -> None:
    """The modules load without the libraries that draw and write, so that asking for help stays quick."""
    program = (
        "import sys, bot.calendar, bot.picture; "
        "print([name for name in ('icalendar', 'matplotlib', 'numpy') if name in sys.modules])"
    )
    ran = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=True, cwd=ROOT
    )
    assert ran.stdout.strip() == "[]"
