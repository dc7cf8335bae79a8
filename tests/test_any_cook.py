"""Cooks who do anything at all, on a network that does anything at all: what holds whatever happens."""

from __future__ import annotations

import random
from collections import Counter
from datetime import datetime, timedelta
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from scheduler.ports import Rejected, SendError, TryLater, Uncertain
from scheduler.records import Kind, Letter
from tests.journey_kit import Journey
from tests.journey_messages import Message
from tests.journey_plans import overnight
from tests.stores import rows

MINUTE, SECOND = timedelta(minutes=1), timedelta(seconds=1)
SAID = (
    "done", "started", "what's next", "30 min late", "later", "undo", "skip it", "quiet until tomorrow",
    "note: smells good", "timer 5 min eggs", "plan", "today", "why", "help", "yes", "no", "in 20 min", "ruined",
    "it was done at 7", "serve at 15:00", "hmm", "done with the beans", "leave out the loaf", "/start",
)  # fmt: skip


class AnyCook:
    """Presses and says whatever comes to mind, sooner or later, on a network that fails in every way."""

    def __init__(self, journey: Journey, seed: int) -> None:
        self.journey, self.dice = journey, random.Random(seed)
        self.down_until: datetime | None = None
        journey.messenger.listeners.append(self.hear)
        journey.messenger.trouble = self.network

    def hear(self, message: Message) -> None:
        if message.labels and self.dice.random() < 0.75:
            likely = self.dice.random() < 0.65
            button = message.letter.buttons[0] if likely else self.dice.choice(message.letter.buttons)
            self._later(data=button.data, reply_to=message.receipt)
        if self.dice.random() < 0.15:
            self._later(text=self.dice.choice(SAID))

    def _later(self, **payload: Any) -> None:
        wait = self.dice.choice([0, 1, 5, 20, 60]) * MINUTE
        self.journey.later(wait, lambda: self.journey.give(**payload))

    def network(self, address: str, letter: Letter) -> SendError | None:
        now, luck = self.journey.clock.now(), self.dice.random()
        if self.down_until is not None and now < self.down_until:
            return TryLater(5 * SECOND, "no network")
        if luck < 0.01:
            self.down_until = now + self.dice.choice([3, 60, 360]) * MINUTE
            return TryLater(5 * SECOND, "no network")
        if luck < 0.03:
            return Uncertain("timed out")
        if luck < 0.035:
            return Rejected("refused")
        return TryLater(30 * SECOND, "flood") if luck < 0.04 else None


def live(seed: int, folder: Path, caplog: pytest.LogCaptureFixture) -> None:
    """An evening, a night and a morning with such a cook, and what must hold of them."""
    path = folder / f"{seed}.sqlite3"
    with Journey.in_use(overnight(), "2026-03-21 12:00", "2026-03-21 20:00", path) as journey:
        AnyCook(journey, seed)
        journey.run_to("2026-03-23 12:00")
        heard, sent = journey.heard(), [letter for _, letter in journey.messenger.sent]
    where = f"seed {seed}"
    assert [each.getMessage() for each in caplog.records if each.exc_info] == [], where
    assert unmarked_repeats(sent) == [], where
    assert all(after.at - before.at >= SECOND for before, after in pairwise(heard)), where
    nudges = [message for message in heard if message.letter.kind is Kind.NUDGE]
    assert all(sixth.at - first.at > 2 * MINUTE for first, sixth in zip(nudges, nudges[5:], strict=False)), (
        where
    )
    assert rows(str(path), "SELECT count(*) FROM inbox WHERE state != 'done'") == [(0,)], where
    owed = "SELECT count(*) FROM outbox WHERE state IN ('sending', 'uncertain')"
    assert rows(str(path), owed) == [(0,)], where


def unmarked_repeats(sent: list[Letter]) -> list[str]:
    """The keys of letters sent again without saying so."""
    times: Counter[str] = Counter()
    found = []
    for letter in sent:
        times[letter.key] += 1
        if times[letter.key] > 1 and letter.text and not letter.text.startswith("(repeat) "):
            found.append(letter.key)
    return found


@pytest.mark.slow
def test_whatever_a_cook_does_nothing_breaks(tmp_path: Path, caplog: pytest.LogCaptureFixture) -> None:
    """One such night; the slow test lives through many."""
    live(1, tmp_path, caplog)


@pytest.mark.slow
def test_whatever_many_cooks_do_nothing_breaks(tmp_path: Path, caplog: pytest.LogCaptureFixture) -> None:
    """Thirty such nights."""
    for seed in range(100, 130):
        live(seed, tmp_path, caplog)
