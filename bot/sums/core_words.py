"""A question about heating a piece through, out of plain words: how thick, how hot, and for how long."""

from __future__ import annotations

import re
from datetime import timedelta
from typing import NamedTuple

from bot.understanding.plainwords import plain
from bot.understanding.timewords import split
from scheduler.domain.kitchen.core import Food, Shape
from scheduler.domain.kitchen.heat.foods import food_in

_FIGURE = r"\d{1,3}(?:[.,]\d{1,2})?"
_INCHES = re.compile(r"(?<=\d)\s?(?:\"|”|''|-?in(?=[ -]thick\b))")
_THICK = re.compile(rf"(?<![\d.,])({_FIGURE}) ?(mm|millimet(?:re|er)s?|cm|centimet(?:re|er)s?|inch(?:es)?)\b")
_UNIT = r" ?(?:degrees?)? ?(?P<unit{0}>c|f|celsius|fahrenheit)?\b"
_HEAT = rf"(?P<heat>(?<![\d.,]){_FIGURE}{_UNIT.format('')})"
_START = re.compile(rf"\b(?:from|starting(?: at| from)?|start(?:s)? at) {_HEAT}")
_FROM = (
    (re.compile(r"\b(?:from|out of) (?:the )?(?:fridge|refrigerator)\b"), "4 C"),
    (re.compile(r"\b(?:from|at) room temp(?:erature)?\b"), "20 C"),
    (re.compile(r"\b(?:frozen|from (?:the )?freezer)\b"), "-18 C"),
)
_OVEN = re.compile(rf"{_HEAT} oven\b")
_IN_AN_OVEN = re.compile(rf"\boven (?:at|of|set to) {_HEAT}")
_SAID_HEAT = re.compile(
    rf"(?<![\d.,])({_FIGURE}) ?(?:degrees? ?(c|f|celsius|fahrenheit)?|(c|f|celsius|fahrenheit))\b"
)
_BARE_HEAT = re.compile(rf"\b(?:at|to|is|reach(?:es)?) ({_FIGURE})(?![\d.,:]*\d)(?! ?(?:%|mm|cm|inch|LEN))")
_HOW_LONG = re.compile(r"\bhow (?:long|many (?:hours?|min))\b")
_ENOUGH = re.compile(r"\bLEN\b.*\b(?:enough|suffice|do)\b|\benough\b.*\bLEN\b")
_SHAPES = (
    (re.compile(r"\b(?:cylinders?|logs?|rolls?|roulades?|sausages?)\b"), Shape.CYLINDER),
    (re.compile(r"\b(?:spheres?|balls?|meatballs?)\b"), Shape.SPHERE),
)
_LEAST_C, _MOST_C = 40, 100
"""A bare number outside these is no temperature that a middle is brought to."""


class Question(NamedTuple):
    """Figures as a plan file writes them; None where nothing was said."""

    shape: Shape
    thickness: str
    at: str
    start: str | None
    food: Food | None
    oven: str | None
    lasting: str | None


def question(said: str) -> Question | None:
    """What is asked; None for words that do not ask how long a piece of some thickness takes to be so hot."""
    found = split(plain(_INCHES.sub(" inch", said)))
    text = found.text
    lasting = next((time for _, time in found.times if isinstance(time, timedelta)), None)
    asks, thick = bool(_HOW_LONG.search(text)), _THICK.search(text)
    if thick is None or not (asks or (lasting is not None and _ENOUGH.search(text))):
        return None
    text, start = _start(text)
    text, oven = _oven(text)
    at = _heat(text)
    if at is None or ("oven" in text and oven is None):
        return None
    length = None if asks or lasting is None else f"{round(lasting.total_seconds())} s"
    return Question(_shape(text), _millimetres(thick), at, start, food_in([text]), oven, length)


_NO_NAME = re.compile(
    r"\b(?:LEN|is|are|will|would|be|do|does|enough|suffice|for|the|my|our|a|an|of|it|that|this|at|in|to|time|long"
    r"|hot|cook(?:ed)?|heat(?:ed)?|done|through|only|just|really|\d[\d.,]*|c|f|degrees?)\b|[^\w\s]"
)


def enough_for(said: str) -> tuple[frozenset[str], timedelta] | None:
    """The words that name a piece, and how long it is heated, of "is 2 hours enough for the duck"; else None."""
    found = split(plain(said))
    lasting = next((time for _, time in found.times if isinstance(time, timedelta)), None)
    if lasting is None or not _ENOUGH.search(found.text):
        return None
    named = frozenset(_NO_NAME.sub(" ", found.text).split())
    return (named, lasting) if named else None


def _millimetres(thick: re.Match[str]) -> str:
    unit = {"m": "mm", "c": "cm", "i": "in"}[thick[2][0]]
    return f"{thick[1].replace(',', '.')} {unit}"


def _start(text: str) -> tuple[str, str | None]:
    """The words without how warm it starts, and that."""
    if found := _START.search(text):
        return text.replace(found[0], " "), _written(found["heat"], found["unit"])
    for pattern, warm in _FROM:
        if pattern.search(text):
            return pattern.sub(" ", text), warm
    return text, None


def _oven(text: str) -> tuple[str, str | None]:
    for pattern in (_OVEN, _IN_AN_OVEN):
        if found := pattern.search(text):
            return text.replace(found[0], " "), _written(found["heat"], found["unit"])
    return text, None


def _heat(text: str) -> str | None:
    """The one temperature that is spoken of; with its unit, else after "at" and in the range of middles."""
    known = {_written(number, unit or after) for number, unit, after in _SAID_HEAT.findall(text)}
    bare = {
        number
        for number in _BARE_HEAT.findall(text)
        if _LEAST_C <= float(number.replace(",", ".")) <= _MOST_C
    }
    heats = known or {_written(number, None) for number in bare}
    return heats.pop() if len(heats) == 1 else None


def _written(number: str, unit: str | None) -> str:
    figure = re.sub(r"[^\d.].*", "", number.replace(",", "."))
    return f"{float(figure):.1f} {'F' if (unit or 'c').startswith('f') else 'C'}"


def _shape(text: str) -> Shape:
    """A slab of that thickness takes longest, and so stands for whatever is not named."""
    return next((shape for pattern, shape in _SHAPES if pattern.search(text)), Shape.SLAB)
