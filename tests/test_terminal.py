"""The terminal as a transport: what is typed, what is shown, what may not steer it."""

from __future__ import annotations

import io
import os
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.terminal import ADDRESS, TerminalMessenger, block, plan_file, printable
from bot.typing_in import Keyboard, Written, messages
from scheduler.planfile.source import LARGEST_FILE
from scheduler.ports import Rejected
from scheduler.records import Button, Kind, Letter
from tests.talk_kit import SUPPER, on

NOW = on(5, "20:00")
YES_NO = (Button("Yes", "use:1"), Button("No", "drop:1"))


def messenger(tmp_path: Path) -> tuple[TerminalMessenger, io.StringIO]:
    out = io.StringIO()
    return TerminalMessenger(out, tmp_path), out


def answer(text: str, *buttons: Button, number: int = 1) -> Letter:
    return Letter(1, Kind.ANSWER, NOW, f"a{number}", id=number, text=text, buttons=buttons)


# ---------------------------------------------------------------- what is shown


def test_a_message_is_shown_with_numbered_buttons(tmp_path: Path) -> None:
    """Heading, body, and the numbers that press."""
    terminal, out = messenger(tmp_path)
    terminal.send(ADDRESS, answer("Use it?\nIt fits.", *YES_NO))
    assert out.getvalue() == "\n  Use it?\n  It fits.\n  [1] Yes  [2] No\n"


def test_what_a_message_counts_is_pressed_by_its_own_number(tmp_path: Path) -> None:
    """What stands beside the choices has the numbers after theirs; one without a button is said as words."""
    terminal, out = messenger(tmp_path)
    buttons = (Button("Up earlier", "way:1:0:1:::1"), Button("More ways", "ways:1"), Button("No", "drop:1"))
    terminal.send(
        ADDRESS, answer("Any of these:\n1. Get up earlier\n2. Serve at 9\n3. Serve at 10", *buttons)
    )
    assert out.getvalue().endswith("\n  [1] Up earlier  [4] More ways  [5] No\n")
    assert terminal.payload("2") == {"address": ADDRESS, "text": "2"}
    assert terminal.payload("4")["data"] == "ways:1"
    rest = (Button("Serve 9", "serve:1:::9"), Button("Serve 10", "serve:1:::10"), Button("No", "drop:1"))
    terminal.send(ADDRESS, answer("More ways:\n2. Serve at 9\n3. Serve at 10", *rest, number=2))
    assert [terminal.payload(said).get("data") for said in "1234"] == [None, *(b.data for b in rest)]


@given(st.text())
def test_no_text_can_steer_the_terminal(text: str) -> None:
    """Escapes, bells, backspaces, marks of direction: shown as replacement characters, only lines break."""
    shown = printable(text)
    assert all(c == "\n" or c.isprintable() or c.isspace() for c in shown)
    assert not {"\x1b", "\x07", "\x08", "\x9b", "\r", "\u202e", "\u2066"} & set(shown)


def test_no_button_can_steer_the_terminal() -> None:
    """A component's name ends up on buttons too."""
    assert "\x1b" not in block("x", (Button("Leave out \x1b[2J", "leave:1"),))


def test_a_file_is_saved_beside_the_database_and_nowhere_else(tmp_path: Path) -> None:
    """Whatever path its name pretends to have."""
    terminal, out = messenger(tmp_path)
    letter = Letter(1, Kind.FILE, NOW, "f", id=3, text="Your plan", file=b"x", file_name="../../plan.ics")
    terminal.send(ADDRESS, letter)
    assert (
        tmp_path / "plan.ics"
    ).read_bytes() == b"x" and f"(saved as {tmp_path}/plan.ics)" in out.getvalue()


def test_a_file_that_cannot_be_saved_is_rejected(tmp_path: Path) -> None:
    """The dispatcher then tells it more plainly."""
    terminal, _ = messenger(tmp_path / "missing")
    with pytest.raises(Rejected, match="missing"):
        terminal.send(ADDRESS, Letter(1, Kind.FILE, NOW, "f", id=3, file=b"x", file_name="x"))


# ---------------------------------------------------------------- numbers press buttons


def test_a_number_presses_the_last_message_with_buttons(tmp_path: Path) -> None:
    """Messages without buttons in between do not matter; numbers beyond the buttons are words."""
    terminal, _ = messenger(tmp_path)
    assert terminal.payload("1") == {"address": ADDRESS, "text": "1"}
    receipt = terminal.send(ADDRESS, answer("Use it?", *YES_NO, number=7))
    terminal.send(ADDRESS, answer("By the way.", number=8))
    assert terminal.payload(" 2 ") == {"address": ADDRESS, "data": "drop:1", "reply_to": receipt}
    assert [terminal.payload(said).get("text") for said in ("3", "0", "10", "-1", "²", "1 h")] == [
        "3", "0", "10", "-1", "²", "1 h",
    ]  # fmt: skip


