"""Amounts as a recipe states them: a weight, a volume, a count, or a percentage of other amounts.

The factors stand here, and not in a library, because the domain knows the standard library only and they are exact
as decimals; the tests hold every one of them against pint. Units beyond these are read through `scheduler.units`.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_UP, Decimal

GRAMS_PER = {
    "g": Decimal(1),
    "kg": Decimal(1000),
    "mg": Decimal("0.001"),
    "oz": Decimal("28.349523125"),
    "lb": Decimal("453.59237"),
}
"""Exact by definition: the international avoirdupois pound (NIST SP 811, appendix B.8)."""

MILLILITRES_PER = {
    "ml": Decimal(1),
    "cl": Decimal(10),
    "dl": Decimal(100),
    "L": Decimal(1000),
    "tsp": Decimal("4.92892159375"),
    "tbsp": Decimal("14.78676478125"),
    "cup": Decimal("236.5882365"),
}
"""Spoons and cups are United States customary measures (NIST Handbook 44, appendix C)."""

SPOONS_AND_CUPS = frozenset({"tsp", "tbsp", "cup"})

OTHER_NAMES = {
    **dict.fromkeys(("gr", "gram", "grams", "gramme", "grammes"), "g"),
    **dict.fromkeys(("kilo", "kilos", "kgs", "kilogram", "kilograms"), "kg"),
    **dict.fromkeys(("ounce", "ounces"), "oz"),
    **dict.fromkeys(("lbs", "pound", "pounds"), "lb"),
    **dict.fromkeys(("millilitre", "millilitres", "milliliter", "milliliters"), "ml"),
    **dict.fromkeys(("litre", "litres", "liter", "liters"), "L"),
    **dict.fromkeys(("teaspoon", "teaspoons"), "tsp"),
    **dict.fromkeys(("tablespoon", "tablespoons"), "tbsp"),
    "cups": "cup",
}
UNITS = {unit.casefold(): unit for unit in (*GRAMS_PER, *MILLILITRES_PER)} | OTHER_NAMES
"""Every way a unit is written, in small letters, and the key of the tables that it stands for."""


@dataclass(frozen=True, slots=True)
class Amount:
    """So much of something.

    `unit` is a key of GRAMS_PER or MILLILITRES_PER, "%" (then `of` names what it is a percentage of), or
    a word that is counted ("pieces"), or "" for a bare count. `worked` is what a percentage comes to in
    grams, where the amounts it refers to are known. `as_written` is the number the plan itself gives, where the
    quantity is another: scaled, or read from another unit.
    """

    name: str
    quantity: Decimal
    unit: str = ""
    of: tuple[str, ...] = ()
    worked: Decimal | None = None
    as_written: Decimal | None = None

    @property
    def grams(self) -> Decimal | None:
        """Its weight in grams, where it was given as a weight or worked out from weights."""
        factor = GRAMS_PER.get(self.unit)
        return self.worked if factor is None else self.quantity * factor

    @property
    def millilitres(self) -> Decimal | None:
        """Its volume in millilitres, where it was given as a volume."""
        factor = MILLILITRES_PER.get(self.unit)
        return None if factor is None else self.quantity * factor

    @property
    def counted(self) -> bool:
        """Whether it is so many of something."""
        return self.unit != "%" and self.unit not in GRAMS_PER and self.unit not in MILLILITRES_PER


def resolve(amount: Amount, known: dict[str, Amount]) -> Amount:
    """A percentage as grams, from the weights in `known` that it refers to; anything else as it is.

    With none of those names in `known` it is what was worked out before. Raises KeyError for a name that
    is not in `known` or that leads back to the amount itself, ValueError for one that is not a weight.
    """
    if amount.unit != "%":
        return amount
    if amount.worked is not None and not known.keys() & set(amount.of):
        return Amount(amount.name, amount.worked, "g")
    total = Decimal(0)
    for name in amount.of:
        others = {key: other for key, other in known.items() if key != name}
        grams = resolve(known[name], others).grams
        if grams is None:
            raise ValueError(f"{name} is not given by weight")
        total += grams
    return Amount(amount.name, total * amount.quantity / 100, "g")


# ---------------------------------------------------------------- as it is measured out

HUNDREDTH, TENTH, ONE, EIGHTH = Decimal("0.01"), Decimal("0.1"), Decimal(1), Decimal("0.125")


def step_of(grams: Decimal) -> Decimal:
    """What a kitchen scale can tell apart, in grams: tenths below 10 g, whole grams above.

    Below 1 g, where tenths would be out by a twentieth or more (salt, yeast), hundredths, which take a finer
    scale. Millilitres likewise. Common practice, no source.
    """
    if grams < 1:
        return HUNDREDTH
    return TENTH if grams < 10 else ONE


def as_weighed(grams: Decimal) -> Decimal:
    """Grams as a kitchen scale shows them, halves up."""
    return grams.quantize(step_of(grams), rounding=ROUND_HALF_UP)


def needs_a_fine_scale(grams: Decimal) -> bool:
    """Whether it takes a scale that shows hundredths of a gram."""
    return 0 < grams < 1


def measuring_step(quantity: Decimal, unit: str) -> Decimal:
    """What can be told apart when so much is measured out, in that unit.

    Metric weights and volumes as a scale shows them, ounces in tenths, pounds in hundredths, spoons and cups in
    eighths, the smallest that are sold (common practice, no source). What is counted is not rounded: hundredths.
    """
    if unit in SPOONS_AND_CUPS:
        return EIGHTH
    if unit in ("oz", "lb"):
        return TENTH if unit == "oz" else HUNDREDTH
    factor = GRAMS_PER.get(unit) or MILLILITRES_PER.get(unit)
    return HUNDREDTH if factor is None else step_of(quantity * factor) / factor


def as_measured(quantity: Decimal, unit: str) -> Decimal:
    """The quantity to the nearest step that can be measured, halves up."""
    step = measuring_step(quantity, unit)
    return (quantity / step).quantize(ONE, rounding=ROUND_HALF_UP) * step


def whole_ones(quantity: Decimal) -> tuple[int, int]:
    """The whole numbers on either side of a count: 4 and 5 of 4.5, the same twice of 4."""
    shown = as_measured(quantity, "")
    return int(shown.to_integral_value(ROUND_FLOOR)), int(shown.to_integral_value(ROUND_CEILING))


def unit_named(quantity: Decimal, unit: str) -> str:
    """The unit as it is written beside a number: 2 cups."""
    return "cups" if unit == "cup" and quantity > 1 else unit


def plain(quantity: Decimal) -> str:
    """A number as people write it: no exponent, no trailing zeros."""
    text = format(quantity, "f")
    return text.rstrip("0").rstrip(".") if "." in text else text
