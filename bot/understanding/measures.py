"""Figures that are no times: readings, how much of what, and what a timer is for."""

from __future__ import annotations

import re
from dataclasses import replace

from bot.understanding.given import Given, given_in
from bot.understanding.patterns import spoken
from bot.understanding.saidtime import TOKEN
from bot.understanding.wordforms import singular
from scheduler.domain.kitchen.amounts import Amount, as_weighed, plain, resolve
from scheduler.domain.plan import Plan, Step

PH = re.compile(r"\bph\b\D{0,30}?(\d{1,2}(?:[.,]\d{1,2})?)|(\d{1,2}(?:[.,]\d{1,2})?) ph\b")
DEGREES = re.compile(
    r"(-?\d+(?:[.,]\d+)?) ?(?:degrees? ?|(?=[cf]\b|celsius|fahrenheit))(c|f|celsius|fahrenheit)?\b"
)
BARE_DEGREES = re.compile(r"(?<![\d.])(-?\d{1,3}(?:[.,]\d)?)\b")

HOTTEST = 350
"""Above this a bare number is no temperature of a kitchen, in degrees Celsius (our choice)."""

LABEL_NOISE = spoken(
    "set|start|another|an?|the|timers?|alarm|time|for|me|my|please|can|could|you|i|need|want|count ?down|of|on|in|put",
    "to|at|new|quick|add|now|give|called|named|labelled|is|would|like|remind|ping|tell|from|ok|and|then|have|it|them",
    "cancel|stop|kill|clear|delete|remove|end|forget|ditch|scrap|drop|silence|reset|turn|switch|off|all|dismiss|shut",
    "get|rid|do|not|no|more|that|this|nudge|buzz|wake|us|about|when|done|go|longer|anymore",
)
"""Words that ask for a timer, or no longer want it, and do not say what it is for."""


def reading(words: str) -> str:
    """ "pH 3.9", "24 C": a measurement in plain words, as it is written down; "" when there is none."""
    if found := PH.search(words):
        return f"pH {(found[1] or found[2]).replace(',', '.')}"
    if found := DEGREES.search(words):
        unit = (found[2] or "c")[0].upper()
        return f"{found[1].replace(',', '.')} {unit}"
    found = BARE_DEGREES.search(words)
    return f"{found[1].replace(',', '.')} C" if found and float(found[1].replace(",", ".")) <= HOTTEST else ""


def label(text: str, plan: Plan | None) -> str:
    """What a timer is for, in the plan's own word where it has one: "the onion timer" is for "onions"."""
    left = re.sub(r"[^\w\s]", " ", LABEL_NOISE.sub(" ", TOKEN.sub(" ", text)))
    words = re.sub(r"\s+", " ", left).strip()
    return _plans_word(words, plan) or words


def _plans_word(words: str, plan: Plan | None) -> str | None:
    names = [amount.name for step in plan.steps for amount in step.amounts] if plan else []
    return next((name for name in names if singular(name.lower()) == singular(words)), None)


def how_much(words: str, steps: tuple[Step, ...]) -> tuple[list[Step], str]:
    """The steps that state the amount asked for, and the amount itself where only one answer is possible.

    With "for 850 g of turnips" the step's amounts are scaled to so much of that.
    """
    found = given_in(words)
    asked = words[: found.start] if found else words
    stated = [(step, amount) for step in steps for amount in step.amounts if _named(amount.name, asked)]
    if found and (scaled := [(s, a) for s, a in stated if _base(s, found.name)]):
        stated = scaled
    elif len(stated) > 1:
        stated = _narrowed(stated, words)
    answers = {_answer(step, amount, found) for step, amount in stated}
    return [step for step, _ in stated], answers.pop() if len(answers) == 1 else ""


def _named(name: str, words: str) -> bool:
    said = {singular(word) for word in re.findall(r"[^\W\d_]+", words)}
    return singular(name.lower().split()[-1]) in said


def _narrowed(stated: list[tuple[Step, Amount]], words: str) -> list[tuple[Step, Amount]]:
    """Those whose step or component is named as well."""
    said = {singular(word) for word in re.findall(r"[^\W\d_]+", words)}

    def named(step: Step, amount: Amount) -> int:
        own = {singular(word) for word in re.findall(r"[^\W\d_]+", f"{step.name} {step.component}".lower())}
        return len(own & (said - {singular(amount.name.lower())} - {"the", "and", "for", "in", "of", "with"}))

    best = max(named(step, amount) for step, amount in stated)
    return [(step, amount) for step, amount in stated if named(step, amount) == best]


def _base(step: Step, said: str) -> Amount | None:
    return next((amount for amount in step.amounts if said and _named(amount.name, said)), None)


def _answer(step: Step, amount: Amount, found: Given | None) -> str:
    known = {other.name: other for other in step.amounts}
    plain_amount = resolve(amount, known) if all(name in known for name in amount.of) else amount
    if found and found.grams is not None and (base := _base(step, found.name)) and base.grams:
        scaled = plain_amount.quantity * found.grams / base.grams
        plain_amount = replace(plain_amount, quantity=scaled)
    if plain_amount.grams is not None:
        return f"{plain(as_weighed(plain_amount.grams))} g"
    return f"{plain(plain_amount.quantity)} {plain_amount.unit}".strip()
