"""Published holding times, row by row, and the diffusivities of foods."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scheduler.domain.kitchen.core import Core, Food, Shape
from scheduler.domain.kitchen.heat.conduction import left
from scheduler.domain.kitchen.heat.lethality import Kills
from scheduler.domain.kitchen.heat.pieces import (
    CONDUCTIVITY_W_MK,
    FISH_M2_S,
    MEAT_M2_S,
    PLANT_M2_S,
    Piece,
    diffusivity_m2_s,
    piece_of,
)
from scheduler.domain.kitchen.heat.published import appendix_a, diffusivity, food_code, poultry, uk
from scheduler.domain.kitchen.heat.published.holds import Holds, strictest
from scheduler.domain.kitchen.heat.reductions import BURGER_E_COLI, KILLS, TABLES
from scheduler.domain.kitchen.sources import How, Source

SLAB = Shape.SLAB

# AA rows: FSIS Appendix A, F and C as printed; seconds for 6.5-log and 7-log (read in copies), 5-log (from memory).
APPENDIX_A = [
    (130, 54.4, 6720, 7260, 5160),
    (132, 55.6, 4260, 4620, 3300),
    (134, 56.7, 2700, 2820, 2100),
    (136, 57.8, 1680, 1920, 1320),
    (138, 58.9, 1080, 1140, 840),
    (140, 60.0, 720, 720, 540),
    (142, 61.1, 480, 480, 360),
    (144, 62.2, 300, 300, 240),
    (146, 63.3, 169, 182, 130),
    (148, 64.4, 107, 115, 82),
    (150, 65.6, 67, 72, 52),
    (152, 66.7, 43, 46, 33),
    (154, 67.8, 27, 29, 21),
    (156, 68.9, 17, 19, 14),
    (158, 70.0, 0, 0, 0),
    (160, 71.1, 0, 0, 0),
]


@pytest.mark.parametrize("row", APPENDIX_A, ids=lambda row: f"{row[0]} F")
def test_appendix_a_is_the_published_one(row: tuple[float, ...]) -> None:
    """AA: the 6.5-log, 7-log and 5-log columns, exactly."""
    _, at_c, *expected = row
    tables = (appendix_a.SALMONELLA_6_5, appendix_a.SALMONELLA_7, appendix_a.SALMONELLA_5)
    assert [table.seconds_at(at_c) for table in tables] == expected


@pytest.mark.parametrize("row", APPENDIX_A[:14], ids=lambda row: f"{row[0]} F")
def test_appendix_a_is_a_straight_line_but_for_its_rounding(row: tuple[float, ...]) -> None:
    """FSIS-fit: 112 min x 10^(-(F - 130)/10) is within 12 % of every printed row (worked out)."""
    assert 6720 * 10 ** (-(row[0] - 130) / 10) == pytest.approx(row[2], rel=0.12)


# FC-R rows: Food Code 3-401.11(B)(2) (read in state adoptions), C and seconds.
ROASTS = [
    (54.4, 6720), (55.0, 5340), (56.1, 3360), (57.2, 2160), (57.8, 1680), (58.9, 1080), (60.0, 720),
    (61.1, 480), (62.2, 300), (62.8, 240), (63.9, 134), (65.0, 85), (66.1, 54), (67.2, 34), (68.3, 22),
    (69.4, 14), (70.0, 0),
]  # fmt: skip
# FC-OLD rows: Food Code of the 1990s (read in Minn. R. 4626.0340), C and minutes.
OLD = [(54, 121), (56, 77), (57, 47), (58, 32), (59, 19), (60, 12), (61, 8), (62, 5), (63, 3)]


@pytest.mark.parametrize(("at_c", "seconds"), ROASTS)
def test_the_food_code_s_roasts_are_the_published_ones(at_c: float, seconds: float) -> None:
    """FC-R: exactly, and the same as the 6.5-log column of Appendix A."""
    assert food_code.ROASTS.seconds_at(at_c) == seconds
    assert appendix_a.SALMONELLA_6_5.seconds_at(at_c) == seconds


@pytest.mark.parametrize(("at_c", "minutes"), OLD)
def test_the_old_roasts_are_never_mixed_in(at_c: float, minutes: float) -> None:
    """FC-OLD: the old table begins below the current one, is its 7-log column below 60 C and shorter at 63 C."""
    hold = food_code.ROASTS.seconds_at(at_c)
    if at_c < 54.4:
        assert hold is None
    elif 60 <= at_c < 63:
        assert hold is not None and hold >= minutes * 60
    else:
        assert hold is not None and hold != minutes * 60


@pytest.mark.parametrize(
    ("table", "at_c", "seconds"),
    [
        # FC-13, FC-16, FC-18, FC-19 read in copies; FC-14 too, FC-15 and its edition from memory, FC-17 read in a copy.
        (food_code.INTACT, 63, 15),
        (food_code.GROUND_2013, 63, 180),
        (food_code.GROUND_2013, 66, 60),
        (food_code.GROUND_2013, 68, 15),
        (food_code.GROUND_2013, 70, 1),
        (food_code.GROUND, 68, 17),
        (food_code.POULTRY_2013, 74, 15),
        (food_code.POULTRY, 74, 1),
        (food_code.PLANT_HOT_HELD, 57, 0),
        (food_code.MICROWAVE, 74, 120),
        # PAT rows, 9 CFR 318.23(b)(1), 151 to 157 F, from memory.
        (food_code.PATTIES, 66.1, 41),
        (food_code.PATTIES, 66.7, 32),
        (food_code.PATTIES, 67.2, 26),
        (food_code.PATTIES, 67.8, 20),
        (food_code.PATTIES, 68.3, 16),
        (food_code.PATTIES, 68.9, 13),
        (food_code.PATTIES, 69.4, 10),
        # UK rows, read in copies.
        (uk.SEVENTY_FOR_TWO, 60, 2700),
        (uk.SEVENTY_FOR_TWO, 65, 600),
        (uk.SEVENTY_FOR_TWO, 70, 120),
        (uk.SEVENTY_FOR_TWO, 75, 30),
        (uk.SEVENTY_FOR_TWO, 80, 6),
        (uk.BURGERS, 60, 5580),
        (uk.BURGERS, 65, 840),
    ],
)
def test_the_other_tables_are_the_published_ones(table: Holds, at_c: float, seconds: float) -> None:
    """FC-13 to FC-19, PAT, UK: exactly."""
    assert table.seconds_at(at_c) == seconds


@pytest.mark.parametrize(("at_c", "within"), [(60, 0.08), (65, 0.08), (70, 0.08), (75, 0.16), (80, 0.08)])
def test_seventy_for_two_is_a_line_of_seven_and_a_half_degrees(at_c: float, within: float) -> None:
    """UK: 2 min at 70 C with z = 7.5 (Mackey and Bratchell 1989, abstract read), 8 % (75 C: 16 %)."""
    line = Kills(70, 120, 7.5)
    assert line.d_at(at_c) == pytest.approx(uk.SEVENTY_FOR_TWO.seconds_at(at_c), rel=within)


@pytest.mark.parametrize("at_c", [60, 65, 70])
def test_the_burgers_line_is_never_shorter_than_the_printed_times(at_c: float) -> None:
    """UK-60E, UK-65E: 6 D of E. coli O157 as counted here is at least what is printed, and within 3 %."""
    counted, printed = 6 * KILLS[BURGER_E_COLI].d_at(at_c) * 60, uk.BURGERS.seconds_at(at_c)
    assert printed is not None
    assert printed <= counted < 1.03 * printed


# NPB rows: 90 C for 10 min or its equal (read), minutes from 80 C on.
NINETY = [
    129, 100, 77, 60, 46, 36, 28, 22, 17, 13, 10, 7.9, 6.3, 5.0, 4.0, 3.2, 2.5, 2.0, 1.6, 1.3, 1.0
]  # fmt: skip


@pytest.mark.parametrize(("degrees", "minutes"), list(enumerate(NINETY)))
def test_ninety_for_ten_is_the_published_one(degrees: int, minutes: float) -> None:
    """NPB: exactly, and z = 9 below 90 C, 10 from there on, to the rounding of the table (4 %)."""
    at_c = 80 + degrees
    assert uk.NINETY_FOR_TEN.seconds_at(at_c) == pytest.approx(minutes * 60)
    assert 10 * 10 ** ((90 - at_c) / (9 if at_c < 90 else 10)) == pytest.approx(minutes, rel=0.04)


# PO rows: FSIS poultry tables at 12 % fat (read in a copy): C, chicken and turkey, seconds.
POULTRY = [
    (57.8, 4884, 4248), (58.9, 3174, 2910), (60.0, 2100, 2022), (61.1, 1410, 1422), (62.2, 954, 996),
    (63.3, 636, 690), (64.4, 408, 462), (65.6, 252, 294), (66.7, 138, 168), (67.8, 66, 96), (68.9, 43, 60),
    (70.0, 26.9, 40.9), (71.1, 16.9, 26.9), (72.2, 10.5, 17.7), (73.3, 10, 11.7),
]  # fmt: skip


@pytest.mark.parametrize(("at_c", "chicken", "turkey"), POULTRY)
def test_the_poultry_tables_are_the_published_ones(at_c: float, chicken: float, turkey: float) -> None:
    """PO: exactly; the table counted with is the longer of both birds."""
    assert poultry.CHICKEN_12.seconds_at(at_c) == pytest.approx(chicken)
    assert poultry.TURKEY_12.seconds_at(at_c) == pytest.approx(turkey)
    assert poultry.POULTRY.seconds_at(at_c) == pytest.approx(max(chicken, turkey))


@pytest.mark.parametrize(
    "rows",
    [
        # PO5 (fat not named, 5 % as remembered; read in a copy) and PO1 (from memory): 136, 140, 145, 150, 155, 160 F.
        (4104, 1650, 552, 168, 47.7, 14.8),
        (3798, 1512, 504, 162, 44.2, 13.7),
    ],
)
def test_what_is_counted_covers_leaner_chicken(rows: tuple[float, ...]) -> None:
    """PO5, PO1: never longer than the 12 % that is counted with, and at least half of it."""
    for at_c, seconds in zip((57.8, 60.0, 62.8, 65.6, 68.3, 71.1), rows, strict=True):
        counted = poultry.POULTRY.seconds_at(at_c) or 0
        assert seconds <= counted <= 2.2 * seconds


@pytest.mark.parametrize(
    ("fahrenheit", "seconds"), [(157, 31), (158, 24.5), (159, 19.4), (160, 15.3), (161, 12.1), (162, 9.6)]
)
def test_what_is_counted_covers_rows_of_a_fat_not_named(fahrenheit: float, seconds: float) -> None:
    """POx: a page's rows of a fat between 5 and 12 % (read in a copy) are never longer than ours; a sanity band."""
    assert seconds <= (poultry.POULTRY.seconds_at(round((fahrenheit - 32) / 1.8, 1)) or 0)


