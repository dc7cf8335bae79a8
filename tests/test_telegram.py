"""Letters out over Telegram: python-telegram-bot itself, driven against the Bot API server on loopback."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.telegram import TelegramMessenger
from bot.telegram.text import as_html, fit, rows, units, whole
from scheduler.ports import Rejected, TryLater
from scheduler.records import Button, Kind, Letter
from tests.botapi import BotApi
from tests.botapi_rules import shown
from tests.botapi_wire import dropped, refused
from tests.telegram_kit import ADDRESS, CHAT, QUICK, letter, unbutton, without_proxies


@pytest.fixture
def api(monkeypatch: pytest.MonkeyPatch) -> Iterator[BotApi]:
    without_proxies(monkeypatch)
    with BotApi() as server:
        yield server


@pytest.fixture
def messenger(api: BotApi) -> Iterator[TelegramMessenger]:
    with TelegramMessenger(api.token, base_url=api.url, waits=QUICK) as running:
        yield running


# ---------------------------------------------------------------- what a letter looks like


def test_first_line_is_bold_and_text_from_a_plan_is_escaped(
    api: BotApi, messenger: TelegramMessenger
) -> None:
    """A plan's own <, > and & are shown as written, and only the first line is bold."""
    text = "Fry <b>& don't burn\nuntil 5 > 4 &amp; golden\n</b>"
    receipt = messenger.send(ADDRESS, letter(text))
    assert api.sent[0].text == text
    assert api.sent[0].raw.startswith("<b>Fry &lt;b&gt;&amp; don't burn</b>\nuntil")
    assert receipt == f"{CHAT}/{api.sent[0].message_id}"
    assert '"is_disabled": true' in api.sent[0].params["link_preview_options"]


@settings(max_examples=200, deadline=None)
@given(st.text(st.characters(), max_size=300), st.integers(2, 80))
def test_any_text_parses_and_fits(text: str, limit: int) -> None:
    """Whatever a plan says, the markup parses, shows the same words, and keeps to the length."""
    seen = shown(as_html(text, limit))
    assert units(seen) <= limit
    plain = whole(text).strip()
    assert seen == plain if units(plain) <= limit else plain.startswith(seen.removesuffix("…").rstrip("\n"))


def test_long_text_is_cut_at_a_line_end(api: BotApi, messenger: TelegramMessenger) -> None:
    """A text over 4096 UTF-16 units goes out whole up to a line end, closed with an ellipsis."""
    line = "Turn the jars 🫙 and look for bubbles"
    messenger.send(ADDRESS, letter("\n".join([line] * 200)))
    *lines, last = api.sent[0].text.split("\n")
    assert set(lines) == {line} and last == "…"
    assert 4096 - units(line) - 2 <= units(api.sent[0].text) <= 4096


def test_one_endless_line_is_cut_between_whole_characters() -> None:
    """A line too long by itself is cut within, never through a character of two UTF-16 units."""
    assert fit("🫙" * 10, 8) == "🫙🫙🫙…"


def test_four_buttons_two_to_a_row(api: BotApi, messenger: TelegramMessenger) -> None:
    """At most four buttons go out, in order, beside each other only where both labels are short."""
    labels = ["Done", "In 30 min", "Not before tomorrow", "Skip it", "Never"]
    buttons = tuple(Button(label, f"d:{number}") for number, label in enumerate(labels))
    messenger.send(ADDRESS, letter(buttons=buttons))
    assert api.sent[0].rows == [
        [("Done", "d:0"), ("In 30 min", "d:1")],
        [("Not before tomorrow", "d:2")],
        [("Skip it", "d:3")],
    ]
    assert rows(buttons[:1]) == [[buttons[0]]] and rows(()) == []


def test_too_much_button_data_is_rejected(api: BotApi, messenger: TelegramMessenger) -> None:
    """Data over 64 bytes of UTF-8 (Bot API, InlineKeyboardButton) makes a letter that can never go."""
    with pytest.raises(Rejected):
        messenger.send(ADDRESS, letter(buttons=(Button("Done", "é" * 33),)))
    messenger.send(ADDRESS, letter(buttons=(Button("Done", "é" * 32),)))
    assert len(api.sent) == 1


@pytest.mark.parametrize(
    ("name", "method"), [("plan.PNG", "sendPhoto"), ("plan.ics", "sendDocument"), (None, "sendDocument")]
)
def test_files_go_out_with_their_name_and_caption(
    api: BotApi, messenger: TelegramMessenger, name: str | None, method: str
) -> None:
    """A PNG goes as a picture, anything else as a document, byte for byte, with a caption cut to 1024."""
    content = bytes(range(256)) * 4
    text = "Your plan\n" + "line of words\n" * 200
    receipt = messenger.send(ADDRESS, letter(text, Kind.FILE, file=content, file_name=name))
    sent = api.sent[0]
    assert (sent.method, sent.file_name, sent.file) == (method, name or "file", content)
    assert sent.text.startswith("Your plan\nline") and 1000 < units(sent.text) <= 1024
    assert receipt == f"{CHAT}/{sent.message_id}"


# ---------------------------------------------------------------- buttons off


def test_buttons_come_off_and_coming_off_twice_is_fine(api: BotApi, messenger: TelegramMessenger) -> None:
    """A done step's message loses its buttons; a message without any, or gone, needs nothing more."""
    receipt = messenger.send(ADDRESS, letter(buttons=(Button("Done", "d"),)))
    assert messenger.send(ADDRESS, unbutton(receipt)) == receipt
    assert api.sent[0].rows == []
    assert messenger.send(ADDRESS, unbutton(receipt)) == receipt
    assert messenger.send(ADDRESS, unbutton("31/999")) == "31/999"
    assert len(api.sent) == 1


def test_taking_buttons_off_is_tried_again_and_never_uncertain(
    api: BotApi, messenger: TelegramMessenger
) -> None:
    """An edit may safely be made twice, so an answer that never came means: later."""
    receipt = messenger.send(ADDRESS, letter(buttons=(Button("Done", "d"),)))
    api.fail("editMessageReplyMarkup", dropped(), refused("message to edit is in a bad mood"))
    with pytest.raises(TryLater):
        messenger.send(ADDRESS, unbutton(receipt))
    with pytest.raises(Rejected):
        messenger.send(ADDRESS, unbutton(receipt))


@pytest.mark.parametrize(
    ("address", "wrong"),
    [
        ("terminal:here", letter()),
        ("telegram:kitchen", letter()),
        (ADDRESS, unbutton(None)),
        (ADDRESS, unbutton("31")),
        (ADDRESS, letter("no file", Kind.FILE)),
    ],
)
def test_letters_that_make_no_sense_are_rejected(
    api: BotApi, messenger: TelegramMessenger, address: str, wrong: Letter
) -> None:
    """A foreign address, a receipt that is none, a file letter without a file: nothing is called."""
    with pytest.raises(Rejected):
        messenger.send(address, wrong)
    assert api.calls == []
