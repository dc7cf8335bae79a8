"""What to beware of: a word in a plan, one sentence for the cook, and the source it rests on.

The figures are published limits, quoted and never bent. The comment beside each hazard says whether its
source was read, read in a copy, or is remembered, and what in the sentence goes beyond it. Temperatures in
degrees Celsius.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal

DEFERRAL = (
    "Follow your local food code; ask a licensed professional where food is sold or guests are at risk."
)
"""What every caution ends with."""

ACID_ENOUGH = Decimal("4.6")
"""The highest pH of an acid food, itself included (21 CFR 114.3, read)."""

METER_ERROR = Decimal("0.1")
"""How far a kitchen pH meter may be off (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Hazard:
    """`word` is what a plan writes after `caution:`; `also` are other words for it, in any case."""

    word: str
    says: str
    source: str
    also: tuple[str, ...] = ()

    def __str__(self) -> str:
        return f"{self.says.rstrip('.')} ({self.source})."


HAZARDS = (
    # pH: read. The signs of spoilage: extension practice, from memory.
    Hazard(
        "mould",
        "Throw it out if it is fuzzy, slimy or smells rotten; a finished ferment has a pH of 4.6 or below.",
        "UC ANR Master Food Preserver; 21 CFR 114.3",
        ("mold", "mouldy", "moldy", "fuzzy", "slimy", "ferment", "ph"),
    ),
    # Read in a state's adoption of the text. Shallow pans: common practice.
    Hazard(
        "cooling",
        "Cool it from 57 C to 21 C within 2 h, and to 5 C within 6 h in all; shallow pans help.",
        "FDA Food Code 3-501.14",
        ("cool", "chilling", "cooled"),
    ),
    # Read in a state's adoption of the text.
    Hazard(
        "holding",
        "Neither hot (57 C) nor cold (5 C), food has at most 4 h; throw away what is left then.",
        "FDA Food Code 3-501.19",
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
    ),
    # Read in a state's adoption of the text.
    Hazard(
        "reheating",
        "To keep it hot afterwards, reheat every part to 74 C for 15 s, within 2 h.",
        "FDA Food Code 3-403.11",
        ("reheat", "warm up", "warming up"),
    ),
    # FDA's advice to consumers, read in press reports of it.
    Hazard(
        "sprouts",
        "What sprouts a seed also feeds Salmonella and E. coli: cook sprouts through, "
        "above all for the young, the old, the pregnant and the ill.",
        "FDA advice on sprouts",
        ("sprout", "sprouting", "sprouted"),
    ),
    # Read in a summary. The British advice of 10 min and the 10 min of older texts are shorter.
    Hazard(
        "kidney beans",
        "Soak at least 5 h, drain, and boil 30 min in fresh water; a slow cooker or warm bath is not enough.",
        "FDA Bad Bug Book, 2nd ed.",
        ("kidney bean", "red beans", "lectin"),
    ),
    # The shortest of several published keeping times (4 to 10 days); this one from memory.
    Hazard(
        "garlic in oil",
        "Garlic under oil can grow botulism: make it fresh, keep it at 5 C or below, use it within 4 days.",
        "National Center for Home Food Preservation",
        ("garlic oil", "garlic confit", "confit garlic"),
    ),
    # The limit for home cures: read.
    Hazard(
        "cured meat",
        "Weigh curing salt to the gram: at most 200 parts of nitrite in a million of finished meat.",
        "21 CFR 172.175",
        ("curing salt", "nitrite", "cure", "curing", "cured"),
    ),
    # Limits: read in a state's adoption. That the spores outlive boiling: from memory.
    Hazard(
        "rice",
        "Spores in rice outlive boiling: keep it at 57 C or above, or cool it to 5 C within 6 h.",
        "FDA Food Code 3-501.14 and 3-501.16",
        ("cooked rice",),
    ),
    # Lowest temperature of the table for whole roasts: read in state adoptions.
    Hazard(
        "water bath",
        "Count the time from when the middle is hot; the published tables for meat begin at 54.4 C.",
        "FDA Food Code 3-401.11",
        ("waterbath", "low temperature"),
    ),
    # From memory.
    Hazard(
        "hot oil",
        "Stay with hot oil and fill the pan at most halfway; on fire, cover it, heat off, never water.",
        "US Fire Administration",
        ("frying", "deep frying", "fryer", "oil fire"),
    ),
    Hazard(
        "blending hot liquid",
        "Fill the jug a third at most, open the vent, hold a cloth over the lid, start slowly.",
        "common practice, no source",
        ("blending", "blender", "blend"),
    ),
    # Swollen sealed jars: read in a copy. Opening over the sink: common practice.
    Hazard(
        "swelling jar",
        "Vent a ferment slowly, over the sink; a sealed preserve that swells or spurts goes out untasted.",
        "USDA Complete Guide to Home Canning",
        ("pressure", "swelling", "swollen", "bulging", "bulge", "swelling jar/pressure"),
    ),
)


def hazard(text: str) -> Hazard | None:
    """The hazard a plan's word means; None for a caution in the cook's own words."""
    wanted = " ".join(text.split()).casefold()
    return next((each for each in HAZARDS if wanted in (each.word, *each.also)), None)


def hazards_in(text: str) -> tuple[Hazard, ...]:
    """The hazards that a sentence speaks of, in the order of HAZARDS."""
    lower = " ".join(text.split()).casefold()
    return tuple(each for each in HAZARDS if any(_speaks(lower, word) for word in (each.word, *each.also)))


def _speaks(text: str, word: str) -> bool:
    return re.search(rf"\b{re.escape(word)}\b", text) is not None


def caution(text: str) -> str:
    """A step's caution as the cook reads it: the sentence and its source, or what the plan says as it is."""
    known = hazard(text)
    return text if known is None else str(known)


def acidity(reading: Decimal) -> str:
    """Which published limit a pH reading meets, or does not; the meter's error counts against it."""
    limit = f"pH {ACID_ENOUGH} or below (21 CFR 114.3)"
    if reading + METER_ERROR <= ACID_ENOUGH:
        return f"That meets the limit of {limit}, with {METER_ERROR} to spare for the meter."
    if reading <= ACID_ENOUGH:
        return f"That just meets the limit of {limit}; a meter may be off by {METER_ERROR}: measure again."
    return f"That does not meet the limit of {limit}."
