"""The composition root: the only module that knows bot, scheduler and storage, and the only clock."""

from __future__ import annotations

import os
import sys
import threading
import uuid
from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from bot import cli

if TYPE_CHECKING:
    from bot.wiring import ClosablePlanner, ClosableStore, Wiring
    from scheduler.ports import Clock, Messenger, Planner, Store
    from scheduler.worker import Worker


SET_RIGHT = timedelta(minutes=5)
"""A clock set back by less stands still until the time comes round; set back by more, it was wrong before."""


class SystemClock:
    """The machine's clock, for any thread."""

    def __init__(self) -> None:
        self._looking = threading.Lock()
        self._told = datetime.min.replace(tzinfo=UTC)

    def now(self) -> datetime:
        with self._looking:
            read = datetime.now(UTC)
            if not read < self._told <= read + SET_RIGHT:
                self._told = read
            return self._told


def open_store(path: Path | None) -> ClosableStore:
    from bot.wiring import NoDatabase
    from storage.engine import open_store as open_at
    from storage.errors import StoreError

    try:
        if path is not None:
            path.parent.mkdir(parents=True, exist_ok=True)
        return open_at(None if path is None else str(path))
    except (StoreError, TimeoutError) as error:
        raise NoDatabase(str(error)) from error
    except OSError as error:
        raise NoDatabase(f"{error.filename or path}: {error.strerror or error}") from error


def make_worker(store: Store, messenger: Messenger, clock: Clock, planner: Planner) -> Worker:
    from bot.config import rules_set
    from bot.understand import understand
    from bot.waking import waking_hours
    from bot.wording import Wording
    from bot.zones import zones_meant
    from scheduler.domain.nudges import Policy
    from scheduler.service.conversation import Conversation
    from scheduler.service.dispatch import Dispatcher
    from scheduler.service.replies import Inbound
    from scheduler.worker import Worker

    policy = Policy(rules=rules_set())
    words = Wording(policy.rules)
    conversation = Conversation(store, clock, understand, policy, zones_meant, planner, waking_hours)
    inbound = Inbound(store, messenger, clock, words, conversation.think)
    dispatcher = Dispatcher(store, messenger, clock, words, policy, planner, token=uuid.uuid4().hex)
    return Worker(store, clock, inbound, dispatcher)


def open_planner(limit: timedelta | None = None) -> ClosablePlanner:
    from scheduler.planners import Apart, Here

    return Here() if limit is None else Apart(limit)


def wiring() -> Wiring:
    from bot.wiring import Wiring

    return Wiring(SystemClock(), open_store, make_worker, open_planner)


def main(argv: Sequence[str] | None = None) -> int:
    try:
        return cli.run(argv, wiring)
    except BrokenPipeError:
        # Whoever read our output has stopped; leave quietly, as other programs do.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 1


if __name__ == "__main__":
    sys.exit(main())
