"""A letter's text and buttons as the Bot API takes them.

The one place where text is escaped, cut to length and laid out. Limits: Bot API, sendMessage ("1-4096
characters after entities parsing"), sendPhoto and sendDocument ("0-1024 characters after entities
parsing"); the Bot API counts in UTF-16 code units.
"""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from telegram import InlineKeyboardButton, InlineKeyboardMarkup

from scheduler.records import Button

MESSAGE_LIMIT = 4096
CAPTION_LIMIT = 1024
MOST_BUTTONS = 4
SHORT_LABEL = 16
"""Two labels of up to so many characters stand beside each other on a phone."""

_CUT = "…"


def units(text: str) -> int:
    """The length of a text as the Bot API counts it, in UTF-16 code units."""
    return len(text.encode("utf-16-le", "surrogatepass")) // 2


def whole(text: str) -> str:
    """The text with half characters, which cannot be sent or stored, replaced by a question mark."""
    return text.encode("utf-8", "replace").decode("utf-8")


def fit(text: str, limit: int) -> str:
    """The text, cut at a line end and closed with "…" where it is longer than `limit` UTF-16 units.

    A first line that is too long by itself is cut within.
    """
    if units(text) <= limit:
        return text
    lines = text.split("\n")
    while len(lines) > 1:
        lines.pop()
        shorter = "\n".join([*lines, _CUT])
        if units(shorter) <= limit:
            return shorter
    return text.encode("utf-16-le")[: 2 * (limit - 1)].decode("utf-16-le", "ignore") + _CUT


def as_html(text: str, limit: int = MESSAGE_LIMIT) -> str:
    """The text as Bot API HTML: its first line bold, everything in it escaped."""
    heading, *rest = fit(whole(text).strip(), limit).split("\n")
    bold = f"<b>{escape(heading, quote=False)}</b>" if heading else ""
    return "\n".join([bold, *(escape(line, quote=False) for line in rest)])


def rows(buttons: Sequence[Button]) -> list[list[Button]]:
    """The first four buttons in order, two to a row where both labels are short."""
    laid: list[list[Button]] = []
    for button in buttons[:MOST_BUTTONS]:
        beside = laid and len(laid[-1]) == 1 and _short(laid[-1][0]) and _short(button)
        if beside:
            laid[-1].append(button)
        else:
            laid.append([button])
    return laid


def _short(button: Button) -> bool:
    return len(button.label) <= SHORT_LABEL


def keyboard(buttons: Sequence[Button]) -> InlineKeyboardMarkup | None:
    """The buttons below a message, or None when there are none."""
    if not buttons:
        return None
    return InlineKeyboardMarkup(
        [
            [InlineKeyboardButton(whole(button.label), callback_data=button.data) for button in row]
            for row in rows(buttons)
        ]
    )
