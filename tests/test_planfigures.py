"""The figures of a plan file: temperatures, amounts, counts."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta
from decimal import Decimal

import pytest

from scheduler.planfile import figures as figures
from scheduler.planfile.figures import Quantity
from scheduler.planfile.text import TextError

HOUR, DAY = timedelta(hours=1), timedelta(days=1)


@pytest.mark.parametrize(
    ("written", "celsius"),
    [
        ("19 C", 19.0),
        ("19°C", 19.0),
        ("-18 c", -18.0),
        ("37.5 C", 37.5),
        ("66 F", 18.9),
        ("212 F", 100.0),
        ("-40 F", -40.0),
    ],
)
def test_temperatures(written: str, celsius: float) -> None:
    """Celsius as written, Fahrenheit to the tenth of a degree (212 F is 100 C, -40 F is -40 C)."""
    assert figures.celsius(written) == celsius


@pytest.mark.parametrize(
    ("written", "degrees"), [("180 C", 180), ("350 F", 177), ("475 F", 246), ("149.5 C", 150)]
)
def test_oven_heat_is_in_whole_degrees(written: str, degrees: int) -> None:
    """Rounded to the nearest degree, halves up."""
    assert figures.oven_heat(written) == degrees


@pytest.mark.parametrize(
    ("grammar", "written"),
    [
        (figures.celsius, "19"),
        (figures.celsius, "warm"),
        (figures.celsius, "19 K"),
        (figures.celsius, "301 C"),
        (figures.oven_heat, "180"),
        (figures.oven_heat, "20 C"),
        (figures.oven_heat, "551 C"),
        (figures.oven_heat, ""),
        (figures.lead, "2 days ahead"),
        (figures.lead, "before"),
        (figures.yes_or_no, "maybe"),
        (figures.yes_or_no, "1"),
    ],
)
def test_what_are_no_figures(grammar: Callable[[str], object], written: str) -> None:
    """Temperatures without a unit or out of bounds, and other words than those expected."""
    with pytest.raises(TextError):
        grammar(written)


def test_leads_counts_and_answers() -> None:
    """ "2 d before", whole numbers within bounds, yes and no."""
    assert (figures.lead("2 d before"), figures.lead("12 h")) == (2 * DAY, 12 * HOUR)
    assert (figures.count("1", 1, 5), figures.count(" 5 ", 1, 5)) == (1, 5)
    assert [figures.yes_or_no(word) for word in ("true", "Yes", "false", "NO")] == [True, True, False, False]
    for written in ("0", "6", "2.0", "", "two", "٣", "+1"):
        with pytest.raises(TextError, match="from 1 to 5"):
            figures.count(written, 1, 5)


@pytest.mark.parametrize(
    ("written", "quantity"),
    [
        ("900 g", Quantity(Decimal(900), "g")),
        ("1.2l", Quantity(Decimal("1.2"), "L")),
        ("2 Pounds", Quantity(Decimal(2), "lb")),
        ("3 cups", Quantity(Decimal(3), "cup")),
        ("3", Quantity(Decimal(3))),
        ("8 pieces", Quantity(Decimal(8), "pieces")),
        ("2 fat cloves", Quantity(Decimal(2), "fat cloves")),
        ("2.5 % of turnips", Quantity(Decimal("2.5"), "%", ("turnips",))),
        ("3% of water + turnips", Quantity(Decimal(3), "%", ("water", "turnips"))),
    ],
)
def test_amounts(written: str, quantity: Quantity) -> None:
    """Weights, volumes, counts, and percentages of one thing or several."""
    assert figures.quantity(written) == quantity


@pytest.mark.parametrize(
    "written",
    [
        "",
        "some",
        "0",
        "0 g",
        "-1 g",
        "1/2 tsp",
        "2 %",
        "5 % salt",
        "5 % of",
        "1001 % of x",
        "5 % of a +",
        "99999999 g",
        "2 x 3 g",
    ],
)
def test_what_are_no_amounts(written: str) -> None:
    """No number, nothing at all, a percentage of nothing, and more than a kitchen holds."""
    with pytest.raises(TextError):
        figures.quantity(written)
