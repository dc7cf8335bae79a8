"""What the composition root hands to the commands: the parts that only it can put together."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path
from typing import Protocol

from scheduler.ports import Clock, Messenger, Planner, Store
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
    def __call__(self, store: Store, messenger: Messenger, clock: Clock, planner: Planner) -> Worker:
        """A worker over real services."""
        ...


class ClosablePlanner(Planner, Protocol):
    def close(self) -> None:
        """Let go of what it works with."""
        ...


class OpenPlanner(Protocol):
    def __call__(self, limit: timedelta | None = None) -> ClosablePlanner:
        """A planner whose answers take no longer than `limit` of real time, in a process of its own; without
        one, a planner in this process, for whoever may be kept waiting.
        """
        ...


@dataclass(frozen=True, slots=True)
class Wiring:
    clock: Clock
    open_store: OpenStore
    make_worker: MakeWorker
    open_planner: OpenPlanner
