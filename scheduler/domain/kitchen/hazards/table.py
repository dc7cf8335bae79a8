"""What there is to beware of: one sentence for the cook, and the source it rests on.

The figures are published limits, quoted and never bent. The comment beside each says what in the sentence goes
beyond its source. Temperatures in degrees Celsius. The most serious come first: what can kill, then what poisons,
then what burns.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta

from scheduler.domain.kitchen import limits_published as limits
from scheduler.domain.kitchen.hazards.beans import BOIL, SOAK
from scheduler.domain.kitchen.heat.reductions import LOWEST_C
from scheduler.domain.kitchen.readings import ACID_ENOUGH
from scheduler.domain.kitchen.sources import How, Source
from scheduler.domain.kitchen.written import degrees, in_hours


@dataclass(frozen=True, slots=True)
class Hazard:
    """`word` is what a plan writes after `caution:`; `also` are other words for it, in any case.

    `by_time`: standing longer makes it worse, so nobody is offered more time. `guarded`: the step it hangs on is
    what keeps the danger away, so that leaving the step out while the food is kept is asked back or refused.
    """

    word: str
    says: str
    sources: tuple[Source, ...]
    also: tuple[str, ...] = ()
    by_time: bool = False
    guarded: bool = False

    @property
    def source(self) -> str:
        """Every source as it is told to a cook."""
        return "; ".join(map(str, self.sources))

    def __str__(self) -> str:
        return f"{self.says.rstrip('.')} ({self.source})."


PRACTICE = (Source("", how=How.PRACTICE),)

BAD_BUG_BOOK = Source("FDA Bad Bug Book, 2nd ed.", how=How.READ_IN_A_COPY)
"""Read in a summary of its chapter on phytohaemagglutinin."""

OIL_KEEPS = timedelta(days=4)
"""How long garlic or herbs in oil keep, cold: the shortest of several published times, 4 to 10 days (National
Center for Home Food Preservation, from memory)."""


def _food_code(where: str) -> tuple[Source, ...]:
    """Read in a state's adoption of the text."""
    return (Source(f"FDA Food Code {where}", how=How.READ_IN_A_COPY),)


_HOT, _COLD = degrees(limits.HOT_C), degrees(limits.COLD_C)
_ALL_COOLED = in_hours(limits.BOTH_STAGES)

