"""Stand-ins for the outside, each one an implementation of its port: a store, a clock, a messenger."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from typing import Any

from scheduler.ports import Clock, Messenger, Rejected, SendError
from scheduler.records import Incoming, Letter
from tests.fake_store import FakeStore

__all__ = ["FakeClock", "FakeMessenger", "FakeStore"]


class FakeClock(Clock):
    """Tells the time it was set to, and never goes back."""

    def __init__(self, at: datetime) -> None:
        self._at = _aware(at)

    def now(self) -> datetime:
        return self._at

    def advance(self, by: timedelta) -> datetime:
        """Let so much time go by; the new time."""
        return self.move_to(self._at + by)

    def move_to(self, at: datetime) -> datetime:
        """Move on to `at`. Raises ValueError for a time already past."""
        if _aware(at) < self._at:
            raise ValueError(f"the clock stands at {self._at} and cannot go back to {at}")
        self._at = _aware(at)
        return self._at


class FakeMessenger(Messenger):
    """Keeps what it is given to send.

    `sent` holds (address, letter) for every letter accepted, as it was when it was sent; `tried` those
    refused as well. `outcomes` is what the next sends come to, in order: an error to raise, or None for
    one that is accepted; when it is used up everything is accepted. Receipts are "r1", "r2", ...
    Raw updates are the fields of `Incoming` but for `at`. `documents` are the bytes to fetch by reference.
    """

    def __init__(self, *outcomes: SendError | None, documents: Mapping[str, bytes] | None = None) -> None:
        self.outcomes: deque[SendError | None] = deque(outcomes)
        self.documents = dict(documents or {})
        self.sent: list[tuple[str, Letter]] = []
        self.tried: list[tuple[str, Letter]] = []
        self.acknowledged: list[str] = []

    def script(self, outcomes: Iterable[SendError | None]) -> None:
        """Add to what the next sends come to."""
        self.outcomes.extend(outcomes)

    def send(self, address: str, letter: Letter) -> str:
        as_sent = (address, replace(letter))
        self.tried.append(as_sent)
        outcome = self.outcomes.popleft() if self.outcomes else None
        if outcome is not None:
            raise outcome
        self.sent.append(as_sent)
        return f"r{len(self.sent)}"

    def read(self, payload: Mapping[str, Any], received: datetime) -> Incoming:
        document = payload.get("document")
        named = None if document is None else (str(document[0]), str(document[1]))
        try:
            return Incoming(**{**payload, "at": received, "document": named})
        except TypeError as error:
            raise ValueError(f"not an update: {error}") from error

    def fetch(self, reference: str) -> bytes:
        if reference not in self.documents:
            raise Rejected(f"there is no document {reference}")
        return self.documents[reference]

    def acknowledge(self, press: str) -> None:
        self.acknowledged.append(press)


def _aware(at: datetime) -> datetime:
    if at.utcoffset() is None:
        raise ValueError("a clock tells aware times")
    return at.astimezone(UTC)
