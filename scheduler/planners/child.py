"""The child process of `Apart`: answers questions one after another until nobody asks any more."""

from __future__ import annotations

import signal
import sys
from collections.abc import Callable
from dataclasses import dataclass
from multiprocessing.connection import Connection
from typing import Any


@dataclass(frozen=True, slots=True)
class Question:
    """A function that can be imported by its name, and what to call it with.

    One that `tells` takes, after that, a function to call with what would do as an answer so far.
    """

    function: Callable[..., Any]
    given: tuple[Any, ...]
    tells: bool = False


Reply = tuple[Any, BaseException | None]
"""What it came to, or what it raised."""


def answer_all(asked: Connection[Reply, Question], telling: Connection[Any, Any]) -> None:
    """Read a question, call its function, send back the reply; until the other end is closed.

    Whether to stop is the parent's decision, which hears the same signals, sent to both.
    """
    _hear_no_signals()
    # Imported only now: what comes before is done in a moment, so no signal is likely to fall into it.
    from concurrent.futures import ThreadPoolExecutor

    with ThreadPoolExecutor(max_workers=1) as working:
        while True:
            try:
                question = asked.recv()
            except (EOFError, ConnectionError):
                return
            more = (telling.send,) if question.tells else ()
            done = working.submit(question.function, *question.given, *more)
            error = done.exception()
            try:
                asked.send((done.result(), None) if error is None else (None, _with_trace(error)))
            except ConnectionError:
                return


def _hear_no_signals() -> None:
    for each in (signal.SIGINT, signal.SIGTERM):
        signal.signal(each, signal.SIG_IGN)
    if sys.platform != "win32":
        # Blocked as well: CP-SAT puts back the default of what it listened to, and that is to die.
        signal.pthread_sigmask(signal.SIG_BLOCK, (signal.SIGINT, signal.SIGTERM))


def _with_trace(error: BaseException) -> BaseException:
    """The error with where it was raised as a note, because a traceback cannot travel."""
    import traceback

    error.add_note("".join(traceback.format_exception(error)).rstrip())
    return error
