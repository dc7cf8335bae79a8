"""Amounts as a recipe states them: a weight, a volume, a count, or a percentage of other amounts."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

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


@dataclass(frozen=True, slots=True)
class Amount:
    """So much of something.

    `unit` is a key of GRAMS_PER or MILLILITRES_PER, "%" (then `of` names what it is a percentage of), or
    a word that is counted ("pieces"), or "" for a bare count. `worked` is what a percentage comes to in
    grams, where the amounts it refers to are known.
    """

    name: str
    quantity: Decimal
    unit: str = ""
    of: tuple[str, ...] = ()
    worked: Decimal | None = None

    @property
    def grams(self) -> Decimal | None:
        """Its weight in grams, where it was given as a weight or worked out from weights."""
        factor = GRAMS_PER.get(self.unit)
        return self.worked if factor is None else self.quantity * factor


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


def as_weighed(grams: Decimal) -> Decimal:
    """Grams as a kitchen scale shows them: tenths below 10 g, whole grams above."""
    return grams.quantize(Decimal("0.1") if grams < 10 else Decimal(1), rounding=ROUND_HALF_UP)


def plain(quantity: Decimal) -> str:
    """A number as people write it: no exponent, no trailing zeros."""
    text = format(quantity, "f")
    return text.rstrip("0").rstrip(".") if "." in text else text
