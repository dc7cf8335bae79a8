"""What a cook was sent on a journey, and the messenger that keeps it, with whatever is wrong with it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta

from scheduler.domain.hours import local
from scheduler.ports import SendError, TryLater, Unauthorised
from scheduler.records import Button, Kind, Letter
from tests.fakes import FakeClock, FakeMessenger
from tests.plans_for_tests import PARIS

SECOND = timedelta(seconds=1)

Trouble = Callable[[str, Letter], SendError | None]
"""What is wrong with the transport just now: an error to raise for a letter to an address, or None."""


@dataclass(frozen=True, slots=True)
class Message:
    """Something the cook was sent: when, and what it said."""

    at: datetime
    address: str
    letter: Letter
    receipt: str

    @property
    def text(self) -> str:
        return self.letter.text

    @property
    def heading(self) -> str:
        return self.letter.text.splitlines()[0]

    @property
    def labels(self) -> list[str]:
        return [button.label for button in self.letter.buttons]

    @property
    def clock(self) -> str:
        """ "Sat 28 20:00" on the clock in Paris."""
        return local(self.at, PARIS).strftime("%a %d %H:%M")

    @property
    def nudge(self) -> str:
        """ "start/now", "" for what is no nudge."""
        letter = self.letter
        return "" if letter.about is None else f"{letter.about}/{letter.stage}"

    def __str__(self) -> str:
        return f"{self.clock} {self.nudge or self.letter.kind}: {self.heading}"


class Recorder(FakeMessenger):
    """Keeps every message with its time. `trouble` decides what does not go through.

    While `unreachable`, documents cannot be fetched; while `refused`, our token is not accepted.
    """

    def __init__(self, clock: FakeClock) -> None:
        super().__init__()
        self.clock = clock
        self.messages: list[Message] = []
        self.trouble: Trouble = lambda address, letter: None
        self.unreachable = self.refused = False
        self.listeners: list[Callable[[Message], None]] = []

    def send(self, address: str, letter: Letter) -> str:
        error = self.trouble(address, letter)
        if error is not None:
            raise error
        receipt = super().send(address, letter)
        if letter.kind is not Kind.UNBUTTON:
            message = Message(self.clock.now(), address, self.sent[-1][1], receipt)
            self.messages.append(message)
            for listener in self.listeners:
                listener(message)
        return receipt

    def fetch(self, reference: str) -> bytes:
        if self.unreachable:
            raise TryLater(SECOND, "no network")
        return super().fetch(reference)

    def acknowledge(self, press: str) -> None:
        if self.refused:
            raise Unauthorised("unauthorized")
        super().acknowledge(press)


def paris(moment: datetime) -> str:
    """ "Sat 28 20:00" on the clock in Paris."""
    return local(moment, PARIS).strftime("%a %d %H:%M")


def button_of(message: Message, label: str) -> Button:
    return next(each for each in message.letter.buttons if each.label.startswith(label))


def said(messages: list[Message], nudge: str = "") -> list[str]:
    """ "Sat 28 20:00 Soak the beans" for each message, or for each of one kind of nudge."""
    return [f"{each.clock} {each.heading}" for each in messages if not nudge or each.nudge == nudge]
