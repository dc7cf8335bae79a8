"""The worker and what wakes it: APScheduler for real, with a worker that only keeps count."""

from __future__ import annotations

import logging
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import datetime, timedelta

import pytest
from apscheduler.events import EVENT_JOB_MAX_INSTANCES

from scheduler.ports import SendError, TryLater
from scheduler.records import Letter, PlanStatus
from scheduler.service.answers import Said
from scheduler.service.deeds import Deed, Verb
from scheduler.service.finishing import AFTERWARDS
from scheduler.service.letters import answer_letter
from scheduler.service.replies import PATIENCE as FILE_PATIENCE
from scheduler.worker import TICK, Waker, Worker
from tests.fakes import FakeClock
from tests.journey_cook import PATIENCE
from tests.journey_kit import Journey
from tests.journey_plans import overnight
from tests.plans_for_tests import at
from tests.stores import MINUTE, NOW, put


class Counting(Worker):
    """Counts its passes; `during` runs in each, and `ahead` holds what the next ones say is due."""

    def __init__(self) -> None:
        self.passes = 0
        self.during: Callable[[], object] = lambda: None
        self.ahead: list[timedelta] = []
        self._changed = threading.Condition()

    def tick(self) -> datetime | None:
        self.during()
        with self._changed:
            self.passes += 1
            self._changed.notify_all()
            return NOW + self.ahead.pop(0) if self.ahead else None

    def came_to(self, passes: int) -> bool:
        """Whether that many passes were made before patience ran out."""
        with self._changed:
            return self._changed.wait_for(lambda: self.passes >= passes, PATIENCE)


@contextmanager
def waking(worker: Worker, failures: list[BaseException] | None = None) -> Iterator[Waker]:
    """A waker at work, on a clock that stands still; stopped at the end."""
    waker = Waker(worker, FakeClock(NOW), ([] if failures is None else failures).append)
    waker.start()
    try:
        yield waker
    finally:
        waker.stop()


def next_run(waker: Waker) -> timedelta:
    """How long APScheduler will wait, counted from when its interval began."""
    job = waker.scheduler.get_job("tick")
    return timedelta(seconds=round((job.next_run_time - job.trigger.start_date).total_seconds()) + 30)


# ---------------------------------------------------------------- waking


def test_apscheduler_is_set_up_so_that_no_tick_is_dropped_or_doubled() -> None:
    """However late it is run it is run, several missed ones as one, and never two at a time."""
    with waking(Counting()) as waker:
        job = waker.scheduler.get_job("tick")
        assert (job.misfire_grace_time, job.coalesce, job.max_instances) == (None, True, 1)
        assert job.trigger.interval == TICK == timedelta(seconds=30)
        assert [job.id for job in waker.scheduler.get_jobs()] == ["tick"]


def test_the_first_pass_is_made_at_once_and_then_one_for_each_wake_up() -> None:
    """Nobody waits for the first tick, and nobody for the next one when there is something to do."""
    worker = Counting()
    with waking(worker) as waker:
        assert worker.came_to(1)
        waker.wake()
        assert worker.came_to(2)


def test_what_falls_due_before_the_next_tick_is_not_kept_waiting() -> None:
    """Due now, due in the past, due in a moment: a pass is made for each without being woken."""
    worker = Counting()
    worker.ahead = [timedelta(0), -MINUTE, timedelta(milliseconds=20), timedelta(hours=1)]
    with waking(worker) as waker:
        assert worker.came_to(4)
        assert next_run(waker) <= TICK


def test_a_wake_up_during_a_pass_is_followed_by_another_pass() -> None:
    """What arrived after the pass had looked at the inbox is seen to at once, not at the next tick."""
    worker, under_way, go_on = Counting(), threading.Event(), threading.Event()

    def hold() -> None:
        under_way.set()
        assert go_on.wait(PATIENCE)

    worker.during = hold
    with waking(worker) as waker:
        assert under_way.wait(PATIENCE)
        waker.wake()
        waker.wake()
        go_on.set()
        assert worker.came_to(2)


class Looking(Counting):
    """Sees in each pass what it was told before it."""

    def __init__(self) -> None:
        super().__init__()
        self.told = self.seen = 0
        self.during = self.look

    def look(self) -> None:
        self.seen = self.told

    def sees(self) -> bool:
        """Whether a pass began after the last thing that was told, before patience ran out."""
        with self._changed:
            return self._changed.wait_for(lambda: self.seen == self.told, PATIENCE)


def test_no_wake_up_is_lost_whenever_it_comes() -> None:
    """After each of hundreds of wake-ups, at any point of a pass, a pass begins that sees what it was for."""
    worker = Looking()
    with waking(worker) as waker:
        for number in range(1, 301):
            worker.told = number
            waker.wake()
            if number % 3 == 0:
                assert worker.sees(), f"wake-up {number} was lost"


class AtTheVeryEnd(logging.Handler):
    """Does something once, when APScheduler says that a run is over and has not yet taken it off its list."""

    def __init__(self, deed: Callable[[], object]) -> None:
        super().__init__()
        self.deeds = [deed]

    def emit(self, record: logging.LogRecord) -> None:
        if "executed successfully" in record.getMessage() and self.deeds:
            self.deeds.pop()()


