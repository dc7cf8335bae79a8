"""`crockbell serve`: the conversation on Telegram, until the process is told to stop."""

from __future__ import annotations

import logging
import signal
import sys
from threading import Event, Thread

from bot.config import BadSettings, Settings
from bot.telegram import Pauses, Poller, TelegramMessenger, Waits
from bot.wiring import Wiring
from scheduler.ports import Unauthorised
from scheduler.worker import Waker

log = logging.getLogger(__name__)

STOPPED, WRONG = 0, 2


class Serving:
    """One run of the service: a poller and a worker that it wakes, and one way to stop both.

    `waits` and `pauses` are how long calls to Telegram may take and how long to wait after one that failed.
    """

    def __init__(
        self,
        settings: Settings,
        wiring: Wiring,
        stop: Event,
        waits: Waits | None = None,
        pauses: Pauses | None = None,
    ) -> None:
        self.stop = stop
        self.failure: BaseException | None = None
        self.store = wiring.open_store(settings.database)
        self.messenger = TelegramMessenger(settings.need_token(), base_url=settings.api, waits=waits)
        self.planner = wiring.open_planner(settings.planning)
        worker = wiring.make_worker(self.store, self.messenger, wiring.clock, self.planner)
        self.waker = Waker(worker, wiring.clock, self._worker_failed)
        self.poller = Poller(self.messenger, self.store, wiring.clock, self.waker.wake, pauses=pauses)

    def run(self) -> None:
        """Until `stop` is set, or the token turns out not to be accepted (then `failure` says so)."""
        with self.messenger:
            self.waker.start()
            poll = Thread(target=self._poll, name="poller")
            poll.start()
            self.stop.wait()
            poll.join()
            self.waker.stop()
        self.planner.close()
        self.store.close()

    def _poll(self) -> None:
        try:
            self.poller.run(self.stop)
        except Exception as error:
            log.exception("the poller ended")
            self.failure = error
            self.stop.set()

    def _worker_failed(self, error: BaseException) -> None:
        """A token that is not accepted ends the service; anything else is tried again at the next tick."""
        if isinstance(error, Unauthorised):
            self.failure = error
            self.stop.set()


def serve(database: str | None, wiring: Wiring) -> int:
    """Serve until SIGINT or SIGTERM; the exit code."""
    try:
        settings = Settings.read(database)
        settings.need_token()
    except BadSettings as error:
        print(error, file=sys.stderr)
        return WRONG
    stop = Event()
    for number in (signal.SIGINT, signal.SIGTERM):
        signal.signal(number, lambda *_: stop.set())
    serving = Serving(settings, wiring, stop)
    handler = logging.StreamHandler()
    handler.addFilter(serving.messenger.redacting)
    logging.basicConfig(
        level=logging.INFO, handlers=[handler], format="%(asctime)s %(levelname)s %(message)s"
    )
    # It warns of each run it drops, which the waker sees to itself.
    logging.getLogger("apscheduler").setLevel(logging.ERROR)
    log.info("Crockbell keeps everything in %s", settings.database)
    serving.run()
    if serving.failure is not None:
        print(f"stopped: {serving.messenger.redacting.clean(str(serving.failure))}", file=sys.stderr)
        return WRONG
    return STOPPED
