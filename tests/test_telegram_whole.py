"""The whole service against a Bot API server on loopback: from the first hello to the meal, with faults.

Everything is real but the server and the clock: HTTP, python-telegram-bot, threads, APScheduler, SQLite. The
clock is moved on some seconds after each pass of the worker.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import timedelta
from pathlib import Path
from threading import Event, Thread

import pytest

from bot.config import Settings
from bot.main import make_worker, open_store
from bot.serving import Serving
from bot.wiring import Wiring
from scheduler.planners import Here
from scheduler.ports import Clock, Messenger, Planner, Store, Unauthorised
from scheduler.records import PlanStatus
from scheduler.service.view import view_of
from scheduler.worker import Worker
from tests.botapi import BotApi
from tests.botapi_shapes import Sent
from tests.botapi_wire import flood, forbidden, refused, status, swallowed, unauthorised
from tests.fakes import FakeClock
from tests.journey_cook import Watched
from tests.journey_plans import overnight
from tests.plans_for_tests import at
from tests.stores import rows
from tests.telegram_kit import BRIEF, CHAT, GROUP, HASTY, SUPERGROUP, without_proxies

pytestmark = pytest.mark.filterwarnings("ignore::telegram.warnings.PTBDeprecationWarning")

SECOND = timedelta(seconds=1)
STRIDE = 5 * SECOND
MOST = 400
"""How many strides of our clock anything that is waited for may take."""

SOAK, MIX = "Now: Soak the beans", "Mix the dough (Rye loaf)"
"""How the nudges at 21:05 and at 22:00 begin."""


@pytest.fixture
def api(monkeypatch: pytest.MonkeyPatch) -> Iterator[BotApi]:
    without_proxies(monkeypatch)
    with BotApi() as server:
        yield server


class Kitchen:
    """A database, a clock, and the service, which may run or not; and what a cook does."""

    def __init__(self, api: BotApi, path: Path, chat: int = CHAT) -> None:
        self.api, self.path, self.chat = api, path, chat
        self.clock = FakeClock(at("2026-03-21 21:03"))

    @contextmanager
    def running(self) -> Iterator[Serving]:
        """The service from start to stop."""
        stop = Event()
        settings = Settings(self.path, self.api.token, self.api.url)
        wiring = Wiring(self.clock, open_store, self._make_worker, lambda limit=None: Here())
        serving = Serving(settings, wiring, stop, HASTY, BRIEF)
        self.waker = serving.waker
        thread = Thread(target=serving.run, name="serving")
        thread.start()
        try:
            yield serving
        finally:
            stop.set()
            thread.join(20)
            assert not thread.is_alive(), "the service did not stop"

    def _make_worker(self, store: Store, messenger: Messenger, clock: Clock, planner: Planner) -> Worker:
        self.worker = Watched(make_worker(store, messenger, clock, planner))
        return self.worker

    def until(self, true: Callable[[], bool]) -> None:
        """Let our clock run, in strides, until something is so."""
        for _ in range(MOST):
            if self.api.wait_until(true, 0.02):
                return
            passes = self.worker.passes
            self.clock.advance(STRIDE)
            self.waker.wake()
            assert self.worker.came_to(passes + 1), "the worker was not woken"
        raise AssertionError(f"it never came; said last: {self.heard()[-4:]}")

    def hears(self, words: str, since: int = 0) -> Sent:
        """Wait for a message that begins with those words; `since` leaves out as many earlier messages."""
        self.until(lambda: any(text.startswith(words) for text in self.heard()[since:]))
        return next(sent for sent in self.messages()[since:] if sent.text.startswith(words))

    def messages(self) -> list[Sent]:
        return [sent for sent in list(self.api.sent) if sent.chat == self.chat]

    def heard(self) -> list[str]:
        return [sent.text for sent in self.messages()]

    def press(self, message: Sent, label: str) -> None:
        data = next(data for row in message.rows for text, data in row if text == label)
        self.api.press(self.chat, message.message_id, data)

    def meet(self) -> None:
        """First contact, up to a chat that is settled."""
        self.api.say(self.chat, "/start")
        self.hears("Hello, Ada")
        self.api.say(self.chat, "Paris")
        self.hears("Now say when you are awake")
        self.api.say(self.chat, "07:00-22:30")
        self.hears("Now send me a plan")

    def use_the_plan(self) -> None:
        self.api.send_document(self.chat, "supper.yaml", overnight().encode())
        self.press(self.hears("Beans and bread fits"), "Use this plan")
        self.hears("Beans and bread is in use")

    def marks(self) -> list[tuple[str, int | None]]:
        return rows(str(self.path), "SELECT kind, step FROM marks ORDER BY id")


@pytest.fixture
def kitchen(api: BotApi, tmp_path: Path) -> Kitchen:
    return Kitchen(api, tmp_path / "crockbell.sqlite3")


def test_from_the_first_hello_to_marks_by_button_by_reply_and_in_words(kitchen: Kitchen, api: BotApi) -> None:
    """A cook is met, sends a plan, is nudged at its hour, and answers in each of the three ways."""
    with kitchen.running():
        kitchen.meet()
        kitchen.use_the_plan()
        soaking = kitchen.hears(SOAK)
        assert at("2026-03-21 21:05") <= kitchen.clock.now() < at("2026-03-21 21:06")
        kitchen.press(soaking, "Started")
        kitchen.hears("Started: Soak the beans")
        kitchen.until(lambda: not soaking.rows)
        kitchen.clock.move_to(at("2026-03-21 21:59"))
        mixing = kitchen.hears(MIX)
        api.say(CHAT, "done", reply_to=mixing.message_id)
        kitchen.hears("Done: Mix the dough")
        kitchen.clock.move_to(at("2026-03-22 07:14"))
        kitchen.hears("Shape the loaf")
        api.say(CHAT, "shaped the loaf")
        kitchen.hears("Done: Shape the loaf")
    soak, mix, shape = 0, 3, 5
    assert kitchen.marks() == [("started", soak), ("done", mix), ("done", shape)]
    assert api.acknowledged and not api.unconfirmed
    assert len(set(kitchen.heard())) == len(kitchen.heard()), "nothing was said twice"


def test_stopped_and_started_again_in_the_middle_nothing_is_lost_or_doubled(
    kitchen: Kitchen, api: BotApi
) -> None:
    """What the cook says while the service is down, and what falls due meanwhile, is seen to once."""
    with kitchen.running():
        kitchen.meet()
        kitchen.use_the_plan()
        soaking = kitchen.hears(SOAK)
    kitchen.press(soaking, "Started")
    kitchen.clock.move_to(at("2026-03-21 21:59"))
    with kitchen.running():
        kitchen.hears("Started: Soak the beans")
        kitchen.hears(MIX)
    with kitchen.running():
        api.say(CHAT, "what's next")
        kitchen.until(lambda: not api.unconfirmed)
    assert kitchen.marks() == [("started", 0)]
    assert sum(text.startswith(MIX) for text in kitchen.heard()) == 1
    assert rows(str(kitchen.path), "SELECT count(*) FROM inbox WHERE state = 'new'") == [(0,)]


def test_a_message_accepted_and_never_answered_for_is_repeated_marked(kitchen: Kitchen, api: BotApi) -> None:
    """The server took it and the connection hung: once more, and the cook can tell."""
    with kitchen.running():
        kitchen.meet()
        kitchen.use_the_plan()
        api.fail("sendMessage", swallowed())
        kitchen.hears(SOAK)
        kitchen.press(kitchen.hears(f"(repeat) {SOAK}"), "Started")
        kitchen.hears("Started: Soak the beans")
    asked = [text.splitlines()[0] for text in kitchen.heard() if SOAK in text.splitlines()[0]]
    assert asked == [SOAK, f"(repeat) {SOAK}"]
    assert kitchen.marks() == [("started", 0)]


def test_a_flood_limit_is_waited_out(kitchen: Kitchen, api: BotApi) -> None:
    """429 with retry_after: as long as was asked, and then once, unmarked."""
    with kitchen.running():
        kitchen.meet()
        kitchen.use_the_plan()
        calls = len(api.calls)
        api.fail("sendMessage", flood(90))
        kitchen.hears(SOAK)
    assert kitchen.clock.now() >= at("2026-03-21 21:05") + 90 * SECOND
    tried = [method for method, _ in api.calls[calls:] if method == "sendMessage"]
    assert len(tried) <= 3
    assert not any("(repeat)" in text for text in kitchen.heard())


def test_a_gateway_that_fails_makes_a_repeat(kitchen: Kitchen, api: BotApi) -> None:
    """502: the message may have been passed on (RFC 9110, section 15.6.3), so it is marked."""
    with kitchen.running():
        kitchen.meet()
        kitchen.use_the_plan()
        api.fail("sendMessage", status(502))
        kitchen.hears(f"(repeat) {SOAK}")


def test_a_message_that_is_refused_is_told_more_plainly(kitchen: Kitchen, api: BotApi) -> None:
    """400: its first line, without whatever was wrong with it."""
    with kitchen.running():
        kitchen.meet()
        kitchen.use_the_plan()
        api.fail("sendMessage", refused("can't parse entities"))
        plain = kitchen.hears(SOAK)
    assert "would not go through" in plain.text and plain.rows == []


@pytest.mark.parametrize("told_first", [True, False])
def test_a_cook_who_blocks_us_pauses_the_plan_until_they_are_back(
    kitchen: Kitchen, api: BotApi, told_first: bool
) -> None:
    """Whether the update or a 403 tells of it first: nothing more is tried, until they are back."""
    with kitchen.running() as serving:
        kitchen.meet()
        kitchen.use_the_plan()
        if told_first:
            api.block(CHAT)
        else:
            api.fail("sendMessage", forbidden())
        kitchen.until(lambda: plan_status(serving) is PlanStatus.PAUSED)
        heard = len(kitchen.heard())
        kitchen.until(lambda: kitchen.clock.now() > at("2026-03-21 21:06"))
        assert len(kitchen.heard()) == heard
        api.block(CHAT, blocked=False)
        kitchen.hears(SOAK, since=heard)
        assert plan_status(serving) is PlanStatus.ACTIVE


def plan_status(serving: Serving) -> PlanStatus:
    with serving.store() as uow:
        row = uow.plans.get(1)
        assert row is not None
        return view_of(uow, row, row.created).row.status


@pytest.mark.parametrize("told_first", [True, False])
def test_a_group_that_becomes_a_supergroup_keeps_its_plan(
    api: BotApi, tmp_path: Path, told_first: bool
) -> None:
    """Whether the update or a refused message tells of it first, the nudges and the marks go on there."""
    kitchen = Kitchen(api, tmp_path / "crockbell.sqlite3", GROUP)
    with kitchen.running() as serving:
        kitchen.meet()
        kitchen.use_the_plan()
        if told_first:
            api.migrate(GROUP, SUPERGROUP)
        else:
            api._moved[GROUP] = SUPERGROUP
        kitchen.chat = SUPERGROUP
        soaking = kitchen.hears(SOAK)
        if not told_first:
            api.migrate(GROUP, SUPERGROUP)
            kitchen.until(lambda: not api.unconfirmed)
        kitchen.press(soaking, "Started")
        kitchen.hears("Started: Soak the beans")
        assert plan_status(serving) is PlanStatus.ACTIVE
    assert kitchen.marks() == [("started", 0)]


def test_a_token_that_is_taken_back_ends_the_service(kitchen: Kitchen, api: BotApi) -> None:
    """401 to a message: the service stops, and says why."""
    with kitchen.running() as serving:
        kitchen.meet()
        kitchen.use_the_plan()
        api.fail("sendMessage", unauthorised())
        kitchen.until(serving.stop.is_set)
    assert isinstance(serving.failure, Unauthorised)
