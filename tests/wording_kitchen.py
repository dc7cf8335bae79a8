"""A supper of our own, placed by hand, and views of it, for the tests of the wording."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from functools import cache

from scheduler.domain.plan import Attention, Plan
from scheduler.domain.progress import Mark, MarkKind, fold
from scheduler.domain.stages import About, Nudge, Stage
from scheduler.domain.timetable import Slot, Timetable, Touch, in_order
from scheduler.planfile import read
from scheduler.records import PlanRow, PlanStatus
from scheduler.service.answers import Moved
from scheduler.service.deeds import Deed, Verb
from scheduler.service.view import View
from tests.plans_for_tests import at, number_of

ZONE = "Europe/Paris"
AWAKE = "07:00-22:30"

SUPPER = """\
crockbell: 1
title: Supper by the stove
serves: 6
serve: 2026-11-21 19:30
zone: Europe/Paris
kitchen:
  awake: 07:00-22:30
  cooks: [Ada]
  gear: {burner: 4, oven: 1, big pot: 1}
components:
  - name: Carrot pickle
    steps:
      - name: Salt and pack the carrots
        hands-on: 20 min
        amounts: {carrots: 800 g, salt: 2.5 % of carrots, dill: 1 bunch}
      - name: Carrots ferment
        unattended: 7 d to 10 d
        until: sour and still crisp
        at: 18 C
        tend: {name: Vent the lid, every: 1 d, for: 5 d, hands-on: 2 min}
        caution: mould
      - name: Chill the jar
        unattended: at least 4 h
        keeps: 30 d
  - name: Chickpeas
    steps:
      - name: Soak the chickpeas
        unattended: 12 h to 18 h
        amounts: {dried chickpeas: 600 g, water: 2 L}
      - name: Drain the chickpeas
        hands-on: 5 min
      - name: Simmer the chickpeas
        nearby: 1 h to 1 h 45 min
        until: tender, skins whole
        gear: [burner]
        keeps: 1 h
  - name: Rye loaf
    steps:
      - name: Feed the starter
        hands-on: 10 min
        amounts: {starter: 20 g, rye flour: 100 g, water: 100 g}
      - name: Starter ripens
        unattended: 8 h to 12 h
        until: domed and floating
        at: 22 C
        keeps: 2 h
      - name: Mix the dough
        hands-on: 20 min
        amounts: {rye flour: 600 g, water: 450 g, salt: 2 % of rye flour}
      - name: Cold proof
        unattended: 10 h to 18 h
        at: 4 C
      - name: Bake the loaf
        nearby: 50 min
        oven: 230 C
      - name: Cool the loaf
        unattended: at least 1 h 30 min
        keeps: 18 h
  - name: Stock
    steps:
      - name: Simmer the bones
        nearby: 4 h
        gear: [burner, big pot]
        buy: 1 d before
        amounts: {lamb bones: 2 kg, onions: 200 g}
      - name: Cool the stock
        unattended: 2 h
        caution: cooling
      - name: Chill the stock
        unattended: at least 4 h
        keeps: 3 d
  - name: Stew
    steps:
      - name: Brown the lamb
        after: [Chickpeas, Stock]
        hands-on: 30 min
        gear: [burner, burner]
        amounts: {lamb shoulder: 1.6 kg, onions: 300 g}
      - name: Bake the stew
        nearby: 2 h to 2 h 30 min
        until: the meat gives way
        oven: 150 C
        tend: {name: Turn the meat, every: 40 min, hands-on: 2 min}
      - name: Rest the stew
        nearby: 15 min
        keeps: 20 min
  - name: Table
    steps:
      - name: Slice the bread and dish up
        after: [Stew, Rye loaf, Carrot pickle]
        hands-on: 15 min
        keeps: 5 min
