"""Fitting words into a picture: without what cannot be drawn, wrapped or shortened to the room there is."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from datetime import date

from bot.picture.shapes import Face, Measure
from bot.wording.lines import ELLIPSIS, JOINERS, one_line
from scheduler.words import LONG_DAYS, MONTHS

LEFT_TO_RIGHT = "\u200e"


def clean(text: str) -> str:
    """One line of text with nothing in it that has no shape: line breaks, controls, stray surrogates.

    Text that runs from right to left is set apart, so that the times around it keep their order.
    """
    line = "".join(map(_drawable, one_line(text)))
    leftward = any(unicodedata.bidirectional(character) in ("R", "AL") for character in line)
    return f"{LEFT_TO_RIGHT}{line}{LEFT_TO_RIGHT}" if leftward else line


def _drawable(character: str) -> str:
    """The character, or the mark for one that has no agreed shape, which XML may not hold either."""
    return "\ufffd" if unicodedata.category(character) in ("Co", "Cn") else character


def long_day(day: date) -> str:
    """ "Saturday 12 Dec"."""
    return f"{LONG_DAYS[day.weekday()]} {day.day} {MONTHS[day.month - 1]}"


def shorten(text: str, width: float, face: Face, measure: Measure) -> str:
    """The text, or as much of its beginning as fits into `width` pixels with an ellipsis."""
    if measure(text, face) <= width:
        return text
    end = _fitting(text, width, ELLIPSIS, face, measure)
    return text[: _between_letters(text, end)].rstrip() + ELLIPSIS


def _fitting(text: str, width: float, end: str, face: Face, measure: Measure) -> int:
    """How many characters fit, followed by `end`."""
    low, high = 0, len(text)
    while low < high:
        middle = (low + high + 1) // 2
        if measure(text[:middle].rstrip() + end, face) <= width:
            low = middle
        else:
            high = middle - 1
    return low


def _between_letters(text: str, end: int) -> int:
    """The last place not after `end` that does not part a letter from its marks."""
    while 0 < end < len(text) and (unicodedata.category(text[end])[0] == "M" or text[end] in JOINERS):
        end -= 1
    return end


def wrap(text: str, width: float, face: Face, measure: Measure, most: int) -> list[str]:
    """At most so many lines no wider than `width` pixels, the last shortened where need be."""
    lines = list(_lines(text, width, face, measure))
    if len(lines) > most:
        lines = [*lines[: most - 1], " ".join(lines[most - 1 :])]
    return [shorten(line, width, face, measure) for line in lines]


def _lines(text: str, width: float, face: Face, measure: Measure) -> Iterator[str]:
    line = ""
    for word in text.split(" "):
        longer = f"{line} {word}" if line else word
        while measure(longer, face) > width and (end := _break(line, longer, width, face, measure)):
            yield longer[:end].rstrip()
            longer = longer[end:].lstrip()
            line = ""
        line = longer
    yield line


def _break(line: str, longer: str, width: float, face: Face, measure: Measure) -> int:
    """Where to end a line that has become too long: before its last word, or inside a word that no line
    has room for. Nothing where not even a letter fits.
    """
    word = longer[len(line) :].lstrip()
    if line and measure(word, face) <= width:
        return len(line)
    return _between_letters(longer, _fitting(longer, width, "", face, measure))
