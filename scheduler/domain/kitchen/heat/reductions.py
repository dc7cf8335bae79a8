"""Which reductions are published, for which food, and how fast each organism dies.

A reduction that is asked for is counted along the curve with D and z. Tables of holding times (FSIS, Food Code, UK)
are told beside it where they are met too: they count only time at a temperature they print, so that in a bath at
the final temperature they are met later than the tables for pieces of a thickness, which count the way there.

Where sources differ: for meat Baldwin's pooled regression is taken, not the review's log10 D = 11.7 - 0.188 T for
Salmonella (Doyle and Mazzotta 2000), which gives 1.35 s at 71 C where its own text says 1.2 s; for poultry the meat of
thigh and leg (Murphy et al. 2004), which is what the thickness tables for poultry come out of, not the skin (about
1 % more at 55 C). Listeria in milk (Bradshaw 1985) is given z = 6.3, its own end points 6.6; it is not used.
"""

from __future__ import annotations

from dataclasses import dataclass

from scheduler.domain.kitchen.core import Food
from scheduler.domain.kitchen.heat.lethality import Kills
from scheduler.domain.kitchen.heat.published import appendix_a, food_code, poultry, uk
from scheduler.domain.kitchen.heat.published.holds import Holds
from scheduler.domain.kitchen.sources import How, Source

LOWEST_C = 54.4
"""Below this no time is published: 54.4 C, 130 F, is the first row of FSIS Appendix A (read in a copy)."""

LOWEST_SOURCE = appendix_a.SALMONELLA_6_5.source


@dataclass(frozen=True, slots=True)
class Reduction:
    """`log10` of `organism` gone: 6.5 means that one in about three million is left."""

    name: str
    organism: str
    log10: float
    source: Source


# Regression on O'Bryan 2006, Bolton 2000, Hansen and Knochel 1996; quoted by its author.
_POOLED = Source("Baldwin, A Practical Guide", "pooled D and z for meat", How.READ_IN_A_COPY)
_MURPHY = Source("Murphy et al., Poultry Science 83(7):1218, 2004", "abstract")
# Fatty fish, after Embarek and Huss 1993; lean fish has 2.88 min: what is not said is taken as fatty.
_FISH = Source("Baldwin, A Practical Guide", "fatty fish", How.FROM_MEMORY)

MEAT_E_COLI = Reduction("5-log E. coli", "E. coli", 5.0, _POOLED)
MEAT_SALMONELLA = Reduction("6.5-log Salmonella", "Salmonella", 6.5, _POOLED)
MEAT_LISTERIA = Reduction("6-log Listeria", "Listeria monocytogenes", 6.0, _POOLED)
POULTRY_SALMONELLA = Reduction("7-log Salmonella in poultry", "Salmonella", 7.0, _MURPHY)
POULTRY_LISTERIA = Reduction("6-log Listeria in poultry", "Listeria monocytogenes", 6.0, _MURPHY)
FISH_LISTERIA = Reduction("6-log Listeria in fatty fish", "Listeria monocytogenes", 6.0, _FISH)
BURGER_E_COLI = Reduction("6-log E. coli O157 in burgers", "E. coli O157", 6.0, uk.BURGERS.source)

KILLS = {
    MEAT_E_COLI: Kills(55.0, 19.35, 4.87),
    MEAT_SALMONELLA: Kills(55.0, 13.18, 7.58),
    MEAT_LISTERIA: Kills(55.0, 12.66, 9.22),
    # D is printed for 55.0 C.
    POULTRY_SALMONELLA: Kills(55.0, 43.33, 5.34),
    POULTRY_LISTERIA: Kills(55.0, 38.94, 5.08),
    FISH_LISTERIA: Kills(60.0, 5.13, 5.68),
    # The lowest D at 70 C, with z = 6, that gives no less than the printed 93 min at 60 C and 14 min at 65 C
    # (worked out; that 2 min at 70 C are a 6-log reduction is from memory).
    BURGER_E_COLI: Kills(70.0, 0.343, 6.0),
}


def _by_table(table: Holds, organism: str, log10: float) -> Reduction:
    return Reduction(table.name, organism, log10, table.source)


