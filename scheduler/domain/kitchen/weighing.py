"""A volume turned to weight, where a published figure allows it; salt by its crystal, or not at all."""

from __future__ import annotations

from decimal import Decimal

from scheduler.domain.kitchen.amounts import Amount, as_weighed, plain
from scheduler.domain.kitchen.crystals import HOME, crystal_of, is_salt, salt_span
from scheduler.domain.kitchen.densities import USDA, Density, density_of


def weighed_by(amount: Amount) -> Density | None:
    """The figure by which a volume comes to grams; None for no volume, salt unnamed, and what is not known."""
    if amount.millilitres is None:
        return None
    if is_salt(amount.name):
        crystal = crystal_of(amount.name)
        return None if crystal is None else crystal.density(amount.unit)
    return density_of(amount.name, amount.unit)


def weight_of(amount: Amount) -> Decimal | None:
    """Grams of an amount given by weight, or by a volume whose density is known."""
    if amount.grams is not None or amount.millilitres is None:
        return amount.grams
    density = weighed_by(amount)
    return None if density is None else density.weight(amount.millilitres)


def unweighed(amount: Amount) -> tuple[Decimal, Decimal] | None:
    """For salt given by volume, the grams it may weigh by its crystals; None for anything else."""
    volume = amount.millilitres
    return salt_span(volume) if volume is not None and is_salt(amount.name) else None


SPAN_SOURCE = f"large flakes to table salt, by {HOME.name}; {USDA} has table salt alone"
"""Between which crystals the range lies, and who says so."""


def salt_told(amount: Amount) -> tuple[str, str]:
    """For salt by volume, what it weighs and who says so: the range, or the figure of the crystal that is named.

    Empty for anything else.
    """
    span, density, weight = unweighed(amount), weighed_by(amount), weight_of(amount)
    if span is None:
        return "", ""
    if density is None or weight is None:
        return f"{span_told(span)} by its crystals", SPAN_SOURCE
    return f"about {plain(as_weighed(weight))} g", str(density)


def span_told(span: tuple[Decimal, Decimal]) -> str:
    """ "17 g to 38 g"."""
    return " to ".join(f"{plain(as_weighed(grams))} g" for grams in span)
