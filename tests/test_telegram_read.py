"""Updates read: what a cook said, pressed, sent or left, out of the Bot API's own JSON."""

from __future__ import annotations

from datetime import UTC, timedelta
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.telegram import TelegramMessenger
from bot.telegram.read import read_update
from scheduler.records import Incoming
from tests.botapi import BotApi
from tests.botapi_shapes import COOK
from tests.telegram_kit import ADDRESS, CHAT, DUE, GROUP, QUICK, SUPERGROUP

LATER = DUE + timedelta(hours=3)
GROUP_ADDRESS = f"telegram:{GROUP}"
WORLD = BotApi(now=lambda: DUE)
"""Not serving: it only writes updates."""


def message(chat: int = CHAT, **content: Any) -> dict[str, Any]:
    return {"update_id": 1, "message": WORLD.message(chat, 7, **{"from": COOK}, **content)}


def change(old: str, new: str, chat: int = CHAT) -> dict[str, Any]:
    return {"update_id": 1, "my_chat_member": WORLD.membership(chat, old, new)}


def read(payload: dict[str, Any], username: str | None = None) -> Incoming:
    return read_update(payload, LATER, username)


def test_what_a_cook_writes() -> None:
    """A private message counts from when it was written, however late it is read."""
    assert read(message(text="done")) == Incoming(ADDRESS, DUE, text="done", sender="Ada")


def test_a_reply_in_a_group_names_what_it_answers() -> None:
    """The message replied to is named as the receipt of the letter that was sent."""
    found = read(message(GROUP, text="done", reply_to_message=WORLD.message(GROUP, 3, text="Salt")))
    assert (found.address, found.group, found.reply_to) == (GROUP_ADDRESS, True, f"{GROUP}/3")


@pytest.mark.parametrize(
    ("text", "username", "kind", "plain"),
    [
        ("/next@Crockbell_bot", "crockbell_bot", "text", "/next"),
        ("/next@crockbell_bot  please", None, "text", "/next please"),
        ("/next@another_bot", "crockbell_bot", "other", "/next"),
        ("/plan@crockbell_bot\ncrockbell: 1", "crockbell_bot", "text", "/plan \ncrockbell: 1"),
        ("@Crockbell_bot done", "crockbell_bot", "text", "done"),
        ("@another_bot done", "crockbell_bot", "text", "@another_bot done"),
        ("ask ada@example.org", "crockbell_bot", "text", "ask ada@example.org"),
        ("/next", "crockbell_bot", "text", "/next"),
    ],
)
def test_the_name_of_the_bot_is_taken_out(text: str, username: str | None, kind: str, plain: str) -> None:
    """In a group commands carry the bot's name; those for another bot are none of ours."""
    found = read(message(GROUP, text=text), username)
    assert (found.kind, found.text) == (kind, plain)


def test_the_bot_learns_its_name_when_polling_begins() -> None:
    """Until then a command is taken as meant for us; afterwards only one that is."""
    from threading import Event

    with BotApi() as api, TelegramMessenger(api.token, base_url=api.url, waits=QUICK) as messenger:
        foreign = message(GROUP, text="/next@another_bot")
        assert messenger.read(foreign, LATER).kind == "text"
        messenger.prepare(Event())
        assert messenger.read(foreign, LATER).kind == "other"


def test_a_document_comes_with_its_name_size_and_caption() -> None:
    """A document has the reference to fetch it by, and its caption as text."""
    document = {"file_id": "f1", "file_unique_id": "u1", "file_name": "supper.yaml", "file_size": 812}
    found = read(message(document=document, caption="for Saturday"))
    assert (found.document, found.size, found.text) == (("supper.yaml", "f1"), 812, "for Saturday")
    nameless = read(message(document={"file_id": "f1", "file_unique_id": "u1"}))
    assert (nameless.kind, nameless.document, nameless.size) == ("text", ("document", "f1"), None)


PICTURE = {"file_id": "f", "file_unique_id": "u", "width": 1, "height": 1, "duration": 1}


@pytest.mark.parametrize(
    "content",
    [
        {"photo": [PICTURE], "caption": "is this done"},
        {"voice": {"file_id": "f", "file_unique_id": "u", "duration": 2}},
        {"sticker": {**PICTURE, "type": "regular", "is_animated": False, "is_video": False}},
        {"animation": PICTURE, "document": {"file_id": "f", "file_unique_id": "u"}},
        {"new_chat_title": "Harvest supper"},
        {},
    ],
)
def test_what_crockbell_has_no_use_for_is_other(content: dict[str, Any]) -> None:
    """Pictures, voices, stickers and service messages are told from words, and never fetched."""
    found = read(message(GROUP, **content))
    assert (found.kind, found.document) == ("other", None)


