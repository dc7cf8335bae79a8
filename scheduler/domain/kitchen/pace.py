"""How fast food is cooling, from the cook's own readings: a forecast, never a promise.

Newton's law of cooling: the difference from what is around the food shrinks by the same share in the same time
(textbook; worked out here). A pot does not keep to it exactly: its middle lags behind, and a lid, a stir or an ice bath
changes the pace. What is around the food has to be known or assumed.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, timedelta
from math import ceil, log

FRIDGE_C, ROOM_C = 4.0, 20.0
"""What is taken to be around food in a fridge and on a counter (common practice, no source)."""

MINUTE = timedelta(minutes=1)
LONGEST = timedelta(days=2)
"""What takes longer than this is as good as never (our choice)."""


def reaches(readings: Iterable[tuple[datetime, float]], to_c: float, around_c: float) -> datetime | None:
    """When the middle comes down to `to_c` at the pace of the last two readings, in surroundings of `around_c`: to the
    minute, the later one.

    Temperatures in C. None where two readings do not show it cooling, or at that pace it never gets there.
    """
    last = sorted(readings)[-2:]
    if len(last) < 2:
        return None
    (since, warmer), (at, cooler) = last
    if not (warmer > cooler > around_c and to_c > around_c and at > since):
        return None
    if cooler <= to_c:
        return at
    shrunk = log((warmer - around_c) / (cooler - around_c))
    left = log((cooler - around_c) / (to_c - around_c)) / shrunk
    minutes = ceil(left * (at - since) / MINUTE)
    return at + minutes * MINUTE if minutes * MINUTE <= LONGEST else None
