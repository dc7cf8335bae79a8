"""Amounts as a recipe states them, and percentages worked out."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scheduler.domain.kitchen.amounts import Amount, as_weighed, plain, resolve

TURNIPS = Amount("turnips", Decimal(900), "g")
WATER = Amount("water", Decimal("1.2"), "kg")
SALT = Amount("salt", Decimal("2.5"), "%", ("turnips",))
BRINE = Amount("brine salt", Decimal(3), "%", ("turnips", "water"))


@pytest.mark.parametrize(
    ("amount", "grams"),
    [
        (TURNIPS, Decimal(900)),
        (WATER, Decimal(1200)),
        (Amount("butter", Decimal(1), "lb"), Decimal("453.59237")),  # NIST SP 811, appendix B.8
        (Amount("milk", Decimal(1), "L"), None),
        (Amount("eggs", Decimal(3)), None),
        (SALT, None),
        (Amount("salt", Decimal("2.5"), "%", ("turnips",), Decimal("22.5")), Decimal("22.5")),
    ],
)
def test_grams(amount: Amount, grams: Decimal | None) -> None:
    """A weight has grams, and a percentage once it has been worked out; a volume or count has none."""
    assert amount.grams == grams


def test_a_percentage_of_what_is_known() -> None:
    """Of one weight, of several, and of a percentage in turn."""
    known = {"turnips": TURNIPS, "water": WATER, "salt": SALT}
    assert resolve(SALT, known) == Amount("salt", Decimal("22.5"), "g")
    assert resolve(BRINE, known) == Amount("brine salt", Decimal(63), "g")
    assert resolve(Amount("spice", Decimal(10), "%", ("salt",)), known).grams == Decimal("2.25")
    assert resolve(TURNIPS, {}) is TURNIPS


def test_what_was_worked_out_gives_way_to_what_is_known() -> None:
    """The reader's own figure holds until other weights are given: "how much salt for 850 g of turnips"."""
    worked = Amount("salt", Decimal("2.5"), "%", ("turnips",), Decimal("22.5"))
    assert resolve(worked, {}).grams == Decimal("22.5")
    assert resolve(worked, {"turnips": Amount("turnips", Decimal(850), "g")}).grams == Decimal("21.25")


def test_percentages_that_cannot_be_worked_out() -> None:
    """A name that isn't known, half of several, one that isn't a weight, and a ring are refused."""
    with pytest.raises(KeyError):
        resolve(SALT, {})
    with pytest.raises(KeyError):
        resolve(BRINE, {"turnips": TURNIPS})
    with pytest.raises(ValueError, match="turnips is not given by weight"):
        resolve(SALT, {"turnips": Amount("turnips", Decimal(3), "L")})
    ring = {"a": Amount("a", Decimal(1), "%", ("b",)), "b": Amount("b", Decimal(1), "%", ("a",))}
    with pytest.raises(KeyError):
        resolve(ring["a"], ring)


@given(st.integers(1, 100_000), st.integers(1, 1000))
def test_a_percentage_scales_with_its_weight(grams: int, tenths: int) -> None:
    """Twice the vegetable takes twice the salt."""
    salt = Amount("salt", Decimal(tenths) / 10, "%", ("turnips",))
    once, twice = (
        resolve(salt, {"turnips": Amount("turnips", Decimal(times * grams), "g")}).grams for times in (1, 2)
    )
    assert once is not None
    assert twice == 2 * once


@pytest.mark.parametrize(
    ("grams", "shown"),
    [
        ("22.5", "23"),
        ("9.96", "10.0"),
        ("2.25", "2.3"),
        ("0.04", "0.04"),
        ("0.996", "1.00"),
        ("1499.4", "1499"),
    ],
)
def test_as_a_kitchen_scale_shows_it(grams: str, shown: str) -> None:
    """Whole grams from ten up, tenths below, hundredths below one, where tenths would be out by a twentieth."""
    assert str(as_weighed(Decimal(grams))) == shown


@pytest.mark.parametrize(
    ("number", "shown"),
    [("900", "900"), ("1.50", "1.5"), ("1E+3", "1000"), ("100", "100"), ("0.0010", "0.001")],
)
def test_plain_numbers(number: str, shown: str) -> None:
    """No exponent and no zeros that say nothing."""
    assert plain(Decimal(number)) == shown