def test_an_edited_message_is_other() -> None:
    """What was said counts as it was first said."""
    edited = {"update_id": 1, "edited_message": message(text="done")["message"] | {"edit_date": 1796119300}}
    assert read(edited) == Incoming(ADDRESS, DUE, "other")


def test_a_press_names_button_message_and_itself() -> None:
    """A press has no time of its own in the Bot API, so it counts from when it was received."""
    world = BotApi()
    press = world.press(CHAT, 12, "done:4")
    found = read(world._queue[0][1])
    assert found == Incoming(ADDRESS, LATER, data="done:4", reply_to=f"{CHAT}/12", sender="Ada", press=press)


def test_a_press_on_a_message_too_old_to_see_still_counts() -> None:
    """Telegram writes 0 for the date of a message it no longer shows (Bot API, InaccessibleMessage)."""
    old = {"chat": WORLD.message(GROUP, 1)["chat"], "message_id": 12, "date": 0}
    query = {"id": "p", "from": COOK, "message": old, "data": "done:4", "chat_instance": "1"}
    found = read({"update_id": 1, "callback_query": query})
    assert (found.at, found.reply_to, found.group) == (LATER, f"{GROUP}/12", True)


def test_a_group_that_was_upgraded_tells_its_new_address() -> None:
    """The group's last message carries the address of the supergroup it became."""
    found = read(message(GROUP, migrate_to_chat_id=SUPERGROUP))
    assert (found.address, found.moved_to) == (GROUP_ADDRESS, f"telegram:{SUPERGROUP}")
    assert found.kind != "other"


@pytest.mark.parametrize(
    ("old", "new", "kind"),
    [
        ("member", "kicked", "left"),
        ("member", "left", "left"),
        ("kicked", "member", "joined"),
        ("left", "administrator", "joined"),
        ("member", "member", "other"),
    ],
)
def test_blocking_leaving_and_coming_back(old: str, new: str, kind: str) -> None:
    """Being blocked or put out is "left", being let in again "joined", anything else of no use."""
    payload = change(old, new)
    if new == "administrator":
        rights = ["can_be_edited", "is_anonymous", "can_manage_chat", "can_delete_messages"]
        rights += ["can_manage_video_chats", "can_restrict_members", "can_promote_members"]
        rights += ["can_change_info", "can_invite_users", "can_post_stories", "can_edit_stories"]
        rights += ["can_delete_stories"]
        payload["my_chat_member"]["new_chat_member"] |= dict.fromkeys(rights, False)
    assert read(payload) == Incoming(ADDRESS, DUE, kind, sender="Ada")


def test_half_a_character_is_made_whole() -> None:
    """A lone surrogate, which JSON can carry and no text can, does not get into a message."""
    assert read(message(text="done \ud83e")).text == "done ?"


@pytest.mark.parametrize(
    "payload",
    [
        {},
        {"update_id": 1},
        {"update_id": 1, "message": "done"},
        {"update_id": 1, "message": {"text": "done"}},
        {"update_id": 1, "poll": {"id": "1"}},
        message(text=5),
        message(text=["done"]),
        message() | {"message": {**message()["message"], "date": 10**20}},
        message() | {"message": {**message()["message"], "date": "soon"}},
        message() | {"message": {**message()["message"], "chat": {"id": "kitchen", "type": "private"}}},
        {"update_id": 1, "callback_query": {"id": "p", "from": COOK, "data": "d", "chat_instance": "1"}},
        {"update_id": 1, "message": float("nan")},
    ],
)
def test_what_cannot_be_read_is_a_value_error(payload: dict[str, Any]) -> None:
    """Anything not of the promised shape is refused in one way."""
    with pytest.raises(ValueError):
        read(payload)


def test_a_naive_time_of_receipt_is_refused() -> None:
    """Times that cross the port are instants."""
    with pytest.raises(ValueError, match="aware"):
        read_update(message(text="done"), DUE.replace(tzinfo=None))


JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.text(max_size=8),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner, max_size=3),
    max_leaves=8,
)
DOCUMENTS = st.fixed_dictionaries(
    {"file_id": JSON, "file_unique_id": JSON}, optional={"file_name": JSON, "file_size": JSON}
)
FIELDS = st.sampled_from(["text", "caption", "document", "chat", "date", "from", "reply_to_message", "photo"])


@settings(max_examples=150, deadline=None)
@given(st.dictionaries(FIELDS, JSON | DOCUMENTS, max_size=3))
def test_reading_gives_words_or_a_value_error(content: dict[str, Any]) -> None:
    """Whatever stands in a message, reading it ends in an Incoming with an instant, or in ValueError."""
    payload = message() | {"message": {**message(text="done")["message"], **content}}
    try:
        found = read(payload)
    except ValueError:
        return
    assert found.address.startswith("telegram:") and found.at.tzinfo is UTC
    assert isinstance(found.text, str) and isinstance(found.sender, str)
    assert found.document is None or [type(part) for part in found.document] == [str, str]
