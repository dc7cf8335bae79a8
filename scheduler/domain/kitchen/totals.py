"""Amounts added up by name: what has to be bought of each thing."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from scheduler.domain.kitchen.amounts import MILLILITRES_PER, Amount

FROM_THE_TAP = frozenset({"water"})
"""What nobody has to buy."""


def same_thing(name: str) -> str:
    """What two spellings of one thing have in common."""
    return " ".join(name.split()).casefold()


def to_buy(amounts: Iterable[Amount]) -> list[Amount]:
    """Those that have to be bought at all, in grams or millilitres where they are weights or volumes."""
    return [_measured(amount) for amount in amounts if same_thing(amount.name) not in FROM_THE_TAP]


def totals(amounts: Iterable[Amount]) -> list[Amount]:
    """What to buy, added up by name where it is of one kind: weights, volumes, one counted word.

    In the order they are first named; a percentage that was worked out counts in grams.
    """
    found: dict[tuple[str, str], Amount] = {}
    for amount in to_buy(amounts):
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
