"""Every published figure on cooling and holding food, once, with its source.

Temperatures in degrees Celsius, as the sources print them where they print Celsius. Which document says what, and
which of them is in force, is in `rules`.
"""

from __future__ import annotations

from datetime import timedelta

HOUR = timedelta(hours=1)

# ---------------------------------------------------------------- the figures of the Food Code
# All read in a state's adoption of the text of 2013 (holding without heat or cold: of 2009 and 2013).

HOT_C = 57.0
"""Held hot at this or above (FDA Food Code 3-501.16(A)(1))."""

HOT_ROAST_C = 54.0
"""The same for whole roasts cooked or reheated by its tables (FDA Food Code 3-501.16(A)(1))."""

COLD_C = 5.0
"""Held cold at this or below (FDA Food Code 3-501.16(A)(2))."""

LUKEWARM_C = 21.0
"""Where the first stage of cooling ends (FDA Food Code 3-501.14(A)(1)); as warm as cold food may get while
it stands out (3-501.19(C))."""

FIRST_STAGE = 2 * HOUR
"""From 57 C to 21 C (FDA Food Code 3-501.14(A)(1))."""

BOTH_STAGES = 6 * HOUR
"""From 57 C to 5 C, in all (FDA Food Code 3-501.14(A))."""

FROM_AMBIENT = 4 * HOUR
"""To 5 C, for food made from things at room temperature (FDA Food Code 3-501.14(B))."""

OUT = 4 * HOUR
"""Neither hot nor cold, begun at 5 C or below or at 57 C or above (FDA Food Code 3-501.19(B))."""

OUT_COLD = 6 * HOUR
"""Out of the cold, begun at 5 C or below and never above 21 C (FDA Food Code 3-501.19(C))."""

REHEAT_C = 74.0
"""Every part, to hold it hot afterwards (FDA Food Code 3-403.11(A))."""

REHEAT_FOR = timedelta(seconds=15)
"""How long at that (FDA Food Code 3-403.11(A))."""

MICROWAVE_STAND = timedelta(minutes=2)
"""How long what was reheated to 74 C by microwave stands covered (FDA Food Code 3-403.11(B))."""

REHEAT_PACKAGED_C = 57.0
"""The same for ready-to-eat food that a food plant packed (FDA Food Code 3-403.11(C))."""

REHEAT_WITHIN = 2 * HOUR
"""From 5 C to the heat that is wanted (FDA Food Code 3-403.11(D))."""

# ---------------------------------------------------------------- the figures of FSIS

FSIS_HOT_C, FSIS_MIDDLE_C, FSIS_COLD_C = 54.4, 26.7, 4.4
"""130 F, 80 F and 40 F: the stages of option 1 (FSIS Appendix B, 1999, read in a copy)."""

FSIS_FIRST, FSIS_SECOND = 1.5 * HOUR, 5 * HOUR
"""Option 1: 54.4 C to 26.7 C, and 26.7 C to 4.4 C (FSIS Appendix B, 1999, read in a copy)."""

FSIS_SLOW_FROM_C, FSIS_SLOW_TO_C = 48.9, 12.8
"""120 F and 55 F: the ends of option 2 (FSIS Appendix B, 1999, read in a copy)."""

FSIS_SLOW, FSIS_SLOW_FIRST = 6 * HOUR, HOUR
"""Option 2: 48.9 C to 12.8 C, and how long a stay from 48.9 C to 26.7 C is not in doubt (the same copy)."""

HOME_OUT = 2 * HOUR
"""FSIS to people at home, from memory: thrown away when out for more than this."""

HOME_OUT_HOT_DAY, HOT_DAY_C = HOUR, 32.0
"""The same where it is above 32 C, 90 F (from memory)."""

HOME_HOT_C, HOME_COLD_C = 60.0, 4.4
"""140 F and 40 F: what FSIS tells people at home to hold hot and cold food at (from memory)."""