every_table = st.sampled_from([*TABLES.values(), food_code.ROASTS, food_code.PATTIES, poultry.CHICKEN_12])


@given(every_table, st.floats(50, 105))
def test_between_two_rows_the_colder_one_counts(table: Holds, at_c: float) -> None:
    """No hold is interpolated: it is that of the next lower printed temperature, and none below the first."""
    below = [seconds for printed, seconds in table.rows if printed <= at_c]
    assert table.seconds_at(at_c) == (below[-1] if below else None)


@given(every_table, st.floats(54.4, 80), st.floats(0, 200), st.floats(0, 200), st.floats(0, 5))
def test_a_hold_is_additive_and_neither_longer_nor_hotter_lowers_it(
    table: Holds, at_c: float, first: float, more: float, hotter: float
) -> None:
    """The share of a hold sums over a split, and grows with time and temperature."""
    split = [(0.0, at_c), (first, at_c), (first + more, at_c)]
    whole = table.share([split[0], split[2]])
    if table.seconds_at(at_c) != 0:
        assert table.share(split) == pytest.approx(whole)
        assert table.share(split[:2]) <= table.share(split)
    assert table.share([(minute, at + hotter) for minute, at in split]) >= min(1.0, whole) - 1e-9


def test_a_table_out_of_order_is_refused() -> None:
    """A hotter row that is longer, or no row, is a mistake in a table."""
    source = Source("a test", how=How.WORKED_OUT)
    with pytest.raises(ValueError, match="order"):
        Holds("wrong", source, ((60, 10), (61, 11)))
    with pytest.raises(ValueError, match="order"):
        Holds("empty", source, ())


