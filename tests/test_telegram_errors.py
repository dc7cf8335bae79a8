"""What goes wrong between Crockbell and the Bot API, and what is made of it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from threading import Event, Thread

import httpx
import pytest
from telegram.error import RetryAfter, TimedOut

from bot.telegram import LARGEST_FILE, TelegramMessenger, Waits
from bot.telegram.errors import classify, classify_repeatable, poll_pause
from scheduler.ports import Barred, Moved, Rejected, SendError, TryLater, Unauthorised, Uncertain
from tests.botapi import BotApi
from tests.botapi_rules import RefusedError
from tests.botapi_wire import (
    Fault,
    dropped,
    flood,
    forbidden,
    garbage,
    migrated,
    refusal,
    refused,
    silent,
    status,
    swallowed,
    unauthorised,
)
from tests.telegram_kit import ADDRESS, CHAT, GROUP, HASTY, QUICK, SUPERGROUP, letter, without_proxies

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


# ---------------------------------------------------------------- what can go wrong


@pytest.mark.parametrize(
    ("fault", "kind", "accepted"),
    [
        (flood(3), TryLater, 0),
        (migrated(SUPERGROUP), Moved, 0),
        (forbidden(), Barred, 0),
        (forbidden("bot was kicked from the group chat"), Barred, 0),
        (unauthorised(), Unauthorised, 0),
        (refused("chat not found"), Barred, 0),
        (refused("user is deactivated"), Barred, 0),
        (refused("not enough rights to send text messages to the chat"), Barred, 0),
        (refused("can't parse entities: Unsupported start tag"), Rejected, 0),
        (swallowed(), Uncertain, 1),
        (silent(), Uncertain, 0),
        (dropped(), Uncertain, 0),
        (status(500), Uncertain, 0),
        (status(502), Uncertain, 0),
        (status(503), TryLater, 0),
        (status(504), Uncertain, 0),
        (status(429, b'{"ok": false, "description": "Too Many Requests"}'), TryLater, 0),
        (status(302), TryLater, 0),
        (status(413), Rejected, 0),
        (garbage(accept=True), Uncertain, 1),
        (garbage(b'{"ok": true}', accept=True), Uncertain, 1),
        (garbage(b'{"ok": true, "result": {"date": "soon"}}', accept=True), Uncertain, 1),
        (garbage(b"[]", accept=True), Uncertain, 1),
        (status(400, b"[]"), TryLater, 0),
        (status(401), TryLater, 0),
        (status(403), TryLater, 0),
        (status(404), TryLater, 0),
    ],
)
def test_every_fault_has_its_kind(api: BotApi, fault: Fault, kind: type[SendError], accepted: int) -> None:
    """Each way a send can fail is told as what it means, and what was accepted stays one message."""
    api.fail("sendMessage", fault)
    with (
        TelegramMessenger(api.token, base_url=api.url, waits=HASTY if fault.hang else QUICK) as messenger,
        pytest.raises(SendError) as told,
    ):
        messenger.send(ADDRESS, letter())
    assert type(told.value) is kind
    assert len(api.sent) == accepted


def test_after_a_fault_the_next_letter_goes_through(api: BotApi, messenger: TelegramMessenger) -> None:
    """Faults leave nothing behind in the adapter."""
    for fault in (dropped(), garbage(), status(502), unauthorised(), flood(1)):
        api.fail("sendMessage", fault)
        with pytest.raises(SendError):
            messenger.send(ADDRESS, letter())
        messenger.send(ADDRESS, letter())
    assert len(api.sent) == 5


def test_how_long_and_where_to(api: BotApi, messenger: TelegramMessenger) -> None:
    """A flood answer carries its wait, a migration the new address."""
    api.fail("sendMessage", flood(17))
    with pytest.raises(TryLater) as later:
        messenger.send(ADDRESS, letter())
    assert later.value.wait == timedelta(seconds=17)
    api.migrate(GROUP, SUPERGROUP)
    with pytest.raises(Moved) as moved:
        messenger.send(f"telegram:{GROUP}", letter())
    assert moved.value.address == f"telegram:{SUPERGROUP}"
    assert messenger.send(moved.value.address, letter()).startswith(f"{SUPERGROUP}/")


def test_a_refused_connection_delivered_nothing(api: BotApi) -> None:
    """With nobody listening there is no doubt: try later."""
    with BotApi() as other:
        nowhere = other.url
    with TelegramMessenger(api.token, base_url=nowhere, waits=QUICK) as lonely, pytest.raises(TryLater):
        lonely.send(ADDRESS, letter())


@pytest.mark.parametrize(
    ("cause", "kind"),
    [
        (httpx.ConnectTimeout("no answer"), TryLater),
        (httpx.PoolTimeout("all in use"), TryLater),
        (httpx.ReadTimeout("no answer"), Uncertain),
        (httpx.WriteTimeout("stuck"), Uncertain),
    ],
)
def test_timeouts_are_told_apart_by_their_cause(cause: Exception, kind: type[SendError]) -> None:
    """A timeout before anything was sent is no reason to doubt; one after is."""
    error = TimedOut()
    error.__cause__ = cause
    assert type(classify(error)) is kind
    assert type(classify_repeatable(error)) is TryLater


def test_a_poll_waits_as_long_as_it_is_asked_to() -> None:
    """Polling keeps its own pace, unless a flood answer asks for a slower one."""
    pace = timedelta(seconds=4)
    assert poll_pause(TimedOut(), pace, "") == pace
    assert poll_pause(RetryAfter(9), pace, "") == timedelta(seconds=9)
    assert poll_pause(RetryAfter(2), pace, "") == pace


def test_a_messenger_that_does_not_run_sends_later(api: BotApi) -> None:
    """Before start and after close nothing is sent, and nothing is lost."""
    idle = TelegramMessenger(api.token, base_url=api.url, waits=QUICK)
    with pytest.raises(TryLater):
        idle.send(ADDRESS, letter())
    with idle:
        idle.send(ADDRESS, letter())
    with pytest.raises(TryLater):
        idle.send(ADDRESS, letter())
    assert len(api.sent) == 1


def test_closing_gives_up_a_send_under_way(api: BotApi) -> None:
    """Closing does not wait for an answer that may never come; the send is uncertain."""
    patient = TelegramMessenger(api.token, base_url=api.url, waits=Waits())
    patient.start()
    api.fail("sendMessage", swallowed())
    told: list[Exception] = []
    ended = Event()

    def send() -> None:
        try:
            patient.send(ADDRESS, letter())
        except SendError as error:
            told.append(error)
        ended.set()

    Thread(target=send, daemon=True).start()
    assert api.wait_until(lambda: bool(api.calls))
    patient.close()
    assert ended.wait(5)
    assert [type(error) for error in told] == [Uncertain]


# ---------------------------------------------------------------- files in, presses


def stored(api: BotApi, content: bytes, name: str = "supper.yaml") -> str:
    """The reference of a document a cook sent."""
    api.send_document(CHAT, name, content)
    return "file-0"


def test_a_document_is_fetched(api: BotApi, messenger: TelegramMessenger) -> None:
    """The bytes come back as they were sent."""
    content = "crockbell: 1\ntitle: Soupe à l'oignon\n".encode()
    assert messenger.fetch(stored(api, content)) == content


def test_a_large_document_is_not_downloaded(api: BotApi, messenger: TelegramMessenger) -> None:
    """Above 256 KiB a file is refused by its stated size, and by its true one where none was stated."""
    reference = stored(api, b"x" * (LARGEST_FILE + 1))
    with pytest.raises(Rejected, match="256 KiB"):
        messenger.fetch(reference)
    assert [name for name, _ in api.calls] == ["getFile"]
    unsaid = b'{"ok": true, "result": {"file_id": "f", "file_unique_id": "u", "file_path": "file-0"}}'
    api.fail("getFile", Fault(200, unsaid))
    with pytest.raises(Rejected, match="256 KiB"):
        messenger.fetch(reference)


@pytest.mark.parametrize(
    ("method", "fault", "kind"),
    [
        ("getFile", refused("wrong file_id or the file is temporarily unavailable"), Rejected),
        ("getFile", unauthorised(), Unauthorised),
        ("getFile", forbidden(), Rejected),
        ("getFile", migrated(SUPERGROUP), Rejected),
        ("getFile", status(502), TryLater),
        ("file", status(404), Rejected),
        ("file", refusal(RefusedError(404, "Not Found")), Rejected),
        ("file", status(503), TryLater),
        ("file", dropped(), TryLater),
        ("file", flood(2), TryLater),
    ],
)
def test_fetching_fails_in_three_ways_only(
    api: BotApi, messenger: TelegramMessenger, method: str, fault: Fault, kind: type[SendError]
) -> None:
    """Later, never, or not with this token: nothing else is said of a file."""
    reference = stored(api, b"crockbell: 1\n")
    api.fail(method, fault)
    with pytest.raises(SendError) as told:
        messenger.fetch(reference)
    assert type(told.value) is kind


def test_a_press_is_acknowledged_and_failing_to_is_no_trouble(
    api: BotApi, messenger: TelegramMessenger
) -> None:
    """A press is acknowledged once; an old one, or a bad line, is let go; a bad token is not."""
    press = api.press(CHAT, 1, "d")
    messenger.acknowledge(press)
    messenger.acknowledge(press)
    assert api.acknowledged == [press]
    api.fail("answerCallbackQuery", dropped(), status(500), unauthorised())
    messenger.acknowledge("press-2")
    messenger.acknowledge("press-3")
    with pytest.raises(Unauthorised):
        messenger.acknowledge("press-4")
    assert api.acknowledged == [press]
