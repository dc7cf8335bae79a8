"""Chats, people and messages as the loopback Bot API server writes them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

COOK: dict[str, Any] = {"id": 31, "is_bot": False, "first_name": "Ada"}


@dataclass(slots=True)
class Sent:
    """One message the bot sent and the server accepted. `text` is what a reader sees, `raw` as sent."""

    chat: int
    message_id: int
    method: str
    text: str
    raw: str
    markup: dict[str, Any] | None
    params: dict[str, str]
    file_name: str | None = None
    file: bytes | None = None

    @property
    def rows(self) -> list[list[tuple[str, str]]]:
        """The buttons as (label, data), row by row."""
        found = self.markup["inline_keyboard"] if self.markup else []
        return [[(button["text"], button["callback_data"]) for button in row] for row in found]


def chat_json(chat: int) -> dict[str, Any]:
    """A private chat for a positive number, a group for a negative one, a supergroup for a very low one."""
    if chat > 0:
        return {"id": chat, "type": "private", "first_name": "Ada"}
    kind = "supergroup" if chat < -(10**12) else "group"
    return {"id": chat, "type": kind, "title": "Kitchen"}


def membership_json(chat: int, seconds: int, who: dict[str, Any], old: str, new: str) -> dict[str, Any]:
    """A ChatMemberUpdated; `old` and `new` are statuses, "kicked" for good."""
    return {
        "chat": chat_json(chat),
        "from": COOK,
        "date": seconds,
        "old_chat_member": _member(who, old),
        "new_chat_member": _member(who, new),
    }


def _member(who: dict[str, Any], status: str) -> dict[str, Any]:
    return {"user": who, "status": status} | ({"until_date": 0} if status == "kicked" else {})
