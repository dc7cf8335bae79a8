"""Long tables of heat, transcribed: times by thickness, and D and z of organisms.

Times in minutes, temperatures in degrees Celsius, thickness in millimetres.
"""

from __future__ import annotations

from dataclasses import dataclass

# Baldwin, A Practical Guide (2009-2012), pasteurising time of beef, pork and lamb, slab-like, from 5 C in a water
# bath (read in a copy): thickness, then the bath and the minutes.
MEAT_MIN: dict[int, dict[int, int]] = {
    5: {55: 120, 57: 60, 59: 40, 61: 25, 63: 18, 65: 14},
    10: {55: 120, 57: 75, 59: 45, 61: 35, 63: 30, 65: 25},
    15: {55: 135, 57: 90, 59: 60, 61: 50, 63: 40, 65: 35},
    20: {55: 150, 57: 105, 59: 75, 61: 60, 63: 55, 65: 45},
    25: {55: 165, 57: 120, 59: 90, 61: 75, 63: 75, 65: 55},
    30: {55: 180, 57: 120, 59: 105, 61: 90, 63: 75, 65: 75},
    35: {55: 195, 57: 135, 59: 120, 61: 105, 63: 90, 65: 75},
    40: {55: 210, 57: 150, 59: 135, 61: 105, 63: 105, 65: 90},
    45: {55: 240, 57: 180, 59: 150, 61: 135, 63: 120, 65: 105},
    50: {55: 270, 57: 195, 59: 165, 61: 150, 63: 135, 65: 120},
    55: {55: 300, 57: 225, 59: 180, 61: 165, 63: 150, 65: 135},
    60: {55: 315, 57: 255, 59: 210, 61: 180, 63: 165, 65: 150},
    65: {55: 360, 57: 285, 59: 240, 61: 210, 63: 195, 65: 180},
    70: {55: 390, 57: 315, 59: 255, 61: 225, 63: 210, 65: 195},
}

# The same for poultry (read in a copy).
POULTRY_MIN: dict[int, dict[int, int]] = {
    5: {57: 135, 59: 75, 61: 35, 63: 18, 65: 13},
    10: {58: 105, 60: 55, 62: 35, 64: 25},
    15: {57: 150, 59: 90, 61: 50, 63: 40, 65: 30},
    20: {58: 120, 60: 75, 62: 55, 64: 45},
    25: {57: 180, 59: 120, 61: 90, 63: 75, 65: 55},
    30: {58: 165, 60: 120, 62: 90, 64: 75},
    35: {57: 225, 59: 150, 61: 120, 63: 105, 65: 90},
    40: {58: 195, 60: 150, 62: 120, 64: 105},
    45: {57: 270, 59: 195, 61: 165, 63: 135, 65: 120},
    50: {58: 255, 60: 195, 62: 165, 64: 150},
    55: {57: 315, 59: 240, 61: 210, 63: 180, 65: 165},
    60: {58: 300, 60: 255, 62: 210, 64: 195},
    65: {57: 375, 59: 300, 61: 255, 63: 225, 65: 195},
    70: {58: 360, 60: 300, 62: 270, 64: 240},
}

# The same, time until the middle of a slab is within 0.5 C of the bath (from memory, low confidence, about 15 %).
HEATING_MIN = {5: 5, 15: 35, 25: 75, 35: 120, 45: 180, 55: 240, 65: 330}


@dataclass(frozen=True, slots=True)
class Measured:
    """D in minutes at temperatures, as a source prints them, and the z it prints or that was fitted to them.

    `within` is how far a straight line through log10 D may be from the printed z, as a share.
    """

    organism: str
    food: str
    source: str
    how: str
    d_min: dict[float, float]
    z_c: float
    within: float = 0.01


_FRANKS = "Murphy et al. 2004, as tabulated in a review"
_MURPHY = "Murphy et al., Poultry Science 83(7):1218-1225, 2004, abstract"
_JUNEJA = "Juneja and Marmer, Food Microbiology 15(3):281-287, 1998, abstract"
_PERFRINGENS = "C. perfringens, vegetative cells"
_O157 = "E. coli O157:H7"
_LISTERIA = "Listeria monocytogenes"

