"""The worker: woken by APScheduler, it takes in what arrived and sends what is due.

The only module that imports APScheduler, which knows nothing of plans or letters: our own rows say what is
owed, and it only ticks. A tick that is missed or comes twice therefore harms nothing.
"""

from __future__ import annotations

import logging
import threading
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from typing import Any

from scheduler.ports import Clock, Store
from scheduler.service.dispatch import Dispatcher
from scheduler.service.finishing import finish_old
from scheduler.service.replies import Inbound

log = logging.getLogger(__name__)

TICK = timedelta(seconds=30)
"""The longest between two looks at the outbox, whatever happens."""

SECOND = timedelta(seconds=1)
AT_ONCE = timedelta(0)

TIDY = timedelta(minutes=10)
"""How often to look for plans that are over."""


class Worker:
    """One pass at a time: inbox, then outbox. Safe to call from any thread."""

    def __init__(self, store: Store, clock: Clock, inbound: Inbound, dispatcher: Dispatcher) -> None:
        self.store = store
        self.clock = clock
        self.inbound = inbound
        self.dispatcher = dispatcher
        self._one_at_a_time = threading.Lock()
        self._tidied: datetime | None = None
        self._heard: datetime | None = None

    def tick(self) -> datetime | None:
        """Do all there is to do now; when something falls due next.

        What the cook says while letters go out slowly is heard before the next one does.
        """
        with self._one_at_a_time:
            self._tidy()
            self._hear()
            due = [self.dispatcher.send_due(self._hear_again), self.inbound.next_due(self.clock.now())]
        return min((at for at in due if at is not None), default=None)

    def _hear(self) -> None:
        self.inbound.take_all()
        self._heard = self.clock.now()

    def _hear_again(self) -> None:
        if self._heard is None or self.clock.now() - self._heard >= SECOND:
            self._hear()

    def _tidy(self) -> None:
        now = self.clock.now()
        if self._tidied is None or now >= self._tidied + TIDY:
            finish_old(self.store, now)
            self._tidied = now


class Waker:
    """Wakes a worker: on every tick, at the next moment something falls due, and when told to.

    APScheduler is only ever told how long to wait, so its clock and ours need not agree. A run that falls due
    while it believes one to be under way it drops; so wake-ups during a pass are kept here and seen to at its
    end, and one dropped just after that is asked for again.
    """

    def __init__(self, worker: Worker, clock: Clock, on_failure: Callable[[BaseException], None]) -> None:
        from apscheduler.events import EVENT_JOB_MAX_INSTANCES
        from apscheduler.schedulers.background import BackgroundScheduler

        self.worker = worker
        self.clock = clock
        self.on_failure = on_failure
        self._lock = threading.Lock()
        self._woken = self._busy = self._running = False
        self.scheduler: Any = BackgroundScheduler(
            timezone=UTC, job_defaults={"misfire_grace_time": None, "coalesce": True, "max_instances": 1}
        )
        self.scheduler.add_listener(lambda event: self._dropped(), EVENT_JOB_MAX_INSTANCES)

    def start(self) -> None:
        """Begin; the first pass is made at once."""
        self.scheduler.add_job(
            self._pass, "interval", seconds=TICK.total_seconds(), id="tick", next_run_time=_ahead(AT_ONCE)
        )
        with self._lock:
            self._running = True
        self.scheduler.start()

    def wake(self) -> None:
        """Make a pass as soon as may be; one that is under way is followed by another."""
        with self._lock:
            self._woken = True
            if not self._busy:
                self._again_in(AT_ONCE)

    def stop(self) -> None:
        """Let the pass that is under way end, and make no more."""
        with self._lock:
            # First, because the shutdown waits for that pass while it holds what a new time needs.
            self._running = False
        self.scheduler.shutdown(wait=True)

    def _pass(self) -> None:
        self._begin()
        due = self._tick()
        while not self._end(due):
            due = self._tick()

    def _tick(self) -> datetime | None:
        try:
            return self.worker.tick()
        except Exception as error:
            log.exception("the worker failed; it goes on at the next tick")
            self.on_failure(error)
            return None

    def _begin(self) -> None:
        with self._lock:
            self._busy, self._woken = True, False

    def _end(self, due: datetime | None) -> bool:
        """Whether the pass is over; not when something arrived meanwhile, unless it is time to stop."""
        with self._lock:
            if self._woken and self._running:
                self._woken = False
                return False
            self._busy = False
            if due is not None and (wait := due - self.clock.now()) < TICK:
                self._again_in(max(wait, AT_ONCE))
            return True

    def _dropped(self) -> None:
        """A run was dropped. During a pass its end sees to it; else APScheduler had not noticed the end."""
        with self._lock:
            if not self._busy:
                self._again_in(AT_ONCE)

    def _again_in(self, wait: timedelta) -> None:
        if self._running:
            self.scheduler.modify_job("tick", next_run_time=_ahead(wait))


def _ahead(wait: timedelta) -> Any:
    """A moment so far ahead on APScheduler's own clock, which tells when an interval that begins now ends."""
    from apscheduler.triggers.interval import IntervalTrigger

    tick = IntervalTrigger(seconds=TICK.total_seconds(), timezone=UTC)
    return tick.start_date - tick.interval + wait