APPENDIX_A_6_5 = _by_table(appendix_a.SALMONELLA_6_5, "Salmonella", 6.5)
APPENDIX_A_7 = _by_table(appendix_a.SALMONELLA_7, "Salmonella", 7.0)
FSIS_POULTRY = _by_table(poultry.POULTRY, "Salmonella", 7.0)
# 6-log is what the 2 min at 70 C come to (Mackey and Bratchell 1989, abstract read).
UK_SEVENTY = _by_table(uk.SEVENTY_FOR_TWO, "Listeria monocytogenes", 6.0)
UK_BURGERS = _by_table(uk.BURGERS, "E. coli O157", 6.0)
UK_NINETY = _by_table(uk.NINETY_FOR_TEN, "non-proteolytic C. botulinum", 6.0)

TABLES = {
    APPENDIX_A_6_5: appendix_a.SALMONELLA_6_5,
    APPENDIX_A_7: appendix_a.SALMONELLA_7,
    FSIS_POULTRY: poultry.POULTRY,
    UK_SEVENTY: uk.SEVENTY_FOR_TWO,
    UK_BURGERS: uk.BURGERS,
    UK_NINETY: uk.NINETY_FOR_TEN,
}

_MEAT = (MEAT_E_COLI, MEAT_SALMONELLA, MEAT_LISTERIA)
_BIRD = (POULTRY_SALMONELLA, POULTRY_LISTERIA)
_ASKED: dict[Food | None, tuple[Reduction, ...]] = {
    Food.MEAT: _MEAT,
    Food.POULTRY: _BIRD,
    Food.GROUND: (*_MEAT, BURGER_E_COLI),
    Food.FISH: (FISH_LISTERIA,),
    Food.PLANT: (),
    None: (*_MEAT, *_BIRD),
}
_TOLD: dict[Food | None, tuple[Reduction, ...]] = {
    Food.MEAT: (APPENDIX_A_6_5, APPENDIX_A_7, UK_SEVENTY, UK_NINETY),
    Food.POULTRY: (FSIS_POULTRY, UK_SEVENTY, UK_NINETY),
    Food.GROUND: (UK_BURGERS, UK_NINETY),
    Food.FISH: (UK_SEVENTY, UK_NINETY),
    Food.PLANT: (UK_NINETY,),
    None: (APPENDIX_A_6_5, APPENDIX_A_7, FSIS_POULTRY, UK_SEVENTY, UK_NINETY),
}
_REGULATOR: dict[Food | None, Holds] = {
    Food.MEAT: appendix_a.SALMONELLA_6_5,
    Food.POULTRY: poultry.POULTRY,
    Food.GROUND: food_code.GROUND,
    Food.FISH: food_code.INTACT,
    None: poultry.POULTRY,
}


HOLDS: dict[Food | None, tuple[Holds, ...]] = {
    Food.MEAT: (
        food_code.ROASTS, appendix_a.SALMONELLA_6_5, appendix_a.SALMONELLA_7, appendix_a.SALMONELLA_5,
        food_code.INTACT, uk.SEVENTY_FOR_TWO, food_code.MICROWAVE,
    ),
    Food.POULTRY: (
        poultry.POULTRY, food_code.POULTRY, uk.SEVENTY_FOR_TWO, food_code.MICROWAVE,
    ),
    Food.GROUND: (food_code.GROUND, food_code.PATTIES, uk.BURGERS, food_code.MICROWAVE),
    Food.FISH: (food_code.INTACT, uk.SEVENTY_FOR_TWO, food_code.MICROWAVE),
    Food.PLANT: (food_code.PLANT_HOT_HELD,),
    None: (poultry.POULTRY, food_code.ROASTS, food_code.GROUND, uk.BURGERS, uk.SEVENTY_FOR_TWO),
}  # fmt: skip
"""The published holds for a food whose middle has a temperature already, the one most asked for first."""


def asked(food: Food | None) -> tuple[Reduction, ...]:
    """The reductions a food is to have; food not said gets those of meat and those of poultry, plants none."""
    return _ASKED[food]


def told(food: Food | None) -> tuple[Reduction, ...]:
    """The tables that are told of where they are met as well."""
    return _TOLD[food]


def regulator(food: Food | None) -> Holds | None:
    """The regulator's own table for a food, which a cook is warned of where it is not met; None for plants."""
    return _REGULATOR.get(food)
