"""The Bot API calls Crockbell makes, each one coroutine."""

from __future__ import annotations

import logging
from http import HTTPStatus
from typing import Any

from telegram import Bot, BotCommand, LinkPreviewOptions, Message
from telegram.constants import ParseMode
from telegram.error import BadRequest, InvalidToken

from bot.telegram.client import HttpStatusError
from bot.telegram.errors import nothing_to_take_off
from bot.telegram.read import receipt_of
from bot.telegram.text import CAPTION_LIMIT, as_html, keyboard
from scheduler.records import Letter

log = logging.getLogger("crockbell.telegram")

LARGEST_FILE = 256 * 1024
"""Bytes of the largest file that is fetched: a plan file may not be larger."""

WANTED = ("message", "callback_query", "my_chat_member")
"""The kinds of update asked for (Bot API, Update)."""

COMMANDS = (
    ("next", "What to do next"),
    ("today", "Today's list"),
    ("plan", "The whole plan, or how to send one"),
    ("help", "What you can say"),
    ("undo", "Take back the last thing you said"),
    ("stop", "Stop the reminders"),
)
"""The menu of commands, and what each is for."""


_NOT_THERE = (HTTPStatus.NOT_FOUND, HTTPStatus.GONE)


async def send_text(bot: Bot, chat: int, letter: Letter) -> str:
    """Send a letter's words and buttons; returns the receipt."""
    sent = await bot.send_message(
        chat,
        as_html(letter.text),
        parse_mode=ParseMode.HTML,
        link_preview_options=LinkPreviewOptions(is_disabled=True),
        reply_markup=keyboard(letter.buttons),
    )
    return _receipt(sent)


async def send_file(bot: Bot, chat: int, letter: Letter, content: bytes) -> str:
    """Send a letter's file, a PNG as a picture to look at; returns the receipt."""
    name = letter.file_name or "file"
    picture = name.lower().endswith(".png")
    sent = await (bot.send_photo if picture else bot.send_document)(
        chat,
        content,
        caption=as_html(letter.text, CAPTION_LIMIT),
        parse_mode=ParseMode.HTML,
        reply_markup=keyboard(letter.buttons),
        filename=name,
    )
    return _receipt(sent)


def _receipt(sent: Message) -> str:
    return receipt_of(sent.chat.id, sent.message_id)


async def take_buttons_off(bot: Bot, chat: int, message: int) -> str:
    """Take the buttons off a message. One that is gone, or has none, needs nothing more."""
    try:
        await bot.edit_message_reply_markup(chat, message, reply_markup=None)
    except BadRequest as error:
        if not nothing_to_take_off(error):
            raise
    return receipt_of(chat, message)


async def fetch_file(bot: Bot, reference: str) -> bytes:
    """A document's bytes; raises BadRequest for one that is too large or no longer there."""
    found = await bot.get_file(reference)
    _refuse_large(found.file_size or 0)
    try:
        content = bytes(await found.download_as_bytearray())
    except (InvalidToken, HttpStatusError) as error:
        # The library calls every 404 an invalid token; this one was accepted a moment ago.
        if isinstance(error, HttpStatusError) and error.status not in _NOT_THERE:
            raise
        raise BadRequest("the file is no longer there") from error
    _refuse_large(len(content))
    return content


def _refuse_large(size: int) -> None:
    if size > LARGEST_FILE:
        raise BadRequest(f"the file is larger than {LARGEST_FILE // 1024} KiB")


async def prepare(bot: Bot) -> str:
    """Take off a webhook, which would forbid polling, and set the menu; returns the bot's user name."""
    await bot.delete_webhook(drop_pending_updates=False)
    me = await bot.get_me()
    try:
        await bot.set_my_commands([BotCommand(*command) for command in COMMANDS])
    except BadRequest as error:
        log.warning("Telegram did not take the menu of commands: %s", error)
    return me.username or ""


async def updates(bot: Bot, offset: int | None, held: int, longest: float) -> list[Any]:
    """Updates from `offset` on, as raw JSON values; the server holds the call for `held` seconds.

    Asking confirms every update before `offset`. `longest` bounds the wait for the answer, in seconds.
    """
    query = {"offset": offset, "timeout": held, "allowed_updates": list(WANTED)}
    # Method names are case-insensitive (Bot API, Making requests). In this spelling the library hands the
    # answer over as it came, so that an update it cannot parse is still stored and confirmed.
    found = await bot.do_api_request("GetUpdates", api_kwargs=query, read_timeout=longest)
    if not isinstance(found, list):
        raise TypeError("the updates are not a list")
    return found
