"""One amount asked after: what the plan says, or its share of a weight the cook names."""

from __future__ import annotations

import re
from decimal import Decimal

from bot.wording.amounts import quantity, share, weight
from bot.wording.facts import Facts
from bot.wording.lines import capital, message, one_line, quoted, short, some
from scheduler import words
from scheduler.domain.kitchen.amounts import GRAMS_PER, Amount, plain
from scheduler.domain.plan import Step
from scheduler.service.answers import AmountIs, Said

GIVEN = re.compile(
    r"(?P<figure>\d{1,7}(?:[.,]\d{1,3})?)\s*(?P<unit>kilos?|grams?|pounds?|ounces?|kg|mg|g|lb|oz)\b",
    re.IGNORECASE,
)
UNITS = {"kilo": "kg", "gram": "g", "pound": "lb", "ounce": "oz"}
Found = tuple[Step, Amount]


def amount_is(answer: AmountIs) -> Said:
    """How much of something, and where the figure comes from."""
    if answer.view is None:
        return message("Send a plan first, then ask me how much", "Without one I cannot tell.")
    facts, said = Facts(answer.view), one_line(answer.said)
    given = GIVEN.search(said)
    asked = _asked(facts, said, given)
    worked = [found for found in asked if given and _is_share(found[1], said)]
    if given and worked:
        return _worked_out(facts, given, worked)
    if asked:
        return _as_planned(facts, asked, given is not None)
    names = list(dict.fromkeys(short(amount.name, 30) for _, amount in _amounts(facts)))
    known = f"The plan gives amounts for {words.listed(some(names, 6, '{} more'))}." if names else ""
    return message("I cannot tell that from the plan", known)


def _amounts(facts: Facts) -> list[Found]:
    return [(step, amount) for step in facts.plan.steps for amount in step.amounts]


def _asked(facts: Facts, said: str, given: re.Match[str] | None) -> list[Found]:
    """What is named before the weight that is given, or else shares of what is named at all."""
    before = said[: given.start()] if given else said
    found = [pair for pair in _amounts(facts) if _named(pair[1].name, before)]
    return found or [
        pair for pair in _amounts(facts) if _named(pair[1].name, said) and _is_share(pair[1], said)
    ]


def _is_share(amount: Amount, said: str) -> bool:
    return amount.unit == "%" and len(amount.of) == 1 and _named(amount.of[0], said)


def _named(name: str, text: str) -> bool:
    """Whether the text names it, in the singular or the plural."""
    stem = one_line(name).casefold().removesuffix("s")
    return bool(stem) and re.search(rf"\b{re.escape(stem)}(?:s|es)?\b", text.casefold()) is not None


def _worked_out(facts: Facts, given: re.Match[str], worked: list[Found]) -> Said:
    step, amount = worked[0]
    grams = _grams(given)
    total = f"{plain(grams / 1000)} kg" if grams >= 1000 else f"{plain(grams)} g"
    part = f"{capital(short(amount.name, 40))}: {_share_of(grams, amount)}"
    others = [
        f"Or {_share_of(grams, other)}: {share(other)}, in {facts.quoted(where.number)}."
        for where, other in worked[1:]
        if other.quantity != amount.quantity
    ]
    return message(
        f"{part} for {total} of {short(amount.of[0], 40)}",
        f"That is {share(amount)}, as the plan has it in {facts.quoted(step.number)}.",
        *some(others, 3),
    )


def _grams(given: re.Match[str]) -> Decimal:
    unit = given["unit"].casefold()
    unit = UNITS.get(unit.removesuffix("s"), unit)
    return Decimal(given["figure"].replace(",", ".")) * GRAMS_PER[unit]


def _share_of(grams: Decimal, amount: Amount) -> str:
    return weight(grams * amount.quantity / 100)


def _as_planned(facts: Facts, asked: list[Found], other_weight: bool) -> Said:
    lines = [
        f"{capital(short(amount.name, 40))}: {quantity(amount)}, for {quoted(step.name)}"
        for step, amount in asked
    ]
    no_share = "The plan gives no share to work out another weight by." if other_weight else ""
    return message(*some(lines, 5), no_share)
