"""What a one-off question of the trade is answered with, on the command line and in the chat alike."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any


class WrongFigure(ValueError):
    """A figure that cannot be used; the text is for the person who gave it, and says what was expected."""


@dataclass(frozen=True, slots=True)
class Told:
    """`heading` is the answer in one line, `lines` how it came about, with sources and cautions.

    `brief` stands in the chat in their place, where they are too many for a phone. `facts` is the same as plain data,
    units in the keys. `refused`: what was asked for goes against a published limit, which the heading names.
    """

    heading: str
    lines: tuple[str, ...] = ()
    facts: dict[str, Any] = field(default_factory=dict)
    refused: bool = False
    brief: tuple[str, ...] | None = None
