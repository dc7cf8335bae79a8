"""A whole meal in simulated time: the same services, storage and worker; only clock and cook differ."""

from __future__ import annotations

import heapq
import itertools
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime, time, timedelta
from typing import Any

from bot import simulated_cook
from bot.script import Line
from bot.simulated_cook import CookKind, Subject
from bot.wiring import Wiring
from scheduler import words
from scheduler.domain import hours
from scheduler.domain.plan import Plan
from scheduler.explain import Misfit
from scheduler.planning import time_out
from scheduler.ports import Clock, Messenger, Store
from scheduler.records import Button, Chat, ChatStage, Incoming, Kind, Letter, PlanRow, PlanStatus, Received
from scheduler.service.deeds import Deed, Verb
from scheduler.service.view import View, plan_in_force, view_of
from scheduler.worker import Worker

ADDRESS = "rehearsal:kitchen"
SOURCE = "rehearsal"
SECOND = timedelta(seconds=1)
MORNING = time(9, 0)


class SimulatedClock(Clock):
    """Shows whatever time it was moved to; never backwards."""

    def __init__(self, now: datetime) -> None:
        self._now = now

    def now(self) -> datetime:
        return self._now

    def move_to(self, at: datetime) -> None:
        self._now = max(self._now, at)


@dataclass(frozen=True, slots=True)
class Coming:
    """Something the cook will say: as a transport would bring it, and as it is shown."""

    payload: dict[str, Any]
    shown: str
    about: Subject | None = None
    settles: bool = False


class RehearsalMessenger(Messenger):
    """Keeps what was sent, and shows it to the cook at once."""

    def __init__(self, plan_file: bytes, heard: Callable[[Letter, str], None]) -> None:
        self.plan_file = plan_file
        self.heard = heard
        self._numbers = itertools.count(1)

    def send(self, address: str, letter: Letter) -> str:
        receipt = str(next(self._numbers))
        if letter.kind is not Kind.UNBUTTON:
            self.heard(letter, receipt)
        return receipt

    def read(self, payload: Mapping[str, Any], received: datetime) -> Incoming:
        document = payload.get("document")
        return Incoming(
            ADDRESS,
            received,
            text=str(payload.get("text", "")),
            data=payload.get("data"),
            reply_to=payload.get("reply_to"),
            document=None if document is None else ("plan.yaml", str(document)),
            sender=str(payload["sender"]),
        )

    def fetch(self, reference: str) -> bytes:
        return self.plan_file

    def acknowledge(self, press: str) -> None:
        """Presses are instant here."""


@dataclass(frozen=True, slots=True)
class Told:
    """What the cook brings: the plan file, the hour it is to be served, and their own zone and waking hours.

    `serves` is how many there are at the table, where that is not as the file has it.
    """

    source: bytes
    serve: datetime
    zone: str
    awake: str
    serves: int | None = None


