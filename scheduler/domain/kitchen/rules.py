"""Rules for cooling and holding food, by edition; the figures are those of `limits_published`.

A set says how fast cooked food has to cool, how long food may stand neither hot nor cold, what counts as hot and as
cold, and how food is heated up again. Temperatures in degrees Celsius.

Where sources conflict. The Food Code counts both stages from 57 C, so a fast first stage leaves more time for the
second (not 2 h and then a fixed 4 h); FSIS Appendix B counts each of its stages by itself, over other temperatures.
The Food Code gives a kitchen that writes the time down 4 h (6 h from cold, never above 21 C); FSIS tells people
at home to throw away what was out for more than 2 h. `STRICTER`, the default, keeps every limit of each document,
so that whatever meets it meets them all; nothing in it is ours. What a set says nothing about is taken from the
Food Code.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import timedelta
from typing import TypeVar

from scheduler.domain.kitchen.limits_published import (
    BOTH_STAGES,
    COLD_C,
    FIRST_STAGE,
    FROM_AMBIENT,
    FSIS_COLD_C,
    FSIS_FIRST,
    FSIS_HOT_C,
    FSIS_MIDDLE_C,
    FSIS_SECOND,
    FSIS_SLOW,
    FSIS_SLOW_FIRST,
    FSIS_SLOW_FROM_C,
    FSIS_SLOW_TO_C,
    HOME_COLD_C,
    HOME_HOT_C,
    HOME_OUT,
    HOME_OUT_HOT_DAY,
    HOT_C,
    HOT_DAY_C,
    HOT_ROAST_C,
    LUKEWARM_C,
    MICROWAVE_STAND,
    OUT,
    OUT_COLD,
    REHEAT_C,
    REHEAT_FOR,
    REHEAT_PACKAGED_C,
    REHEAT_WITHIN,
)
from scheduler.domain.kitchen.sources import How, Source
from scheduler.domain.kitchen.written import degrees, in_hours

# ---------------------------------------------------------------- what a set is made of


@dataclass(frozen=True, slots=True)
class Then:
    """What a rule says of food that missed a limit; `again`: it may be heated and the clock begun anew."""

    says: str
    again: bool = False


THROW_AWAY = Then("throw it away")

REHEAT_ONCE = Then(
    f"reheat every part to {REHEAT_C:g} C for {REHEAT_FOR.seconds} s and cool it again, once "
    "(inspectors' practice, from memory), or throw it away",
    again=True,
)
"""The Code names no way back; this one is what inspectors accept between the two limits (from memory)."""

FOR_AN_EXPERT = Then("have an expert judge it (from memory), or throw it away")
"""Appendix B has plants hold what missed it until its safety is worked out (from memory)."""


@dataclass(frozen=True, slots=True)
class CoolingLimit:
    """From `from_c` to `to_c` within so long, counted from when the middle of the food passes `from_c`; where that is
    None, from when the food was made.
    """

    from_c: float | None
    to_c: float
    within: timedelta
    source: Source
    then: Then = THROW_AWAY

    def __str__(self) -> str:
        within = f"to {degrees(self.to_c)} within {in_hours(self.within)}"
        return f"{within} of being made" if self.from_c is None else f"{degrees(self.from_c)} {within}"


@dataclass(frozen=True, slots=True)
class OutLimit:
    """Food may stand out so long; where `max_c` is given, never above it. `but` is what else the source says."""

    within: timedelta
    source: Source
    max_c: float | None = None
    then: Then = THROW_AWAY
    but: str = ""

    def __str__(self) -> str:
        above = "" if self.max_c is None else f", never above {degrees(self.max_c)}"
        return f"out for at most {in_hours(self.within)}{above}"


REHEATING = Source("FDA Food Code 2013", "3-403.11", How.READ_IN_A_COPY)


@dataclass(frozen=True, slots=True)
class Rules:
    """One set of rules. `name` is what settings call it, `edition` what a cook reads.

    `cooling` is for cooked food, `ambient` for food made from things at room temperature. `standing` is for food
    that is neither held hot nor cold, `standing_cold` for food that began cold and never gets warm. `hot_c` and
    `cold_c` are what food is held at, `hot_roast_c` whole roasts. `reheating` is where reheating is told: to
    `reheat_c` for food to be held hot afterwards, within `reheat_within`, kept there for `reheat_for` or by
    microwave left covered for `microwave_stand`; `reheat_packaged_c` is for what a plant packed.
    """

    name: str
    edition: str
    source: Source
    cooling: tuple[CoolingLimit, ...]
    ambient: tuple[CoolingLimit, ...]
    standing: tuple[OutLimit, ...]
    standing_cold: tuple[OutLimit, ...]
    hot_c: float = HOT_C
    hot_roast_c: float = HOT_ROAST_C
    cold_c: float = COLD_C
    reheating: Source = REHEATING
    reheat_c: float = REHEAT_C
    reheat_for: timedelta = REHEAT_FOR
    microwave_stand: timedelta = MICROWAVE_STAND
    reheat_packaged_c: float = REHEAT_PACKAGED_C
    reheat_within: timedelta = REHEAT_WITHIN

    @property
    def out(self) -> timedelta:
        """The longest that food may stand neither hot nor cold."""
        return min(limit.within for limit in self.standing)

    @property
    def out_cold(self) -> timedelta:
        """The longest that food may stand out that began cold and stays under `out_cold_max_c`."""
        return min(limit.within for limit in self.standing_cold)

    @property
    def out_cold_max_c(self) -> float:
        """How warm food that stands out by `out_cold` may get."""
        return min(
            (limit.max_c for limit in self.standing_cold if limit.max_c is not None), default=LUKEWARM_C
        )


# ---------------------------------------------------------------- the sets


WRITTEN_DOWN = "for kitchens that write it down"
"""A condition of 3-501.19 (from memory)."""


def _food_code(year: str, how: How) -> Rules:
    """One edition of the Food Code: these sections read alike in all of them, as far as known."""
    code = f"FDA Food Code {year}"
    cooling = Source(code, "3-501.14", how)
    standing = Source(code, "3-501.19", how)
    return Rules(
        f"food-code-{year}",
        code,
        Source(code, "3-403.11, 3-501.14 to 3-501.19", how),
        cooling=(
            CoolingLimit(HOT_C, LUKEWARM_C, FIRST_STAGE, cooling, REHEAT_ONCE),
            CoolingLimit(HOT_C, COLD_C, BOTH_STAGES, cooling),
        ),
        ambient=(CoolingLimit(None, COLD_C, FROM_AMBIENT, cooling),),
        standing=(OutLimit(OUT, standing, but=WRITTEN_DOWN),),
        standing_cold=(OutLimit(OUT_COLD, standing, LUKEWARM_C, but=WRITTEN_DOWN),),
        reheating=Source(code, "3-403.11", how),
    )


FOOD_CODE = _food_code("2013", How.READ_IN_A_COPY)
"""The edition whose text was read, in a state's adoption of it."""


