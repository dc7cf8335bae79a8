"""The process dies at any point and is started again: nothing owed is lost, no reply counts twice.

A short meal is lived through with a cook who answers everything once. The process dies at one point of it,
before or after a commit, before or after a message was accepted; a fresh process goes on with what is stored.
"""

from __future__ import annotations

import sqlite3
from collections import Counter
from contextlib import closing
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path
from types import TracebackType
from typing import Self

import pytest

from scheduler.domain.stages import About
from scheduler.ports import SendError, Store, UnitOfWork
from scheduler.records import Kind, Letter
from tests.journey_kit import ADA, Journey
from tests.journey_messages import Message

LUNCH = """\
crockbell: 1
title: Chickpea lunch
serve: 2026-03-20 14:00
zone: Europe/Paris
kitchen: {awake: 07:00-22:30, gear: {burner: 1}}
components:
  - name: Chickpeas
    steps:
      - name: Soak the chickpeas
        unattended: 2 h to 3 h
      - name: Drain the chickpeas
        hands-on: 5 min
      - name: Simmer the chickpeas
        nearby: 1 h
        gear: [burner]
        tend: {name: Stir the chickpeas, every: 25 min, hands-on: 1 min}
        keeps: 1 h
  - name: Table
    steps:
      - name: Dress the chickpeas
        after: Chickpeas
        hands-on: 10 min
        keeps: 5 min
"""
BEGIN, END = "2026-03-20 08:00", "2026-03-20 21:00"
MINUTE = timedelta(minutes=1)
Thing = tuple[About | None, int | None, int]
USE = "Use this plan"
ANSWERS = (USE, "Done", "Started")


class Crash(BaseException):
    """The process dies here."""


@dataclass
class Fate:
    """Where the process dies: at the commit or send of that number, before it or right after; only once."""

    commit: int = 0
    send: int = 0
    after: bool = False
    commits: int = 0
    sends: int = 0

    def committing(self) -> bool:
        self.commits += 1
        return self.commits == self.commit

    def sending(self) -> bool:
        self.sends += 1
        return self.sends == self.send


class MortalUnit(UnitOfWork):
    """A unit of work whose commit may be the last thing the process does."""

    def __init__(self, unit: UnitOfWork, fate: Fate) -> None:
        self.unit, self.fate = unit, fate
        self.chats, self.plans, self.marks = unit.chats, unit.plans, unit.marks
        self.outbox, self.inbox = unit.outbox, unit.inbox

    def __enter__(self) -> Self:
        self.unit.__enter__()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.unit.__exit__(kind, error, trace)

    def commit(self) -> None:
        dies = self.fate.committing()
        if dies and not self.fate.after:
            raise Crash
        self.unit.commit()
        if dies:
            raise Crash


class MortalStore(Store):
    def __init__(self, store: Store, fate: Fate) -> None:
        self.store, self.fate = store, fate

    def __call__(self) -> UnitOfWork:
        return MortalUnit(self.store(), self.fate)


class Mortal(Journey):
    """A kitchen whose process dies once, and a cook who does everything once when first asked."""

    def __init__(self, path: Path, fate: Fate) -> None:
        self.fate = fate
        super().__init__(BEGIN, path)
        self.messenger.trouble = self._before_sending
        self.messenger.listeners = [self._answer, self._after_sending]
        self.answered: set[Thing] = set()
        self.deaths = 0

    def used(self, store: Store) -> Store:
        return MortalStore(store, self.fate)

    def live(self) -> None:
        self.settle()
        self.messenger.documents["lunch"] = LUNCH.encode()
        self.later(MINUTE, lambda: self.deliver(1, document=["plan.yaml", "lunch"]))
        while True:
            try:
                self.run_to(END)
                return
            except Crash:
                self.deaths += 1
                self.restart()

    def deliver(self, update: int, **payload: object) -> None:
        """An update comes in through the store of the process, which may die of it."""
        store, self.store = self.store, self.used(self.store)
        try:
            self.give(ADA, update, **payload)
        finally:
            self.store = store

    # ------------------------------------------------------------ the cook, and dying while sending

    def _before_sending(self, address: str, letter: Letter) -> SendError | None:
        if not self.fate.after and self.fate.sending():
            raise Crash
        return None

    def _after_sending(self, message: Message) -> None:
        if self.fate.after and self.fate.sending():
            raise Crash

    def _answer(self, message: Message) -> None:
        thing = thing_of(message)
        label = next((each for each in ANSWERS if each in message.labels), None)
        if label is None or thing in self.answered or (message.letter.kind is Kind.ANSWER and label != USE):
            return
        self.answered.add(thing)
        update, data = next(self.numbers) + 1000, message.letter.buttons[message.labels.index(label)].data
        working = label == "Done" and message.letter.about is About.START
        self.later(
            5 * MINUTE if working else MINUTE,
            lambda: self.deliver(update, data=data, reply_to=message.receipt),
        )


