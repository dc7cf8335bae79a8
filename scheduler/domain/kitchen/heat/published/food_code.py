"""US FDA Food Code: cooking times, and the federal table for patties.

Editions differ and are never mixed: the table for whole roasts of the 1990s (the 7-log column, but 3 min at 63 C) still
stands in some states' law; ground meat at 68 C was 15 s up to 2013 and is 17 s from 2017 on (the edition from memory);
poultry at 74 C was 15 s up to 2013 and is less than a second from 2017 on.
"""

from __future__ import annotations

from scheduler.domain.kitchen.heat.published.holds import Holds
from scheduler.domain.kitchen.sources import How, Source

ROASTS = Holds(
    "whole roasts, Food Code",
    Source("FDA Food Code 2013", "3-401.11(B)(2)", How.READ_IN_A_COPY),
    (
        (54.4, 112 * 60.0),
        (55.0, 89 * 60.0),
        (56.1, 56 * 60.0),
        (57.2, 36 * 60.0),
        (57.8, 28 * 60.0),
        (58.9, 18 * 60.0),
        (60.0, 12 * 60.0),
        (61.1, 8 * 60.0),
        (62.2, 5 * 60.0),
        (62.8, 4 * 60.0),
        (63.9, 134.0),
        (65.0, 85.0),
        (66.1, 54.0),
        (67.2, 34.0),
        (68.3, 22.0),
        (69.4, 14.0),
        (70.0, 0.0),
    ),
)

INTACT = Holds(
    "intact meat, fish and eggs, Food Code",
    Source("FDA Food Code 2013", "3-401.11(A)(1)", How.READ_IN_A_COPY),
    ((63.0, 15.0),),
)

# The last row is printed "less than 1 s".
GROUND_2013 = Holds(
    "ground meat, Food Code 2013",
    Source("FDA Food Code 2013", "3-401.11(A)(2)", How.READ_IN_A_COPY),
    ((63.0, 180.0), (66.0, 60.0), (68.0, 15.0), (70.0, 1.0)),
)
GROUND = Holds(
    "ground meat, Food Code 2017",
    Source("FDA Food Code 2017", "3-401.11(A)(2)", How.FROM_MEMORY),
    ((63.0, 180.0), (66.0, 60.0), (68.0, 17.0), (70.0, 1.0)),
)

POULTRY_2013 = Holds(
    "poultry and stuffed foods, Food Code 2013",
    Source("FDA Food Code 2013", "3-401.11(A)(3)", How.READ_IN_A_COPY),
    ((74.0, 15.0),),
)
POULTRY = Holds(
    "poultry and stuffed foods, Food Code 2017",
    Source("FDA Food Code 2017", "3-401.11(A)(3)", How.READ_IN_A_COPY),
    ((74.0, 1.0),),
)

PLANT_HOT_HELD = Holds(
    "plant food for hot holding, Food Code",
    Source("FDA Food Code 2013", "3-401.13", How.READ_IN_A_COPY),
    ((57.0, 0.0),),
)

# Then it stands covered for these 2 min.
MICROWAVE = Holds(
    "raw animal food in a microwave oven, Food Code",
    Source("FDA Food Code 2013", "3-401.12", How.READ_IN_A_COPY),
    ((74.0, 120.0),),
)

# The table's body was not shown where the edition was found; 157 F and above. Celsius worked out from 151 to 157 F.
PATTIES = Holds(
    "uncured meat patties, 9 CFR 318.23",
    Source("9 CFR 318.23(b)(1)", "2003", How.FROM_MEMORY),
    ((66.1, 41.0), (66.7, 32.0), (67.2, 26.0), (67.8, 20.0), (68.3, 16.0), (68.9, 13.0), (69.4, 10.0)),
)
