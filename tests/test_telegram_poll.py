"""Updates in over Telegram: nothing lost, nothing taken twice, whatever breaks in between."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import timedelta
from threading import Event
from typing import Any

import pytest

from bot.telegram import Pauses, Poller, TelegramMessenger, Waits
from scheduler.ports import Store, Unauthorised, UnitOfWork
from storage.engine import open_store
from tests.botapi import BotApi
from tests.botapi_wire import Fault, dropped, forbidden, garbage, status, swallowed, unauthorised
from tests.fake_store import FakeStore
from tests.telegram_kit import (
    BRIEF,
    CHAT,
    DUE,
    HASTY,
    QUICK,
    CrashError,
    FixedClock,
    inbox,
    polling,
    without_proxies,
)

pytestmark = pytest.mark.filterwarnings("ignore::telegram.warnings.PTBDeprecationWarning")


@pytest.fixture
def api(monkeypatch: pytest.MonkeyPatch) -> Iterator[BotApi]:
    without_proxies(monkeypatch)
    with BotApi() as server:
        yield server


@pytest.fixture
def messenger(api: BotApi) -> Iterator[TelegramMessenger]:
    with TelegramMessenger(api.token, base_url=api.url, waits=QUICK) as running:
        yield running


def poller_of(
    messenger: TelegramMessenger,
    store: Store,
    wake: Callable[[], None] = lambda: None,
    pauses: Pauses = BRIEF,
) -> Poller:
    return Poller(messenger, store, FixedClock(), wake, pauses=pauses)


def polls(api: BotApi) -> list[dict[str, str]]:
    return [params for method, params in api.calls if method.lower() == "getupdates"]


def texts(messenger: TelegramMessenger, store: Store) -> list[str]:
    return [messenger.read(row.payload, row.received).text for row in inbox(store)]


class CrashingStore(Store):
    """A store that dies at its first commit of updates, before or after they are kept."""

    def __init__(self, kept: FakeStore, before: bool) -> None:
        self.kept, self.before, self.crashes = kept, before, 1

    def __call__(self) -> UnitOfWork:
        work = self.kept()
        commit = work.commit

        def crash() -> None:
            if self.before:
                raise CrashError
            commit()
            raise CrashError

        if self.crashes:
            vars(work)["commit"] = crash
        return work


def test_updates_are_stored_before_they_are_confirmed(api: BotApi, messenger: TelegramMessenger) -> None:
    """What a cook says is in the inbox, the worker is woken, and the next poll confirms it."""
    store, woken = FakeStore(), Event()
    seen: list[list[int]] = []

    def wake() -> None:
        seen.append(api.unconfirmed)
        woken.set()

    with polling(poller_of(messenger, store, wake)):
        api.say(CHAT, "done")
        assert woken.wait(5)
        assert api.wait_until(lambda: not api.unconfirmed)
    assert texts(messenger, store) == ["done"]
    assert seen == [[1001]]
    assert polls(api)[-1]["offset"] == "1002"
    assert [(row.source, row.update, row.received) for row in inbox(store)] == [("telegram", 1001, DUE)]


def test_polling_asks_for_what_is_used_and_sets_the_menu(api: BotApi, messenger: TelegramMessenger) -> None:
    """A webhook is taken off first, or Telegram would refuse every poll; the menu lists the commands."""
    api.webhook = True
    with polling(poller_of(messenger, FakeStore())):
        assert api.wait_until(lambda: bool(polls(api)))
    assert polls(api)[0]["allowed_updates"] == '["message", "callback_query", "my_chat_member"]'
    assert "offset" not in polls(api)[0]
    menu = next(params["commands"] for method, params in api.calls if method == "setMyCommands")
    assert [f'"{word}"' in menu for word in ("next", "today", "plan", "help", "undo", "stop")] == [True] * 6


@pytest.mark.parametrize("before", [True, False])
def test_a_crash_around_the_commit_loses_and_doubles_nothing(
    api: BotApi, messenger: TelegramMessenger, before: bool
) -> None:
    """Dying just before or just after the commit, the next run has every update once."""
    kept = FakeStore()
    api.say(CHAT, "done")
    api.say(CHAT, "what's next")
    with polling(poller_of(messenger, CrashingStore(kept, before))) as outcome:
        assert isinstance(outcome.exception(5), CrashError)
    assert len(inbox(kept)) == (0 if before else 2)
    assert api.unconfirmed == [1001, 1002]
    api.say(CHAT, "thanks")
    with polling(poller_of(messenger, kept)):
        assert api.wait_until(lambda: not api.unconfirmed)
    assert texts(messenger, kept) == ["done", "what's next", "thanks"]


def test_a_crash_after_the_answer_was_lost_doubles_nothing(api: BotApi, messenger: TelegramMessenger) -> None:
    """A server that forgets that updates were confirmed hands them out again; they are stored once."""
    store = FakeStore()
    for _ in range(2):
        api.put_raw({"update_id": 1001, "message": api.message(CHAT, 1, text="done")})
        with polling(poller_of(messenger, store)):
            assert api.wait_until(lambda: not api.unconfirmed)
    assert texts(messenger, store) == ["done"]


@pytest.mark.parametrize("open_one", [FakeStore, lambda: open_store(None)])
def test_an_update_nobody_can_read_is_stored_and_blocks_nobody(
    api: BotApi, messenger: TelegramMessenger, open_one: Callable[[], Store]
) -> None:
    """What the library cannot parse is committed, confirmed and refused by `read`; later ones come."""
    store = open_one()
    api.put(message={"date": "yesterday", "chat": 5})
    api.put(something_new={"of": "next year"})
    api.put_raw({"update_id": 1003, "message": float("nan")})
    api.say(CHAT, "done \ud83e")
    with polling(poller_of(messenger, store)):
        assert api.wait_until(lambda: not api.unconfirmed)
    *broken, last = inbox(store)
    assert [row.update for row in broken] == [1001, 1002, 1003]
    for row in broken:
        with pytest.raises(ValueError):
            messenger.read(row.payload, row.received)
    assert messenger.read(last.payload, last.received).text == "done ?"


def test_what_has_no_number_is_left_out_without_a_hot_loop(
    api: BotApi, messenger: TelegramMessenger, caplog: pytest.LogCaptureFixture
) -> None:
    """Updates that are no objects, or have no usable number, are passed over, slowly where alone."""
    store = FakeStore()
    odd: list[Any] = ["nonsense", {"message": {}}, {"update_id": True}, {"update_id": 2**70}]
    for update in odd:
        api.put_raw(update)
    slow = Pauses(timedelta(seconds=30), timedelta(seconds=60), timedelta(seconds=30))
    with polling(poller_of(messenger, store, pauses=slow)):
        assert api.wait_until(lambda: "none of 4 updates has a number" in caplog.text)
    assert len(polls(api)) == 1 and inbox(store) == []
    api.say(CHAT, "done")
    with polling(poller_of(messenger, store)):
        assert api.wait_until(lambda: not api.unconfirmed)
    assert texts(messenger, store) == ["done"]


def test_more_than_one_batch_comes_whole_and_in_order(api: BotApi, messenger: TelegramMessenger) -> None:
    """A backlog longer than the hundred of one answer arrives completely."""
    store = FakeStore()
    for number in range(230):
        api.say(CHAT, f"message {number}")
    with polling(poller_of(messenger, store)):
        assert api.wait_until(lambda: not api.unconfirmed)
    assert texts(messenger, store) == [f"message {number}" for number in range(230)]


def test_numbers_that_start_anew_lower_are_followed(api: BotApi, messenger: TelegramMessenger) -> None:
    """After a week without updates the next number is random (Bot API, Update): it is still confirmed."""
    store = FakeStore()
    api.next_update = 900_000
    with polling(poller_of(messenger, store)):
        api.say(CHAT, "see you in two weeks")
        assert api.wait_until(lambda: not api.unconfirmed)
        api.next_update = 17
        asked = len(polls(api))
        api.say(CHAT, "open the jar")
        assert api.wait_until(lambda: len(polls(api)) > asked and not api.unconfirmed)
    assert texts(messenger, store) == ["see you in two weeks", "open the jar"]
    with polling(poller_of(messenger, store)):  # a restart asks from the higher number again
        api.say(CHAT, "done")
        assert api.wait_until(lambda: not api.unconfirmed)
    assert texts(messenger, store)[2:] == ["done"]
    assert len(polls(api)) < 12


def test_polling_outlives_a_bad_line(api: BotApi) -> None:
    """Gateways, garbage, silence and floods, while preparing and while polling, only delay."""
    store = FakeStore()
    api.fail("deleteWebhook", dropped(), status(502))
    api.fail("getMe", status(500))
    api.fail("getUpdates", status(502), garbage(), garbage(b"[]"), garbage(b'{"ok": true, "result": {}}'))
    api.fail("getUpdates", dropped(), status(403), swallowed())
    api.say(CHAT, "done")
    with (
        TelegramMessenger(api.token, base_url=api.url, waits=HASTY) as messenger,
        polling(poller_of(messenger, store)),
    ):
        assert api.wait_until(lambda: not api.unconfirmed, 10)
    assert texts(messenger, store) == ["done"]


def test_a_second_poller_is_named_in_the_log(
    api: BotApi, messenger: TelegramMessenger, caplog: pytest.LogCaptureFixture
) -> None:
    """When another program polls with the same token the log says so, and polling goes on, slowly."""
    store, other_store = FakeStore(), FakeStore()
    with (
        TelegramMessenger(api.token, base_url=api.url, waits=QUICK) as other,
        polling(poller_of(messenger, store)) as first,
        polling(poller_of(other, other_store)) as second,
    ):
        assert api.wait_until(lambda: "Another program is polling" in caplog.text)
        assert not first.done() and not second.done()
        api.say(CHAT, "done")
        assert api.wait_until(lambda: not api.unconfirmed)
    assert "done" in texts(messenger, store) + texts(other, other_store)


@pytest.mark.parametrize("fault", [unauthorised(), forbidden("bot is gone")])
@pytest.mark.parametrize("method", ["getMe", "getUpdates"])
def test_a_token_that_is_no_good_ends_the_run(
    api: BotApi, messenger: TelegramMessenger, fault: Fault, method: str
) -> None:
    """Without a token that is accepted there is nothing to wait for."""
    api.fail(method, fault)
    with polling(poller_of(messenger, FakeStore())) as outcome:
        assert isinstance(outcome.exception(5), Unauthorised)


def test_a_busy_store_is_waited_for(api: BotApi, messenger: TelegramMessenger) -> None:
    """While another writer has the store nothing is confirmed, and nothing is lost."""
    store = FakeStore(patience=timedelta(0))
    api.say(CHAT, "done")
    with store(), polling(poller_of(messenger, store)):
        pass
    with polling(poller_of(messenger, store)):
        assert api.wait_until(lambda: not api.unconfirmed)
    api.say(CHAT, "thanks")
    with polling(poller_of(messenger, store)):
        assert api.wait_until(lambda: len(inbox(store)) == 2)
        with store():
            api.say(CHAT, "one more")
            asked = len(polls(api))
            assert api.wait_until(lambda: len(polls(api)) > asked + 1)
            assert api.unconfirmed
        assert api.wait_until(lambda: not api.unconfirmed)
    assert texts(messenger, store) == ["done", "thanks", "one more"]


def test_stopping_does_not_wait_for_the_long_poll(api: BotApi) -> None:
    """A poll that the server holds for minutes is given up as soon as the run is told to stop."""
    with TelegramMessenger(api.token, base_url=api.url, waits=Waits(poll=600)) as patient:
        with polling(poller_of(patient, FakeStore())) as outcome:
            assert api.wait_until(lambda: bool(polls(api)))
        assert outcome.result(0) is None


def test_a_webhook_set_meanwhile_is_taken_off(api: BotApi, messenger: TelegramMessenger) -> None:
    """Someone else's webhook stops the polls, and only until the next try."""
    store = FakeStore()
    with polling(poller_of(messenger, store)):
        assert api.wait_until(lambda: bool(polls(api)))
        api.webhook = True
        api.say(CHAT, "done")
        api.say(CHAT, "thanks")
        assert api.wait_until(lambda: not api.webhook and not api.unconfirmed)
    assert texts(messenger, store) == ["done", "thanks"]
