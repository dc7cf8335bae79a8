"""What the cook said happened, as it is kept."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum


class MarkKind(StrEnum):
    STARTED = "started"
    DONE = "done"
    LATER = "later"
    SKIPPED = "skipped"
    RUINED = "ruined"
    AGAIN = "again"
    NOTE = "note"
    MOVED = "moved"
    CHANGED = "changed"
    CLOCK = "clock"
    UNDONE = "undone"


@dataclass(frozen=True, slots=True)
class Mark:
    """What the cook said happened. Append-only.

    `about` is the time it is about, `said` when it was said. `step` is None for a note on the kitchen;
    `occurrence` names a touch of the step's tend. LATER carries `until`: not before then (not begun yet),
    or the new expected end (running). MOVED is about the new serving hour, `until` the one before it. CHANGED
    holds in `text`, as JSON, what was changed about the kitchen; CLOCK what was said of food out of temperature
    control (see domain.clocks).
    `batch` binds the marks of one reply, and UNDONE names in `undoes` the batch it takes back.
    """

    kind: MarkKind
    about: datetime
    said: datetime
    batch: str
    step: int | None = None
    occurrence: int | None = None
    until: datetime | None = None
    by: str = ""
    text: str = ""
    undoes: str | None = None


def standing_marks(marks: Iterable[Mark]) -> list[Mark]:
    """The marks that have not been taken back, in the order they were said.

    Taking back what took something back lets that stand again.
    """
    kept: list[Mark] = []
    undone: set[str | None] = set()
    for mark in reversed(list(marks)):
        if mark.batch in undone:
            continue
        if mark.kind is MarkKind.UNDONE:
            undone.add(mark.undoes)
        else:
            kept.append(mark)
    return kept[::-1]
