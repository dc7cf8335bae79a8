"""Long polling into the durable inbox.

An update is confirmed to Telegram by the poll after the one that brought it, and that poll is only made
once the update is committed. So a crash at any moment loses nothing; an update that comes twice is
stored once, because the inbox is unique on its number.
"""

from __future__ import annotations

import json
import logging
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta
from threading import Event
from typing import Any, Protocol

from bot.telegram.errors import FAILURES, SOURCE, another_poller, describe, poll_pause
from bot.telegram.secret import Redacting
from scheduler.ports import Clock, Store
from scheduler.records import Received

log = logging.getLogger("crockbell.telegram")

LARGEST_NUMBER = 2**63 - 1
"""Update numbers are stored as 64-bit integers."""


class Feed(Protocol):
    """What the poller asks of the messenger; both methods raise one of telegram_errors.FAILURES."""

    redacting: Redacting

    def prepare(self, stop: Event) -> None: ...

    def updates(self, offset: int | None, stop: Event) -> list[Any] | None: ...


class NothingUsableError(ValueError):
    """A poll brought updates, and none that has a number to confirm it by."""


@dataclass(frozen=True, slots=True)
class Pauses:
    """How long to wait after a failed poll: from `first`, doubled each time, to `longest`."""

    first: timedelta = timedelta(seconds=1)
    longest: timedelta = timedelta(seconds=60)
    conflict: timedelta = timedelta(seconds=30)


class Poller:
    """Brings updates into the inbox until it is told to stop; `wake` is called when there are new ones."""

    def __init__(
        self,
        messenger: Feed,
        store: Store,
        clock: Clock,
        wake: Callable[[], None],
        *,
        pauses: Pauses | None = None,
    ) -> None:
        self._feed, self._store, self._clock, self._wake = messenger, store, clock, wake
        self._pauses = pauses or Pauses()
        self._pause = self._pauses.first
        self._prepared = False

    def run(self, stop: Event) -> None:
        """Poll until `stop` is set.

        Raises Unauthorised when the token is not accepted, and whatever the store raises other than
        TimeoutError; nothing is lost then, and a new run takes up where this one ended.
        """
        offset = self._stored_offset(stop)
        while not stop.is_set():
            try:
                rows = self._poll(offset, stop)
            except FAILURES as error:
                stop.wait(self._after(error).total_seconds())
            else:
                offset = self._take(rows, offset, stop)

    def _stored_offset(self, stop: Event) -> int | None:
        while not stop.is_set():
            try:
                with self._store() as work:
                    latest = work.inbox.offset(SOURCE)
                return None if latest is None else latest + 1
            except TimeoutError:
                self._busy(stop)
        return None

    def _poll(self, offset: int | None, stop: Event) -> list[Received]:
        """One poll, as rows; raises one of FAILURES."""
        if not self._prepared:
            self._feed.prepare(stop)
            self._prepared = True
        found = self._feed.updates(offset, stop)
        rows = self._rows(found or [], self._clock.now())
        if found and not rows:
            raise NothingUsableError(f"none of {len(found)} updates has a number")
        self._pause = self._pauses.first
        return rows

    def _take(self, rows: list[Received], offset: int | None, stop: Event) -> int | None:
        """Commit the rows; the offset of the next poll, which is the same when they could not be."""
        if not rows:
            return offset
        try:
            self._commit(rows)
        except TimeoutError:
            self._busy(stop)
            return offset
        # The offset follows the batch, not the highest number ever: after a week without updates the
        # next number is random (Bot API, Update), and may well be lower.
        return rows[-1].update + 1

    def _busy(self, stop: Event) -> None:
        log.warning("The store is busy; trying again")
        stop.wait(self._pauses.first.total_seconds())

    @staticmethod
    def _rows(found: list[Any], now: datetime) -> list[Received]:
        rows: dict[int, Received] = {}
        for payload in found:
            number = payload.get("update_id") if isinstance(payload, dict) else None
            if type(number) is int and 0 <= number <= LARGEST_NUMBER:
                rows[number] = Received(SOURCE, number, _storable(number, payload), now)
            else:
                log.warning("An update without a number was left out")
        return [rows[number] for number in sorted(rows)]

    def _commit(self, rows: list[Received]) -> None:
        with self._store() as work:
            fresh = work.inbox.take(rows)
            work.commit()
        if fresh:
            self._wake()

    def _after(self, error: Exception) -> timedelta:
        """How long to wait after a failed round, told in the log; raises Unauthorised."""
        if another_poller(error):
            self._prepared = False  # it may have set a webhook
            log.error(
                "Another program is polling with this bot's token, so neither gets every message. "
                "Stop the other one. Trying again in %.0f s",
                self._pauses.conflict.total_seconds(),
            )
            return self._pauses.conflict
        why = self._feed.redacting.clean(describe(error))
        pause = poll_pause(error, self._pause, why)
        self._pause = min(2 * self._pause, self._pauses.longest)
        log.warning("Telegram could not be polled (%s); trying again in %.1f s", why, pause.total_seconds())
        return pause


def _storable(number: int, payload: dict[str, Any]) -> dict[str, Any]:
    """The payload, or, when it is more than JSON allows (a NaN), its text: it must not hold up the rest."""
    try:
        json.dumps(payload, allow_nan=False)
    except ValueError:
        return {"update_id": number, "not_json": repr(payload)}
    return payload