class Rehearsal:
    """Runs a plan from `now` to the table. `lines` grows as it goes."""

    def __init__(self, store: Store, clock: SimulatedClock, plan: Plan, told: Told, kind: CookKind) -> None:
        self.store = store
        self.clock = clock
        self.plan = plan
        self.told = told
        self.kind = kind
        self.cook = plan.kitchen.cooks[0].name
        self.in_use = False
        self.lines: list[Line] = []
        self.messenger = RehearsalMessenger(told.source, self._hear)
        self._replies: list[tuple[datetime, int, Coming]] = []
        self._numbers = itertools.count(1)

    def run(self, worker: Worker) -> Iterator[Line]:
        """Send the plan, use it, and live through it; each line as it is said."""
        with self.store() as uow:
            uow.chats.save(Chat(ADDRESS, stage=ChatStage.READY, zone=self.told.zone, awake=self.told.awake))
            uow.commit()
        self._reply(timedelta(0), Coming({"document": SOURCE}, "(sends the plan)"))
        self._speak()
        told = 0
        for _ in self._moments(worker):
            yield from self.lines[told:]
            told = len(self.lines)

    def _moments(self, worker: Worker) -> Iterator[datetime]:
        """Every moment at which something happens, until nothing is owed any more."""
        while True:
            due = worker.tick()
            yield self.clock.now()
            ahead = [self._replies[0][0]] if self._replies else []
            ahead += [] if due is None else [max(due, self.clock.now() + SECOND)]
            if not ahead:
                return
            self.clock.move_to(min(ahead))
            self._speak()

    # ------------------------------------------------------------ what the cook says

    def _reply(self, after: timedelta, coming: Coming) -> None:
        heapq.heappush(self._replies, (self.clock.now() + after, next(self._numbers), coming))

    def _speak(self) -> None:
        """Say everything whose moment has come: into the inbox, as any transport would."""
        while self._replies and self._replies[0][0] <= self.clock.now():
            at, number, coming = heapq.heappop(self._replies)
            if coming.about is not None and self._is_settled(coming.about):
                continue
            self.lines.append(Line(at, self.cook, coming.shown))
            row = Received(SOURCE, number, coming.payload | {"sender": self.cook}, at)
            with self.store() as uow:
                uow.inbox.take([row])
                uow.commit()

    def _is_settled(self, about: Subject) -> bool:
        """Whether it was seen to meanwhile, or the plan is over."""
        view = self._view()
        return view is None or simulated_cook.is_settled(view, about)

    def _press(
        self,
        button: Button,
        receipt: str,
        after: timedelta,
        about: Subject | None = None,
        settles: bool = False,
    ) -> None:
        payload = {"data": button.data, "reply_to": receipt}
        self._reply(after, Coming(payload, button.label, about, settles))

    # ------------------------------------------------------------ what the cook hears

    def _hear(self, letter: Letter, receipt: str) -> None:
        self.lines.append(
            Line(
                self.clock.now(),
                "crockbell",
                letter.text,
                letter.stage.value if letter.stage else None,
                None if letter.step is None else self.plan.steps[letter.step].name,
                tuple(button.label for button in letter.buttons),
            )
        )
        if letter.kind is Kind.ANSWER:
            deeds = {Deed.decode(button.data).verb: button for button in letter.buttons}
            self._answer_proposal(deeds, receipt)
        elif letter.kind is Kind.NUDGE:
            self._see_to(letter, receipt)

    def _answer_proposal(self, deeds: dict[Verb, Button], receipt: str) -> None:
        """Ask for the hour wanted, use the plan; later, when an hour cannot hold, take the one offered."""
        wanted = self._hour_to_ask()
        if wanted is not None:
            self._press(
                Button(f"Serve at {words.day_and_clock(self.told.serve, self.plan.zone)}", wanted),
                receipt,
                SECOND,
            )
        elif Verb.USE in deeds and self._are_others():
            said = f"there will be {self.told.serves} of us"
            self._reply(SECOND, Coming({"text": said}, said))
        elif Verb.USE in deeds and not self.in_use:
            self.in_use = True
            self._press(deeds[Verb.USE], receipt, SECOND)
        elif Verb.SERVE in deeds and self.in_use:
            self._press(deeds[Verb.SERVE], receipt, SECOND)

    def _drafts(self) -> list[PlanRow]:
        with self.store() as uow:
            chat = uow.chats.at(ADDRESS)
            return uow.plans.of_chat(chat.id or 0, PlanStatus.DRAFT) if chat else []

    def _are_others(self) -> bool:
        """Whether there are more or fewer at the table than the draft is for."""
        wanted = self.told.serves
        return wanted is not None and any(plan_in_force(row).serves != wanted for row in self._drafts())

    def _hour_to_ask(self) -> str | None:
        """Another serving hour was wanted than the one the draft stands at."""
        drafts = self._drafts()
        if not drafts or drafts[0].serve == self.told.serve:
            return None
        return Deed(Verb.SERVE, drafts[0].id, at=self.told.serve).encode()

    def _see_to(self, letter: Letter, receipt: str) -> None:
        """Do what a nudge asks, unless that is being done already."""
        view = self._view()
        if view is None:
            return
        for reply in simulated_cook.replies(self.kind, letter, view):
            if not (reply.settles and reply.about is not None and self._is_about_to(reply.about)):
                self._press(reply.button, receipt, reply.after, reply.about, reply.settles)

    def _is_about_to(self, about: Subject) -> bool:
        """Whether the cook is doing that already, and will say so."""
        return any(coming.settles and coming.about == about for _, _, coming in self._replies)

    def _view(self) -> View | None:
        """The plan under way as it stands now."""
        with self.store() as uow:
            chat = uow.chats.at(ADDRESS)
            rows = uow.plans.of_chat(chat.id or 0, PlanStatus.ACTIVE) if chat else []
            return view_of(uow, rows[0], self.clock.now()) if rows else None


# ---------------------------------------------------------------- running and showing one


def good_start(plan: Plan, serve: datetime) -> datetime:
    """The morning before anything has to be done or bought."""
    early = serve - plan.horizon()
    timing = time_out(plan, serve, early)
    if isinstance(timing, Misfit):
        return early
    first = min(slot.start - (plan.steps[slot.step].buy or timedelta(0)) for slot in timing.slots)
    day = hours.local(first, plan.zone).date() - timedelta(days=1)
    return hours.instant(datetime.combine(day, MORNING), plan.zone)


def rehearse(plan: Plan, told: Told, now: datetime, kind: CookKind, wiring: Wiring) -> Iterator[Line]:
    """Every line of the chat, from the plan's arrival to the table."""
    store, clock = wiring.open_store(None), SimulatedClock(now)
    try:
        rehearsal = Rehearsal(store, clock, plan, told, kind)
        yield from rehearsal.run(wiring.make_worker(store, rehearsal.messenger, clock, wiring.open_planner()))
    finally:
        store.close()