HAZARDS = (
    # Herbs: the same advice.
    Hazard(
        "garlic in oil",
        f"Garlic or herbs under oil can grow botulism: make it fresh, keep it at {_COLD} or below, "
        f"use it within {OIL_KEEPS.days} days.",
        (Source("National Center for Home Food Preservation", how=How.FROM_MEMORY),),
        ("garlic oil", "garlic confit", "confit garlic", "herb oil", "herbs in oil"),
        by_time=True,
    ),
    # Swollen sealed jars: read in a copy. Venting over the sink: common practice.
    Hazard(
        "swelling jar",
        "Vent a jar that swells as it ferments slowly, over the sink; a sealed preserve that swells or spurts "
        "goes out untasted.",
        (Source("USDA Complete Guide to Home Canning", how=How.READ_IN_A_COPY),),
        ("swelling", "swollen", "bulging", "bulge", "swelling jar/pressure"),
    ),
    # Where the limits stand; none is quoted and nothing is worked out, for nitrite is not a cook's arithmetic.
    Hazard(
        "cured meat",
        "Curing salt and nitrite are not worked out here: follow the tested recipe of the salt's maker, or ask a "
        "licensed professional.",
        (Source("limits: 21 CFR 172.175"),),
        ("curing salt", "nitrite", "nitrate", "saltpetre", "cure", "curing", "cured"),
        guarded=True,
    ),
    # The British advice of 10 min and the 20 min of Bender & Reaidi (1982) are shorter: the longest is taken.
    # "Longer high up" is worked out: water boils about 1 C cooler for each 300 m.
    Hazard(
        "kidney beans",
        f"Kidney beans, red or white: soak at least {in_hours(SOAK)}, drain, boil {in_hours(BOIL)} in fresh water, "
        "longer high up; a slow cooker or warm bath is not enough.",
        (BAD_BUG_BOOK,),
        ("kidney bean", "red beans", "cannellini", "rajma", "lectin"),
        guarded=True,
    ),
    # Shallow pans: common practice.
    Hazard(
        "cooling",
        f"Cool it from {_HOT} to {degrees(limits.LUKEWARM_C)} within {in_hours(limits.FIRST_STAGE)}, "
        f"and to {_COLD} within {_ALL_COOLED} in all; shallow pans help.",
        _food_code("3-501.14"),
        ("cool", "chilling", "cooled"),
        by_time=True,
        guarded=True,
    ),
    # Both are told: the Code speaks of kitchens that write the time down, FSIS of people at home.
    Hazard(
        "holding",
        f"Neither hot ({_HOT}) nor cold ({_COLD}), food has at most {in_hours(limits.HOME_OUT)} at home, "
        f"{in_hours(limits.OUT)} where it is timed; then throw it away.",
        (Source("FSIS", how=How.FROM_MEMORY), *_food_code("3-501.19")),
        (
            "sat out",
            "sitting out",
            "left out",
            "been out",
            "counter",
            "room temperature",
            "left overnight",
            "out overnight",
        ),
        by_time=True,
    ),
    # That the spores outlive boiling: from memory.
    Hazard(
        "rice",
        f"Spores in rice outlive boiling: keep it at {_HOT} or above, or cool it to {_COLD} within {_ALL_COOLED}.",
        _food_code("3-501.14 and 3-501.16"),
        ("cooked rice",),
        by_time=True,
        guarded=True,
    ),
    # Lowest temperature of the table for whole roasts: read in state adoptions.
    Hazard(
        "water bath",
        f"Count the time from when the middle is hot; the published tables for meat begin at {degrees(LOWEST_C)}.",
        _food_code("3-401.11"),
        ("waterbath", "low temperature"),
        guarded=True,
    ),
    Hazard(
        "reheating",
        f"To keep it hot afterwards, reheat every part to {degrees(limits.REHEAT_C)} "
        f"for {limits.REHEAT_FOR.seconds} s, within {in_hours(limits.REHEAT_WITHIN)}.",
        _food_code("3-403.11"),
        ("reheat", "warm up", "warming up"),
        guarded=True,
    ),
    # Read in press reports of it.
    Hazard(
        "sprouts",
        "What sprouts a seed also feeds Salmonella and E. coli: cook sprouts through, "
        "above all for the young, the old, the pregnant and the ill.",
        (Source("FDA advice on sprouts", how=How.READ_IN_A_COPY),),
        ("sprout", "sprouting", "sprouted"),
        by_time=True,
    ),
    # pH: read. The signs of spoilage: extension practice, from memory.
    Hazard(
        "mould",
        f"Throw it out if it is fuzzy, slimy or smells rotten; a finished ferment has a pH of {ACID_ENOUGH} or below.",
        (Source("UC ANR Master Food Preserver"), Source("21 CFR 114.3")),
        ("mold", "mouldy", "moldy", "fuzzy", "slimy", "ferment", "ph"),
        guarded=True,
    ),
    Hazard(
        "hot oil",
        "Stay with hot oil and fill the pan at most halfway; on fire, cover it, heat off, never water.",
        (Source("US Fire Administration", how=How.FROM_MEMORY),),
        ("frying", "deep frying", "fryer", "oil fire"),
        by_time=True,
    ),
    Hazard(
        "blending hot liquid",
        "Fill the jug a third at most, open the vent, hold a cloth over the lid, start slowly.",
        PRACTICE,
        ("blending", "blender", "blend"),
    ),
    Hazard(
        "pressure",
        "Gas from a ferment can burst a jar or bottle that is shut: leave the lid loose, use an airlock, "
        "or let the gas out every day.",
        PRACTICE,
        ("sealed jar", "bursting jar"),
    ),
)
