"""A week in some seconds: the real worker, woken by APScheduler for real, on the machine's clock held still.

Time stands still but for the moments to which a test moves it, so what is said is said at exactly its time.
What is imported late (the solver and what it brings) must be imported before time is frozen.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from freezegun import freeze_time
from freezegun.api import FrozenDateTimeFactory, StepTickTimeFactory, TickingDateTimeFactory

from bot.main import SystemClock, make_worker
from scheduler.domain.nudges import Policy, owed
from scheduler.domain.stages import Stage
from scheduler.planners import Here
from scheduler.records import Chat, ChatStage, Kind, Letter, Received
from scheduler.service.view import View, view_of
from scheduler.worker import Waker
from storage.engine import SqlStore, open_store
from tests.fakes import FakeMessenger
from tests.journey_cook import Watched
from tests.journey_kit import ADA, SOURCE, Journey
from tests.journey_messages import paris
from tests.journey_plans import overnight, sunday
from tests.plans_for_tests import PARIS, at

Frozen = FrozenDateTimeFactory | StepTickTimeFactory | TickingDateTimeFactory


class Kept(FakeMessenger):
    """Keeps with each message the time it was sent at, as the machine's clock tells it."""

    def __init__(self) -> None:
        super().__init__()
        self.said: list[tuple[datetime, Letter, str]] = []

    def send(self, address: str, letter: Letter) -> str:
        receipt = super().send(address, letter)
        self.said.append((SystemClock().now(), letter, receipt))
        return receipt


class Week:
    """A kitchen in frozen time."""

    def __init__(self, store: SqlStore, frozen: Frozen) -> None:
        self.store, self.frozen, self.messenger = store, frozen, Kept()
        self.worker = Watched(make_worker(store, self.messenger, SystemClock(), Here()))
        self.failures: list[BaseException] = []
        self.waker = Waker(self.worker, SystemClock(), self.failures.append)
        self.updates = 0

    def wake(self) -> None:
        """Wake the worker and wait for its pass."""
        before = self.worker.passes
        self.waker.wake()
        assert self.worker.came_to(before + 1), "the worker was not woken"

    def move_to(self, moment: datetime) -> None:
        self.frozen.move_to(moment)
        self.wake()

    def give(self, **payload: object) -> None:
        self.updates += 1
        row = Received(
            SOURCE, self.updates, {"address": ADA, "sender": "Ada", **payload}, SystemClock().now()
        )
        with self.store() as uow:
            uow.inbox.take([row])
            uow.commit()
        self.wake()

    def press(self, label: str) -> None:
        _, letter, receipt = next(
            each for each in reversed(self.messenger.said) if label in [b.label for b in each[1].buttons]
        )
        data = next(button.data for button in letter.buttons if button.label == label)
        self.give(data=data, reply_to=receipt)

    def live_to(self, end: datetime) -> None:
        """From each moment at which something falls due to the next."""
        while self.worker.due is not None and self.worker.due <= end:
            self.move_to(max(self.worker.due, SystemClock().now()))
        self.move_to(end)

    def view(self) -> View:
        with self.store() as uow:
            row = uow.plans.get(1)
            assert row is not None
            return view_of(uow, row, SystemClock().now())


@pytest.fixture(scope="module", autouse=True)
def everything_imported() -> None:
    """A meal lived through on another clock brings in all there is to import."""
    with Journey.in_use(overnight(), "2026-03-21 12:00", "2026-03-21 21:01") as journey:
        journey.press("Done")


@contextmanager
def week(path: Path, since: str) -> Iterator[Week]:
    """A kitchen with a plan in use, from that moment on."""
    store = open_store(str(path))
    with freeze_time(at(since), real_asyncio=True) as frozen:
        kitchen = Week(store, frozen)
        kitchen.waker.start()
        try:
            assert kitchen.worker.came_to(1)
            with store() as uow:
                uow.chats.save(Chat(ADA, stage=ChatStage.READY, zone=PARIS, awake="07:00-22:30"))
                uow.commit()
            kitchen.messenger.documents["plan"] = sunday().encode()
            kitchen.give(document=["plan.yaml", "plan"])
            kitchen.frozen.tick(timedelta(minutes=1))
            kitchen.press("Use this plan")
            yield kitchen
            assert kitchen.failures == []
        finally:
            kitchen.waker.stop()
    store.close()


def test_a_silent_week_every_message_at_its_planned_time_once(tmp_path: Path) -> None:
    """Each nudge owed at the start of the week comes exactly when it was owed, and never again."""
    with week(tmp_path / "week.sqlite3", "2026-03-15 12:00") as kitchen:
        view = kitchen.view()
        first = {
            nudge.key: nudge.due
            for nudge in owed(view.plan, view.timetable, view.progress, Policy(), view.now)
            if nudge.step in (None, 0)
            and nudge.stage is not Stage.MISSED
            and nudge.due < at("2026-03-17 07:00")
        }
        kitchen.live_to(at("2026-03-22 21:00"))
        nudges = [(when, letter) for when, letter, _ in kitchen.messenger.said if letter.kind is Kind.NUDGE]
        assert len(nudges) >= 10
        assert len({letter.key for _, letter in nudges}) == len(nudges)
        said = {letter.key.partition("/")[2]: when for when, letter in nudges}
        assert len(first) > 5
        assert {key: said.get(key) for key in first} == first
        assert all(timedelta(0) <= when - letter.due <= timedelta(seconds=5) for when, letter in nudges)


def test_a_week_with_a_cook_who_answers(tmp_path: Path) -> None:
    """Everything is asked for at its time, marked by its button, and the plan is over by itself."""
    with week(tmp_path / "week.sqlite3", "2026-03-15 12:00") as kitchen:
        answered = 0
        while kitchen.worker.due is not None and kitchen.worker.due <= at("2026-03-22 21:00"):
            kitchen.move_to(max(kitchen.worker.due, SystemClock().now()))
            for _, letter, _ in kitchen.messenger.said[answered:]:
                answered += 1
                label = next(
                    (b.label for b in letter.buttons if b.label in ("Done", "Started", "Ready")), None
                )
                if letter.kind is Kind.NUDGE and letter.stage is Stage.NOW and label is not None:
                    kitchen.frozen.tick(timedelta(minutes=4))
                    kitchen.press(label)
        assert kitchen.view().row.status == "finished"
        begun = [
            f"{paris(when)} {letter.text.splitlines()[0]}"
            for when, letter, _ in kitchen.messenger.said
            if letter.kind is Kind.NUDGE and letter.stage is Stage.NOW
        ]
        assert begun[0] == "Mon 16 07:15 Salt and jar the radishes"
        assert begun[-1].startswith("Sun 22 12:40 Dress the beans")
        assert len(begun) >= 12


@pytest.mark.parametrize("late", [timedelta(0), timedelta(minutes=3), timedelta(hours=5)])
def test_a_machine_that_slept_through_a_due_time_says_it_on_waking(tmp_path: Path, late: timedelta) -> None:
    """APScheduler drops no tick however late it is, and what was due is said once."""
    with week(tmp_path / "week.sqlite3", "2026-03-15 12:00") as kitchen:
        kitchen.live_to(at("2026-03-16 07:12"))
        before = len(kitchen.messenger.said)
        kitchen.move_to(at("2026-03-16 07:15") + late)
        heard = [letter for _, letter, _ in kitchen.messenger.said[before:]]
        assert len(heard) == 1 and "Salt and jar the radishes" in heard[0].text
