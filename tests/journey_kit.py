"""The whole machine on a clock that tests move: real services, real storage, a cook who talks and listens.

with Journey("2026-03-15 12:00") as journey:
    journey.settle()
    journey.use(sunday())
    journey.run_to("2026-03-16 07:15")
    journey.press("Done")
"""

from __future__ import annotations

import heapq
import sqlite3
from collections.abc import Callable
from contextlib import closing
from datetime import datetime, timedelta
from itertools import count
from pathlib import Path
from typing import Any, Self

from bot.main import make_worker
from scheduler.domain.progress import Mark
from scheduler.planners import Here
from scheduler.ports import Store
from scheduler.records import Button, Chat, ChatStage, PlanRow, Received
from scheduler.service.view import View, view_of
from scheduler.worker import Worker
from storage.engine import open_store
from tests.fakes import FakeClock
from tests.journey_messages import SECOND, Message, Recorder, button_of, paris
from tests.plans_for_tests import PARIS, at

ADA = "kitchen:ada"
SOURCE = "kitchen"


class Journey:
    """A kitchen with Crockbell in it. `path` is where the database is kept, None for one in memory.

    The messenger's `listeners` are called with each message as it arrives, and may set off for `later` what
    a cook does then.
    """

    def __init__(self, now: str | datetime, path: Path | None = None) -> None:
        self.clock = FakeClock(at(now) if isinstance(now, str) else now)
        self.path = path
        self.messenger = Recorder(self.clock)
        self.due: datetime | None = None
        self.numbers = count(1)
        self._later: list[tuple[datetime, int, Callable[[], object]]] = []
        self._store = open_store(None if path is None else str(path))
        self._start()

    def _start(self) -> None:
        """A fresh worker, as when the process starts."""
        self.store: Store = self._store
        self.worker: Worker = make_worker(self.used(self._store), self.messenger, self.clock, Here())

    def used(self, store: Store) -> Store:
        """The store as the worker gets to see it."""
        return store

    def restart(self) -> None:
        """Stop and start again: nothing but the database is left."""
        if self.path is not None:
            self._store.close()
            self._store = open_store(str(self.path))
        self._start()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self._store.close()

    # ------------------------------------------------------------ what the cook does

    def settle(self, address: str = ADA, group: bool = False, zone: str = PARIS) -> int:
        """A chat past its first words; its id."""
        with self.store() as uow:
            chat = Chat(address, stage=ChatStage.READY, zone=zone, awake="07:00-22:30", group=group)
            saved = uow.chats.save(chat)
            uow.commit()
        return saved.id or 0

    def give(self, address: str = ADA, update: int | None = None, **payload: Any) -> None:
        """An update arrives, and is only stored."""
        number = next(self.numbers) if update is None else update
        row = Received(SOURCE, number, {"address": address, "sender": "Ada", **payload}, self.clock.now())
        with self.store() as uow:
            uow.inbox.take([row])
            uow.commit()

    def say(self, text: str, address: str = ADA, reply_to: str | None = None) -> list[Message]:
        """The cook writes; what they hear at once."""
        return self._hear(lambda: self.give(address, text=text, reply_to=reply_to))

    def send_plan(self, source: str, address: str = ADA) -> list[Message]:
        """The cook sends a plan file; what they hear at once."""
        reference = f"file-{len(self.messenger.documents)}"
        self.messenger.documents[reference] = source.encode()
        return self._hear(lambda: self.give(address, document=["plan.yaml", reference]))

    @classmethod
    def in_use(cls, source: str, since: str, now: str, path: Path | None = None) -> Self:
        """A journey whose cook put a plan into use, and then some time went by."""
        journey = cls(since, path)
        journey.settle()
        journey.use(source)
        journey.run_to(now)
        return journey

    def use(self, source: str, address: str = ADA) -> list[Message]:
        """The cook sends a plan and uses it."""
        self.send_plan(source, address)
        return self.press("Use this plan", address)

    def press(self, label: str, address: str = ADA, on: Message | None = None) -> list[Message]:
        """The cook presses a button, of the last message that has it unless told otherwise."""
        message, button = self.find(label, address) if on is None else (on, button_of(on, label))
        return self._hear(lambda: self.give(address, data=button.data, reply_to=message.receipt))

    def find(self, label: str, address: str = ADA) -> tuple[Message, Button]:
        """The last message to that address with a button that begins so."""
        for message in reversed(self.heard(address)):
            if any(each.startswith(label) for each in message.labels):
                return message, button_of(message, label)
        raise LookupError(f"nothing that was said has a button {label!r}")

    def _hear(self, speak: Callable[[], None]) -> list[Message]:
        before = len(self.messenger.messages)
        if before and self.messenger.messages[-1].at == self.clock.now():
            self.clock.advance(SECOND)  # as fast as a chat may be written to
        speak()
        self.tick()
        return self.messenger.messages[before:]

    # ------------------------------------------------------------ time goes by

    def tick(self) -> None:
        self.due = self.worker.tick()

    def later(self, wait: timedelta, deed: Callable[[], object]) -> None:
        """Do something so much later, as `run_to` comes by."""
        heapq.heappush(self._later, (self.clock.now() + wait, next(self.numbers), deed))

    def run_to(self, until: str | datetime) -> list[Message]:
        """Live on until then, from each moment at which something is due to the next; what was said."""
        end = at(until) if isinstance(until, str) else until
        before = len(self.messenger.messages)
        self.tick()
        while (moment := self._next_moment()) is not None and moment <= end:
            self.clock.move_to(moment)
            self._act()
            self.tick()
        self.clock.move_to(max(end, self.clock.now()))
        self.tick()
        return self.messenger.messages[before:]

    def _act(self) -> None:
        """Do what the cook does now; what breaks off is done again, as a transport delivers again."""
        while self._later and self._later[0][0] <= self.clock.now():
            item = heapq.heappop(self._later)
            try:
                item[2]()
            except BaseException:
                heapq.heappush(self._later, item)
                raise

    def _next_moment(self) -> datetime | None:
        ahead = [] if self.due is None else [max(self.due, self.clock.now() + SECOND)]
        ahead += [max(self._later[0][0], self.clock.now())] if self._later else []
        return min(ahead, default=None)

    def down_until(self, until: str | datetime) -> None:
        """The process is not running until then."""
        self.clock.move_to(at(until) if isinstance(until, str) else until)
        self.restart()

    # ------------------------------------------------------------ what there is to see

    def heard(self, address: str = ADA) -> list[Message]:
        return [message for message in self.messenger.messages if message.address == address]

    def view(self, plan: int = 1) -> View:
        with self.store() as uow:
            row = uow.plans.get(plan)
            assert row is not None
            return view_of(uow, row, self.clock.now())

    def plan(self, plan: int = 1) -> PlanRow:
        return self.view(plan).row

    def marks(self, plan: int = 1) -> list[Mark]:
        with self.store() as uow:
            return uow.marks.of(plan)

    def step(self, name: str, plan: int = 1) -> int:
        """The number of the step of that name."""
        (number,) = (step.number for step in self.view(plan).plan.steps if step.name == name)
        return number

    def starts(self, plan: int = 1) -> dict[str, str]:
        """When each step starts on the clock in Paris: {"Soak the beans": "Sat 28 20:00"}."""
        view = self.view(plan)
        return {view.step(slot.step).name: paris(slot.start) for slot in view.timetable.slots}

    def stored(self, key: str) -> str:
        """The state of the letter whose key ends so; of a database in a file."""
        asked = "SELECT state FROM outbox WHERE key LIKE ?"
        with closing(sqlite3.connect(str(self.path))) as connection:
            ((state,),) = connection.execute(asked, (f"%{key}",)).fetchall()
        return str(state)
