"""What is typed at a terminal, message by message: a line each, and a pasted plan as one."""

from __future__ import annotations

import codecs
import os
import re
import select
from collections.abc import Iterator
from typing import Protocol, TextIO

from scheduler.service.intake import PLAN_BEGINS

PASTE_GAP = 0.3
"""Seconds without a further line after which a pasted text is complete."""

CHUNK = 65536
OPENING = re.compile(rf"\ufeff?(?:{PLAN_BEGINS}|#|---\s*$)")
"""How a plan begins: with its first key, or with a remark above it."""

LIKE_A_PLAN = re.compile(r"\s*$|\s|#|- |---|[A-Za-z][A-Za-z -]*:(?:\s|$)")
"""A line that may go on in a plan: empty, indented, a remark, an item of a list, or a key."""


class Typed(Protocol):
    """Lines as they come."""

    def next_line(self, within: float | None = None) -> str | None:
        """The next line without its end; None at the end of it all, or when none came `within` seconds."""
        ...


class Keyboard(Typed):
    """Lines of a file descriptor: a terminal, or a pipe."""

    def __init__(self, descriptor: int) -> None:
        self.descriptor = descriptor
        self._decode = codecs.getincrementaldecoder("utf-8")(errors="replace").decode
        self._text = ""
        self._over = False

    def next_line(self, within: float | None = None) -> str | None:
        while "\n" not in self._text and not self._over:
            if within is not None and not select.select([self.descriptor], [], [], within)[0]:
                return None
            chunk = os.read(self.descriptor, CHUNK)
            self._over = not chunk
            self._text += self._decode(chunk, final=self._over)
        line, end, self._text = self._text.partition("\n")
        return line.removesuffix("\r") if line or end else None


class Written(Typed):
    """Lines of a text that is there already."""

    def __init__(self, source: TextIO) -> None:
        self.source = source

    def next_line(self, within: float | None = None) -> str | None:
        line = self.source.readline()
        return line.rstrip("\r\n") if line else None


def messages(typed: Typed) -> Iterator[str]:
    """Each message: a line, or as many as make up a pasted plan."""
    ahead: str | None = None
    while (line := typed.next_line() if ahead is None else ahead) is not None:
        ahead = None
        if not OPENING.match(line):
            yield line
            continue
        pasted = [line]
        while (ahead := typed.next_line(PASTE_GAP)) is not None and LIKE_A_PLAN.match(ahead):
            pasted.append(ahead)
        yield "\n".join(pasted)
