"""What a failed call to the Bot API means. Everything that can go wrong is classified here.

Whether a message may have been delivered decides between trying again in silence (TryLater) and sending
once more marked as a repeat (Uncertain):

- No connection was ever made (refused, no route, connect or pool timeout): nothing was delivered.
- A connection was made and no proper answer came (read timeout, dropped, an answer that is not what the
  Bot API promises): it may have been.
- 500, 502 and 504 come from a gateway that had passed the request on (RFC 9110, sections 15.6.1, 15.6.3
  and 15.6.5), so it may have been accepted. 503 says that it was not taken on (section 15.6.4).
- A redirect or a 4xx that is not in the Bot API's own form was refused by something in between, before
  it was acted on, and says nothing about the chat or the token. Only "too large" would be said again.
"""

from __future__ import annotations

from concurrent.futures import CancelledError
from datetime import timedelta
from http import HTTPStatus

import httpx
from telegram.error import (
    BadRequest,
    ChatMigrated,
    Conflict,
    Forbidden,
    InvalidToken,
    NetworkError,
    RetryAfter,
    TelegramError,
)

from bot.telegram.client import HttpStatusError
from bot.telegram.loop import NotRunningError
from scheduler.ports import Barred, Moved, Rejected, SendError, TryLater, Unauthorised, Uncertain

SOURCE = "telegram"
"""Names this transport in addresses ("telegram:4711") and in the inbox."""

SOON = timedelta(seconds=5)
"""How long to wait before trying again where nobody said how long."""

_NEVER_SENT = (
    httpx.ConnectError,
    httpx.ConnectTimeout,
    httpx.PoolTimeout,
    httpx.ProxyError,
    httpx.UnsupportedProtocol,
)

_TOO_LARGE = (HTTPStatus.REQUEST_ENTITY_TOO_LARGE, HTTPStatus.REQUEST_URI_TOO_LONG)

_GONE = (
    "chat not found",
    "user is deactivated",
    "user not found",
    "bot was blocked",
    "bot was kicked",
    "bot is not a member",
    "not enough rights to send",
    "have no rights to send",
    "chat_write_forbidden",
    "chat_send_plain_forbidden",
    "channel_private",
    "peer_id_invalid",
)
"""Descriptions, in lower case, of a refusal that concerns the chat and not the message."""

_NOTHING_TO_TAKE_OFF = (
    "message is not modified",
    "message to edit not found",
    "message can't be edited",
    "message_id_invalid",
)
"""Descriptions of an edit that found its work done, or the message gone."""


FAILURES = (
    TelegramError,
    NotRunningError,
    TimeoutError,
    CancelledError,
    # What the library lets through when a well-formed answer is not of the promised shape.
    AttributeError,
    LookupError,
    TypeError,
    ValueError,
)
"""Everything a call through the library may raise."""


def classify(error: Exception, words: str | None = None) -> SendError:
    """What one of FAILURES means for the message that was being sent; `words` stand in for its text."""
    text = words or describe(error)
    match error:
        case RetryAfter():
            return TryLater(retry_after(error), text)
        case ChatMigrated():
            return Moved(f"{SOURCE}:{error.new_chat_id}")
        case Forbidden():
            return Barred(text)
        case InvalidToken():
            return Unauthorised(text)
        case BadRequest():
            return Barred(text) if _says(error, _GONE) else Rejected(text)
        case HttpStatusError():
            return _by_status(error.status, text)
        case NetworkError():  # TimedOut is one; its cause tells the timeouts apart
            return TryLater(SOON, text) if isinstance(error.__cause__, _NEVER_SENT) else Uncertain(text)
        case TelegramError() if not isinstance(error.__cause__, ValueError):
            return Rejected(text)
        case NotRunningError():
            return TryLater(SOON, text)
    return Uncertain(text)


def classify_repeatable(error: Exception, words: str | None = None) -> SendError:
    """As `classify`, for a call that may safely be made twice: what is uncertain is tried again."""
    kind = classify(error, words)
    return TryLater(SOON, str(kind)) if isinstance(kind, Uncertain) else kind


def _by_status(status: int, text: str) -> SendError:
    if status in _TOO_LARGE:
        return Rejected(text)
    refused = status < 500 or status == HTTPStatus.SERVICE_UNAVAILABLE
    return TryLater(SOON, text) if refused else Uncertain(text)


def nothing_to_take_off(error: BadRequest) -> bool:
    """Whether an edit failed only because there was nothing left to change."""
    return _says(error, _NOTHING_TO_TAKE_OFF)


def _says(error: BadRequest, phrases: tuple[str, ...]) -> bool:
    return any(phrase in error.message.lower() for phrase in phrases)


def retry_after(error: RetryAfter) -> timedelta:
    """How long the Bot API asked us to wait."""
    wait = error.retry_after
    return wait if isinstance(wait, timedelta) else timedelta(seconds=wait)


def describe(error: Exception) -> str:
    """The error in one line, its kind first."""
    return f"{type(error).__name__}: {error}" if str(error) else type(error).__name__


def another_poller(error: Exception) -> bool:
    """Whether polling failed because another program polls with the same token."""
    return isinstance(error, Conflict)


def poll_pause(error: Exception, doubled: timedelta, words: str) -> timedelta:
    """How long to wait before polling again after one of FAILURES, `doubled` being our own pace.

    Raises Unauthorised, saying `words`, when polling again would be of no use.
    """
    if isinstance(classify(error), Unauthorised | Barred):
        raise Unauthorised(words) from None
    return max(doubled, retry_after(error)) if isinstance(error, RetryAfter) else doubled
