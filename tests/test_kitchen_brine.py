"""Brine: its density, grams per litre and degrees Salometer, against the published tables."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.domain.kitchen.brine import (
    SATURATED_PERCENT,
    STRONGEST_PERCENT,
    TooStrong,
    density_kg_m3,
    grams_per_litre,
    percent_from_density,
    percent_from_grams_per_litre,
    percent_from_salometer,
    percent_from_specific_gravity,
    salometer_degrees,
    specific_gravity,
)
from scheduler.domain.kitchen.shares import Convention, Packed, Way, percent

# Poradnik fizykochemiczny (1974), aqueous NaCl, read: percent by weight; density at 20 C and at 15 C in kg/m3;
# grams a litre at 20 C; percent of the water; degrees Salometer.
POLISH = """
1 1005.3 1007.1 10.05 1.010 3.8
2 1012.2 1014.4 20.24 2.041 7.6
4 1026.8 1029.2 41.07 4.167 15.2
6 1041.3 1044.1 62.48 6.383 22.7
8 1055.9 1059.1 84.47 8.696 30.3
10 1070.7 1074.2 107.07 11.111 37.9
12 1085.7 1089.5 130.28 13.636 45.5
14 1100.9 1104.9 154.13 16.279 53.0
16 1116.2 1120.6 178.59 19.048 60.6
18 1131.9 1136.4 203.74 21.951 68.2
20 1147.8 1152.5 229.56 25.000 75.8
22 1164.0 1168.9 256.08 28.205 83.3
24 1180.4 1185.6 283.30 31.579 90.9
26 1197.2 1202.5 311.27 35.135 98.5
"""
# CRC Handbook, by an engineering reference page, read in a copy: percent and density at 20 C. Those of 3 % to 25 %
# that are not even, from memory.
CRC = (
    ("1", "1005.3"), ("5", "1034.0"), ("10", "1070.7"), ("20", "1147.8"),
    ("3", "1019.6"), ("7", "1048.6"), ("9", "1063.3"),
)  # fmt: skip

ROWS = [tuple(map(Decimal, line.split())) for line in POLISH.strip().splitlines()]
A_THOUSANDTH = Decimal("0.001")

strengths = st.decimals(min_value=0, max_value=26, places=4)


def near(found: Decimal, printed: Decimal, within: Decimal = A_THOUSANDTH) -> bool:
    return abs(found - printed) <= printed * within


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row[0]} %")
def test_every_row_of_the_table_within_a_thousandth(row: tuple[Decimal, ...]) -> None:
    """Density at both temperatures, grams a litre, percent of the water, and degrees to the tenth printed."""
    strength, at_20_c, at_15_c, litre, of_water, degrees = row
    assert near(density_kg_m3(strength), at_20_c) and near(density_kg_m3(strength, 15), at_15_c)
    assert near(grams_per_litre(strength), litre)
    assert abs(salometer_degrees(strength) - degrees) <= Decimal("0.05")
    water = Packed(water_g=100 - strength)
    assert abs(percent(strength, Way(Convention.OF_WATER), water) - of_water) <= Decimal("0.0005")


@pytest.mark.parametrize(("strength", "printed"), CRC)
def test_rows_between_agree_too(strength: str, printed: str) -> None:
    """Interpolated strengths are within a thousandth of a second table."""
    assert near(density_kg_m3(Decimal(strength)), Decimal(printed))


def test_the_printed_grams_a_litre() -> None:
    """Grams a litre as the 1974 table itself prints them, to its last figure."""
    for strength, printed in (("1", "10.053"), ("4", "41.072"), ("6", "62.478"), ("8", "84.472")):
        assert near(grams_per_litre(Decimal(strength)), Decimal(printed), Decimal("0.0001"))


def test_a_litre_with_fifty_grams() -> None:
    """BR-4, worked out: 50 g in a litre of brine is 4.84 % by weight, its density about 1.034 kg a litre."""
    strength = percent_from_grams_per_litre(Decimal(50))
    assert round(strength, 2) == Decimal("4.84")
    assert abs(density_kg_m3(strength) - 1034) < 2


def test_saturated_is_a_hundred_degrees() -> None:
    """26.395 % is 100 degrees at 60 F (definition, read); 35.86 g in 100 g of water; cucumber brine of 20 is 5 %."""
    assert round(SATURATED_PERCENT * 100 / (100 - SATURATED_PERCENT), 2) == Decimal("35.86")
    assert salometer_degrees(SATURATED_PERCENT / 2) == 50
    # PK-06, Hutkins, read in a copy: 20 degrees Salometer is about 5 %.
    assert abs(percent_from_salometer(Decimal(20)) - 5) < Decimal("0.3")


@pytest.mark.parametrize("strength", ["26.01", "27", "99"])
def test_more_than_water_takes_up_is_refused(strength: str) -> None:
    """Above 26 % there is no brine, however it is asked for."""
    too_much = Decimal(strength)
    for ask in (density_kg_m3, grams_per_litre, salometer_degrees, specific_gravity):
        with pytest.raises(TooStrong, match="at most 26 %"):
            ask(too_much)
    with pytest.raises(TooStrong):
        percent_from_density(Decimal("1197.3"))
    with pytest.raises(TooStrong):
        percent_from_grams_per_litre(Decimal(312))
    with pytest.raises(TooStrong):
        percent_from_salometer(Decimal(99))


def test_less_than_nothing_is_no_brine() -> None:
    """Strengths below nothing, and densities below that of water, are refused."""
    for wrong in (lambda: density_kg_m3(Decimal(-1)), lambda: percent_from_density(Decimal(990))):
        with pytest.raises(ValueError, match=r"no less than|lighter than water"):
            wrong()
    assert density_kg_m3(Decimal(0)) == Decimal("998.2")  # pure water at 20 C, from memory


@given(strengths, st.sampled_from([15, 20]))
@settings(max_examples=80)
def test_density_and_strength_lead_back_to_each_other(strength: Decimal, at_c: int) -> None:
    """A density, a specific gravity, grams a litre or degrees that were worked out give the strength again."""
    close = Decimal("1e-6")
    assert abs(percent_from_density(density_kg_m3(strength, at_c), at_c) - strength) < close
    assert abs(percent_from_specific_gravity(specific_gravity(strength, at_c), at_c) - strength) < close
    assert abs(percent_from_grams_per_litre(grams_per_litre(strength, at_c), at_c) - strength) < close
    assert abs(percent_from_salometer(salometer_degrees(strength)) - strength) < close


@given(strengths, strengths)
@settings(max_examples=60)
def test_stronger_is_denser(one: Decimal, other: Decimal) -> None:
    """Density, grams a litre and degrees grow with the strength, and cold brine is the denser."""
    low, high = min(one, other), max(one, other)
    assert density_kg_m3(low) <= density_kg_m3(high) <= density_kg_m3(STRONGEST_PERCENT)
    assert grams_per_litre(low) <= grams_per_litre(high)
    assert salometer_degrees(low) <= salometer_degrees(high)
    assert density_kg_m3(low) < density_kg_m3(low, 15)
