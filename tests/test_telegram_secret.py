"""The token shows nowhere."""

from __future__ import annotations

import logging
import traceback
from collections.abc import Iterator
from threading import Event

import pytest

from bot.telegram import Poller, TelegramMessenger
from scheduler.ports import SendError, Unauthorised
from tests.botapi import BotApi
from tests.botapi_rules import RefusedError
from tests.botapi_wire import Fault, dropped, refusal, refused
from tests.fake_store import FakeStore
from tests.telegram_kit import ADDRESS, BRIEF, QUICK, FixedClock, letter, without_proxies


@pytest.fixture
def api(monkeypatch: pytest.MonkeyPatch) -> Iterator[BotApi]:
    without_proxies(monkeypatch)
    with BotApi() as server:
        yield server


def faults_that_quote(token: str) -> list[Fault]:
    page = f"<p>No such page: /bot{token}/sendMessage</p>".encode()
    pages = [Fault(404, page), Fault(200, page), Fault(400, page), refused(f"never heard of {token}")]
    return [*pages, dropped(), refusal(RefusedError(401, f"Unauthorized: {token}"))]


def test_the_token_is_in_no_log_and_no_error(api: BotApi, caplog: pytest.LogCaptureFixture) -> None:
    """Through faulty sending and polling, with a server that quotes the address, nothing shows the token."""
    caplog.set_level(logging.DEBUG)
    told: list[str] = []
    with TelegramMessenger(api.token, base_url=api.url, waits=QUICK) as running:
        for fault in faults_that_quote(api.token):
            api.fail("sendMessage", fault)
            with pytest.raises(SendError) as error:
                running.send(ADDRESS, letter())
            told += ["".join(traceback.format_exception(error.value))]
        api.fail("getUpdates", *faults_that_quote(api.token))
        poller = Poller(running, FakeStore(), FixedClock(), lambda: None, pauses=BRIEF)
        with pytest.raises(Unauthorised) as refusal_to_poll:
            poller.run(Event())
        told += ["".join(traceback.format_exception(refusal_to_poll.value))]
    logged = [logging.Formatter().format(record) for record in caplog.records]
    secret = api.token.partition(":")[2]
    assert not [text for text in told + logged if secret in text]
    assert any("<token>" in text for text in told) and any("<token>" in text for text in logged)


def test_the_filter_covers_exceptions_on_a_handler(caplog: pytest.LogCaptureFixture) -> None:
    """On a log handler the filter hides the token in messages, arguments and tracebacks alike."""
    hiding = TelegramMessenger("123456:a-secret-of-some-length").redacting
    caplog.handler.addFilter(hiding)
    try:
        raise ValueError("POST /bot123456%3Aa-secret-of-some-length/getMe")
    except ValueError:
        logging.getLogger("anyone").exception("no luck with %s", "123456:a-secret-of-some-length")
    caplog.handler.removeFilter(hiding)
    assert "a-secret" not in caplog.text and caplog.records[0].exc_info is None
    assert "no luck with <token>" in caplog.text and "ValueError: POST /bot123456%3A<token>" in caplog.text