"""

TIMES = (
    ("Salt and pack the carrots", "11-10 18:00", "11-10 18:20", "11-10 22:10"),
    ("Carrots ferment", "11-10 18:20", "11-20 18:20", "11-10 18:20"),
    ("Chill the jar", "11-20 18:20", "11-20 22:20", "11-20 22:25"),
    ("Soak the chickpeas", "11-20 20:00", "11-21 13:25", "11-20 22:25"),
    ("Drain the chickpeas", "11-21 13:25", "11-21 13:30", "11-21 13:40"),
    ("Simmer the chickpeas", "11-21 13:30", "11-21 15:15", "11-21 13:45"),
    ("Feed the starter", "11-19 21:00", "11-19 21:10", "11-19 21:30"),
    ("Starter ripens", "11-19 21:10", "11-20 09:10", "11-19 21:10"),
    ("Mix the dough", "11-20 09:30", "11-20 09:50", "11-20 10:50"),
    ("Cold proof", "11-20 09:50", "11-21 03:50", "11-20 09:50"),
    ("Bake the loaf", "11-21 09:00", "11-21 09:50", "11-21 12:00"),
    ("Cool the loaf", "11-21 09:50", "11-21 11:20", "11-21 12:50"),
    ("Simmer the bones", "11-20 11:00", "11-20 15:00", "11-20 15:30"),
    ("Cool the stock", "11-20 15:00", "11-20 17:00", "11-20 15:00"),
    ("Chill the stock", "11-20 17:00", "11-20 21:00", "11-20 17:00"),
    ("Brown the lamb", "11-21 15:30", "11-21 16:00", "11-21 15:40"),
    ("Bake the stew", "11-21 16:00", "11-21 18:30", "11-21 16:00"),
    ("Rest the stew", "11-21 18:55", "11-21 19:10", "11-21 18:55"),
    ("Slice the bread and dish up", "11-21 19:10", "11-21 19:25", "11-21 19:15"),
)
"""Name, start, end and last call, by the clock in Paris in 2026."""


def day(text: str) -> datetime:
    """ "11-21 13:40" by the clock in Paris in 2026, as an instant."""
    return at(f"2026-{text}", ZONE)


@cache
def supper() -> Plan:
    return read(SUPPER, zone=ZONE, awake=AWAKE)


def step(name: str) -> int:
    return number_of(supper(), name)


def _slot(name: str, start: str, end: str, last_call: str) -> Slot:
    made, number = supper(), step(name)
    begins = day(start)
    cook = "Ada" if made.steps[number].attention is Attention.HANDS_ON else None
    return Slot(number, begins, day(end), begins, begins, day(last_call), cook)


def timetable() -> Timetable:
    slots = [_slot(*row) for row in TIMES]
    vents = [_touch("Carrots ferment", n, day("11-10 18:20") + n * timedelta(days=1)) for n in range(1, 6)]
    turns = [_touch("Bake the stew", n, day("11-21 16:00") + n * timedelta(minutes=40)) for n in range(1, 4)]
    return Timetable(day("11-21 19:30"), in_order(slots), (*vents, *turns))


def _touch(name: str, occurrence: int, due: datetime) -> Touch:
    return Touch(step(name), occurrence, due, due)


def row() -> PlanRow:
    start = day("11-09 12:00")
    return PlanRow(
        chat=1,
        title="Supper by the stove",
        source=SUPPER,
        zone=ZONE,
        awake=AWAKE,
        serve=day("11-21 19:30"),
        created=start,
        id=7,
        status=PlanStatus.ACTIVE,
        revision=3,
        timetable=timetable(),
    )


@dataclass(frozen=True)
class Kitchen:
    """Views of the supper, or of a plan with the same steps under other names."""

    plan: Plan = field(default_factory=supper)

    def view(self, now: str, *marks: Mark, unsaid: Iterable[str] = ()) -> View:
        """The supper at a local moment: those marks made, nothing said of the steps `unsaid`, and all that
        does not hang on these gone as planned.
        """
        moment = day(now)
        open_ended = {mark.step for mark in marks} | {step(name) for name in unsaid}
        said = (*_as_planned(moment, open_ended), *marks)
        kept = tuple(sorted(said, key=lambda mark: mark.about))
        return self._of(moment, kept)

    def fresh(self, now: str) -> View:
        """The supper at a local moment, with nothing said yet."""
        return self._of(day(now), ())

    def _of(self, moment: datetime, marks: tuple[Mark, ...]) -> View:
        made = row()
        return View(made, self.plan, marks, fold(self.plan, marks, moment, made.timetable), moment)


def _as_planned(moment: datetime, open_ended: Iterable[int | None]) -> list[Mark]:
    """Steps begun and ended on time, and touches, but for the steps given and what follows them."""
    waiting, marks = set(open_ended), []
    for slot in timetable().slots:
        if slot.step in waiting or waiting & set(supper().steps[slot.step].follows) or slot.start >= moment:
            waiting.add(slot.step)
            continue
        kind = MarkKind.DONE if slot.end <= moment else MarkKind.STARTED
        about = slot.end if kind is MarkKind.DONE else slot.start
        marks.append(Mark(kind, about, about, f"plan {slot.step}", slot.step))
    touched = [touch for touch in timetable().touches if touch.at < moment]
    return marks + [
        Mark(MarkKind.DONE, each.at, each.at, f"touch {each}", each.step, each.occurrence) for each in touched
    ]


def mark(
    kind: MarkKind, name: str, about: str, occurrence: int | None = None, until: str | None = None
) -> Mark:
    moment = day(about)
    batch = f"{kind} {name} {about}"
    return Mark(kind, moment, moment, batch, step(name), occurrence, day(until) if until else None)


def nudge(about: About, stage: Stage, name: str | None, subject: str, occurrence: int = 0) -> Nudge:
    """A nudge due at its subject and of use till the day after the supper."""
    number = None if name is None else step(name)
    return Nudge(about, stage, day(subject), day("11-22 12:00"), day(subject), number, occurrence)


def deed(
    verb: Verb, name: str | None = None, occurrence: int | None = None, until: str | None = None
) -> Deed:
    number = None if name is None else step(name)
    return Deed(verb, 7, number, occurrence, until=day(until) if until else None)


def moved(name: str, was: str, now: str) -> Moved:
    return Moved(step(name), day(was), day(now))
