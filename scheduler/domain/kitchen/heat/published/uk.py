"""British tables: what equals 70 C for 2 min, and what equals 90 C for 10 min.

Two tables answer for 70 C and 2 min: the general one (45 min at 60 C) and the one for burgers, after E. coli O157
(93 min at 60 C). They conflict; which one counts goes by the food. The 2 min at 70 C are 6-log Listeria (Mackey and
Bratchell 1989, abstract read); a New Zealand paper (MPI 2016/05) says that newer data on raw meat ask for more, by a
figure that was not seen.
"""

from __future__ import annotations

from scheduler.domain.kitchen.heat.published.holds import Holds
from scheduler.domain.kitchen.sources import How, Source

SEVENTY_FOR_TWO = Holds(
    "70 C for 2 min or its equal, UK",
    Source("UK Food Standards Agency and ACMSF advice", "", How.READ_IN_A_COPY),
    ((60.0, 45 * 60.0), (65.0, 10 * 60.0), (70.0, 120.0), (75.0, 30.0), (80.0, 6.0)),
)

# 70 C and above as in the general table.
BURGERS = Holds(
    "70 C for 2 min or its equal in burgers, UK",
    Source("UK ACMSF 2007", "E. coli O157", How.READ_IN_A_COPY),
    ((60.0, 93 * 60.0), (65.0, 14 * 60.0), (70.0, 120.0)),
)

# Minutes from 80 C to 100 C, degree by degree: z is 9 below 90 C and 10 from there on.
_NINETY = (129, 100, 77, 60, 46, 36, 28, 22, 17, 13, 10, 7.9, 6.3, 5.0, 4.0, 3.2, 2.5, 2.0, 1.6, 1.3, 1.0)

NINETY_FOR_TEN = Holds(
    "6-log cold-growing C. botulinum, 90 C for 10 min or its equal, UK",
    Source("Chilled Food Association, 4th ed. 2006, in UK Food Standards Agency training", "", How.READ),
    tuple((80.0 + place, minutes * 60.0) for place, minutes in enumerate(_NINETY)),
)
