"""The HTTP side of the loopback Bot API server: requests read, faults acted out, answers written."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from email import message_from_bytes
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from threading import Event, Thread
from typing import Any
from urllib.parse import parse_qsl, unquote, urlsplit

from tests.botapi_rules import RefusedError, bad

Params = dict[str, str]
Files = dict[str, tuple[str, bytes]]


@dataclass(frozen=True, slots=True)
class Fault:
    """One call that goes wrong.

    `accept`: the call is carried out all the same. `status` None: no answer comes; then `hang` keeps the
    connection open, and without it the connection is dropped.
    """

    status: int | None = None
    body: bytes = b""
    accept: bool = False
    hang: bool = False


def refusal(error: RefusedError) -> Fault:
    return Fault(error.status, error.body())


def flood(seconds: int) -> Fault:
    """Too many messages: come back after so many seconds."""
    words = f"Too Many Requests: retry after {seconds}"
    return refusal(RefusedError(429, words, retry_after=seconds))


def refused(description: str) -> Fault:
    """400: this request is wrong."""
    return refusal(bad(description))


def forbidden(description: str = "bot was blocked by the user") -> Fault:
    """403: this chat is closed to the bot."""
    return refusal(RefusedError(403, f"Forbidden: {description}"))


def migrated(chat: int) -> Fault:
    """400: the group has become the supergroup `chat`."""
    return refusal(bad("group chat was upgraded to a supergroup chat", migrate_to_chat_id=chat))


def unauthorised() -> Fault:
    """401: the token is not (or no longer) good."""
    return refusal(RefusedError(401, "Unauthorized"))


def status(code: int, body: bytes = b"<html><body>nothing to see</body></html>") -> Fault:
    """That HTTP status, with a page instead of JSON."""
    return Fault(code, body)


def garbage(body: bytes = b'{"ok": tru', accept: bool = False) -> Fault:
    """200, and a body that is not what it should be."""
    return Fault(200, body, accept)


def swallowed() -> Fault:
    """Carried out, and the answer never comes."""
    return Fault(accept=True, hang=True)


def silent() -> Fault:
    """Not carried out, and no answer comes either."""
    return Fault(hang=True)


def dropped() -> Fault:
    """The connection is closed without an answer, and nothing was carried out."""
    return Fault()


class Wire:
    """A real HTTP server on 127.0.0.1, in a thread of its own."""

    def __init__(self, answer: Callable[[str, Params, Files], Fault]) -> None:
        self.answer = answer
        self.closing = Event()
        self._server = _Server(("127.0.0.1", 0), _Handler)
        self._server.wire = self
        self.root = f"http://127.0.0.1:{self._server.server_port}"
        self._thread = Thread(target=self._server.serve_forever, args=(0.01,), name="bot api", daemon=True)
        self._thread.start()

    def close(self) -> None:
        self.closing.set()
        self._server.shutdown()
        self._server.server_close()
        self._thread.join()


class _Server(ThreadingHTTPServer):
    daemon_threads = True
    block_on_close = False
    wire: Wire

    def handle_error(self, request: Any, client_address: Any) -> None:
        """A client that hangs up while it is answered is part of what is tested."""


class _Handler(BaseHTTPRequestHandler):
    protocol_version = "HTTP/1.1"
    wbufsize = 65536
    disable_nagle_algorithm = True
    server: _Server

    def do_GET(self) -> None:  # the name http.server calls
        self._serve()

    def do_POST(self) -> None:
        self._serve()

    def _serve(self) -> None:
        address = urlsplit(self.path)
        params: Params = dict(parse_qsl(address.query, keep_blank_values=True))
        files: Files = {}
        self._read_body(params, files)
        fault = self.server.wire.answer(unquote(address.path), params, files)
        if fault.status is None:
            if fault.hang:
                self.server.wire.closing.wait()
            self.close_connection = True
            return
        self.send_response(fault.status)
        self.send_header("Content-Length", str(len(fault.body)))
        self.end_headers()
        self.wfile.write(fault.body)

    def _read_body(self, params: Params, files: Files) -> None:
        body = self.rfile.read(int(self.headers.get("Content-Length") or 0))
        kind = self.headers.get("Content-Type", "")
        if kind.startswith("multipart/form-data"):
            whole = message_from_bytes(b"Content-Type: " + kind.encode() + b"\r\n\r\n" + body)
            for part in whole.walk():
                name = part.get_param("name", header="content-disposition")
                content = part.get_payload(decode=True)
                if not isinstance(name, str) or not isinstance(content, bytes):
                    continue
                if (file_name := part.get_filename()) is not None:
                    files[name] = (file_name, content)
                else:
                    params[name] = content.decode()
        elif kind.startswith("application/json"):
            params.update({key: str(value) for key, value in json.loads(body).items()})
        else:
            params.update(parse_qsl(body.decode(), keep_blank_values=True))

    def log_message(self, format: str, *args: Any) -> None:
        """Tests read the calls, not a log."""