def test_the_strictest_of_two_tables_has_the_longer_hold_where_both_have_one() -> None:
    """Rows of either count from the first temperature that both cover."""
    source = Source("a test", how=How.WORKED_OUT)
    one, two = Holds("a", source, ((60, 10), (64, 3))), Holds("b", source, ((62, 8), (66, 4)))
    assert strictest("both", source, one, two).rows == ((62, 10), (64, 8), (66, 4))


# TD rows: handbook table of ASHRAE origin (read in a copy), 1e-7 m2/s.
HANDBOOK = {
    "beef chuck": 1.23, "beef round": 1.33, "beef tongue": 1.32, "codfish": 1.22, "corned beef": 1.32,
    "halibut": 1.47, "ham, smoked": 1.18, "baked beans": 1.68, "potato flesh": 1.70, "potato, mashed": 1.23,
    "lima bean puree": 1.80, "pea puree": 1.82, "tomato pulp": 1.48, "banana flesh": 1.18, "strawberry": 1.27,
    "squash": 1.71,
}  # fmt: skip


def test_the_diffusivities_are_the_published_ones_and_what_is_counted_is_at_the_low_end() -> None:
    """TD-01 to TD-16, TD-22: the handbook (read in a copy), the range for meat (from memory)."""
    assert {food: value * 1e-7 for food, value in HANDBOOK.items()} == pytest.approx(diffusivity.FOODS)
    # TD-22: 1.11e-7 to 1.4e-7 for meat in water baths (from memory); the low side is the safe one.
    assert MEAT_M2_S == 1.11e-7 <= min(diffusivity.FOODS[each] for each in ("beef chuck", "ham, smoked"))
    assert min(diffusivity.FOODS["codfish"], diffusivity.FOODS["halibut"]) >= FISH_M2_S
    assert min(diffusivity.FOODS.values()) >= PLANT_M2_S
    assert [diffusivity_m2_s(food) for food in (Food.FISH, Food.PLANT, None)] == [
        FISH_M2_S,
        PLANT_M2_S,
        MEAT_M2_S,
    ]


