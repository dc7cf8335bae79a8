"""A cook talking to the whole of Crockbell but for database, network and clock, and a supper to talk about."""

from __future__ import annotations

from datetime import datetime, timedelta
from itertools import count

from bot.main import make_worker
from scheduler.domain.hours import instant
from scheduler.domain.timetable import Slot
from scheduler.planners import Here
from scheduler.records import Button, Chat, ChatStage, Kind, Letter, PlanRow, PlanStatus, Received
from scheduler.service.view import View, view_of
from tests.fakes import FakeClock, FakeMessenger, FakeStore

ZONE = "Europe/Lisbon"
HERE = "telegram:1"
MINUTE = timedelta(minutes=1)

SUPPER = """\
crockbell: 1
title: Supper for four
serve: 2026-05-09 19:30
zone: Europe/Lisbon
kitchen:
  awake: 07:00-23:00
  gear: {burner: 2, oven: 1}
components:
  - name: Pickle
    steps:
      - name: Salt the radishes
        hands-on: 15 min
        amounts: {radishes: 500 g, salt: 2 % of radishes}
      - name: Radishes ferment
        unattended: 2 d to 4 d
        until: pleasantly sour
        usually: 3 d
        tend: {name: Vent the jar, every: 1 d, hands-on: 2 min}
        keeps: 2 d
  - name: Beans
    steps:
      - name: Soak the beans
        unattended: 10 h to 14 h
        keeps: 2 h
        amounts: {beans: 400 g}
      - name: Drain the beans
        hands-on: 5 min
        keeps: 1 h
      - name: Simmer the beans
        nearby: 1 h to 1 h 30 min
        until: creamy
        gear: [burner]
        keeps: 3 h
  - name: Flan
    optional: true
    steps:
      - name: Whisk the flan
        hands-on: 20 min
        amounts: {milk: 500 ml, eggs: 4}
      - name: Bake the flan
        nearby: 40 min
        oven: 160 C
        keeps: 1 d
  - name: Table
    steps:
      - name: Dress and serve
        hands-on: 15 min
        after: [Pickle, Beans, Flan]
        keeps: 5 min
"""
"""Eight steps over four days: a ferment that is tended, a soak, something to leave out, one table."""


def at(text: str, zone: str = ZONE) -> datetime:
    """ "2026-05-06 09:00" on the clock in Lisbon, as a UTC instant."""
    return instant(datetime.fromisoformat(text), zone)


def on(day: int, clock: str) -> datetime:
    """A time on that day of May 2026; the supper is on Saturday the 9th."""
    return at(f"2026-05-{day:02} {clock}")


