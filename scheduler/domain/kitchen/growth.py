"""How fast yeasts and lactic bacteria grow at a temperature.

The cardinal temperature model with inflection: no growth at and beyond the lowest and the highest temperature,
the fastest at the best (Rosso et al., Appl. Environ. Microbiol. 61(2):610-616, 1995, from memory).

Where the sources disagree:
- Yeast of sourdough grows fastest at 27 C by Gaenzle, Ehmann and Hammes (Appl. Environ. Microbiol. 64(7):2616-2623,
  1998, read), at 28 C by Brandt, Hammes and Gaenzle (Eur. Food Res. Technol. 218:333-338, 2004, read) and by the
  statement below, which gives all the cardinal temperatures and is taken. Baker's yeast is another: 32.3 C, none at
  45.4 C (Salvado et al., Appl. Environ. Microbiol. 77(7):2292-2302, 2011, read).
- The statement gives shares of the fastest rate that the formula does not meet: the bacteria at 37 C half (the
  formula: 0.80), at 39 C a quarter (0.51), the yeast at 14 C a quarter (0.17), at 32 C half (0.74). Both are kept:
  the formula as `relative_rate`, the statement as `stated_rate`, and what is told spans the two.
- "Activity doubles with every 7 F" (public FAQ, answer 37, read) is a Q10 of about 5.9; the older rule, every 18 F, a
  Q10 of 2. Neither knows a best temperature; neither is used.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from scheduler.domain.kitchen.sources import How, Source


@dataclass(frozen=True, slots=True)
class Grower:
    """What grows: the temperatures, in degrees Celsius, of no growth (`lowest_c`, `highest_c`) and of the
    fastest; `fastest_per_h` is the specific growth rate there, per hour, where it is known. `stated` holds shares of
    the fastest rate that were published beside them, as (degrees Celsius, share), from cold to warm.
    """

    name: str
    lowest_c: float
    best_c: float
    highest_c: float
    source: Source
    fastest_per_h: float | None = None
    stated: tuple[tuple[float, float], ...] = ()

    def relative_rate(self, at_c: float) -> float:
        """Growth at a temperature as a share of the fastest: 0 to 1, no unit."""
        low, best, high = self.lowest_c, self.best_c, self.highest_c
        if not low < at_c < high:
            return 0.0
        above = (at_c - high) * (at_c - low) ** 2
        below = (best - low) * ((best - low) * (at_c - best) - (best - high) * (best + low - 2 * at_c))
        return above / below

    def stated_rate(self, at_c: float) -> float:
        """The same as published point by point, along straight lines between; the model where nothing was."""
        if not self.stated:
            return self.relative_rate(at_c)
        for (cold, slower), (warm, faster) in pairwise(self.stated):
            if cold <= at_c <= warm:
                return slower + (faster - slower) * (at_c - cold) / (warm - cold)
        return 0.0

    def rate_per_h(self, at_c: float) -> float:
        """The specific growth rate at a temperature, per hour. ValueError where the fastest is not known."""
        if self.fastest_per_h is None:
            raise ValueError(f"no rate is known for {self.name}")
        return self.fastest_per_h * self.relative_rate(at_c)

    def doubling_h(self, at_c: float) -> float:
        """Hours in which it becomes twice as much: ln 2 over the rate (public FAQ, answer 37, read).

        ValueError where it does not grow, or the fastest rate is not known.
        """
        rate = self.rate_per_h(at_c)
        if not rate:
            raise ValueError(f"{self.name} does not grow at {at_c} C")
        return math.log(2) / rate

    def slower_by(self, planned_c: float, actual_c: float) -> float:
        """How many times as long the same growth takes at `actual_c` as at `planned_c`.

        ValueError where there is no growth at one of them.
        """
        planned, actual = self.relative_rate(planned_c), self.relative_rate(actual_c)
        if not planned or not actual:
            raise ValueError(f"{self.name} does not grow at {actual_c if planned else planned_c} C")
        return planned / actual


MODEL = Source(
    "Rosso et al., Appl. Environ. Microbiol. 61(2):610-616, 1995", "equation CTMI", How.FROM_MEMORY
)
"""Where the formula of `relative_rate` comes from."""

_STATED = Source("Gaenzle, author's statement in a public FAQ", "answer 39", How.READ)
"""Of the 1990s: where yeast and bacteria of sourdough grow fastest, at half and a quarter of that, and not at all."""

SOURDOUGH_YEAST = Grower(
    "sourdough yeast",
    8.0,
    28.0,
    35.0,
    _STATED,
    stated=((8.0, 0.0), (14.0, 0.25), (20.0, 0.5), (28.0, 1.0), (32.0, 0.5), (34.0, 0.25), (35.0, 0.0)),
)

SOURDOUGH_BACTERIA = Grower(
    "sourdough lactic bacteria",
    4.0,
    32.5,  # stated as 32 to 33
    41.0,
    _STATED,
    stated=((4.0, 0.0), (15.0, 0.25), (20.0, 0.5), (32.5, 1.0), (37.0, 0.5), (39.0, 0.25), (41.0, 0.0)),
)

# Fitted to growth in a laboratory broth, not on vegetables: the rate is faster than in a jar.
PLANTARUM = Grower(
    "Lactobacillus plantarum in MRS broth",
    2.0,
    36.6,
    41.0,
    Source("a published study of cardinal temperatures", "MRS broth", How.READ_IN_A_COPY),
    fastest_per_h=0.81,
)
