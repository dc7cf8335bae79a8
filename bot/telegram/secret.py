"""Keeps the bot's token out of everything that is logged or stored.

The token is part of every Bot API address, so any library that mentions an address mentions the token.
"""

from __future__ import annotations

import logging
from collections.abc import Iterable

LIBRARY_LOGGERS = (
    "asyncio",
    "httpx",
    "telegram.Bot",
    "telegram.request.BaseRequest",
    "telegram.request.HTTPXRequest",
)
"""The library loggers that mention addresses, exceptions, or what a server answered."""

QUIET_LOGGERS = ("httpx", "httpcore")
"""Loggers that report every request, address included, as routine."""

_SHORTEST = 6


class Redacting(logging.Filter):
    """Replaces the token wherever a log record would show it; lets every record pass.

    Put it on a handler to cover everything the handler writes, on a logger to cover what is logged there.
    """

    def __init__(self, token: str) -> None:
        super().__init__()
        # The part after the colon is the secret one, and survives any quoting of the colon itself.
        self._secrets = [part for part in (token, token.partition(":")[2]) if len(part) >= _SHORTEST]

    def clean(self, text: str) -> str:
        """The text without the token."""
        for secret in self._secrets:
            text = text.replace(secret, "<token>")
        return text

    def filter(self, record: logging.LogRecord) -> bool:
        record.msg, record.args = self.clean(record.getMessage()), ()
        if record.exc_info and not record.exc_text:
            record.exc_text = logging.Formatter().formatException(record.exc_info)
        # The exception itself goes, so that no handler formats it a second time.
        record.exc_info = None
        record.exc_text = self.clean(record.exc_text) if record.exc_text else None
        record.stack_info = self.clean(record.stack_info) if record.stack_info else None
        return True


def hush(names: Iterable[str] = QUIET_LOGGERS) -> None:
    """Let those loggers say nothing below a warning."""
    for name in names:
        logging.getLogger(name).setLevel(logging.WARNING)