MEASURED = (
    # D is given as 61 to 62, 3.8 to 4.2 and 0.6 to 0.7: the middles. z is a fit (worked out).
    Measured(
        "Salmonella",
        "ground beef",
        "Goodfellow and Brown, J. Food Protection 41(8):598-605, 1978, abstract",
        "read",
        {51.6: 61.5, 57.2: 4.0, 62.7: 0.65},
        5.61,
    ),
    # z is a fit (worked out): the abstract gives none.
    Measured(
        "Salmonella",
        "chicken broth",
        "Juneja, Eblen and Ransom, J. Food Science 66(1):146-152, 2001, abstract",
        "read",
        {55: 4.87, 58: 2.72, 60: 1.3, 62: 0.41},
        6.65,
    ),
    # Of Murphy et al. the two end values are given and the z of all of them.
    Measured("Salmonella", "chicken thigh and leg", _MURPHY, "read", {55: 43.33, 70: 0.07}, 5.34),
    Measured("Salmonella", "chicken skin", _MURPHY, "read", {55: 43.76, 70: 0.09}, 5.56),
    Measured(_LISTERIA, "chicken thigh and leg", _MURPHY, "read", {55: 38.94, 70: 0.04}, 5.08, 0.015),
    Measured(_LISTERIA, "chicken skin", _MURPHY, "read", {55: 34.05, 70: 0.05}, 5.27),
    # The z of the review's table are fits (worked out).
    Measured(
        "Salmonella",
        "pork franks",
        _FRANKS,
        "read in a copy",
        {55: 45.87, 57.5: 26.67, 60: 5.07, 62.5: 2.56, 65: 1.91, 67.5: 0.36, 70: 0.083},
        5.65,
    ),
    Measured(
        _LISTERIA,
        "pork franks",
        _FRANKS,
        "read in a copy",
        {55: 47.17, 57.5: 22.32, 60: 5.61, 62.5: 2.87, 65: 1.56, 67.5: 0.44, 70: 0.085},
        5.74,
    ),
    # At 62.5 C the copy repeats the 3.22 of 60 C: likely a typing error, left out. Its z is not printed: fitted here.
    Measured(
        _O157,
        "pork franks",
        _FRANKS,
        "read in a copy",
        {55: 33.44, 57.5: 10.37, 60: 3.22, 65: 0.8, 67.5: 0.077, 70: 0.048},
        5.23,
    ),
    Measured(
        _O157,
        "beef and turkey link",
        _FRANKS,
        "read in a copy",
        {55: 23.23, 57.5: 7.43, 60: 2.38, 62.5: 0.76, 65: 0.24, 67.5: 0.08, 70: 0.03},
        5.15,
    ),
    Measured(
        _LISTERIA,
        "beef and turkey link",
        _FRANKS,
        "read in a copy",
        {55: 50.35, 57.5: 18.6, 60: 6.87, 62.5: 2.54, 65: 0.84, 67.5: 0.35, 70: 0.13},
        5.77,
    ),
    # z is printed as 6.22 to 6.77 for all four foods; the three fits are 6.80, 6.64 and 6.33 (worked out).
    Measured(_PERFRINGENS, "beef", _JUNEJA, "read", {55: 21.6, 57.5: 10.2, 60: 5.3, 62.5: 1.6}, 6.77, 0.005),
    Measured(_PERFRINGENS, "turkey", _JUNEJA, "read", {55: 17.5, 62.5: 1.3}, 6.64),
    Measured(
        _PERFRINGENS,
        "beef with 0.15 % phosphate",
        _JUNEJA,
        "read",
        {55: 17.9, 57.5: 9.4, 60: 3.5, 62.5: 1.2},
        6.33,
    ),
    # Printed in seconds: 1683.7, 0.9, 0.7. A line through the end points alone would be 6.57.
    Measured(
        _LISTERIA,
        "whole raw milk",
        "Bradshaw et al., J. Food Protection 48(9):743-745, 1985, abstract",
        "read",
        {52.2: 1683.7 / 60, 71.7: 0.9 / 60, 74.4: 0.7 / 60},
        6.3,
    ),
)
