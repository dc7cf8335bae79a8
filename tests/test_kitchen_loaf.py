"""What a dough comes to with its starter counted in."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.domain.kitchen.loaf import Loaf, loaves
from scheduler.planfile import read

HEAD = "crockbell: 1\ntitle: Bread\nkitchen: {awake: 07:00-22:00}\ncomponents:\n"
FEED = "{name: Feed, hands-on: 5 min, amounts: {%s}}"
DOUGH = "{name: Mix the dough, hands-on: 20 min, keeps: 1 d, amounts: {%s}}"
PLAIN = "flour: 800 g, water: 560 g, salt: 2 %% of flour, ripe starter: 200 g".replace("%%", "%")


def found(*steps: str, name: str = "Loaf") -> tuple[Loaf, ...]:
    """The doughs of a plan of one component with those steps."""
    return loaves(read(HEAD + part(*steps, name=name), zone="UTC"))


def part(*steps: str, name: str) -> str:
    return f"  - name: {name}\n    steps:\n" + "".join(f"      - {step}\n" for step in steps)


def feed(amounts: str) -> str:
    return FEED % amounts


def dough(amounts: str = PLAIN) -> str:
    return DOUGH % amounts


def shares(loaf: Loaf) -> tuple[float, float]:
    """Hydration and salt in percent."""
    return float(loaf.hydration * 100), float(loaf.salt_share * 100)


def test_a_country_loaf_with_its_starter_counted_in() -> None:
    """800 g flour, 560 g water, 16 g salt, 200 g starter at 100 %: (560+100)/900 and 16/900 (worked out)."""
    (loaf,) = found(feed("starter: 20 g, flour: 100 g, water: 100 g"), dough())
    hydration, salt = shares(loaf)
    assert hydration == pytest.approx(73.33, abs=0.01) and salt == pytest.approx(1.78, abs=0.01)
    assert loaf.all_flour_g == 900 and loaf.all_water_g == 660 and loaf.salt_g == 16
    assert loaf.usual_salt_g == 18, "RT-07: 2 % of flour (common practice, from memory)"
    assert not loaf.assumed and not loaf.uncounted


def test_the_starters_own_hydration_counts() -> None:
    """Fed at 50 %, 20 g at 100 % put in: 60 g of water to 110 g of flour (worked out)."""
    (loaf,) = found(feed("starter: 20 g, flour: 100 g, water: 50 g"), dough())
    assert loaf.starter_hydration == Decimal(60) / Decimal(110)


def test_the_last_of_several_feeds_counts() -> None:
    """Two feeds, the second of what the first made (worked out)."""
    (loaf,) = found(
        feed("starter: 10 g, flour: 20 g, water: 20 g").replace("Feed", "Feed it once"),
        feed("starter: 50 g, rye flour: 100 g, water: 75 g"),
        dough(),
    )
    assert loaf.starter_hydration == Decimal(100) / Decimal(125)


def test_a_ratio_says_how_wet_a_starter_is() -> None:
    """`ripens` where no feed is weighed out in the plan."""
    (loaf,) = found("{name: Starter ripens, ripens: {ratio: 1:5:4, at: 24 C}, keeps: 2 h}", dough())
    assert loaf.starter_hydration == Decimal("0.8") and not loaf.assumed


def test_a_starter_made_in_a_part_of_its_own() -> None:
    """Its feed stands in another component."""
    source = HEAD + part(feed("starter: 10 g, flour: 100 g, water: 60 g"), name="Starter")
    source += part(dough().replace("hands-on", "after: [Starter], hands-on"), name="Bread")
    (loaf,) = loaves(read(source, zone="UTC"))
    assert loaf.name == "Bread" and loaf.starter_hydration == Decimal(65) / Decimal(105)


def test_a_starter_of_which_nothing_is_known_is_taken_as_usual() -> None:
    """As much water as flour, and said to be an assumption."""
    (loaf,) = found(dough())
    assert loaf.assumed and loaf.starter_hydration == 1


def test_flour_water_and_salt_of_several_steps() -> None:
    """Salt that is worked in later belongs to the dough as well, and several flours add up."""
    (loaf,) = found(
        feed("rye flour: 100 g, wheat flour: 700 g, water: 400 g").replace("Feed", "Mix"),
        dough("salt: 16 g, ripe starter: 200 g, water: 100 g"),
    )
    assert loaf.all_flour_g == 900 and loaf.all_water_g == 600


def test_milk_counts_with_the_water_in_it() -> None:
    """88.1 % of whole milk is water (USDA tables, from memory); a cup of it is 244 g (the same, read in a copy)."""
    (loaf,) = found(dough("flour: 500 g, milk: 200 g, water: 100 g, grey salt: 10 g, starter: 100 g"))
    assert loaf.water_g == Decimal("276.2")
    (poured,) = found(dough("flour: 500 g, milk: 1 cup, filtered water: 100 g, salt: 10 g, starter: 100 g"))
    assert poured.water_g == Decimal("244") * Decimal("0.881") + 100


def test_water_by_volume_is_weighed() -> None:
    """Half a litre, whatever the kind of water, within half a percent of 500 g (USDA tables, from memory)."""
    for name in ("water", "lukewarm filtered water"):
        (loaf,) = found(dough(f"flour: 800 g, {name}: 0.5 L, salt: 16 g, starter: 200 g"))
        assert loaf.water_g == pytest.approx(Decimal(500), rel=Decimal("0.005")) and not loaf.uncounted


def test_what_is_not_weighed_is_named() -> None:
    """Three scoops of flour and spoons of salt are not counted, and not passed over in silence."""
    (loaf,) = found(dough("flour: 500 g, rye flour: 3 scoops, water: 300 g, salt: 2 tsp, starter: 100 g"))
    assert loaf.uncounted == ("rye flour", "salt") and not loaf.salt_g


@pytest.mark.parametrize(
    "amounts",
    [
        "rye flakes: 100 g, wheat bran: 20 g, water: 100 g, salt: 2 g, starter: 50 g",
        "flour: 500 g, salt: 10 g, starter: 100 g",
        "flour: 500 g, water: 300 g, starter: 100 g",
        "sourdough bread: 500 g, water: 300 g, salt: 10 g",
    ],
)
def test_no_flour_water_or_salt_is_no_dough(amounts: str) -> None:
    """Nothing is made up for what is not there; flakes, bran and bread are no flour."""
    assert found(dough(amounts)) == ()


def test_batter_without_a_starter_is_no_dough() -> None:
    """Flour, milk and salt alone may be pancakes; with a dough in its name it is one."""
    mixed = dough("flour: 250 g, milk: 500 g, salt: 3 g")
    assert found(mixed.replace("Mix the dough", "Whisk"), name="Pancakes") == ()
    assert len(found(mixed, name="Buns")) == 1


@settings(max_examples=50)
@given(*[st.integers(1, 2000).map(Decimal)] * 4, st.integers(50, 200), st.integers(2, 9))
def test_shares_do_not_change_with_the_size(
    flour: Decimal, water: Decimal, salt: Decimal, starter: Decimal, own: int, times: int
) -> None:
    """So many times as much of everything has the same hydration and salt; the starter adds flour, never takes any."""
    one = Loaf("", flour, water, salt, starter, Decimal(own) / 100)
    more = Loaf("", flour * times, water * times, salt * times, starter * times, Decimal(own) / 100)
    assert abs(one.hydration - more.hydration) < Decimal("1e-20")
    assert abs(one.salt_share - more.salt_share) < Decimal("1e-20")
    assert one.salt_share < salt / flour
    assert abs(one.all_flour_g + one.all_water_g - (flour + water + starter)) < Decimal("1e-20")


def test_a_dough_without_flour_is_none() -> None:
    """And nothing weighs less than nothing."""
    with pytest.raises(ValueError, match="a dough has flour"):
        Loaf("", Decimal(0), Decimal(1), Decimal(0))
    with pytest.raises(ValueError, match="less than nothing"):
        Loaf("", Decimal(1), Decimal(-1), Decimal(0))