@pytest.mark.parametrize("alpha", [0.89e-7, 1.91e-7])
def test_a_diffusivity_that_no_food_has_is_refused(alpha: float) -> None:
    """TD-25: outside 0.9e-7 to 1.9e-7 m2/s (worked out) there is no piece; each row above lies inside."""
    with pytest.raises(ValueError, match="diffusivity"):
        Piece(SLAB, 20, None, alpha)
    low, high = diffusivity.PLAUSIBLE
    # TD-20, TD-21, TD-23: a textbook's steak and egg (read in a copy), water at 20 C (from memory).
    assert all(low <= each <= high for each in (*diffusivity.FOODS.values(), 0.903e-7, 1.51e-7, 1.43e-7))


def test_a_piece_that_is_no_thicker_than_nothing_is_refused() -> None:
    """A thickness of nothing has no time."""
    with pytest.raises(ValueError, match="thicker"):
        Piece(SLAB, 0, None, MEAT_M2_S)


def test_the_sides_of_a_slab_only_help() -> None:
    """A bar is the product of two slabs (textbook), never slower than the slab without its sides."""
    core = Core(SLAB, 60, 60, 5, Food.MEAT)
    bar, endless = piece_of(core), piece_of(core, endless=True)
    across = left(SLAB, 95 * 0.06 / CONDUCTIVITY_W_MK, MEAT_M2_S * 7200 / 0.06**2)
    assert bar.width_mm == 120
    assert bar.left(95, 7200) == pytest.approx(endless.left(95, 7200) * across)
    assert bar.left(95, 7200) < endless.left(95, 7200)
