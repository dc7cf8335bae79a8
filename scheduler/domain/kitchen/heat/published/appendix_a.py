"""USDA FSIS Appendix A: cooked beef, roast beef and corned beef; the Food Code uses it for pork and lamb too.

The even rows of the 6.5-log and 7-log columns were read in copies of the 1999 text; it is believed to stand in the
editions of 2017 and 2021, which were not read. The 5-log column and the odd rows of the 7-log column are from memory;
of the odd rows of the 6.5-log column 137, 139, 141 and 143 F are, the others are those of the Food Code. Minutes are
rounded as printed: the columns are not one another scaled (134 F: 45 and 47 min). From 158 F on the table says 0 s.
"""

from __future__ import annotations

from scheduler.domain.kitchen.heat.published.holds import Holds
from scheduler.domain.kitchen.sources import How, Source

_COPY = Source("USDA FSIS Appendix A", "cooked beef", How.READ_IN_A_COPY)
_MEMORY = Source("USDA FSIS Appendix A", "cooked beef, 5-log column", How.FROM_MEMORY)

# Degrees Celsius as printed, then minutes up to 62.8 C: (6.5-log, 7-log).
_MINUTES = (
    (54.4, 112, 121),
    (55.0, 89, 97),
    (55.6, 71, 77),
    (56.1, 56, 62),
    (56.7, 45, 47),
    (57.2, 36, 37),
    (57.8, 28, 32),
    (58.3, 23, 24),
    (58.9, 18, 19),
    (59.4, 15, 15),
    (60.0, 12, 12),
    (60.6, 9, 10),
    (61.1, 8, 8),
    (61.7, 6, 6),
    (62.2, 5, 5),
    (62.8, 4, 4),
)
# From 63.3 C on in seconds.
_SECONDS = (
    (63.3, 169, 182),
    (63.9, 134, 144),
    (64.4, 107, 115),
    (65.0, 85, 91),
    (65.6, 67, 72),
    (66.1, 54, 58),
    (66.7, 43, 46),
    (67.2, 34, 37),
    (67.8, 27, 29),
    (68.3, 22, 23),
    (68.9, 17, 19),
    (69.4, 14, 15),
    (70.0, 0, 0),
)
_ROWS = (*((at, a * 60, b * 60) for at, a, b in _MINUTES), *_SECONDS)

SALMONELLA_6_5 = Holds(
    "6.5-log Salmonella, FSIS Appendix A", _COPY, tuple((at, float(hold)) for at, hold, _ in _ROWS)
)
SALMONELLA_7 = Holds(
    "7-log Salmonella, FSIS Appendix A", _COPY, tuple((at, float(hold)) for at, _, hold in _ROWS)
)

_FIVE = (
    (54.4, 86 * 60),
    (55.6, 55 * 60),
    (56.7, 35 * 60),
    (57.8, 22 * 60),
    (58.9, 14 * 60),
    (60.0, 9 * 60),
    (61.1, 6 * 60),
    (62.2, 4 * 60),
    (63.3, 130),
    (64.4, 82),
    (65.6, 52),
    (66.7, 33),
    (67.8, 21),
    (68.9, 14),
    (70.0, 0),
)
SALMONELLA_5 = Holds(
    "5-log Salmonella, FSIS Appendix A", _MEMORY, tuple((at, float(hold)) for at, hold in _FIVE)
)
