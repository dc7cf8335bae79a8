"""Readings: what a note says was measured, and what is published about it."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.understanding.measures import reading
from scheduler.domain.kitchen.readings import (
    ACID_ENOUGH,
    METER_ERROR,
    Measured,
    Reading,
    acidity,
    measured_in,
    readings,
    too_warm,
    warmth,
)
from scheduler.domain.kitchen.salt import KINDS, Kind
from scheduler.domain.marks import Mark, MarkKind

NOON = datetime(2026, 11, 10, 12, tzinfo=UTC)
DAY = timedelta(days=1)


def note(text: str, days: int, step: int | None = 1, batch: str = "") -> Mark:
    at = NOON + days * DAY
    return Mark(MarkKind.NOTE, at, at, batch or text, step, text=text)


@pytest.mark.parametrize(
    ("text", "measured", "value"),
    [
        ("pH 3.9", Measured.PH, "3.9"),
        ("ph of the turnips is 3,9 today", Measured.PH, "3.9"),
        ("3.9 pH", Measured.PH, "3.9"),
        ("pH 14", Measured.PH, "14"),
        ("24 C", Measured.HEAT, "24"),
        ("kitchen is 24 degrees today", Measured.HEAT, "24"),
        ("24.5°C", Measured.HEAT, "24.5"),
        ("75 F", Measured.HEAT, "23.9"),
        ("-18 C", Measured.HEAT, "-18"),
    ],
)
def test_a_note_gets_its_type_when_it_is_read(text: str, measured: Measured, value: str) -> None:
    """Acidity, or heat in degrees Celsius, as the cook wrote it down."""
    assert measured_in(text) == (measured, Decimal(value))


@pytest.mark.parametrize(
    "text", ["used the red cabbage", "24 cm wide", "pH 39", "turned it 3 times", "pH soon", ""]
)
def test_other_notes_are_no_readings(text: str) -> None:
    """Words, other figures and a pH that cannot be."""
    assert measured_in(text) is None


@given(st.decimals(min_value=0, max_value=14, places=2), st.sampled_from(["", " on the turnips"]))
@settings(max_examples=60)
def test_what_is_understood_is_read_back(value: Decimal, about: str) -> None:
    """Whatever the chat takes down as a reading comes back as that reading."""
    assert measured_in(reading(f"ph {value}{about}")) == (Measured.PH, value)
    assert measured_in(reading(f"{value} degrees{about}")) == (Measured.HEAT, value)


@given(st.text(max_size=80))
@settings(max_examples=80)
def test_any_note_is_read(text: str) -> None:
    """Whatever a note holds, it is a reading or none."""
    found = measured_in(text)
    assert found is None or found[1].is_finite()


def test_readings_of_a_step_in_their_order() -> None:
    """By when they were taken; other steps, other notes and what was taken back are left out."""
    marks = [
        note("pH 4.6", 0),
        note("pH 3.9", 4),
        note("pH 4.1", 2),
        note("tastes of dill", 3),
        note("pH 7", 1, step=2),
        note("24 C", 1, step=None),
        note("pH 9", 5, batch="slip"),
        Mark(MarkKind.UNDONE, NOON, NOON, "undo", undoes="slip"),
    ]
    assert [str(each) for each in readings(marks, {1})] == ["pH 4.6", "pH 4.1", "pH 3.9"]
    assert readings(marks, {None}) == (Reading(Measured.HEAT, Decimal(24), NOON + DAY),)


@pytest.mark.parametrize(
    ("value", "says"),
    [
        # 21 CFR 114.3 (a) and (b), read and read in a copy: 4.6 or below. AF-05, worked out: 4.60 itself meets it, and
        # a meter's error of 0.1 counts against the reading first.
        ("3.3", "That meets"),  # PK-08, a finished cucumber ferment: 3.30 (J. Food Quality 8051435, read)
        ("4.5", "That meets"),
        ("4.51", "That just meets"),
        ("4.60", "That just meets"),
        ("4.61", "That does not meet"),
        ("4.7", "That does not meet"),
        ("7", "That does not meet"),
    ],
)
def test_a_ph_against_the_published_limit(value: str, says: str) -> None:
    """AF-01, AF-02, AF-04 (UC ANR, read): at or below 4.6, with the meter's error on the strict side."""
    said = acidity(Decimal(value))
    assert said.startswith(f"{says} the limit of pH 4.6 or below (21 CFR 114.3)")
    assert (Decimal("4.6"), Decimal("0.1")) == (ACID_ENOUGH, METER_ERROR)