def test_buttons_taken_off_are_not_pressed(tmp_path: Path) -> None:
    """Those of another message stay."""
    terminal, out = messenger(tmp_path)
    terminal.send(ADDRESS, answer("Use it?", *YES_NO, number=7))
    shown = out.getvalue()
    terminal.send(ADDRESS, Letter(1, Kind.UNBUTTON, NOW, "u", id=9, receipt="6"))
    assert terminal.payload("1").get("data") == "use:1"
    terminal.send(ADDRESS, Letter(1, Kind.UNBUTTON, NOW, "u", id=10, receipt="7"))
    assert terminal.payload("1").get("text") == "1" and out.getvalue() == shown


# ---------------------------------------------------------------- paths send files


@pytest.mark.parametrize("ending", [".yaml", ".yml", ".txt", ".YAML"])
@pytest.mark.parametrize("quote", ["", "'", '"'])
def test_a_path_sends_the_file(tmp_path: Path, ending: str, quote: str) -> None:
    """As it is typed, or as a terminal puts it when a file is dropped on it."""
    path = tmp_path / f"my plan{ending}"
    path.write_text(SUPPER)
    terminal, _ = messenger(tmp_path)
    payload = terminal.payload(f"{quote}{path}{quote} ")
    incoming = terminal.read(payload, NOW)
    assert incoming.document is not None and incoming.document[0] == path.name
    assert terminal.fetch(incoming.document[1]).decode() == SUPPER


def test_a_path_in_the_home_directory(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The shell's short form works here too."""
    monkeypatch.setenv("HOME", str(tmp_path))
    (tmp_path / "plan.yaml").write_text("x")
    assert plan_file("~/plan.yaml") == tmp_path / "plan.yaml"


@pytest.mark.parametrize(
    "said",
    [
        "plan.yaml",
        "/etc/passwd",
        "done.txt\nx.yaml",
        "\0.yaml",
        "~nobody-of-that-name/x.yaml",
        "." * 5000 + ".yml",
    ],
)
def test_what_is_no_plan_file_is_words(said: str) -> None:
    """A file that is not there, or is of no kind for plans."""
    assert plan_file(said) is None


def test_a_file_too_large_is_read_no_further_than_shows_it(tmp_path: Path) -> None:
    """One byte over the limit says that it is."""
    path = tmp_path / "big.yaml"
    path.write_bytes(b"#" * (LARGEST_FILE + 1000))
    terminal, _ = messenger(tmp_path)
    assert len(terminal.fetch(str(path))) == LARGEST_FILE + 1
    with pytest.raises(Rejected):
        terminal.fetch(str(tmp_path / "gone.yaml"))


def test_a_payload_reads_back_or_is_refused(tmp_path: Path) -> None:
    """What was stored as an update reads to the same; one without an address cannot be read."""
    terminal, _ = messenger(tmp_path)
    incoming = terminal.read(terminal.payload("done"), NOW)
    assert (incoming.address, incoming.text, incoming.at, incoming.data) == (ADDRESS, "done", NOW, None)
    with pytest.raises(ValueError, match="address"):
        terminal.read({"text": "done"}, datetime(2026, 1, 1))


# ---------------------------------------------------------------- what is typed

TYPED = f"hi\n{SUPPER}done\n\nwhat's next\n"


def test_lines_are_messages_and_a_pasted_plan_is_one() -> None:
    """The plan ends where words begin that no plan could have."""
    found = list(messages(Written(io.StringIO(TYPED))))
    assert found == ["hi", SUPPER.rstrip("\n"), "done", "", "what's next"]


@pytest.mark.parametrize("opening", ["# remarks\n\n", "---\n", "\ufeff", ""])
def test_a_plan_that_begins_otherwise_is_one_message_too(opening: str) -> None:
    """With a remark, a document mark, a byte order mark; nothing of it is lost at the end of the input."""
    (found,) = messages(Written(io.StringIO(opening + SUPPER)))
    assert found == (opening + SUPPER).rstrip("\n")


@pytest.fixture
def pipe() -> Iterator[tuple[int, int]]:
    """The two ends of a pipe, closed when they are done with."""
    reading, writing = os.pipe()
    yield reading, writing
    for end in (reading, writing):
        try:
            os.close(end)
        except OSError as error:
            assert error.errno == 9  # closed by the test


def test_a_keyboard_gives_whole_lines_however_they_arrive(pipe: tuple[int, int]) -> None:
    """In pieces, in the middle of a character, several at once, the last without its end."""
    reading, writing = pipe
    text = "héllo\r\n" + SUPPER + "bye"
    raw = text.encode()
    os.write(writing, raw[:2])
    os.write(writing, raw[2:])
    os.close(writing)
    assert list(messages(Keyboard(reading))) == ["héllo", SUPPER.rstrip("\n"), "bye"]


def test_a_keyboard_that_falls_silent_ends_the_paste(pipe: tuple[int, int]) -> None:
    """A cook who pastes and waits is not kept waiting for the next line."""
    reading, writing = pipe
    os.write(writing, SUPPER.encode())
    assert next(messages(Keyboard(reading))) == SUPPER.rstrip("\n")


def test_bytes_that_are_no_text_do_no_harm(pipe: tuple[int, int]) -> None:
    """They are shown as what they are not."""
    reading, writing = pipe
    os.write(writing, b"\xff\xfe done\n")
    os.close(writing)
    assert list(messages(Keyboard(reading))) == ["\ufffd\ufffd done"]
