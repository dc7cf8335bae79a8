"""A rehearsal's lines, and how they are printed: as JSON, or as the chat would have looked."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime

from bot import terminal
from scheduler import words
from scheduler.domain import hours


@dataclass(frozen=True, slots=True)
class Line:
    """One message of the rehearsal, from Crockbell or from the cook."""

    at: datetime
    sender: str
    text: str
    stage: str | None = None
    step: str | None = None
    buttons: tuple[str, ...] = ()


def as_json(line: Line, zone: str) -> str:
    """One JSON object on one line, as the design's section 7 lists it."""
    return json.dumps(
        {
            "at": hours.local(line.at, zone).isoformat(),
            "from": line.sender,
            "stage": line.stage,
            "step": line.step,
            "text": line.text,
            "buttons": list(line.buttons),
        },
        ensure_ascii=False,
    )


def as_chat(lines: Iterable[Line], zone: str) -> Iterator[str]:
    """The chat as it would have been, day by day."""
    day = ""
    for line in lines:
        today = words.day(line.at, zone)
        if today != day:
            day = today
            yield f"\n---- {today} ----"
        time = words.clock(line.at, zone)
        if line.sender == "crockbell":
            shown = terminal.block(line.text, (), indent=" " * 8)
            yield f"{time}  " + shown.lstrip()
            if line.buttons:
                yield " " * 8 + "  ".join(f"[{label}]" for label in line.buttons)
        else:
            yield f"{time}  > {line.sender}: {line.text}"
