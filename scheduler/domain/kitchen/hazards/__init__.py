"""What to beware of: the hazards by the words that a plan or a cook uses for them.

The sentences stand in `table`; which step has which is found in `attached`.
"""

from __future__ import annotations

import re

from scheduler.domain.kitchen.hazards.table import HAZARDS as HAZARDS
from scheduler.domain.kitchen.hazards.table import Hazard as Hazard

DEFERRAL = (
    "Follow your local food code; ask a licensed professional where food is sold or guests are at risk."
)
"""What every caution ends with."""


def hazard(text: str) -> Hazard | None:
    """The hazard a plan's word means; None for a caution in the cook's own words."""
    wanted = " ".join(text.split()).casefold()
    return next((each for each in HAZARDS if wanted in (each.word, *each.also)), None)


def hazards_in(text: str) -> tuple[Hazard, ...]:
    """The hazards that a sentence speaks of, the most serious first."""
    lower = " ".join(text.split()).casefold()
    return tuple(each for each in HAZARDS if any(_speaks(lower, word) for word in (each.word, *each.also)))


def named(word: str) -> Hazard:
    """The hazard that goes by just this word of the table. KeyError for any other."""
    return _BY_WORD[word]


_BY_WORD = {each.word: each for each in HAZARDS}


def _speaks(text: str, word: str) -> bool:
    return re.search(rf"\b{re.escape(word)}\b", text) is not None


def caution(text: str) -> str:
    """A step's caution as the cook reads it: the sentence and its source, or what the plan says as it is."""
    known = hazard(text)
    return text if known is None else str(known)
