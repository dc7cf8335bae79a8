"""The outbox of the fake store."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from datetime import UTC, datetime, timedelta

from scheduler.domain.stages import About
from scheduler.ports import Outbox
from scheduler.records import Kind, Letter, LetterState
from tests.fake_world import Part, own, utc

OWED = (LetterState.PENDING, LetterState.UNCERTAIN)
NEVER = datetime.min.replace(tzinfo=UTC)


def _instead_of(stored: Letter | None, letter: Letter) -> Letter:
    """What is kept when a letter is put where another one may be."""
    if stored is None:
        return letter
    again = replace(letter, state=LetterState.PENDING, claim=None, lease=None)
    if stored.state is LetterState.OBSOLETE:
        return replace(again, attempts=0)
    return replace(again, not_before=stored.not_before, attempts=stored.attempts)


class FakeOutbox(Part, Outbox):
    def put(self, letters: Sequence[Letter]) -> None:
        fresh = [own(letter) for letter in letters]
        for letter in fresh:
            _check_alone(letter)
        world = self.live()
        changed = dict(world.letters)
        known = {(row.chat, row.key): number for number, row in changed.items()}
        for letter in fresh:
            number = known.setdefault((letter.chat, letter.key), len(changed) + 1)
            stored = changed.get(number)
            if stored is None or stored.state in (LetterState.OBSOLETE, LetterState.PENDING):
                self._check_belongs(letter)
                changed[number] = replace(_instead_of(stored, letter), id=number)
        world.letters.update(changed)

    def _check_belongs(self, letter: Letter) -> None:
        world = self.live()
        if letter.chat not in world.chats or (letter.plan is not None and letter.plan not in world.plans):
            raise ValueError("a letter to no chat, or of no plan")

    def pending(self, plan: int) -> list[Letter]:
        found = self._letters(lambda row: row.plan == plan and row.state is LetterState.PENDING)
        return sorted(found, key=lambda row: (row.due, row.id))

    def obsolete(self, plan: int, keep: Sequence[str] = ()) -> int:
        given_up = [row for row in self.pending(plan) if row.kind is Kind.NUDGE and row.key not in set(keep)]
        for row in given_up:
            self.live().letters[row.id or 0] = replace(row, state=LetterState.OBSOLETE)
        return len(given_up)

    def due(self, now: datetime) -> list[Letter]:
        at = utc(now)
        ready = self._letters(lambda row: row.state in OWED and _ready(row) <= at)
        lapsed = [
            replace(row, state=LetterState.UNCERTAIN, claim=None, lease=None)
            for row in self._letters(lambda row: _lapsed(row, at))
        ]
        return sorted(ready + lapsed, key=lambda row: (row.priority, row.due, row.id))

    def next_due(self, after: datetime) -> datetime | None:
        moments = [_ready(row) for row in self._letters(lambda row: row.state in OWED)]
        sending = self._letters(lambda row: row.state is LetterState.SENDING)
        moments += [row.lease for row in sending if row.lease is not None]
        return min((moment for moment in moments if moment > utc(after)), default=None)

    def claim(self, letter: int, token: str, now: datetime, lease: timedelta) -> Letter | None:
        at = utc(now)
        if not token or lease <= timedelta(0):
            raise ValueError("a claim needs a token and a lease")
        row = self.live().letters.get(letter)
        if row is None or not (row.state in OWED or _lapsed(row, at)):
            return None
        taken = replace(
            row, state=LetterState.SENDING, attempts=row.attempts + 1, claim=token, lease=at + lease
        )
        self.live().letters[letter] = taken
        return own(taken)

    def finish(self, letter: Letter) -> bool:
        came_out = own(letter)
        _check_alone(letter)
        row = self.live().letters.get(letter.id or 0)
        if row is None or row.state is not LetterState.SENDING or row.claim != letter.claim:
            return False
        names = ("state", "sent", "receipt", "error", "not_before", "attempts", "text", "buttons")
        outcome = {name: getattr(came_out, name) for name in names}
        self.live().letters[row.id or 0] = replace(row, **outcome, claim=None, lease=None)
        return True

    def sent_since(self, since: datetime, chat: int | None = None) -> list[datetime]:
        at = utc(since)
        found = [row.sent for row in self._letters(lambda row: chat in (None, row.chat))]
        return sorted(sent for sent in found if sent is not None and sent >= at)

    def by_receipt(self, chat: int, receipt: str) -> Letter | None:
        found = self._letters(lambda row: (row.chat, row.receipt) == (chat, receipt))
        return next((row for row in found[::-1] if row.kind is not Kind.UNBUTTON), None)

    def latest_nudge(self, chat: int) -> Letter | None:
        found = self._letters(lambda row: row.chat == chat and row.kind is Kind.NUDGE and _sent(row))
        return next((row for row in _by_sent(found)[::-1] if row.step is not None), None)

    def with_buttons(self, plan: int, step: int) -> list[Letter]:
        found = self._letters(lambda row: (row.plan, row.step) == (plan, step) and _sent(row))
        return [row for row in _by_sent(found) if row.buttons]

    def timers(self, chat: int) -> list[Letter]:
        found = self._letters(lambda row: row.chat == chat and row.kind is Kind.NUDGE)
        timers = [row for row in found if row.about is About.TIMER and row.state is LetterState.PENDING]
        return sorted(timers, key=lambda row: (row.due, row.id))

    def withdraw(self, letter: Letter) -> bool:
        row = self.live().letters.get(letter.id or 0)
        if row is None or row.state is not LetterState.PENDING:
            return False
        self.live().letters[row.id or 0] = replace(row, state=LetterState.OBSOLETE)
        return True

    def forget_buttons(self, chat: int, receipt: str) -> None:
        for row in self._letters(lambda row: (row.chat, row.receipt) == (chat, receipt)):
            self.live().letters[row.id or 0] = replace(row, buttons=())

    def history(self, chat: int, since: datetime) -> list[Letter]:
        at = utc(since)
        found = self._letters(lambda row: row.chat == chat and _sent(row))
        return [row for row in _by_sent(found) if row.sent is not None and row.sent >= at]

    def _letters(self, wanted: Callable[[Letter], bool]) -> list[Letter]:
        return [own(row) for row in self.live().letters.values() if wanted(row)]


def _check_alone(letter: Letter) -> None:
    if letter.state is LetterState.SENDING:
        raise ValueError("only a claim makes a letter `sending`")
    if any(len(button.data.encode()) > 64 for button in letter.buttons):
        raise ValueError("a button carries more than 64 bytes")


def _ready(row: Letter) -> datetime:
    return max(row.due, row.not_before or row.due)


def _lapsed(row: Letter, at: datetime) -> bool:
    return row.state is LetterState.SENDING and row.lease is not None and row.lease <= at


def _sent(row: Letter) -> bool:
    return row.state is LetterState.SENT


def _by_sent(rows: Iterable[Letter]) -> list[Letter]:
    """In the order they were sent; one without a time first, as in SQL."""
    return sorted(rows, key=lambda row: (row.sent or NEVER, row.id))
