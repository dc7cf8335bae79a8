"""Lines and buttons: the limits that every message keeps, whatever the names in a plan look like."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Sequence

from scheduler import words
from scheduler.domain.kitchen.hazards import DEFERRAL, caution
from scheduler.domain.kitchen.hazards.attached import cautions
from scheduler.domain.plan import Plan, Step
from scheduler.records import Button
from scheduler.service.answers import Said
from scheduler.service.deeds import Deed

MOST_BUTTONS = 4
LABEL = 24
"""Characters of a button's label at most."""

NAME = 60
"""Characters of a name out of a plan that are shown at most."""

LINE = 240
"""Characters of any one line at most."""

ELLIPSIS = "…"
JOINERS = "\u200c\u200d"


def one_line(text: str) -> str:
    """Text on one line, without controls, marks of direction and half characters."""
    return " ".join("".join(map(_shown, text)).split())


def _shown(character: str) -> str:
    match unicodedata.category(character):
        case "Cc":
            return " "
        case "Cf":  # the joiners shape the letters beside them
            return character if character in JOINERS else ""
        case "Cs":
            return "\ufffd"
        case _:
            return character


def short(text: str, most: int = NAME) -> str:
    """The text on one line; where it is longer than `most`, its beginning and an ellipsis."""
    line = one_line(text) or ELLIPSIS
    if len(line) <= most:
        return line
    end = most - 1
    while end > 1 and (unicodedata.category(line[end])[0] == "M" or line[end] in JOINERS):
        end -= 1
    return line[:end].rstrip() + ELLIPSIS


def quoted(text: str, most: int = NAME) -> str:
    return f"“{short(text, most)}”"


def capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def message(heading: str, *lines: str, buttons: Sequence[Button] = ()) -> Said:
    """A message of those lines, the empty ones left out; the first is its heading."""
    kept = [short(heading, LINE), *(short(line, LINE) for line in lines if line.strip())]
    return Said("\n".join(kept), tuple(buttons[:MOST_BUTTONS]))


def button(label: str, deed: Deed) -> Button:
    return Button(short(label, LABEL), deed.encode())


def some(items: Iterable[str], most: int, rest: str = "and {} more") -> list[str]:
    """The first of the items, `most` lines in all; the last says how many were left out."""
    every = list(items)
    if len(every) <= most:
        return every
    return [*every[: most - 1], rest.format(len(every) - most + 1)]


def beware(step: Step, plan: Plan | None = None) -> list[str]:
    """The lines of a step's caution; none when it has none.

    With its plan, those of what it is, too: for when it begins, since once is enough for them.
    """
    written = [caution(one_line(step.caution))] if step.caution else []
    told = written if plan is None else cautions(step, plan)
    return [*(f"Caution: {short(each, LINE - 10)}" for each in told), *([DEFERRAL] if told else [])]


def numbered(count: int, word: str) -> str:
    return f"no {word}s" if count == 0 else words.counted(count, word)
