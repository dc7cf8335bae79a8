"""The rules for cooling and holding: every figure against its source, and that the stricter is never laxer.

The rows of the Food Code were read in states' adoptions of its text of 2009 and 2013 (Delaware 16 Del. Admin. Code
3-403.11, 3-501.14, 3-501.16; Wyoming chapter 3 section 3-62 for 3-501.19); those of FSIS Appendix B of 1999 in
quotations of it. What is from memory says so.
"""

from __future__ import annotations

from datetime import timedelta

import pytest

from scheduler.domain.kitchen.rules import (
    FOOD_CODE,
    OTHER_OPTION,
    RULES,
    SETS,
    STRICTER,
    CoolingLimit,
    OutLimit,
    Rules,
    degrees,
    in_hours,
    stricter_of,
)
from scheduler.domain.kitchen.sources import How

EDITIONS = [RULES[f"food-code-{year}"] for year in ("2013", "2017", "2022")]


def hours(number: float) -> timedelta:
    return timedelta(hours=number)


def cooling(rules: Rules) -> list[tuple[float | None, float, timedelta]]:
    return [(limit.from_c, limit.to_c, limit.within) for limit in rules.cooling]


def standing(limits: tuple[OutLimit, ...]) -> list[tuple[timedelta, float | None]]:
    return [(limit.within, limit.max_c) for limit in limits]


# ---------------------------------------------------------------- the figures


@pytest.mark.parametrize("rules", EDITIONS, ids=lambda rules: rules.name)
def test_cooling_by_the_food_code(rules: Rules) -> None:
    """3-501.14(A): 57 C to 21 C within 2 h (FC-01), 57 C to 5 C within 6 h in all (FC-02); (B): 4 h (FC-03)."""
    assert cooling(rules) == [(57.0, 21.0, hours(2)), (57.0, 5.0, hours(6))]
    assert [(each.from_c, each.to_c, each.within) for each in rules.ambient] == [(None, 5.0, hours(4))]


@pytest.mark.parametrize("rules", EDITIONS, ids=lambda rules: rules.name)
def test_holding_by_the_food_code(rules: Rules) -> None:
    """3-501.16(A): hot at 57 C (FC-04), whole roasts at 54 C (FC-05), cold at 5 C (FC-06)."""
    assert (rules.hot_c, rules.hot_roast_c, rules.cold_c) == (57.0, 54.0, 5.0)


@pytest.mark.parametrize("rules", EDITIONS, ids=lambda rules: rules.name)
def test_time_in_place_of_temperature_by_the_food_code(rules: Rules) -> None:
    """3-501.19(B): 4 h (FC-07); (C): 6 h from cold, never above 21 C (FC-08)."""
    assert standing(rules.standing) == [(hours(4), None)]
    assert standing(rules.standing_cold) == [(hours(6), 21.0)]
    assert (rules.out, rules.out_cold, rules.out_cold_max_c) == (hours(4), hours(6), 21.0)


@pytest.mark.parametrize("rules", EDITIONS, ids=lambda rules: rules.name)
def test_reheating_by_the_food_code(rules: Rules) -> None:
    """3-403.11: 74 C for 15 s (FC-09), by microwave 2 min covered (FC-10), packed food 57 C (FC-11), in 2 h (FC-12)."""
    assert (rules.reheat_c, rules.reheat_for) == (74.0, timedelta(seconds=15))
    assert rules.microwave_stand == timedelta(minutes=2)
    assert (rules.reheat_packaged_c, rules.reheat_within) == (57.0, hours(2))


@pytest.mark.parametrize("year", ["1999", "2021"])
def test_option_1_of_appendix_b(year: str) -> None:
    """130 F to 80 F in 1.5 h (FS-C1), 80 F to 40 F in 5 h (FS-C2): 1999 read in a copy, 2021 from memory."""
    rules = RULES[f"fsis-appendix-b-{year}"]
    assert cooling(rules) == [(54.4, 26.7, hours(1.5)), (26.7, 4.4, hours(5))]
    assert rules.source.how is (How.READ_IN_A_COPY if year == "1999" else How.FROM_MEMORY)


def test_option_2_of_appendix_b() -> None:
    """120 F to 55 F in 6 h (FS-C3), and no more than 1 h from 120 F to 80 F; it takes the place of option 1."""
    assert cooling(OTHER_OPTION) == [(48.9, 26.7, hours(1)), (48.9, 12.8, hours(6))]
    assert OTHER_OPTION not in SETS and RULES[OTHER_OPTION.name] is OTHER_OPTION


@pytest.mark.parametrize(
    ("fahrenheit", "celsius"),
    [
        (135, 57),
        (70, 21),
        (41, 5),
        (165, 74),
        (130, 54.4),
        (80, 26.7),
        (40, 4.4),
        (120, 48.9),
        (55, 12.8),
        (140, 60),
    ],
)
def test_celsius_is_fahrenheit_as_printed(fahrenheit: float, celsius: float) -> None:
    """Each figure in C is its source's in F, to the half degree that the Food Code rounds by (worked out)."""
    assert (fahrenheit - 32) * 5 / 9 == pytest.approx(celsius, abs=0.3)


