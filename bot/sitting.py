"""`crockbell chat`: one sitting at the terminal, in real time, on its own database."""

from __future__ import annotations

import logging
from collections.abc import Iterable, Iterator
from datetime import timedelta
from itertools import count
from threading import Event
from typing import TextIO

from bot.config import Settings
from bot.terminal import ADDRESS, SOURCE, Shown, TerminalMessenger, printable
from bot.typing_in import Keyboard, Typed, Written, messages
from bot.wiring import Wiring
from scheduler.ports import Clock, Store
from scheduler.records import Received
from scheduler.worker import Waker, Worker

OPENING = """Crockbell, at the terminal. Say something, send a plan by typing its path (or pasting it),
press a button by its number. Type bye to leave; what is due is kept for next time.
"""
FAREWELLS = frozenset({"bye", "exit", "quit"})
LAST_WORDS = timedelta(seconds=3)
"""How far ahead an answer may still lie when the cook leaves, for it to be waited for."""

A_WEEK = timedelta(days=7)


def sit(database: str | None, wiring: Wiring, source: TextIO, out: TextIO) -> int:
    """Talk until the input ends or the cook says bye; the exit code. NoDatabase when there is none to use."""
    settings = Settings.read(database, "terminal.sqlite3")
    store = wiring.open_store(settings.database)
    messenger = TerminalMessenger(out, settings.database.parent)
    planner = wiring.open_planner(settings.planning)
    worker = wiring.make_worker(store, messenger, wiring.clock, planner)
    messenger.shown = _shown_last(store, wiring.clock)
    # What APScheduler has to say is for the log, not for the kitchen table.
    logging.getLogger("apscheduler").setLevel(logging.ERROR)
    waker = Waker(worker, wiring.clock, lambda error: print(f"  ({printable(str(error))})", file=out))
    print(OPENING, file=out, flush=True)
    waker.start()
    try:
        for row in _said(messages(_typed(source)), messenger, store, wiring.clock):
            _take(store, row)
            waker.wake()
            if not source.isatty():
                # Nobody waits at the other end of a pipe: what was said is answered before more is read.
                _finish(worker, wiring.clock)
    except KeyboardInterrupt:
        print(file=out)
    finally:
        waker.stop()
        _finish(worker, wiring.clock)
        planner.close()
        store.close()
    return 0


def _typed(source: TextIO) -> Typed:
    try:
        return Keyboard(source.fileno())
    except (AttributeError, OSError):
        return Written(source)


def _said(
    said: Iterable[str], messenger: TerminalMessenger, store: Store, clock: Clock
) -> Iterator[Received]:
    """Each message as any transport would bring it, until the cook leaves."""
    with store() as uow:
        numbers = count((uow.inbox.offset(SOURCE) or 0) + 1)
    for message in said:
        if message.strip().casefold() in FAREWELLS:
            return
        if message.strip():
            yield Received(SOURCE, next(numbers), messenger.payload(message), clock.now())


def _take(store: Store, row: Received) -> None:
    with store() as uow:
        uow.inbox.take([row])
        uow.commit()


def _finish(worker: Worker, clock: Clock) -> None:
    """Answer what was said last, and let what is about to go out go out."""
    pause, due = Event(), worker.tick()
    until = clock.now() + LAST_WORDS
    while due is not None and due <= until:
        pause.wait(max(0.0, (due - clock.now()).total_seconds()))
        due = worker.tick()


def _shown_last(store: Store, clock: Clock) -> Shown | None:
    """The buttons that a number pressed when the cook last left."""
    with store() as uow:
        chat = uow.chats.at(ADDRESS)
        history = [] if chat is None else uow.outbox.history(chat.id or 0, clock.now() - A_WEEK)
    last = next((letter for letter in reversed(history) if letter.buttons), None)
    return None if last is None or last.receipt is None else Shown(last.receipt, last.buttons, last.text)
