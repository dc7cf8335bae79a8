"""The stand-ins keep the promises of the ports they stand in for."""

from __future__ import annotations

from datetime import timedelta

import pytest

from scheduler.ports import Rejected, TryLater, Uncertain
from scheduler.records import Incoming
from tests.fakes import FakeClock, FakeMessenger
from tests.stores import HOUR, MINUTE, NOW, a_letter


def test_the_clock_goes_forward_only() -> None:
    """It tells the time it was moved to, and refuses an earlier or a naive one."""
    clock = FakeClock(NOW)
    assert clock.advance(MINUTE) == clock.now() == NOW + MINUTE
    assert clock.move_to(NOW + HOUR) == clock.now() == NOW + HOUR
    for wrong in (NOW, (NOW + 2 * HOUR).replace(tzinfo=None)):
        with pytest.raises(ValueError):
            clock.move_to(wrong)
    assert clock.now() == NOW + HOUR


def test_the_messenger_fails_as_scripted_then_delivers() -> None:
    """Outcomes are used up in order; what is kept is the letter as it was when it was sent."""
    messenger = FakeMessenger(TryLater(timedelta(seconds=3), "slow down"), None)
    messenger.script([Uncertain("timed out")])
    letter = a_letter(1, "k", text="first")
    with pytest.raises(TryLater):
        messenger.send("terminal:here", letter)
    assert messenger.send("terminal:here", letter) == "r1"
    letter.text = "second"
    with pytest.raises(Uncertain):
        messenger.send("terminal:here", letter)
    assert messenger.send("terminal:there", letter) == "r2"
    assert [(address, sent.text) for address, sent in messenger.sent] == [
        ("terminal:here", "first"),
        ("terminal:there", "second"),
    ]
    assert len(messenger.tried) == 4


def test_the_messenger_reads_and_fetches() -> None:
    """A payload of Incoming's fields is read, anything else refused; unknown documents are rejected."""
    messenger = FakeMessenger(documents={"ref": b"crockbell: 1\n"})
    payload = {"address": "terminal:here", "text": "", "document": ["plan.yaml", "ref"]}
    read = messenger.read(payload, NOW)
    assert read == Incoming("terminal:here", NOW, document=("plan.yaml", "ref"))
    assert messenger.fetch("ref") == b"crockbell: 1\n"
    with pytest.raises(Rejected):
        messenger.fetch("lost")
    with pytest.raises(ValueError):
        messenger.read({"address": "terminal:here", "mood": "good"}, NOW)
