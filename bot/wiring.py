"""What the composition root hands to the commands: the parts that only it can put together."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Protocol

from scheduler.ports import Clock, Messenger, Store
from scheduler.worker import Worker


class NoDatabase(OSError):
    """The database cannot be used; the text says which, and why."""


class ClosableStore(Store, Protocol):
    def close(self) -> None:
        """Let go of the database."""
        ...


class OpenStore(Protocol):
    def __call__(self, path: Path | None) -> ClosableStore:
        """The store at a path, or a private one in memory; NoDatabase when it cannot be used."""
        ...


class MakeWorker(Protocol):
    def __call__(self, store: Store, messenger: Messenger, clock: Clock) -> Worker:
        """A worker over real services."""
        ...


@dataclass(frozen=True, slots=True)
class Wiring:
    clock: Clock
    open_store: OpenStore
    make_worker: MakeWorker
