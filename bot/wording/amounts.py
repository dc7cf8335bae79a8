"""Amounts as a kitchen scale shows them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import replace
from decimal import Decimal

from bot.wording.lines import capital, short
from scheduler import words
from scheduler.domain.kitchen.amounts import (
    EIGHTH,
    SPOONS_AND_CUPS,
    Amount,
    as_measured,
    as_weighed,
    needs_a_fine_scale,
    plain,
    unit_named,
    whole_ones,
)
from scheduler.domain.kitchen.crystals import is_salt
from scheduler.domain.kitchen.weighing import salt_told
from scheduler.domain.plan import Step

MOST_AMOUNTS = 7
THOUSAND = Decimal(1000)
APOSTROPHE = "'"


def weight(grams: Decimal) -> str:
    """ "23 g", "4.5 g", "0.35 g", "1.2 kg"."""
    shown = as_weighed(grams)
    if not shown and grams:
        return "under 0.01 g"
    return f"{plain((shown / THOUSAND).normalize())} kg" if shown >= THOUSAND else f"{plain(shown)} g"


def volume(millilitres: Decimal) -> str:
    """ "750 ml", "1.2 L"."""
    shown = as_weighed(millilitres)
    return f"{plain((shown / THOUSAND).normalize())} L" if shown >= THOUSAND else f"{plain(shown)} ml"


def share(amount: Amount) -> str:
    """ "50 % of flour", "3 % of water + oil"; of salt, in the words of the way it is counted."""
    of = salted(amount.of) if is_salt(amount.name) and amount.of else short(" + ".join(amount.of), 40)
    return f"{plain(amount.quantity)} % of {of}"


def salted(names: Sequence[str]) -> str:
    """What salt is a percent of: "the turnips' weight", "water and carrots together"."""
    if len(names) == 1:
        name = short(names[0], 40)
        return f"the {name}{APOSTROPHE if name.endswith('s') else APOSTROPHE + 's'} weight"
    return f"{short(words.listed(list(names)), 40)} together"


def quantity(amount: Amount) -> str:
    """ "900 g", "23 g (2.5 % of the turnips' weight)", "8 pieces", "4.5, so 4 or 5".

    Salt given by volume with what it may weigh.
    """
    if amount.unit == "%":
        return share(amount) if amount.worked is None else f"{weight(amount.worked)} ({share(amount)})"
    unit = unit_named(amount.quantity, amount.unit)
    measured = f"{_figure(amount)} {short(unit, 20) if unit else ''}".strip()
    weighs, _ = salt_told(amount)
    if weighs:
        return f"{measured} ({weighs}: weigh it)"
    return f"{measured}{_whole(amount)}"


def _figure(amount: Amount) -> str:
    """The number as it is written; scaled to another, as it can be measured out."""
    if amount.as_written is None:
        return plain(amount.quantity)
    shown = as_measured(amount.quantity, amount.unit)
    if not shown:
        return f"under {'1/8' if amount.unit in SPOONS_AND_CUPS else '0.01'}"
    return fraction(shown) if amount.unit in SPOONS_AND_CUPS else plain(shown)


def fraction(quantity: Decimal) -> str:
    """Eighths as spoons and cups are marked: "3 3/4", "1/8", "2"."""
    whole, over = divmod(int(quantity / EIGHTH), 8)
    if not over:
        return str(whole)
    top, bottom = (over // 2, 4) if over % 2 == 0 else (over, 8)
    part = "1/2" if over == 4 else f"{top}/{bottom}"
    return f"{whole} {part}" if whole else part


def _whole(amount: Amount) -> str:
    """What a count that was whole, and is not when scaled, comes to: ", so 4 or 5"."""
    written, (low, high) = amount.as_written, whole_ones(amount.quantity)
    if written is None or not amount.counted or written != int(written) or low == high:
        return ""
    return f", so {low} or {high}" if low else ", so one or part of one"


FINE_SCALE = "Under 1 g: a scale that shows hundredths of a gram."


def fine_scale(amounts: Iterable[Amount]) -> str:
    """What less than a gram of anything has to be weighed with; empty where nothing is so little."""
    little = [amount for amount in amounts if amount.grams is not None and needs_a_fine_scale(amount.grams)]
    return FINE_SCALE if little else ""


def as_bought(amount: Amount) -> str:
    """A total in grams or millilitres as it is bought: "1.2 kg", "2 L", "8 pieces"; of 4.5 eggs, 5 are."""
    if amount.unit == "g":
        return weight(amount.quantity)
    if amount.counted and amount.as_written is not None:
        return quantity(replace(amount, quantity=Decimal(whole_ones(amount.quantity)[1])))
    if amount.unit != "ml":
        return quantity(amount)
    weighs, _ = salt_told(amount)
    return f"{volume(amount.quantity)} ({weighs})" if weighs else volume(amount.quantity)


def amount_line(amount: Amount) -> str:
    """ "salt 23 g (2.5 % of the turnips' weight)"."""
    return f"{short(amount.name, 40)} {quantity(amount)}"


def amounts_line(amounts: Iterable[Amount]) -> str:
    """All of them in one sentence, and what under a gram is weighed with; empty when there are none."""
    every = tuple(amounts)
    return f"{capital(amounts_listed(every))} {fine_scale(every)}".strip()


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