def test_what_fsis_tells_people_at_home() -> None:
    """2 h out at most, hot at 60 C, cold at 4.4 C: from memory, and marked so wherever it is told."""
    rules = RULES["fsis-at-home"]
    assert standing(rules.standing) == standing(rules.standing_cold) == [(hours(2), None)]
    assert (rules.hot_c, rules.cold_c) == (60.0, 4.4)
    assert "from memory" in str(rules.standing[0].source)


def test_what_a_set_says_nothing_about_is_the_food_codes() -> None:
    """Appendix B is about cooling meat and poultry; for standing out and reheating the Food Code is told, by name."""
    rules = RULES["fsis-appendix-b-2021"]
    assert rules.standing == FOOD_CODE.standing and rules.reheat_c == FOOD_CODE.reheat_c
    assert str(rules.standing[0].source) == "FDA Food Code 2013, 3-501.19"


def test_every_limit_names_its_source_and_how_it_is_known() -> None:
    """Editions that were not read say "from memory"; the one that was read in a copy does not."""
    for rules in RULES.values():
        cooled, stood = (*rules.cooling, *rules.ambient), (*rules.standing, *rules.standing_cold)
        for source in [*(limit.source for limit in cooled), *(limit.source for limit in stood)]:
            assert source.name
            assert (source.how is How.READ_IN_A_COPY) == ("from memory" not in str(source))


# ---------------------------------------------------------------- the stricter


def as_strict(limit: CoolingLimit, rules: Rules) -> bool:
    """Whether meeting a set means meeting the limit: it has one over the same stretch or more, no longer."""
    return any(
        own.from_c == limit.from_c and own.to_c <= limit.to_c and own.within <= limit.within
        for own in (*rules.cooling, *rules.ambient)
    )


@pytest.mark.parametrize("rules", SETS, ids=lambda rules: rules.name)
def test_the_stricter_is_never_laxer(rules: Rules) -> None:
    """Whoever meets the default meets every set of which it is made, figure by figure."""
    assert all(as_strict(limit, STRICTER) for limit in (*rules.cooling, *rules.ambient))
    assert STRICTER.out <= rules.out and STRICTER.out_cold <= rules.out_cold
    assert STRICTER.out_cold_max_c <= rules.out_cold_max_c
    assert STRICTER.hot_c >= rules.hot_c and STRICTER.hot_roast_c >= rules.hot_roast_c
    assert STRICTER.cold_c <= rules.cold_c
    assert STRICTER.reheat_c >= rules.reheat_c and STRICTER.reheat_within <= rules.reheat_within


def test_the_stricter_tells_each_limit_once_and_by_the_source_that_was_read() -> None:
    """Three editions of one rule are one limit; nothing in it is of our own making."""
    assert cooling(STRICTER) == [
        (57.0, 21.0, hours(2)),
        (57.0, 5.0, hours(6)),
        (54.4, 26.7, hours(1.5)),
        (26.7, 4.4, hours(5)),
    ]
    assert {limit.source.how for limit in STRICTER.cooling} == {How.READ_IN_A_COPY}
    every = [limit for rules in SETS for limit in (*rules.cooling, *rules.standing, *rules.standing_cold)]
    assert all(limit in every for limit in (*STRICTER.cooling, *STRICTER.standing, *STRICTER.standing_cold))
    assert standing(STRICTER.standing) == [(hours(2), None), (hours(4), None)]


def test_the_stricter_of_one_set_has_its_figures() -> None:
    """Nothing is added by taking the strictest of a single document."""
    alone = stricter_of([FOOD_CODE])
    assert cooling(alone) == cooling(FOOD_CODE) and alone.standing == FOOD_CODE.standing
    assert (alone.hot_c, alone.cold_c) == (FOOD_CODE.hot_c, FOOD_CODE.cold_c)


def test_sets_go_by_their_own_names() -> None:
    """The name in a set is the one that settings find it by, and the default is one of them."""
    assert all(RULES[name].name == name for name in RULES)
    assert RULES["stricter"] is STRICTER and len(RULES) == len(SETS) + 2


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        (degrees(57.0), "57 C"),
        (degrees(26.7), "26.7 C"),
        (in_hours(hours(1.5)), "1 h 30 min"),
        (in_hours(hours(2)), "2 h"),
        (in_hours(timedelta(minutes=15)), "15 min"),
        (str(STRICTER.cooling[0]), "57 C to 21 C within 2 h"),
        (str(STRICTER.ambient[0]), "to 5 C within 4 h of being made"),
        (str(FOOD_CODE.standing_cold[0]), "out for at most 6 h, never above 21 C"),
    ],
)
def test_figures_in_words(said: str, expected: str) -> None:
    """Degrees, hours and limits as they are told to a cook."""
    assert said == expected
