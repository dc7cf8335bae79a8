"""How much salt each kind of vegetable ferment is usually given, its published minimum, and how warm it stands.

The sums are in `shares`; salt by volume is in `densities`. Where sources conflict the stricter was taken:

- Cabbage. Extension figures come to 2.25 % to 2.5 % (USDA Complete Guide, from memory; Hutkins 2.25 %, read in a
  copy; a manual of 1919, 2.5 %, read). Three quarters of a cup on 25 lb (Michigan State, read) would be 1.93 %, and
  home practice is 3 %. Taken: 2.25 % to 2.5 % as usual, by weight only. The grade standards ask for at least 2 %:
  that is the minimum, and nothing below it is accepted, whatever a cup holds.
- Cucumbers. The household recipe (half a cup in 8 cups of water, 7.16 % by weight) and commercial brines (5 % and
  more) are both brines as they are made, before the cucumbers thin them to about half. Taken: 5 % as the minimum.
- Other vegetables have no published minimum that is known here. Dry-salted they are held to that of cabbage; in
  brine, where household practice varies, there is a word of warning only.
- Heat. Kraut may soften above 75 F, printed as 24 C beside it: 24 C is taken as not yet above.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import ROUND_DOWN, ROUND_HALF_UP, ROUND_UP, Decimal
from enum import StrEnum

from scheduler.domain.kitchen.amounts import plain
from scheduler.domain.kitchen.shares import Convention as Convention
from scheduler.domain.kitchen.shares import Packed as Packed
from scheduler.domain.kitchen.shares import Way as Way
from scheduler.domain.kitchen.shares import percent, salt_g
from scheduler.domain.kitchen.sources import How, Source

DRY = Way(Convention.OF_PRODUCE)
TOGETHER = Way(Convention.EQUILIBRIUM)
BRINE = Way(Convention.OF_WATER, salt_included=True)


@dataclass(frozen=True, slots=True)
class Usual:
    """What is usual, in percent, and the way of counting that the source has."""

    lowest: Decimal
    highest: Decimal
    way: Way
    source: Source

    @property
    def middle(self) -> Decimal:
        return (self.lowest + self.highest) / 2

    def __str__(self) -> str:
        return f"{plain(self.lowest)} % to {plain(self.highest)} %"


@dataclass(frozen=True, slots=True)
class Minimum:
    """The least salt that is published, in percent; `of_cabbage`: borrowed, for want of one of its own."""

    percent: Decimal
    source: Source
    of_cabbage: bool = False


@dataclass(frozen=True, slots=True)
class Lasts:
    """How long it takes between two temperatures, in degrees Celsius and days."""

    coolest_c: float
    warmest_c: float
    least_d: int
    most_d: int
    source: Source


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of ferment. `words` is a pattern of what it is made of.

    `minimum` is None where none is known. Above `too_warm_c`, in degrees Celsius, the source warns as `warm_says`;
    below `too_cool_c` it says that it is slow. None: no source for it.
    """

    name: str
    words: str
    usual: Usual
    minimum: Minimum | None = None
    lasts: tuple[Lasts, ...] = ()
    too_warm_c: float | None = None
    warm_says: str = ""
    warm_source: Source | None = None
    too_cool_c: float | None = None

    def way_for(self, packed: Packed) -> Way:
        """How its salt is counted: water that is added thins what was salted dry, so it counts with the produce."""
        return TOGETHER if self.usual.way == DRY and packed.water_g else self.usual.way

    def minimum_for(self, packed: Packed) -> Minimum | None:
        """The minimum that holds for it; one borrowed from dry-salted cabbage does not hold in water."""
        borrowed = self.minimum is not None and self.minimum.of_cabbage
        return None if borrowed and packed.water_g else self.minimum

    def least_g(self, packed: Packed) -> Decimal | None:
        """Grams of salt below which it is not made; None where there is no minimum, or nothing to count it by."""
        minimum, way = self.minimum_for(packed), self.way_for(packed)
        if minimum is None or not packed.base_g(way.convention):
            return None
        return salt_g(minimum.percent, way, packed)

    def __str__(self) -> str:
        return self.name


