"""A Bot API server on loopback: real HTTP, true offset semantics, and faults on demand.

    with BotApi() as api:
        messenger = TelegramMessenger(api.token, base_url=api.url)
        api.say(4711, "done")           # what a cook does
        api.fail("sendMessage", flood(3), dropped())
        api.sent                        # what the bot said, and the server accepted

Source: Bot API (Making requests, getUpdates, Update, and each method served). That an offset far ahead of
the queue is answered from its head: the Bot API server's own source (tdlib, TQueue::get).
"""

from __future__ import annotations

import json
from collections import defaultdict, deque
from collections.abc import Callable
from datetime import UTC, datetime
from itertools import count
from threading import Condition
from typing import Any, Self

from tests.botapi_rules import RefusedError, bad, markup_of, words_of
from tests.botapi_shapes import COOK, Sent, chat_json, membership_json
from tests.botapi_wire import Fault, Files, Params, Wire, refusal

START = datetime(2026, 12, 1, 9, 0, tzinfo=UTC)
_GLANCE = 0.02
TOKEN = "471100:loopback-token-that-opens-nothing"


class BotApi:
    """The server and the world behind it; a context manager."""

    def __init__(self, token: str = TOKEN, now: Callable[[], datetime] = lambda: START) -> None:
        self.token, self.now, self.username = token, now, "crockbell_test_bot"
        self.sent: list[Sent] = []
        self.calls: list[tuple[str, Params]] = []
        self.acknowledged: list[str] = []
        self.webhook = False
        self.next_update = 1001
        self._changed = Condition()
        self._queue: list[tuple[int, Any]] = []
        self._poll = 0
        self._faults: dict[str, deque[Fault]] = defaultdict(deque)
        self._messages: defaultdict[int, count[int]] = defaultdict(lambda: count(1))
        self._moved: dict[int, int] = {}
        self._blocked: set[int] = set()
        self._presses = count(1)
        self._files: dict[str, bytes] = {}

    def __enter__(self) -> Self:
        self._wire = Wire(self._answer)
        return self

    def __exit__(self, *_: object) -> None:
        with self._changed:
            self._poll += 1
            self._changed.notify_all()
        self._wire.close()

    @property
    def url(self) -> str:
        return f"{self._wire.root}/bot"

    @property
    def file_url(self) -> str:
        return f"{self._wire.root}/file/bot"

    # ------------------------------------------------------------ what a test does

    def fail(self, method: str, *faults: Fault) -> None:
        """The next calls of that method go wrong, one fault each. "file" stands for downloads."""
        with self._changed:
            self._faults[method.lower()].extend(faults)

    def put_raw(self, update: Any) -> None:
        """Queue an update just as it is."""
        with self._changed:
            number = update.get("update_id") if isinstance(update, dict) else None
            if type(number) is not int or number >= 2**31:
                number = self.next_update
            self._queue.append((number, update))
            self.next_update = self._queue[-1][0] + 1
            self._changed.notify_all()

    def put(self, **content: Any) -> int:
        """Queue an update under the next number; returns the number."""
        with self._changed:
            number = self.next_update
            self.put_raw({"update_id": number, **content})
        return number

    def say(self, chat: int, text: str, reply_to: int | None = None) -> int:
        """A cook writes; returns the message id."""
        more = {} if reply_to is None else {"reply_to_message": self.message(chat, reply_to, text="before")}
        return self._tell(chat, text=text, **more)

    def send_document(self, chat: int, name: str, content: bytes, caption: str | None = None) -> int:
        """A cook sends a file; returns the message id."""
        document = {**self._store(name, content), "mime_type": "application/yaml"}
        return self._tell(chat, document=document, **({"caption": caption} if caption else {}))

    def press(self, chat: int, message_id: int, data: str) -> str:
        """A cook presses a button of that message; returns the id of the press."""
        press = f"press-{next(self._presses)}"
        message = self.message(chat, message_id, text="before")
        self.put(callback_query={"id": press, "from": COOK, "message": message, "data": data,
                                 "chat_instance": "1"})  # fmt: skip
        return press

    def migrate(self, old: int, new: int) -> None:
        """The group becomes a supergroup: its members are told, and the old address refuses."""
        self._moved[old] = new
        self._tell(old, migrate_to_chat_id=new)

    def block(self, chat: int, blocked: bool = True) -> None:
        """The cook blocks the bot, or lets it back in."""
        (self._blocked.add if blocked else self._blocked.discard)(chat)
        states = ("member", "kicked") if blocked else ("kicked", "member")
        self.put(my_chat_member=self.membership(chat, *states))

    def message(self, chat: int, message_id: int, **content: Any) -> dict[str, Any]:
        """A message of now, as the Bot API writes it."""
        return {"message_id": message_id, "date": self.seconds, "chat": chat_json(chat), **content}

    def membership(self, chat: int, old: str, new: str) -> dict[str, Any]:
        """A ChatMemberUpdated about the bot, from one status to another."""
        return membership_json(chat, self.seconds, self._me(), old, new)

    @property
    def seconds(self) -> int:
        """The time, as the Bot API writes it."""
        return int(self.now().timestamp())

    @property
    def unconfirmed(self) -> list[int]:
        """The numbers of the updates not confirmed yet."""
        with self._changed:
            return [number for number, _ in self._queue]

    def wait_until(self, true: Callable[[], bool], seconds: float = 5.0) -> bool:
        """Wait for something to become true; False when it has not within so many seconds."""
        for _ in range(int(seconds / _GLANCE)):
            with self._changed:
                if true() or self._changed.wait_for(true, _GLANCE):
                    return True
        return False

    # ------------------------------------------------------------ the world behind it

    def _tell(self, chat: int, **content: Any) -> int:
        message_id = next(self._messages[chat])
        self.put(message=self.message(chat, message_id, **{"from": COOK}, **content))
        return message_id

    def _store(self, name: str, content: bytes) -> dict[str, Any]:
        reference = f"file-{len(self._files)}"
        self._files[reference] = content
        return {"file_id": reference, "file_unique_id": f"u-{reference}", "file_name": name,
                "file_size": len(content)}  # fmt: skip

    def _me(self) -> dict[str, Any]:
        return {"id": 471100, "is_bot": True, "first_name": "Crockbell", "username": self.username}

    # ------------------------------------------------------------ answering

    def _answer(self, path: str, params: Params, files: Files) -> Fault:
        bot, _, rest = path.removeprefix("/file").removeprefix("/bot").partition("/")
        name = "file" if path.startswith("/file/") else rest.lower()
        with self._changed:
            self.calls.append((rest, params))
            fault = self._faults[name].popleft() if self._faults[name] else None
        try:
            if fault is not None and not fault.accept:
                return fault
            if bot != self.token:
                raise RefusedError(401, "Unauthorized")
            if name == "file":
                return Fault(200, self._files[rest])
            answer = Fault(
                200, json.dumps({"ok": True, "result": self._method(name)(params, files)}).encode()
            )
        except RefusedError as error:
            answer = refusal(error)
        finally:
            with self._changed:
                self._changed.notify_all()
        return fault or answer

    def _method(self, name: str) -> Callable[[Params, Files], Any]:
        served: dict[str, Callable[[Params, Files], Any]] = {
            "getme": lambda params, files: self._me(),
            "getupdates": self._get_updates,
            "sendmessage": lambda params, files: self._send("sendMessage", "text", params, files),
            "sendphoto": lambda params, files: self._send("sendPhoto", "caption", params, files),
            "senddocument": lambda params, files: self._send("sendDocument", "caption", params, files),
            "editmessagereplymarkup": self._edit_markup,
            "answercallbackquery": self._acknowledge,
            "getfile": self._get_file,
            "deletewebhook": self._delete_webhook,
            "setmycommands": lambda params, files: True,
        }
        if name not in served:
            raise RefusedError(404, "Not Found")
        return served[name]

    def _get_updates(self, params: Params, files: Files) -> list[Any]:
        with self._changed:
            if self.webhook:
                raise RefusedError(409, "Conflict: can't use getUpdates method while webhook is active")
            self._poll += 1
            mine = self._poll
            self._changed.notify_all()
            offset = int(params.get("offset") or 0)
            if offset <= self.next_update + 10:
                self._queue = [entry for entry in self._queue if entry[0] >= offset]
            waiting = float(params.get("timeout") or 0)
            self._changed.wait_for(lambda: self._poll != mine or bool(self._queue), waiting)
            if self._poll != mine:
                raise RefusedError(409, "Conflict: terminated by other getUpdates request")
            return [update for _, update in self._queue[: int(params.get("limit") or 100)]]

    def _send(self, method: str, field: str, params: Params, files: Files) -> dict[str, Any]:
        chat = int(params["chat_id"])
        if chat in self._moved:
            raise bad("group chat was upgraded to a supergroup chat", migrate_to_chat_id=self._moved[chat])
        if chat in self._blocked:
            raise RefusedError(403, "Forbidden: bot was blocked by the user")
        text, markup = words_of(params, field), markup_of(params)
        name, content = next(iter(files.values()), (None, None))
        if field == "caption" and not content:
            raise bad("there is no file in the request")
        with self._changed:
            sent = Sent(chat, next(self._messages[chat]), method, text, params.get(field, ""), markup,
                        params, name, content)  # fmt: skip
            self.sent.append(sent)
        return self._as_message(sent)

    def _as_message(self, sent: Sent) -> dict[str, Any]:
        content: dict[str, Any] = {"from": self._me()}
        content["text" if sent.method == "sendMessage" else "caption"] = sent.text
        if sent.markup:
            content["reply_markup"] = sent.markup
        if sent.file is not None:
            stored = self._store(sent.file_name or "", sent.file)
            picture = sent.method == "sendPhoto"
            content |= {"photo": [stored | {"width": 1, "height": 1}]} if picture else {"document": stored}
        return self.message(sent.chat, sent.message_id, **content)

    def _edit_markup(self, params: Params, files: Files) -> dict[str, Any]:
        where = int(params["chat_id"]), int(params["message_id"])
        found = next((sent for sent in self.sent if (sent.chat, sent.message_id) == where), None)
        if found is None:
            raise bad("message to edit not found")
        markup = markup_of(params)
        if markup == found.markup:
            raise bad("message is not modified: specified new message content and reply markup are the same")
        found.markup = markup
        return self._as_message(found)

    def _acknowledge(self, params: Params, files: Files) -> bool:
        if params["callback_query_id"] in self.acknowledged:
            raise bad("query is too old and response timeout expired or query ID is invalid")
        self.acknowledged.append(params["callback_query_id"])
        return True

    def _get_file(self, params: Params, files: Files) -> dict[str, Any]:
        reference = params["file_id"]
        if reference not in self._files:
            raise bad("wrong file_id or the file is temporarily unavailable")
        return {"file_id": reference, "file_unique_id": f"u-{reference}", "file_path": reference,
                "file_size": len(self._files[reference])}  # fmt: skip

    def _delete_webhook(self, params: Params, files: Files) -> bool:
        self.webhook = False
        return True
