"""The HTTP client under the Bot API calls, and how long it waits."""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import timedelta
from functools import cache
from http import HTTPStatus
from ssl import SSLContext
from typing import Any

import httpx
from telegram.error import NetworkError
from telegram.request import HTTPXRequest


@dataclass(frozen=True, slots=True)
class Waits:
    """How long one call may take, in seconds. `poll` is how long the server holds a poll with no news."""

    connect: float = 10.0
    read: float = 20.0
    write: float = 10.0
    upload: float = 60.0
    pool: float = 5.0
    poll: int = 50

    @property
    def whole(self) -> timedelta:
        """More than the longest any call can take: fetching a file is two requests."""
        return 2 * timedelta(seconds=self.connect + self.read + self.write + self.upload + self.pool)


class HttpStatusError(NetworkError):
    """An HTTP status that the library does not tell apart, or that was not the Bot API's own word."""

    __slots__ = ("status",)

    def __init__(self, status: int) -> None:
        super().__init__(f"HTTP status {status}")
        self.status = status


@cache
def _certificates() -> SSLContext:
    """Loaded once for all clients; it takes a while."""
    return httpx.create_ssl_context()


class StatusRequest(HTTPXRequest):
    """The library's HTTP client, except for failures that it reads too much or too little into.

    A refusal counts as the Bot API's when it comes in the Bot API's form; a page from something in between
    says nothing about the chat or the token. Statuses the library lumps together keep their number.
    """

    _TOLD_APART = frozenset((400, 401, 403, 404, 409, 429))

    def __init__(self, waits: Waits) -> None:
        super().__init__(
            connection_pool_size=4,
            connect_timeout=waits.connect,
            read_timeout=waits.read,
            write_timeout=waits.write,
            pool_timeout=waits.pool,
            media_write_timeout=waits.upload,
            httpx_kwargs={"verify": _certificates()},
        )

    async def do_request(self, *args: Any, **kwargs: Any) -> tuple[int, bytes]:
        status, payload = await super().do_request(*args, **kwargs)
        if 200 <= status < 300 or (status in self._TOLD_APART and _is_answer(status, payload)):
            return status, payload
        raise HttpStatusError(status)


def _is_answer(status: int, payload: bytes) -> bool:
    """Whether a failure is told in the Bot API's form (Bot API, Making requests)."""
    try:
        answer = json.loads(payload)
    except ValueError:
        return False
    if not isinstance(answer, dict) or "description" not in answer:
        return False
    return status != HTTPStatus.TOO_MANY_REQUESTS or "retry_after" in answer.get("parameters", {})