EXTENSION = Source("USDA Complete Guide to Home Canning (2015)", "sauerkraut", How.FROM_MEMORY)
# "Not less than 2 percent nor more than 3 percent of salt."
GRADES = Source("US grade standards for sauerkraut", "", How.FROM_MEMORY)
HUTKINS = Source(
    "Hutkins, Microbiology and Technology of Fermented Foods (2006)", "pickles", How.READ_IN_A_COPY
)
KRAUT = Source("Michigan State University Extension, sauerkraut", "", How.READ)
DILL = Source("Michigan State University Extension, fermented dill pickles", "", How.READ_IN_A_COPY)
KOREAN = Source("Lee and Lee (1993), kimchi", "", How.READ_IN_A_COPY)
TEXTBOOK = Source("textbook chapter on kimchi", "", How.FROM_MEMORY)
HABIT = Source("", "", How.PRACTICE)
OLIVE_BRINES = Source("University of California, olives, publication 8267", "", How.FROM_MEMORY)

# Read: 60-65 F, 5 to 6 weeks. From memory: 70-75 F, 3 to 4 weeks; below 60 F it may not ferment.
_KRAUT_LASTS = (
    Lasts(15.6, 18.3, 35, 42, KRAUT),
    Lasts(21.1, 23.9, 21, 28, Source(KRAUT.name, "", How.FROM_MEMORY)),
)
_SOFT = "it may become soft"
_LIKE_CABBAGE = Minimum(Decimal(2), GRADES, of_cabbage=True)


def _usual(lowest: str, highest: str, way: Way, source: Source) -> Usual:
    return Usual(Decimal(lowest), Decimal(highest), way, source)


_ALL = (
    Kind(
        "kimchi",
        r"kim ?chi\w*",
        # 2 % to 3 % once evened out: from memory. The leaves are first wilted in strong brine and rinsed.
        _usual("2", "3", TOGETHER, TEXTBOOK),
        # 25 C, 2 to 3 days; 4 to 5 C, 14 to 21 days: read in a copy.
        lasts=(Lasts(25, 25, 2, 3, KOREAN), Lasts(4, 5, 14, 21, KOREAN)),
    ),
    Kind(
        "cabbage",
        r"cabbages?|(?:sauer)?kraut\w*",
        _usual("2.25", "2.5", DRY, EXTENSION),
        Minimum(Decimal(2), GRADES),
        _KRAUT_LASTS,
        too_warm_c=24,
        warm_says=_SOFT,
        warm_source=KRAUT,
        too_cool_c=15.6,
    ),
    Kind(
        "cucumbers",
        r"cucumbers?|gherkins?|cornichons?",
        # 5 % and more: Hutkins. 7.16 %: half a cup of 292 g a cup in 1893 g of water, worked out, rounded up.
        _usual("5", "7.2", BRINE, HUTKINS),
        Minimum(Decimal(5), HUTKINS),
        # 70-75 F, 3 to 4 weeks: read in a copy. 55-65 F, 5 to 6 weeks: from memory.
        lasts=(
            Lasts(21.1, 23.9, 21, 28, DILL),
            Lasts(12.8, 18.3, 35, 42, Source(DILL.name, "", How.FROM_MEMORY)),
        ),
        too_warm_c=26.7,
        warm_says="they turn soft",
        warm_source=DILL,
    ),
    Kind(
        "chillies",
        r"chill?i(?:e?s)?|chiles?|jalape\w+|hot peppers?",
        _usual("2", "5", DRY, HABIT),
        _LIKE_CABBAGE,
        too_warm_c=24,
        warm_says=_SOFT,
        warm_source=KRAUT,
    ),
    Kind(
        "olives",
        r"olives?(?! oil)",
        # 3/4 cup to 1 1/2 cups of 292 g in a gallon of 3785 g: 5.5 % to 10.4 %.
        _usual("5.5", "10.4", BRINE, OLIVE_BRINES),
    ),
    Kind(
        "vegetables",
        r"(?!)",
        _usual("2", "3", DRY, HABIT),
        _LIKE_CABBAGE,
        too_warm_c=24,
        warm_says=_SOFT,
        warm_source=KRAUT,
        too_cool_c=15.6,
    ),
)

