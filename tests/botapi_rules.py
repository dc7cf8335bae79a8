"""What the Bot API refuses: markup, lengths and buttons that break its published rules.

Source: Bot API, "HTML style" (its tags with a hyphen are left out), sendMessage, sendPhoto, sendDocument
and InlineKeyboardButton; the wording of the refusals from memory.
"""

from __future__ import annotations

import json
import re
from html import unescape
from typing import Any

TAGS = frozenset(
    ("a", "b", "blockquote", "code", "del", "em", "i", "ins", "pre", "s", "span", "strike", "strong", "u")
)
MESSAGE_LIMIT, CAPTION_LIMIT, DATA_LIMIT = 4096, 1024, 64

_PIECE = re.compile(r"<(?P<end>/?)(?P<tag>[^\s<>/]*)[^<>]*>|(?P<stray><)|(?P<words>[^<]+)")
_ENTITY = re.compile(r"&(lt|gt|amp|quot|#\d+|#x[0-9a-fA-F]+);")


class RefusedError(Exception):
    """An answer with "ok": false."""

    def __init__(self, status: int, description: str, **parameters: Any) -> None:
        super().__init__(description)
        self.status, self.description, self.parameters = status, description, parameters

    def body(self) -> bytes:
        """The JSON that tells of it."""
        answer = {"ok": False, "error_code": self.status, "description": self.description}
        if self.parameters:
            answer["parameters"] = self.parameters
        return json.dumps(answer).encode()


def bad(description: str, **parameters: Any) -> RefusedError:
    """A "400 Bad Request" with that description."""
    return RefusedError(400, f"Bad Request: {description}", **parameters)


def shown(html: str) -> str:
    """The text a reader sees of Bot API HTML; raises RefusedError where it does not parse."""
    words: list[str] = []
    opened: list[str] = []
    for piece in _PIECE.finditer(html):
        if piece["words"] is not None:
            words.append(_ENTITY.sub(lambda entity: unescape(entity[0]), piece["words"]))
        elif piece["stray"] or (not piece["end"] and piece["tag"] not in TAGS):
            where = len(html[: piece.start()].encode())
            raise bad(f'can\'t parse entities: Unsupported start tag "{piece["tag"]}" at byte offset {where}')
        elif not piece["end"]:
            opened.append(piece["tag"])
        elif not opened or opened.pop() != piece["tag"]:
            raise bad(f'can\'t parse entities: Unmatched end tag "{piece["tag"]}"')
    if opened:
        raise bad(f"can't parse entities: Can't find end tag corresponding to start tag \"{opened[-1]}\"")
    return "".join(words)


def words_of(params: dict[str, str], field: str) -> str:
    """What a message or caption shows; raises RefusedError when it is too long or does not parse."""
    raw = params.get(field, "")
    text = shown(raw) if params.get("parse_mode") == "HTML" else raw
    length = len(text.encode("utf-16-le")) // 2
    if field == "text" and not text.strip():
        raise bad("message text is empty")
    if field == "text" and length > MESSAGE_LIMIT:
        raise bad("message is too long")
    if field == "caption" and length > CAPTION_LIMIT:
        raise bad("message caption is too long")
    return text


def markup_of(params: dict[str, str]) -> dict[str, Any] | None:
    """The inline keyboard, None for none; raises RefusedError for one the Bot API refuses."""
    markup = json.loads(params.get("reply_markup") or "null")
    if not markup or not any(markup.get("inline_keyboard", [])):
        return None
    for row in markup["inline_keyboard"]:
        for button in row:
            if not button.get("text"):
                raise bad("text buttons are unallowed in the inline keyboard")
            if not 1 <= len(button.get("callback_data", "").encode()) <= DATA_LIMIT:
                raise bad("BUTTON_DATA_INVALID")
    return dict(markup)