def test_a_reading_too_sour_to_be_true_meets_nothing() -> None:
    """A slip ("pH 1") is asked to be measured again (our choice; PK-08 ends at 3.3); from 2.5 on it is judged."""
    assert acidity(Decimal(1)).startswith("No ferment turns as sour as that")
    assert acidity(Decimal("2.5")).startswith("That meets")


@pytest.mark.parametrize(("value", "told"), [("3.9", False), ("4.3", True), ("4.55", True), ("4.8", True)])
def test_ripe_kimchi_may_be_near_the_limit(value: str, told: bool) -> None:
    """KM-02 (textbook chapter, read in a copy): pH 4.2 to 4.5 when ripe; said of kimchi alone, where it is near."""
    assert ("Ripe kimchi lies at pH 4.2 to 4.5" in acidity(Decimal(value), KINDS["kimchi"])) is told
    assert "kimchi" not in acidity(Decimal(value), KINDS["cabbage"])


@pytest.mark.parametrize(
    ("kind", "at_c", "says"),
    [
        # SK-07 and SK-09, Michigan State University Extension, read.
        (
            "cabbage",
            "17",
            "At 16 C to 18 C cabbage takes 5 to 6 weeks (Michigan State University Extension, sauerkraut).",
        ),
        ("cabbage", "25", "Above 24 C it may become soft (Michigan State University Extension, sauerkraut)."),
        ("cabbage", "24", "At 21 C to 24 C cabbage takes 3 to 4 weeks"),  # from memory
        ("cabbage", "12", "Below 16 C it is slow"),  # from memory
        # PK-02 and PK-04, the USDA recipe, read in a copy.
        ("cucumbers", "22", "At 21 C to 24 C cucumbers take 3 to 4 weeks"),
        ("cucumbers", "28", "Above 27 C they turn soft"),
        # KM-04 and KM-06, Lee and Lee 1993, read in a copy.
        ("kimchi", "25", "At 25 C kimchi takes 2 to 3 days (Lee and Lee (1993), kimchi)."),
        ("kimchi", "4", "At 4 C to 5 C kimchi takes 2 to 3 weeks"),
        ("kimchi", "35", ""),
        ("olives", "20", ""),
        (
            "vegetables",
            "26",
            "Above 24 C it may become soft (Michigan State University Extension, sauerkraut).",
        ),
    ],
)
def test_heat_against_what_is_published(kind: str, at_c: str, says: str) -> None:
    """Too warm, too cool, or how long it takes at that; nothing where nothing is published."""
    said = warmth(KINDS[kind], Decimal(at_c))
    assert said.startswith(says) and bool(said) == bool(says)
    assert ("from memory" in said) == (("3 to 4 weeks" in said and kind == "cabbage") or "slow" in said)


@given(st.sampled_from(list(KINDS.values())), st.integers(20, 60), st.integers(0, 20))
@settings(max_examples=60)
def test_warmer_never_takes_a_warning_back(kind: Kind, at_c: int, more: int) -> None:
    """What is too warm stays so when it is warmer still, and nothing else is said then."""
    if too_warm(kind, Decimal(at_c)):
        assert too_warm(kind, Decimal(at_c + more)) == warmth(kind, Decimal(at_c + more)) != ""
