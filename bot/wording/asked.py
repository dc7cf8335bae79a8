"""One amount asked after: what the plan says, or its share of a weight the cook names."""

from __future__ import annotations

import re
from decimal import Decimal

from bot.understanding.given import Given, given_in
from bot.wording.amounts import quantity, share, weight
from bot.wording.facts import Facts
from bot.wording.lines import capital, message, one_line, quoted, short, some
from scheduler import words
from scheduler.domain.kitchen.amounts import Amount, plain
from scheduler.domain.plan import Step
from scheduler.service.answers import AmountIs, Said
from scheduler.service.served import as_begun, begun_for

Found = tuple[Step, Amount]

FOR = re.compile(r"\b(?:for|in|into|on|onto|with|goes|go|does|do|is|are)\b", re.IGNORECASE)
"""What an amount is asked for comes before these, what it is wanted for after them."""


def amount_is(answer: AmountIs) -> Said:
    """How much of something, and where the figure comes from."""
    if answer.view is None:
        return message("Send a plan first, then ask me how much", "Without one I cannot tell.")
    facts, said = Facts(answer.view), one_line(answer.said)
    named = given_in(said)
    given = named if named is not None and named.grams is not None else None
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


def _asked(facts: Facts, said: str, given: Given | None) -> list[Found]:
    """What is named before the weight that is given, or else shares of what is named at all."""
    if given is None:
        return _of_what_it_is_for(facts, said)
    found = [pair for pair in _amounts(facts) if _named(pair[1].name, said[: given.start])]
    return found or [
        pair for pair in _amounts(facts) if _named(pair[1].name, said) and _is_share(pair[1], said)
    ]


def _of_what_it_is_for(facts: Facts, said: str) -> list[Found]:
    """ "How much salt for the duck legs": salt, and of the steps that have some those that speak of duck legs."""
    thing, *rest = FOR.split(said, maxsplit=1)
    every = _amounts(facts)
    found = [pair for pair in every if _named(pair[1].name, thing)]
    found = found or [pair for pair in every if _named(pair[1].name.rpartition(" ")[2], thing)]
    if not found:
        return [pair for pair in every if _named(pair[1].name, said)]
    about = _stems(" ".join(rest))
    near = {step.number: len(about & _stems(_text_of(step))) for step, _ in found}
    return [pair for pair in found if near[pair[0].number] == max(near.values())]


def _text_of(step: Step) -> str:
    return " ".join((step.component, step.name, *(amount.name for amount in step.amounts)))


def _stems(text: str) -> set[str]:
    """How the longer words begin, in the singular."""
    return {word.removesuffix("s") for word in re.findall(r"[^\W\d_]{4,}", one_line(text).casefold())}


def _is_share(amount: Amount, said: str) -> bool:
    return amount.unit == "%" and len(amount.of) == 1 and _named(amount.of[0], said)


def _named(name: str, text: str) -> bool:
    """Whether the text names it, in the singular or the plural."""
    stem = one_line(name).casefold().removesuffix("s")
    return bool(stem) and re.search(rf"\b{re.escape(stem)}(?:s|es)?\b", text.casefold()) is not None


def _worked_out(facts: Facts, given: Given, worked: list[Found]) -> Said:
    step, amount = worked[0]
    grams = given.grams or Decimal(0)
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


def _share_of(grams: Decimal, amount: Amount) -> str:
    return weight(grams * amount.quantity / 100)


def _stated(facts: Facts, step: Step, amount: Amount) -> str:
    """What the plan says; of a step begun when others were to come, what it was begun with."""
    was = as_begun(facts.view, step.number, amount)
    then = "" if was is amount else f", begun for {begun_for(facts.view, step.number)}"
    return f"{capital(short(amount.name, 40))}: {quantity(was)}, for {quoted(step.name)}{then}"


def _as_planned(facts: Facts, asked: list[Found], other_weight: bool) -> Said:
    lines = [_stated(facts, step, amount) for step, amount in asked]
    no_share = "The plan gives no share to work out another weight by." if other_weight else ""
    return message(*some(lines, 5), no_share)
