"""Amounts as a kitchen scale shows them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from decimal import Decimal

from bot.wording.lines import capital, short
from scheduler import words
from scheduler.domain.kitchen.amounts import Amount, as_weighed, plain
from scheduler.domain.plan import Step

MOST_AMOUNTS = 7
THOUSAND = Decimal(1000)


def weight(grams: Decimal) -> str:
    """ "23 g", "4.5 g", "1.2 kg"."""
    shown = as_weighed(grams)
    return f"{plain((shown / THOUSAND).normalize())} kg" if shown >= THOUSAND else f"{plain(shown)} g"


def volume(millilitres: Decimal) -> str:
    """ "750 ml", "1.2 L"."""
    shown = as_weighed(millilitres)
    return f"{plain((shown / THOUSAND).normalize())} L" if shown >= THOUSAND else f"{plain(shown)} ml"


def share(amount: Amount) -> str:
    """ "2.5 % of turnips", "3 % of water + turnips"."""
    return f"{plain(amount.quantity)} % of {short(' + '.join(amount.of), 40)}"


def quantity(amount: Amount) -> str:
    """ "900 g", "23 g (2.5 % of turnips)", "8 pieces", "3"."""
    if amount.unit != "%":
        return f"{plain(amount.quantity)} {short(amount.unit, 20) if amount.unit else ''}".strip()
    if amount.worked is None:
        return share(amount)
    return f"{weight(amount.worked)} ({share(amount)})"


def as_bought(amount: Amount) -> str:
    """A total in grams or millilitres as it is bought: "1.2 kg", "2 L", "8 pieces"."""
    if amount.unit == "g":
        return weight(amount.quantity)
    return volume(amount.quantity) if amount.unit == "ml" else quantity(amount)


def amount_line(amount: Amount) -> str:
    """ "salt 23 g (2.5 % of turnips)"."""
    return f"{short(amount.name, 40)} {quantity(amount)}"


def amounts_line(amounts: Iterable[Amount]) -> str:
    """All of them in one sentence; empty when there are none."""
    return capital(amounts_listed(amounts))


def amounts_listed(amounts: Iterable[Amount]) -> str:
    """The same, to stand after other words."""
    every = [amount_line(amount) for amount in amounts]
    shown = every[:MOST_AMOUNTS]
    while len(shown) > 1 and len(", ".join(shown)) > 160:
        shown.pop()
    left = len(every) - len(shown)
    more = f", and {left} more" if left else ""
    return f"{', '.join(shown)}{more}." if shown else ""


def equipment(step: Step) -> str:
    """ "Oven at 150 C; needs 2 burners, casserole." Empty when nothing is needed."""
    parts = []
    if step.oven is not None:
        parts.append(f"oven at {step.oven} C")
    if step.at is not None:
        parts.append(f"at {plain(Decimal(str(step.at)))} C")
    pieces = Counter(name for name in step.gear if name != "oven" or step.oven is None)
    if pieces:
        named = [
            short(name, 30) if count == 1 else words.counted(count, short(name, 30))
            for name, count in pieces.items()
        ]
        parts.append(f"needs {', '.join(named[:5])}")
    return f"{capital('; '.join(parts))}." if parts else ""