class Talk:
    """One cook's chat. What is said is answered before the next thing is said; the clock moves on meanwhile.

    Every message sent so far is in `heard`, oldest first, the words only in `texts`.
    """

    def __init__(self, now: datetime, *, settled: bool = True) -> None:
        self.store, self.clock, self.messenger = FakeStore(), FakeClock(now), FakeMessenger()
        self.worker = make_worker(self.store, self.messenger, self.clock, Here())
        self._numbers = count(1)
        if settled:
            self.settle(HERE)

    def settle(self, address: str) -> int:
        """A chat past its first contact; its id."""
        with self.store() as uow:
            chat = uow.chats.save(Chat(address, stage=ChatStage.READY, zone=ZONE, awake="07:00-23:00"))
            uow.commit()
        return chat.id or 0

    @property
    def now(self) -> datetime:
        return self.clock.now()

    def fork(self) -> Talk:
        """Another talk that has come as far as this one, and goes on by itself."""
        other = Talk(self.now, settled=False)
        other.store.world = self.store.world.copy()
        other.messenger.sent += self.messenger.sent
        other._numbers = count(1 + len(self.store.world.updates))
        return other

    # ------------------------------------------------------------ the cook

    def say(self, text: str, **more: object) -> str:
        """Say something; the answer's words (all the answers', where there are several)."""
        return self._take({"text": text, **more})

    def send(self, document: bytes | str, name: str = "plan.yaml", **more: object) -> str:
        """Send a file."""
        content = document.encode() if isinstance(document, str) else document
        self.messenger.documents[name] = content
        return self._take({"document": [name, name], "size": len(content), **more})

    def press(self, label: str, message: Letter | None = None) -> str:
        """Press a button by its label, of that message or of the last that has it."""
        found = message or next(m for m in self.heard[::-1] if label in [b.label for b in m.buttons])
        button = next(button for button in found.buttons if button.label == label)
        return self.press_data(button.data, self.receipt_of(found))

    def press_data(self, data: str, receipt: str = "r1", address: str = HERE) -> str:
        return self._take({"data": data, "reply_to": receipt, "press": "p", "address": address})

    def reply(self, text: str, message: Letter) -> str:
        """Say something in reply to a message."""
        return self.say(text, reply_to=self.receipt_of(message))

    def _take(self, payload: dict[str, object]) -> str:
        row = Received("test", next(self._numbers), {"address": HERE, **payload}, self.now)
        with self.store() as uow:
            uow.inbox.take([row])
            uow.commit()
        before = len(self.messenger.sent)
        self.settle_down()
        fresh = [letter for _, letter in self.messenger.sent[before:]]
        return "\n\n".join(letter.text for letter in fresh if letter.kind is Kind.ANSWER)

    # ------------------------------------------------------------ time

    def settle_down(self) -> None:
        """Let everything go out that is due; a second passes between messages."""
        until = self.now + timedelta(seconds=30)
        due = self.worker.tick()
        while due is not None and due <= until:
            self.clock.move_to(max(due, self.now))
            due = self.worker.tick()

    def wait_until(self, moment: datetime) -> list[Letter]:
        """Let time go by, with everything that falls due; what was heard meanwhile."""
        before = len(self.messenger.sent)
        due = self.worker.tick()
        while due is not None and due <= moment:
            self.clock.move_to(max(due, self.now))
            due = self.worker.tick()
        self.clock.move_to(max(moment, self.now))
        self.worker.tick()
        return [letter for _, letter in self.messenger.sent[before:] if letter.kind is not Kind.UNBUTTON]

    # ------------------------------------------------------------ what there is

    @property
    def heard(self) -> list[Letter]:
        return [letter for _, letter in self.messenger.sent if letter.kind is not Kind.UNBUTTON]

    @property
    def texts(self) -> list[str]:
        return [letter.text for letter in self.heard]

    @property
    def last(self) -> Letter:
        return self.heard[-1]

    @property
    def labels(self) -> list[str]:
        """The labels of the last message's buttons."""
        return [button.label for button in self.last.buttons]

    def nudge(self, heading: str) -> Letter:
        """The latest nudge whose first line holds those words."""
        found = [m for m in self.heard if m.kind is Kind.NUDGE and heading in m.text.splitlines()[0]]
        return found[-1]

    def receipt_of(self, message: Letter) -> str:
        sent = [letter for _, letter in self.messenger.sent]
        return f"r{next(n for n, letter in enumerate(sent, 1) if letter.id == message.id)}"

    def chat(self, address: str = HERE) -> Chat:
        with self.store() as uow:
            found = uow.chats.at(address)
        if found is None:
            raise LookupError(address)
        return found

    def plans(self, *statuses: PlanStatus, address: str = HERE) -> list[PlanRow]:
        chat = self.chat(address).id or 0
        with self.store() as uow:
            return uow.plans.of_chat(chat, *statuses)

    def view(self, plan: int | None = None) -> View:
        """The plan of that number, or the newest."""
        number = plan or self.plans()[0].id or 0
        with self.store() as uow:
            row = uow.plans.get(number)
            if row is None:
                raise LookupError(f"plan {number}")
            return view_of(uow, row, self.now)

    def slot(self, name: str) -> Slot:
        """When a step is, by the timetable in force."""
        view = self.view()
        found = view.timetable.slot(number(view, name))
        if found is None:
            raise LookupError(name)
        return found

    def state(self, name: str) -> str:
        view = self.view()
        return view.progress.state(number(view, name)).value


def number(view: View, name: str) -> int:
    return next(step.number for step in view.plan.steps if step.name == name)


def button(message: Letter, label: str) -> Button:
    return next(button for button in message.buttons if button.label == label)


def with_supper(now: datetime, source: str = SUPPER) -> Talk:
    """A talk in which the supper was sent and taken into use at `now`."""
    talk = Talk(now)
    talk.send(source)
    talk.press("Use this plan")
    return talk


# ---------------------------------------------------------------- the supper, so far

TUESDAY_EVENING = on(5, "20:00")
_STATES: dict[tuple[str, ...], Talk] = {}


def so_far(*path: str) -> Talk:
    """The supper taken into use on Tuesday evening, and then "6 07:15 salted the radishes", one after another.

    With nothing said, only time goes by.
    """
    if path not in _STATES:
        talk = so_far(*path[:-1]) if path else with_supper(TUESDAY_EVENING)
        if path:
            day, clock, *words = path[-1].split(" ", 2)
            talk.wait_until(on(int(day), clock))
            if words:
                talk.say(words[0])
        _STATES[path] = talk
    return _STATES[path].fork()


SALTED = "6 07:15 salted the radishes"
SOUR = "8 07:20 the radishes are sour"
SOAKING = "9 07:02 soaking the beans since 7"


def at_the_radishes() -> Talk:
    """Wednesday 07:05: the radishes are to be salted, and the cook was told."""
    return so_far("6 07:05")


def fermenting() -> Talk:
    """Wednesday 07:15: the radishes are salted."""
    return so_far("6 07:05", SALTED)


def before_the_soak() -> Talk:
    """Saturday 07:02: the ferment is over, the beans wait to be soaked."""
    return so_far("6 07:05", SALTED, SOUR, "9 07:02")


def saturday(clock: str = "07:10") -> Talk:
    """Saturday: the ferment is over, the beans soak since 07:00."""
    return so_far("6 07:05", SALTED, SOUR, SOAKING, f"9 {clock}")