def _appendix_b(year: str, how: How) -> Rules:
    """FSIS's rules for plants that cook meat and poultry, option 1; for the rest the Food Code."""
    source = Source(f"FSIS Appendix B {year}", "option 1", how)
    return replace(
        FOOD_CODE,
        name=f"fsis-appendix-b-{year}",
        edition=f"FSIS Appendix B {year}, option 1",
        source=source,
        cooling=(
            CoolingLimit(FSIS_HOT_C, FSIS_MIDDLE_C, FSIS_FIRST, source, FOR_AN_EXPERT),
            CoolingLimit(FSIS_MIDDLE_C, FSIS_COLD_C, FSIS_SECOND, source, FOR_AN_EXPERT),
        ),
    )


_OPTION_2 = Source("FSIS Appendix B 1999", "option 2", How.READ_IN_A_COPY)

OTHER_OPTION = replace(
    FOOD_CODE,
    name="fsis-appendix-b-1999-option-2",
    edition="FSIS Appendix B 1999, option 2",
    source=_OPTION_2,
    cooling=(
        CoolingLimit(FSIS_SLOW_FROM_C, FSIS_MIDDLE_C, FSIS_SLOW_FIRST, _OPTION_2, FOR_AN_EXPERT),
        CoolingLimit(FSIS_SLOW_FROM_C, FSIS_SLOW_TO_C, FSIS_SLOW, _OPTION_2, FOR_AN_EXPERT),
    ),
)
"""In place of option 1, for whoever chills within 90 min of cooking; so it is no part of the stricter."""

_AT_HOME = Source("FSIS advice to people at home", "", How.FROM_MEMORY)

_OUT_AT_HOME = OutLimit(HOME_OUT, _AT_HOME, but=f"{in_hours(HOME_OUT_HOT_DAY)} above {degrees(HOT_DAY_C)}")

SETS = (
    FOOD_CODE,
    _food_code("2017", How.FROM_MEMORY),
    _food_code("2022", How.FROM_MEMORY),
    _appendix_b("1999", How.READ_IN_A_COPY),
    _appendix_b("2021", How.FROM_MEMORY),
    replace(
        FOOD_CODE,
        name="fsis-at-home",
        edition="FSIS advice to people at home",
        source=_AT_HOME,
        standing=(_OUT_AT_HOME,),
        standing_cold=(_OUT_AT_HOME,),
        hot_c=HOME_HOT_C,
        hot_roast_c=HOME_HOT_C,
        cold_c=HOME_COLD_C,
    ),
)


AnyLimit = TypeVar("AnyLimit", CoolingLimit, OutLimit)


def stricter_of(sets: Iterable[Rules]) -> Rules:
    """Every limit of every set, each told once, with the hottest "hot" and the coldest "cold" of all."""
    every = tuple(sets)
    return Rules(
        "stricter",
        "the stricter of the Food Code and FSIS",
        Source("the stricter of the Food Code and FSIS"),
        cooling=_once(limit for each in every for limit in each.cooling),
        ambient=_once(limit for each in every for limit in each.ambient),
        standing=_shortest_first(_once(limit for each in every for limit in each.standing)),
        standing_cold=_shortest_first(_once(limit for each in every for limit in each.standing_cold)),
        hot_c=max(each.hot_c for each in every),
        hot_roast_c=max(each.hot_roast_c for each in every),
        cold_c=min(each.cold_c for each in every),
        reheat_c=max(each.reheat_c for each in every),
        reheat_for=max(each.reheat_for for each in every),
        microwave_stand=max(each.microwave_stand for each in every),
        reheat_packaged_c=max(each.reheat_packaged_c for each in every),
        reheat_within=min(each.reheat_within for each in every),
    )


def _once(limits: Iterable[AnyLimit]) -> tuple[AnyLimit, ...]:
    """Of limits with the same figures the first, whose source was read."""
    kept: dict[str, AnyLimit] = {}
    for limit in limits:
        kept.setdefault(str(limit), limit)
    return tuple(kept.values())


def _shortest_first(limits: Iterable[OutLimit]) -> tuple[OutLimit, ...]:
    return tuple(sorted(limits, key=lambda limit: limit.within))


STRICTER = stricter_of(SETS)
"""The default: whatever meets it meets every one of SETS."""

RULES = {each.name: each for each in (STRICTER, *SETS, OTHER_OPTION)}
"""Every set by the name that settings and options call it."""
