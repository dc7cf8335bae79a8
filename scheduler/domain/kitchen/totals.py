"""Amounts added up by name: what has to be bought of each thing."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from scheduler.domain.kitchen.amounts import MILLILITRES_PER, Amount

AT_HAND = frozenset({"water", "tap water", "boiling water", "starter", "ripe starter"})
"""What nobody has to buy: it comes from the tap, or is kept going."""


def same_thing(name: str) -> str:
    """What two spellings of one thing have in common."""
    return " ".join(name.split()).casefold()


def has_to_be_bought(amount: Amount) -> bool:
    """Whether it is not at hand anyway."""
    return same_thing(amount.name) not in AT_HAND


def to_buy(amounts: Iterable[Amount]) -> list[Amount]:
    """Those that have to be bought at all, in grams or millilitres where they are weights or volumes."""
    return [_measured(amount) for amount in amounts if has_to_be_bought(amount)]


def totals(amounts: Iterable[Amount]) -> list[Amount]:
    """What to buy, added up by name where it is of one kind: weights, volumes, one counted word.

    In the order they are first named; a percentage that was worked out counts in grams.
    """
    return summed(to_buy(amounts))


def summed(amounts: Iterable[Amount]) -> list[Amount]:
    """Added up likewise, also what is at hand."""
    found: dict[tuple[str, str], Amount] = {}
    for amount in map(_measured, amounts):
        key = same_thing(amount.name), amount.unit
        before = found.get(key)
        found[key] = replace(amount, quantity=amount.quantity + before.quantity) if before else amount
    return list(found.values())


def _measured(amount: Amount) -> Amount:
    if amount.grams is not None:
        return Amount(amount.name, amount.grams, "g")
    if amount.unit in MILLILITRES_PER:
        return Amount(amount.name, amount.quantity * MILLILITRES_PER[amount.unit], "ml")
    return amount