KINDS: Mapping[str, Kind] = {kind.name: kind for kind in _ALL}
"""The kinds of ferment that a plan may name; any vegetable of no kind of its own is one of "vegetables"."""

ANY = KINDS["vegetables"]


def kind_named_in(text: str) -> Kind | None:
    """The kind that a text names by what it is made of; None where it names none of them."""
    said = text.casefold()
    return next((kind for kind in KINDS.values() if re.search(rf"\b(?:{kind.words})\b", said)), None)


# ---------------------------------------------------------------- judged


class Verdict(StrEnum):
    """How a percent of salt stands to what is published and what is usual."""

    BELOW_MINIMUM = "below the published minimum"
    BELOW_USUAL = "below the usual"
    USUAL = "usual"
    ABOVE_USUAL = "above the usual"


@dataclass(frozen=True, slots=True)
class Judged:
    """What `percent`, counted in `way`, comes to for a kind of ferment."""

    verdict: Verdict
    kind: Kind
    percent: Decimal
    way: Way
    minimum: Minimum | None

    def __str__(self) -> str:
        """One sentence with the source it rests on."""
        given = f"{percent_told(self.percent, self.verdict)} % of {self.way}"
        usual = f"the usual {self.kind.usual} for {self.kind} ({self.kind.usual.source})"
        if self.verdict is Verdict.BELOW_MINIMUM and self.minimum is not None:
            return f"{given} is below {minimum_told(self.kind, self.minimum)}."
        if self.verdict is Verdict.USUAL:
            return f"{given} is within {usual}."
        unknown = "; no published minimum is known for it" if self.minimum is None else ""
        which = "below" if self.verdict is Verdict.BELOW_USUAL else "above"
        return f"{given} is {which} {usual}{unknown if which == 'below' else ''}."


def minimum_told(kind: Kind, minimum: Minimum) -> str:
    """ "2 %, the published minimum for cabbage (...)"; a borrowed one says so."""
    told = f"{plain(minimum.percent)} %, the published minimum for "
    if not minimum.of_cabbage:
        return f"{told}{kind} ({minimum.source})"
    return f"{told}cabbage ({minimum.source}), which counts here for want of another"


def judged(kind: Kind, salt: Decimal, packed: Packed) -> Judged | None:
    """How `salt` grams stand for that kind; None where what its percent is counted by is not there.

    The exact percent is judged, never a rounded one.
    """
    way, minimum = kind.way_for(packed), kind.minimum_for(packed)
    if not packed.base_g(way.convention):
        return None
    given = percent(salt, way, packed)
    return Judged(_verdict(kind, given, minimum), kind, given, way, minimum)


def _verdict(kind: Kind, given: Decimal, minimum: Minimum | None) -> Verdict:
    if minimum is not None and given < minimum.percent:
        return Verdict.BELOW_MINIMUM
    if given < kind.usual.lowest:
        return Verdict.BELOW_USUAL
    return Verdict.USUAL if given <= kind.usual.highest else Verdict.ABOVE_USUAL


def percent_told(given: Decimal, verdict: Verdict = Verdict.USUAL) -> str:
    """A percent to a hundredth, rounded away from a limit that it misses."""
    below = verdict in (Verdict.BELOW_MINIMUM, Verdict.BELOW_USUAL)
    rounding = ROUND_DOWN if below else ROUND_UP if verdict is Verdict.ABOVE_USUAL else ROUND_HALF_UP
    return plain(given.quantize(Decimal("0.01"), rounding=rounding))
