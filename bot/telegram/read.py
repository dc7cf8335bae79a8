"""Raw Bot API updates read into what the services understand. Pure: no network, no clock."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import UTC, datetime
from typing import Any

from telegram import CallbackQuery, Chat, ChatMemberUpdated, Message, Update, User
from telegram.constants import ChatMemberStatus, ChatType

from bot.telegram.errors import SOURCE
from bot.telegram.text import whole
from scheduler.records import Incoming

_GROUPS = (ChatType.GROUP, ChatType.SUPERGROUP)
_OUT = (ChatMemberStatus.LEFT, ChatMemberStatus.BANNED)
_COMMAND = re.compile(r"/(\w+)@(\w+)\b[ \t]*(.*)", re.DOTALL)

_UNREADABLE = (AttributeError, LookupError, TypeError, ValueError, OverflowError, OSError)
"""What the library and the readers here raise for an update that is not of the promised shape."""


def receipt_of(chat: int, message: int) -> str:
    """The name of a message for good: "<chat id>/<message id>"."""
    return f"{chat}/{message}"


def parse_receipt(receipt: str | None) -> tuple[int, int]:
    """Chat id and message id of a receipt; raises ValueError for what is not one."""
    chat, _, message = (receipt or "").partition("/")
    return int(chat), int(message)


def address_of(chat: int) -> str:
    """The address of a chat: "telegram:<chat id>"."""
    return f"{SOURCE}:{chat}"


def parse_address(address: str) -> int:
    """The chat id in an address; raises ValueError for another transport's."""
    source, _, chat = address.partition(":")
    if source != SOURCE:
        raise ValueError(f"{address} is not a Telegram address")
    return int(chat)


def read_update(payload: Mapping[str, Any], received: datetime, username: str | None = None) -> Incoming:
    """Read one update; `username` is the bot's own, without the @, where it is known.

    Raises ValueError for an update that cannot be read, and for a naive `received`.
    """
    if received.tzinfo is None:
        raise ValueError("the time of receipt must be aware")
    try:
        return _read(Update.de_json(dict(payload), None), received.astimezone(UTC), username)
    except _UNREADABLE as error:
        raise ValueError(f"cannot read the update: {type(error).__name__}: {error}") from error


def _read(update: Update, received: datetime, username: str | None) -> Incoming:
    if update.message is not None:
        return _message(update.message, username)
    if update.edited_message is not None:
        return _incoming(update.edited_message.chat, update.edited_message.date, "other")
    if update.callback_query is not None:
        return _press(update.callback_query, received)
    if update.my_chat_member is not None:
        return _membership(update.my_chat_member)
    raise ValueError("nothing in it that Crockbell asked for")


def _message(message: Message, username: str | None) -> Incoming:
    words = message.text if message.text is not None else message.caption
    text, kind = _addressed(whole(words or ""), username)
    # A moving picture comes as a document too, for the sake of old bots (Bot API, Message).
    document = None if message.animation else message.document
    useful = message.text is not None or document is not None or message.migrate_to_chat_id is not None
    return _incoming(
        message.chat,
        message.date,
        kind if useful else "other",
        text=text,
        sender=_name(message.from_user),
        reply_to=_replied(message),
        document=(whole(document.file_name or "document"), whole(document.file_id)) if document else None,
        size=document.file_size if document else None,
        moved_to=None if message.migrate_to_chat_id is None else address_of(message.migrate_to_chat_id),
    )


def _addressed(text: str, username: str | None) -> tuple[str, str]:
    """The text without the bot's name in it, and its kind: "other" when it is meant for another bot."""
    command = _COMMAND.fullmatch(text)
    if command is not None:
        name, whose, rest = command.groups()
        meant = username is None or whose.casefold() == username.casefold()
        return f"/{name} {rest}".strip(), "text" if meant else "other"
    mention = f"@{username} " if username else None
    if mention and text.casefold().startswith(mention.casefold()):
        return text[len(mention) :].strip(), "text"
    return text, "text"


def _press(query: CallbackQuery, received: datetime) -> Incoming:
    """A pressed button. It carries no time of its own, so it counts from when it was received."""
    if query.message is None or query.data is None:
        raise ValueError("a button without its message")
    where = query.message
    return _incoming(
        where.chat,
        received,
        "text",
        data=query.data,
        press=query.id,
        sender=_name(query.from_user),
        reply_to=receipt_of(where.chat.id, where.message_id),
    )


def _membership(change: ChatMemberUpdated) -> Incoming:
    was_in, is_in = _takes_part(change.old_chat_member), _takes_part(change.new_chat_member)
    kind = "left" if not is_in else "other" if was_in else "joined"
    return _incoming(change.chat, change.date, kind, sender=_name(change.from_user))


def _takes_part(member: Any) -> bool:
    return member.status not in _OUT and getattr(member, "is_member", True) is not False


def _replied(message: Message) -> str | None:
    told = message.reply_to_message
    return None if told is None else receipt_of(told.chat.id, told.message_id)


def _name(user: User | None) -> str:
    return "" if user is None else whole(user.first_name)


def _incoming(chat: Chat, at: datetime, kind: str, **more: Any) -> Incoming:
    if type(chat.id) is not int or not isinstance(at, datetime):
        raise ValueError("a chat without a number, or a message without a time")
    return Incoming(address_of(chat.id), at, kind, group=chat.type in _GROUPS, **more)