def test_a_wake_up_that_apscheduler_drops_is_made_up_for(caplog: pytest.LogCaptureFixture) -> None:
    """Between the end of a pass and APScheduler's noticing, it drops a run; another is asked for."""
    worker, dropped = Counting(), threading.Event()
    executor = logging.getLogger("apscheduler.executors.default")
    with caplog.at_level(logging.INFO, logger=executor.name), waking(worker) as waker:
        assert worker.came_to(1)
        waker.scheduler.add_listener(lambda event: dropped.set(), EVENT_JOB_MAX_INSTANCES)

        def wake_and_wait() -> None:
            waker.wake()
            dropped.wait(PATIENCE)

        ending = AtTheVeryEnd(wake_and_wait)
        executor.addHandler(ending)
        try:
            waker.wake()
            assert worker.came_to(3)
        finally:
            executor.removeHandler(ending)
    assert dropped.is_set()


def test_a_failing_pass_is_told_and_the_next_one_is_made(caplog: pytest.LogCaptureFixture) -> None:
    """Whatever goes wrong in a pass, the ticks go on."""
    worker, failures, failed = Counting(), list[BaseException](), threading.Event()

    def fail() -> None:
        worker.during = lambda: None
        failed.set()
        raise ZeroDivisionError("broken")

    worker.during = fail
    with caplog.at_level(logging.ERROR), waking(worker, failures) as waker:
        assert failed.wait(PATIENCE)
        waker.wake()
        assert worker.came_to(1)
        assert timedelta(0) < next_run(waker) <= TICK
    assert [type(error) for error in failures] == [ZeroDivisionError]
    assert "it goes on at the next tick" in caplog.text


def test_stopping_lets_the_pass_under_way_end_and_makes_no_more() -> None:
    """Also when that pass was woken, and would have asked for another; a wake-up afterwards does nothing."""
    worker, under_way, go_on = Counting(), threading.Event(), threading.Event()

    def hold() -> None:
        under_way.set()
        assert go_on.wait(PATIENCE)

    worker.during, worker.ahead = hold, [timedelta(0)]
    waker = Waker(worker, FakeClock(NOW), lambda error: None)
    waker.start()
    assert under_way.wait(PATIENCE)
    waker.wake()
    stopping = threading.Thread(target=waker.stop)
    stopping.start()
    go_on.set()
    stopping.join(PATIENCE)
    assert not stopping.is_alive(), "stop() waits for a pass that waits for stop()"
    waker.wake()
    assert worker.passes == 1


# ---------------------------------------------------------------- one pass


def test_a_pass_says_when_the_next_is_needed() -> None:
    """The next nudge of the plan, a letter held back, or an update that was put off, whichever is sooner."""
    with Journey.in_use(overnight(), "2026-03-21 12:00", "2026-03-21 12:01") as journey:
        journey.tick()
        assert journey.due == at("2026-03-21 20:00")
        put(journey.store, answer_letter(1, Said("Later"), at("2026-03-21 19:00"), "a"))
        journey.tick()
        assert journey.due == at("2026-03-21 19:00")
        journey.messenger.unreachable = True
        journey.give(document=["plan.yaml", "file-9"])
        journey.tick()
        assert journey.due == journey.clock.now() + FILE_PATIENCE


def test_what_the_cook_says_while_letters_go_out_slowly_counts_at_once() -> None:
    """Soaking is reported while the nudge before it is on its way: it is not asked for any more."""
    with Journey.in_use(overnight(), "2026-03-21 12:00", "2026-03-21 20:55") as journey:
        journey.messenger.trouble = lambda address, letter: TryLater(3 * MINUTE, "flood")
        journey.run_to("2026-03-21 21:05")
        mixing, soaking = journey.step("Mix the dough"), journey.step("Soak the beans")
        tried: list[int | None] = []

        def slow(address: str, letter: Letter) -> SendError | None:
            if not tried:
                journey.give(data=Deed(Verb.START, 1, soaking).encode())
            journey.clock.advance(timedelta(seconds=2))
            tried.append(letter.step)
            return None

        journey.messenger.trouble = slow
        journey.clock.move_to(at("2026-03-21 21:08"))
        journey.tick()
        assert mixing in tried and soaking not in tried
        assert [mark.step for mark in journey.marks()] == [soaking]


def test_a_plan_ends_by_itself_some_hours_after_the_meal() -> None:
    """Nobody said a word: six hours after the serving hour it is over, and nothing more is said of it."""
    with Journey.in_use(overnight(), "2026-03-21 12:00", "2026-03-21 12:01") as journey:
        serve = journey.plan().serve
        journey.run_to(serve + AFTERWARDS - MINUTE)
        journey.tick()
        assert journey.plan().status is PlanStatus.ACTIVE
        journey.clock.advance(timedelta(minutes=15))
        journey.tick()
        assert journey.plan().status is PlanStatus.FINISHED
        assert journey.run_to(serve + timedelta(days=3)) == []


def test_passes_are_made_one_at_a_time() -> None:
    """Two threads that tick at once do not send a letter twice."""
    with Journey("2026-03-21 12:00") as journey:
        journey.settle()
        put(journey.store, answer_letter(1, Said("Once"), journey.clock.now(), "a"))
        both = [threading.Thread(target=journey.worker.tick) for _ in range(2)]
        for thread in both:
            thread.start()
        for thread in both:
            thread.join(PATIENCE)
        assert [message.text for message in journey.heard()] == ["Once"]