def thing_of(message: Message) -> Thing:
    """What a message is about: one beginning, end or touch, however often and urgently it is said."""
    letter = message.letter
    return letter.about, letter.step, letter.occurrence if letter.about is About.TEND else 0


@dataclass(frozen=True)
class Life:
    """What came of it: what was heard of, what was sent how often, what was marked, and how it ended."""

    heard: frozenset[Thing]
    unmarked_repeats: tuple[str, ...]
    marks: Counter[tuple[str, int | None, int | None]]
    status: str
    left: tuple[int, int]
    deaths: int
    fate: Fate


def lived(folder: Path, fate: Fate) -> Life:
    path = folder / f"{fate.commit}-{fate.send}-{fate.after}.sqlite3"
    with Mortal(path, fate) as kitchen:
        kitchen.live()
        times: Counter[str] = Counter()
        unmarked = []
        for _, letter in kitchen.messenger.sent:
            times[letter.key] += 1
            if times[letter.key] > 1 and letter.text and not letter.text.startswith("(repeat) "):
                unmarked.append(letter.key)
        return Life(
            frozenset(thing_of(each) for each in kitchen.heard() if each.letter.kind is Kind.NUDGE),
            tuple(unmarked),
            Counter((mark.kind.value, mark.step, mark.occurrence) for mark in kitchen.marks()),
            kitchen.plan().status.value,
            left_over(path),
            kitchen.deaths,
            fate,
        )


def left_over(path: Path) -> tuple[int, int]:
    """How many updates and letters are neither done nor given up."""
    with closing(sqlite3.connect(str(path))) as connection:
        ((updates,),) = connection.execute("SELECT count(*) FROM inbox WHERE state = 'new'")
        owed = "SELECT count(*) FROM outbox WHERE state IN ('pending', 'sending', 'uncertain')"
        ((letters,),) = connection.execute(owed)
    return updates, letters


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Life:
    """The meal without a crash, which the others are measured by."""
    return lived(tmp_path_factory.mktemp("whole"), Fate())


def assert_nothing_lost(life: Life, whole: Life) -> None:
    where = f"died at {life.fate}"
    assert life.deaths == 1, where
    assert life.marks == whole.marks, where
    assert whole.heard <= life.heard, where
    assert life.unmarked_repeats == (), where
    assert (life.status, life.left) == ("finished", (0, 0)), where


def test_the_meal_without_a_crash(whole: Life) -> None:
    """Every step is begun once, every stir asked for, nothing is said twice, and the plan is over."""
    assert whole.deaths == 0 and whole.status == "finished" and whole.left == (0, 0)
    soak, drain, simmer, dress = range(4)
    begun, stirred = (
        ["started", "done", "started", "done", "done"],
        [("done", simmer, 1), ("done", simmer, 2)],
    )
    steps = zip(begun, [soak, drain, simmer, simmer, dress], strict=True)
    assert whole.marks == Counter([*((kind, step, None) for kind, step in steps), *stirred])
    assert {about for about, _, _ in whole.heard} >= {About.START, About.TEND}
    assert whole.unmarked_repeats == ()
    assert whole.fate.commits > 40 and whole.fate.sends > 15


@pytest.mark.parametrize("after", [False, True])
def test_dying_at_a_commit_loses_and_doubles_nothing(whole: Life, after: bool, tmp_path: Path) -> None:
    """Some of the points at which the process may die; the slow test goes through them all."""
    for commit in range(1 + after, whole.fate.commits + 1, 17):
        assert_nothing_lost(lived(tmp_path, Fate(commit=commit, after=after)), whole)


@pytest.mark.parametrize("after", [False, True])
def test_dying_while_sending_loses_and_doubles_nothing(whole: Life, after: bool, tmp_path: Path) -> None:
    """Before or after the message was accepted; what arrives twice says that it is a repeat."""
    for send in range(2 + after, whole.fate.sends + 1 - 8 * after, 9):
        assert_nothing_lost(lived(tmp_path, Fate(send=send, after=after)), whole)


@pytest.mark.slow
@pytest.mark.parametrize("after", [False, True])
def test_dying_anywhere_at_all_loses_and_doubles_nothing(whole: Life, after: bool, tmp_path: Path) -> None:
    """Every commit and every send of the whole meal, one death each."""
    for commit in range(1, whole.fate.commits + 1):
        assert_nothing_lost(lived(tmp_path, Fate(commit=commit, after=after)), whole)
    for send in range(1, whole.fate.sends + 1):
        life = lived(tmp_path, Fate(send=send, after=after))
        if life.deaths:
            assert_nothing_lost(life, whole)
