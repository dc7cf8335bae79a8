"""The terminal as a transport: the same conversation, one line at a time.

A reply is a line; a number presses a button of the last message that has some; the path of a file sends it.
"""

from __future__ import annotations

import re
import textwrap
import unicodedata
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any, TextIO

from scheduler.planfile.source import LARGEST_FILE
from scheduler.ports import Messenger, Rejected
from scheduler.records import Button, Incoming, Kind, Letter
from scheduler.service.deeds import Verb

ADDRESS = "terminal:here"
SOURCE = "terminal"
WIDTH = 78
PLAN_FILES = (".yaml", ".yml", ".txt")
LISTED = re.compile(r"^(\d{1,2})\. ", re.MULTILINE)
BESIDE = (Verb.WAYS, Verb.KEEP, Verb.DISCARD)
"""What a button does that is not one of the choices a message counts."""


def printable(text: str) -> str:
    """Text without control characters: what came from a plan must not steer the terminal."""
    return "".join(
        c if c == "\n" or unicodedata.category(c)[0] != "C" else "\N{REPLACEMENT CHARACTER}" for c in text
    )


def block(text: str, buttons: tuple[Button, ...], indent: str = "  ") -> str:
    """A message as lines for the terminal: heading, body, numbered buttons."""
    lines = []
    for line in printable(text).split("\n"):
        hanging = indent + ("  " if line.startswith("- ") else "")
        lines += textwrap.wrap(line, WIDTH, initial_indent=indent, subsequent_indent=hanging) or [""]
    if buttons:
        known = sorted(numbered(text, buttons).items())
        lines.append(indent + "  ".join(f"[{number}] {printable(button.label)}" for number, button in known))
    return "\n".join(lines)


def numbered(text: str, buttons: Sequence[Button]) -> dict[int, Button]:
    """The number that presses each button.

    Where the message counts what can be chosen, a choice has the number it is told with, and what stands beside
    them comes after: else a "3" would not mean what the message calls 3.
    """
    listed = [int(number) for number in LISTED.findall(text)]
    choices = [button for button in buttons if not button.data.startswith(BESIDE)]
    if not listed or len(choices) > len(listed):
        return dict(enumerate(buttons, 1))
    beside = [button for button in buttons if button not in choices]
    return dict([*enumerate(choices, listed[0]), *enumerate(beside, listed[-1] + 1)])


@dataclass(frozen=True, slots=True)
class Shown:
    """The last message that has buttons: numbers press them, as its text counts them."""

    receipt: str
    buttons: tuple[Button, ...]
    text: str = ""


class TerminalMessenger(Messenger):
    """Writes letters to a stream; a receipt is the letter's own number."""

    def __init__(self, out: TextIO, files: Path) -> None:
        self.out = out
        self.files = files
        self.shown: Shown | None = None

    def send(self, address: str, letter: Letter) -> str:
        receipt = f"{letter.id}"
        if letter.kind is Kind.UNBUTTON:
            self._take_buttons_off(letter.receipt)
            return letter.receipt or receipt
        if letter.file is not None:
            self._save(letter)
        else:
            print(f"\n{block(letter.text, letter.buttons)}", file=self.out, flush=True)
        if letter.buttons:
            self.shown = Shown(receipt, letter.buttons, letter.text)
        return receipt

    def _take_buttons_off(self, receipt: str | None) -> None:
        if self.shown is not None and self.shown.receipt == receipt:
            self.shown = None

    def _save(self, letter: Letter) -> None:
        path = self.files / Path(letter.file_name or "file").name
        try:
            path.write_bytes(letter.file or b"")
        except OSError as error:
            raise Rejected(f"{path}: {error}") from error
        print(f"\n{block(letter.text, ())}\n  (saved as {printable(str(path))})", file=self.out, flush=True)

    def read(self, payload: Mapping[str, Any], received: datetime) -> Incoming:
        document = payload.get("document")
        if "address" not in payload:
            raise ValueError("a line without an address")
        return Incoming(
            address=str(payload["address"]),
            at=received,
            text=str(payload.get("text", "")),
            data=payload.get("data"),
            reply_to=payload.get("reply_to"),
            document=None if document is None else (Path(document).name, document),
            sender=str(payload.get("sender", "")),
        )

    def fetch(self, reference: str) -> bytes:
        """At most one byte more than a plan file may have, so that one too large is told from one that is not."""
        try:
            with Path(reference).open("rb") as file:
                return file.read(LARGEST_FILE + 1)
        except OSError as error:
            raise Rejected(f"{reference}: {error}") from error

    def acknowledge(self, press: str) -> None:
        """Nobody waits for it here."""

    def payload(self, message: str) -> dict[str, Any]:
        """What a typed message stands for: a button's number, the path of a plan file, or words."""
        said: dict[str, Any] = {"address": ADDRESS}
        button = self._pressed(message.strip())
        if button is not None and self.shown is not None:
            return said | {"data": button.data, "reply_to": self.shown.receipt}
        path = plan_file(message)
        return said | ({"text": message} if path is None else {"document": str(path)})

    def _pressed(self, said: str) -> Button | None:
        number = int(said) if said.isascii() and said.isdigit() and len(said) < 3 else 0
        return None if self.shown is None else numbered(self.shown.text, self.shown.buttons).get(number)


def plan_file(message: str) -> Path | None:
    """The plan file whose path was typed (or dropped on the terminal, which may put it in quotes)."""
    typed = message.strip().strip("'\"").replace("\\ ", " ")
    if "\n" in typed or not typed.lower().endswith(PLAN_FILES):
        return None
    try:
        path = Path(typed).expanduser().absolute()
        return path if path.is_file() else None
    except (OSError, RuntimeError, ValueError):
        return None
