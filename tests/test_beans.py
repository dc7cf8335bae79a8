"""Beans: the published rules, each with how it is known, and which beans are meant."""

from __future__ import annotations

from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scheduler.domain.kitchen.hazards import beans, named
from scheduler.domain.kitchen.hazards.beans import names_beans, names_kidney_beans, soaked_g, takes_up_in_h
from scheduler.planfile import read
from tests.hazard_plans import HEAD, part, refused

HOUR = timedelta(hours=1)
MINUTE = timedelta(minutes=1)


@pytest.mark.parametrize(
    ("taken", "published"),
    [
        # FDA Bad Bug Book, 2nd ed., 2012, read in a summary: soak 5 h, boil 30 min in fresh water.
        (beans.SOAK, 5 * HOUR),
        (beans.BOIL, 30 * MINUTE),
        # Canadian bean growers' hints, undated, read: over-soaked beyond 12 h. "At least 12 h": common practice.
        (beans.LONG_SOAK, 12 * HOUR),
        # US dry bean council by way of the School Nutrition Association, undated, read: cold at least 8 h.
        (beans.COLD_SOAK, 8 * HOUR),
        # Nebraska Dry Bean Commission, undated, read: 1 h to 4 h; University of New Hampshire, 2020, read: 1 h.
        (beans.HOT_SOAK, (1 * HOUR, 4 * HOUR)),
    ],
)
def test_the_times_are_the_published_ones(taken: object, published: object) -> None:
    """Each time is what its source prints."""
    assert taken == published


@pytest.mark.parametrize(
    "shorter",
    [
        10 * MINUTE,  # British advice, quoted in the FDA Bad Bug Book, 1st ed., read in a copy
        10 * MINUTE,  # an abstract on the lectin of kidney beans, read
        20 * MINUTE,  # Bender & Reaidi, J. Plant Foods, 1982, abstract, read
    ],
)
def test_of_conflicting_boils_the_longest_is_the_gate(shorter: timedelta) -> None:
    """A boil as long as the gate meets every source."""
    assert shorter < beans.BOIL


def test_the_caution_says_what_to_do_where_water_boils_cooler() -> None:
    """Water boils about 1 C cooler for each 300 m (worked out): the printed time does not hold high up."""
    said = named("kidney beans").says
    assert "longer high up" in said and "30 min" in said and "5 h" in said and "slow cooker" in said


@pytest.mark.parametrize(
    ("at_c", "hours"),
    [(25.0, 10.0), (35.0, 6.0), (45.0, 4.0)],  # Kwofie et al., 2019, read; within 1 h
)
def test_the_time_to_take_up_water_is_the_measured_one(at_c: float, hours: float) -> None:
    """At the three temperatures that were measured it is what was measured."""
    assert takes_up_in_h(at_c) == pytest.approx(hours, abs=1e-9)


def test_ten_degrees_make_the_published_difference() -> None:
    """From 25 to 35 C 1.67 times as fast, from 35 to 45 C 1.5 times (worked out from the same figures)."""
    assert takes_up_in_h(25) / takes_up_in_h(35) == pytest.approx(1.67, abs=0.005)
    assert takes_up_in_h(35) / takes_up_in_h(45) == pytest.approx(1.50, abs=0.005)


@given(st.floats(25, 45), st.floats(25, 45))
def test_warmer_water_is_never_slower(one: float, other: float) -> None:
    """Between the measured temperatures the time falls as it gets warmer."""
    colder, warmer = sorted((one, other))
    assert takes_up_in_h(colder) >= takes_up_in_h(warmer) - 1e-9


@pytest.mark.parametrize("at_c", [4.0, 24.9, 45.1, 90.0])
def test_nothing_is_told_of_a_soak_that_was_not_measured(at_c: float) -> None:
    """Outside of what was measured there is no figure."""
    with pytest.raises(ValueError, match="no soak was measured"):
        takes_up_in_h(at_c)


def test_soaked_beans_weigh_more_than_twice_as_much() -> None:
    """They take up 127 % of their dry weight, give or take 5 (Kwofie et al., 2019, read): a factor of 2.27."""
    assert soaked_g(100) == pytest.approx(227, abs=5)


@pytest.mark.parametrize(
    ("text", "kidney", "beans"),
    [
        ("dried kidney beans", True, True),
        ("Red kidney-bean stew", True, True),
        (
            "white kidney beans",
            True,
            True,
        ),  # about a third of the lectin (Bad Bug Book, 1st ed., read in a copy)
        ("Cannellini", True, True),
        ("rajma", True, True),
        ("dried white beans", False, True),
        ("borlotti", False, True),
        ("black beans", False, True),
        ("tinned kidney beans", False, False),
        ("kidney beans 2 tins", False, False),
        ("cooked cannellini", False, False),
        ("broad beans", False, False),  # 5 to 10 % of the lectin (the same)
        ("green beans", False, False),
        ("coffee beans", False, False),
        ("lamb kidneys", False, False),
        ("beanie", False, False),
    ],
)
def test_kidney_beans_are_told_from_others(text: str, kidney: bool, beans: bool) -> None:
    """By name; what comes cooked is not meant, nor are beans of other plants."""
    assert (names_kidney_beans(text), names_beans(text)) == (kidney, beans)


# ---------------------------------------------------------------- remarks of a plan


def remarks(*parts: str) -> tuple[str, ...]:
    return read(HEAD + "".join(parts), zone="UTC").remarks


def beans_soaked(for_: str, kind: str = "white beans", more: str = "") -> str:
    soak = f"name: Soak them, unattended: {for_}, amounts: {{dried {kind}: 500 g}}{more}"
    return part("Beans", soak, "name: Boil the beans, nearby: 1 h, gear: [burner], keeps: 1 h")


def test_a_long_soak_is_remarked_on_with_both_sides() -> None:
    """Growers say at most 12 h, cooks at least 12 h (no source): both are told, and what was measured."""
    said, takes_up = remarks(beans_soaked("12 h to 18 h"))
    assert len(said) < 240 and len(takes_up) < 240, "what a chat shows of one line"
    assert "beyond 12 h" in said and "Canadian bean growers' hints" in said
    assert "at least 12 h (common practice, no source)" in said
    assert (
        "At 25 C beans take up all they will in about 10 h; 500 g then weigh about 1.1 kg (Kwofie et al., 2019)."
        in takes_up
    )


def test_the_soaks_own_temperature_is_used_where_it_was_measured() -> None:
    """A soak at 35 C takes about 6 h."""
    _, said = remarks(beans_soaked("at least 10 h", more=", at: 35 C"))
    assert "At 35 C beans take up all they will in about 6 h" in said


def test_a_short_cold_soak_of_other_beans_is_a_remark() -> None:
    """Less than 8 h cold: the council's time and the hot soak are told, and the plan is read."""
    said, _ = remarks(beans_soaked("6 h to 8 h"))
    assert "8 h" in said and "1 h to 4 h" in said and "Nebraska" in said


def test_an_ordinary_soak_is_not_remarked_on() -> None:
    """Between the two nothing is said, of kidney beans neither."""
    assert remarks(beans_soaked("8 h to 12 h")) == ()
    assert remarks(beans_soaked("5 h to 12 h", "kidney beans")) == ()


def test_a_hot_soak_is_too_short_for_kidney_beans() -> None:
    """What is published for other beans does not do for these: the FDA's 5 h are longer."""
    assert refused(beans_soaked("1 h to 4 h", "kidney beans"))
