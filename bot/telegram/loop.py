"""An asyncio loop in a thread of its own, driven from synchronous code."""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Coroutine
from concurrent.futures import Future, wait
from datetime import timedelta
from threading import Event, Lock, Thread
from typing import Any, TypeVar

Result = TypeVar("Result")

_GLANCE = 0.1
"""Seconds between two looks at a stop signal while a long call is under way."""


class NotRunningError(Exception):
    """There is no loop to run this: not started yet, or closed already. Nothing was done."""


class LoopThread:
    """Runs coroutines for threads that wait for their results."""

    def __init__(self) -> None:
        self._loop = asyncio.new_event_loop()
        self._closing = False
        self._lock = Lock()
        self._thread = Thread(target=self._run, name="telegram", daemon=True)
        self._thread.start()

    def _run(self) -> None:
        asyncio.set_event_loop(self._loop)
        self._loop.run_forever()
        self._loop.close()

    def _submit(self, work: Coroutine[Any, Any, Result], last: bool = False) -> Future[Result]:
        # The lock puts the last coroutine behind all others, so that it finds them to give them up.
        with self._lock:
            if self._closing:
                work.close()
                raise NotRunningError("the Telegram adapter is closed")
            self._closing = last
            return asyncio.run_coroutine_threadsafe(work, self._loop)

    def call(self, work: Coroutine[Any, Any, Result], within: timedelta) -> Result:
        """The coroutine's result; raises TimeoutError, and gives it up, when it takes longer.

        Raises concurrent.futures.CancelledError when the loop is closed meanwhile.
        """
        future = self._submit(work)
        try:
            return future.result(within.total_seconds())
        finally:
            future.cancel()

    def call_until(self, work: Coroutine[Any, Any, Result], stop: Event) -> Result | None:
        """The coroutine's result, or None, and it is given up, when `stop` is set before it is done."""
        future = self._submit(work)
        try:
            while not wait([future], timeout=_GLANCE).done:
                if stop.is_set():
                    return None
            return future.result()
        finally:
            future.cancel()

    def close(self, farewell: Callable[[], Coroutine[Any, Any, None]]) -> None:
        """Give up what is under way, run a last coroutine, and end the thread."""
        future = self._submit(_end(farewell), last=True)
        try:
            future.result()
        finally:
            self._loop.call_soon_threadsafe(self._loop.stop)
            self._thread.join()


async def _end(farewell: Callable[[], Coroutine[Any, Any, None]]) -> None:
    others = asyncio.all_tasks() - {asyncio.current_task()}
    for task in others:
        task.cancel()
    await asyncio.gather(*others, return_exceptions=True)
    await farewell()
