"""USDA FSIS tables for cooked poultry: holding times for 7-log Salmonella, by bird and by fat.

The even rows at 12 % fat were read in a copy of the 2007 tables, the odd ones are from memory. Leaner birds have
shorter times and are not counted with. The tables are not log-linear (there is a lag in them): no single D and z
gives them. A printed "less than 10 s" is taken as 10 s.
"""

from __future__ import annotations

from scheduler.domain.kitchen.heat.published.holds import Holds, strictest
from scheduler.domain.kitchen.sources import How, Source

_COPY = Source("USDA FSIS poultry tables", "12 % fat", How.READ_IN_A_COPY)

# Degrees Celsius; chicken and turkey in minutes, at 12 % fat.
_MINUTES = (
    (57.8, 81.4, 70.8),
    (58.3, 65.5, 58.5),
    (58.9, 52.9, 48.5),
    (59.4, 43.0, 40.4),
    (60.0, 35.0, 33.7),
    (60.6, 28.7, 28.2),
    (61.1, 23.5, 23.7),
    (61.7, 19.3, 19.8),
    (62.2, 15.9, 16.6),
    (62.8, 13.0, 13.8),
    (63.3, 10.6, 11.5),
    (63.9, 8.6, 9.4),
    (64.4, 6.8, 7.7),
    (65.0, 5.4, 6.2),
    (65.6, 4.2, 4.9),
    (66.1, 3.1, 3.8),
    (66.7, 2.3, 2.8),
    (67.8, 1.1, 1.6),
)
# The same in seconds.
_SECONDS = (
    (68.9, 43.0, 60.0),
    (70.0, 26.9, 40.9),
    (71.1, 16.9, 26.9),
    (72.2, 10.5, 17.7),
    (73.3, 10.0, 11.7),
)
_ROWS = (*((at, a * 60, b * 60) for at, a, b in _MINUTES), *_SECONDS)

CHICKEN_12 = Holds("7-log Salmonella, chicken, FSIS", _COPY, tuple((at, hold) for at, hold, _ in _ROWS))
TURKEY_12 = Holds("7-log Salmonella, turkey, FSIS", _COPY, tuple((at, hold) for at, _, hold in _ROWS))

POULTRY = strictest("7-log Salmonella, FSIS poultry tables", _COPY, CHICKEN_12, TURKEY_12)
"""Neither bird nor fat is known of a step: the longer of both at 12 %, the fattest that was read."""
