"""Telegram: letters out, updates in, over the Bot API.

The services and the worker are synchronous; only the adapter's own thread runs an asyncio loop. The
library's Updater is not used, because it confirms updates before anyone has stored them.
"""

from __future__ import annotations

import logging
from collections.abc import Callable, Coroutine, Mapping
from dataclasses import dataclass
from datetime import datetime
from threading import Event
from types import TracebackType
from typing import Any, Self, TypeVar

from telegram import Bot

from bot.telegram.calls import (
    COMMANDS,
    LARGEST_FILE,
    fetch_file,
    prepare,
    send_file,
    send_text,
    take_buttons_off,
    updates,
)
from bot.telegram.client import StatusRequest, Waits
from bot.telegram.errors import FAILURES, classify, classify_repeatable, describe
from bot.telegram.loop import LoopThread, NotRunningError
from bot.telegram.poll import Pauses, Poller
from bot.telegram.read import parse_address, parse_receipt, read_update
from bot.telegram.secret import LIBRARY_LOGGERS, Redacting, hush
from scheduler.ports import Barred, Messenger, Moved, Rejected, SendError, Unauthorised
from scheduler.records import Incoming, Kind, Letter

__all__ = ["COMMANDS", "LARGEST_FILE", "Pauses", "Poller", "TelegramMessenger", "Waits"]

log = logging.getLogger("crockbell.telegram")
Result = TypeVar("Result")
Call = Callable[[Bot], Coroutine[Any, Any, Result]]


@dataclass(frozen=True, slots=True)
class _Running:
    """What there is between start and close. Polling has a client of its own: it holds its connection."""

    loop: LoopThread
    clients: tuple[StatusRequest, ...]
    sender: Bot
    poller: Bot

    async def shut(self) -> None:
        for client in self.clients:
            await client.shutdown()


class TelegramMessenger(Messenger):
    """The Messenger port over the Bot API; between `start` and `close`, or as a context manager.

    `base_url` and `base_file_url` as python-telegram-bot takes them ("http://127.0.0.1:8081/bot" and
    "http://127.0.0.1:8081/file/bot"), for a Bot API server of one's own; the second follows from the first.
    `redacting` is a log filter that hides the token; put it on every log handler.
    """

    def __init__(
        self,
        token: str,
        *,
        base_url: str | None = None,
        base_file_url: str | None = None,
        waits: Waits | None = None,
    ) -> None:
        self._token = token
        self._base_url = base_url or "https://api.telegram.org/bot"
        self._base_file_url = base_file_url or f"{self._base_url.removesuffix('/bot')}/file/bot"
        self._waits = waits or Waits()
        self._running: _Running | None = None
        self._username: str | None = None
        self.redacting = Redacting(token)

    # ------------------------------------------------------------ running

    def start(self) -> None:
        """Start the adapter's thread. Reaches nobody yet, so it works without a network."""
        hush()
        for name in (*LIBRARY_LOGGERS, log.name):
            logging.getLogger(name).addFilter(self.redacting)
        if self._running is None:
            sending, polling = StatusRequest(self._waits), StatusRequest(self._waits)
            bots = self._bot(sending), self._bot(polling)
            self._running = _Running(LoopThread(), (sending, polling), *bots)

    def close(self) -> None:
        """Give up what is under way and end the thread."""
        running, self._running = self._running, None
        if running is not None:
            running.loop.close(running.shut)
        for name in (*LIBRARY_LOGGERS, log.name):
            logging.getLogger(name).removeFilter(self.redacting)

    def __enter__(self) -> Self:
        self.start()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def _bot(self, client: StatusRequest) -> Bot:
        return Bot(
            self._token,
            base_url=self._base_url,
            base_file_url=self._base_file_url,
            request=client,
            get_updates_request=client,
        )

    def _now_running(self) -> _Running:
        if self._running is None:
            raise NotRunningError("the Telegram adapter is not running")
        return self._running

    def _call(self, work: Call[Result]) -> Result:
        """The result of one Bot API call, or one of FAILURES."""
        running = self._now_running()
        return running.loop.call(work(running.sender), self._waits.whole)

    def _kind(self, error: Exception, classified: Callable[[Exception, str], SendError]) -> SendError:
        return classified(error, self.redacting.clean(describe(error)))

    # ------------------------------------------------------------ the port

    def send(self, address: str, letter: Letter) -> str:
        try:
            work = self._work(address, letter)
        except ValueError as error:
            raise Rejected(str(error)) from None
        # Taking buttons off twice is the same as once; a message sent twice is not.
        classified = classify_repeatable if letter.kind is Kind.UNBUTTON else classify
        try:
            return self._call(work)
        except FAILURES as error:
            raise self._kind(error, classified) from None

    @staticmethod
    def _work(address: str, letter: Letter) -> Call[str]:
        """The call that sends a letter; raises ValueError for a letter that makes no sense."""
        chat = parse_address(address)
        if letter.kind is Kind.UNBUTTON:
            where, message = parse_receipt(letter.receipt)
            return lambda bot: take_buttons_off(bot, where, message)
        if letter.kind is Kind.FILE:
            if letter.file is None:
                raise ValueError("there is no file in this letter")
            content = letter.file
            return lambda bot: send_file(bot, chat, letter, content)
        return lambda bot: send_text(bot, chat, letter)

    def read(self, payload: Mapping[str, Any], received: datetime) -> Incoming:
        return read_update(payload, received, self._username)

    def fetch(self, reference: str) -> bytes:
        try:
            return self._call(lambda bot: fetch_file(bot, reference))
        except FAILURES as error:
            kind = self._kind(error, classify_repeatable)
            # Neither is said of a file; the port promises the three kinds that are left.
            raise (Rejected(str(kind)) if isinstance(kind, Barred | Moved) else kind) from None

    def acknowledge(self, press: str) -> None:
        try:
            self._call(lambda bot: bot.answer_callback_query(press))
        except FAILURES as error:
            kind = self._kind(error, classify)
            if isinstance(kind, Unauthorised):
                raise kind from None
            log.info("A button press could not be acknowledged: %s", kind)

    # ------------------------------------------------------------ what the poller asks

    def prepare(self, stop: Event) -> None:
        """Make polling possible and learn the bot's name. Raises one of FAILURES."""
        running = self._now_running()
        self._username = running.loop.call_until(prepare(running.sender), stop) or None

    def updates(self, offset: int | None, stop: Event) -> list[Any] | None:
        """Updates from `offset` on, raw; None when `stop` was set while waiting. Raises one of FAILURES."""
        running = self._now_running()
        held = self._waits.poll
        asking = updates(running.poller, offset, held, held + self._waits.read)
        return running.loop.call_until(asking, stop)
