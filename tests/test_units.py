"""Measures in any unit, against pint and against what plans read without it."""

from __future__ import annotations

import sys
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pint import UnitRegistry

from scheduler.planfile.text import TextError
from scheduler.units import in_metric, length_mm
from tests.test_contracts import python

REGISTRY = UnitRegistry()


@given(st.integers(1, 99_999), st.sampled_from(["mm", "cm", "m", "in", "inch", "inches"]))
def test_lengths_are_those_of_the_reference_library(hundredths: int, unit: str) -> None:
    """Metric ones are read without pint, and come to the same."""
    wanted = REGISTRY.Quantity(hundredths / 100, unit).to("mm").magnitude
    assert length_mm(f"{hundredths / 100:.2f} {unit}") == pytest.approx(wanted, rel=1e-9)


@pytest.mark.parametrize("wrong", ["40", "mm", "40 g", "-4 mm", "4 mm 2", "4 ells", ""])
def test_what_is_no_length_is_refused(wrong: str) -> None:
    """No number, no unit, another kind of unit, an unknown one."""
    with pytest.raises(TextError):
        length_mm(wrong)


@pytest.mark.parametrize(
    ("number", "unit", "wanted"),
    [
        (1, "stone", ("6350.2932", "g")),
        (1, "quart", ("946.3529", "ml")),
        (1, "fl oz", ("29.5735", "ml")),
        (2, "gallon", ("7570.8236", "ml")),
    ],
)
def test_household_measures_to_four_places(number: int, unit: str, wanted: tuple[str, str]) -> None:
    """Fourteen pounds, and measures of the United States (NIST Handbook 44, appendix C, from memory)."""
    assert in_metric(Decimal(number), unit) == (Decimal(wanted[0]), wanted[1])


def test_metric_lengths_need_no_library() -> None:
    """A plan in millimetres does not wait half a second for pint."""
    script = (
        "import sys\nfrom scheduler.units import length_mm\nprint(length_mm('4 cm'), 'pint' in sys.modules)"
    )
    assert python(script).split() == ["40.0", "False"] and "pint" in sys.modules
