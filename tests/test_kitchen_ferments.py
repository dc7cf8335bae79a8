"""How much longer a ferment takes at another temperature, against published times."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scheduler.domain.kitchen.amounts import Amount
from scheduler.domain.kitchen.ferments import COVERED_C, Life, NoFigures, life_of, pace
from scheduler.domain.kitchen.sources import How
from scheduler.domain.scaling import with_step
from tests.plans_for_tests import component, plan, step


def test_the_range_holds_the_weeks_printed_for_sauerkraut() -> None:
    """5 to 6 weeks at 16-18 C against 3 to 4 at 21-24 C (Michigan State University Extension, read)."""
    found = pace(Life.VEGETABLES, 17.0, 22.5)
    assert found.least <= 3.5 / 5.5 <= found.most
    assert found.least >= 3 / 6 and found.most <= 4 / 5


def test_the_range_holds_the_days_printed_for_kimchi() -> None:
    """2 to 3 days at 25 C against 14 to 21 at 4 to 5 C (Lee and Lee 1993, read in a copy): 7 times as long."""
    found = pace(Life.KIMCHI, 25.0, 4.5)
    assert found.least <= 17.5 / 2.5 * 1.000001 and found.most >= 17.5 / 2.5 * 0.999999


def test_the_half_rates_stated_for_yeast_lie_in_the_range_for_dough() -> None:
    """Half the pace at 20 C of that at 28 C (Gaenzle's statement, read): twice as long."""
    found = pace(Life.DOUGH, 28.0, 20.0)
    assert found.least <= 2.0 <= found.most


@pytest.mark.parametrize("life", Life)
def test_every_range_says_where_it_comes_from(life: Life) -> None:
    """Each with at least two models, and what is from memory says so."""
    coolest, warmest = COVERED_C[life]
    sources = pace(life, coolest, warmest).sources
    assert len(sources) >= 2 and any("from memory" in str(s) for s in sources if s.how is How.FROM_MEMORY)


temperatures = st.floats(14.0, 25.0)


@given(st.sampled_from(Life), temperatures, temperatures, temperatures)
def test_a_pace_is_consistent_and_warmer_is_never_slower(life: Life, a: float, b: float, c: float) -> None:
    """As planned is once; there and back cancel; between a fridge and a warm room, warmer takes less time."""
    same, there, back = pace(life, a, a), pace(life, a, b), pace(life, b, a)
    assert same.least == pytest.approx(1) and same.most == pytest.approx(1)
    assert there.least * back.most == pytest.approx(1) and there.least <= there.likely <= there.most
    if a < b:
        assert there.most <= 1
    if a <= b <= c:
        assert pace(life, a, c).most <= there.most * 1.0000001


@pytest.mark.parametrize(
    ("life", "planned", "said"),
    [(Life.VEGETABLES, 19, 40), (Life.VEGETABLES, 2, 19), (Life.DOUGH, 24, 10), (Life.KIMCHI, 10, 26)],
)
def test_beyond_the_models_nothing_is_estimated(life: Life, planned: float, said: float) -> None:
    """Too cold or too hot for the figures: it says which there are."""
    with pytest.raises(NoFigures, match="figures for"):
        pace(life, planned, said)


@pytest.mark.parametrize(
    ("part", "name", "goes_in", "life"),
    [
        ("Turnip pickle", "Turnips ferment", "turnips", Life.VEGETABLES),
        ("Kraut", "The kraut ferments", "cabbage", Life.VEGETABLES),
        ("Kimchi", "Kimchi ferments", "cabbage", Life.KIMCHI),
        ("Country loaf", "First rise with three folds", "flour", Life.DOUGH),
        ("Country loaf", "Starter ripens", "flour", Life.DOUGH),
        ("Batter", "Batter rises", "rice", Life.DOUGH),
        ("Strained yoghurt", "Yoghurt sets", "milk", None),
        ("Cultured cream", "Cream ferments", "cream", None),
        ("Duck legs", "Cure in the fridge", "duck", None),
        ("Beans", "Soak the beans", "beans", None),
        ("Sprouts", "Moong sprouts", "moong", None),
    ],
)
def test_what_works_in_a_step_is_known_by_its_words(
    part: str, name: str, goes_in: str, life: Life | None
) -> None:
    """Vegetables, kimchi and dough are told apart; cures, soaks and milk are none of them."""
    made = plan(component(part, step(name, unattended="1 d to 2 d", keeps="2 d")))
    amounts = (Amount(goes_in, Decimal(900), "g"), Amount("salt", Decimal(22), "g"))
    made = with_step(made, replace(made.steps[0], amounts=amounts))
    assert life_of(made, made.steps[0]) is life
    said = with_step(made, replace(made.steps[0], ferment="kimchi"))
    assert life_of(said, said.steps[0]) is Life.KIMCHI
