"""What the tests of the Telegram transport share."""

from __future__ import annotations

from collections.abc import Iterator
from concurrent.futures import Future
from contextlib import contextmanager
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from threading import Event, Thread

import pytest

from bot.telegram import Pauses, Poller, Waits
from scheduler.ports import Clock, Store, Unauthorised
from scheduler.records import Kind, Letter, Received

DUE = datetime(2026, 12, 1, 9, 0, tzinfo=UTC)
CHAT = 31
ADDRESS = f"telegram:{CHAT}"
GROUP, SUPERGROUP = -52, -1000000000052
QUICK = Waits(connect=5.0, read=5.0, write=5.0, upload=5.0, pool=5.0, poll=1)
"""Long enough for loopback on a busy machine."""
HASTY = replace(QUICK, read=0.2)
"""For answers that never come."""

BRIEF = Pauses(timedelta(seconds=0.02), timedelta(seconds=0.04), timedelta(seconds=0.05))
"""Pauses between polls that no test has to sit out."""


class FixedClock(Clock):
    """Always tells the same time."""

    def now(self) -> datetime:
        return DUE


def without_proxies(monkeypatch: pytest.MonkeyPatch) -> None:
    """A developer's own proxy has no business with loopback."""
    for name in ("http_proxy", "https_proxy", "all_proxy"):
        monkeypatch.delenv(name, raising=False)
        monkeypatch.delenv(name.upper(), raising=False)


def letter(text: str = "Salt the turnips", kind: Kind = Kind.NUDGE, **more: object) -> Letter:
    """A letter with those words, and whatever else is set on it."""
    made = Letter(1, kind, DUE, "1/start/0/now/0", text=text)
    for name, value in more.items():
        setattr(made, name, value)
    return made


def unbutton(receipt: str | None) -> Letter:
    """A letter that takes the buttons off the message of that receipt."""
    return letter("", Kind.UNBUTTON, receipt=receipt)


class CrashError(Exception):
    """The process dies here."""


@contextmanager
def polling(poller: Poller) -> Iterator[Future[None]]:
    """The poller in a thread until the block ends; the future tells how its run came out."""
    stop, outcome = Event(), Future[None]()

    def run() -> None:
        try:
            poller.run(stop)
            outcome.set_result(None)
        except (Unauthorised, CrashError) as error:
            outcome.set_exception(error)

    thread = Thread(target=run, daemon=True)
    thread.start()
    try:
        yield outcome
    finally:
        stop.set()
        thread.join(10)
        assert not thread.is_alive()


def inbox(store: Store) -> list[Received]:
    """Everything in the inbox, oldest first."""
    with store() as work:
        return work.inbox.new(DUE, 1000)
