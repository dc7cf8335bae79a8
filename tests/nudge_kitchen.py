"""Kitchens, plans and timetables for the tests of the nudges, placed by hand."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, time, timedelta
from typing import Any

from scheduler.domain.hours import Weekly, instant, local
from scheduler.domain.marks import Mark, MarkKind
from scheduler.domain.nudges import Policy, owed
from scheduler.domain.plan import Attention, Component, Cook, Kitchen, Plan, Range, Step, Tend
from scheduler.domain.progress import Progress, State, fold
from scheduler.domain.stages import About, Nudge, Stage
from scheduler.domain.timetable import Slot, Timetable, Touch, in_order

ZONE = "Europe/Paris"
MIN, HOUR, DAY = timedelta(minutes=1), timedelta(hours=1), timedelta(days=1)
HANDS, NEARBY, ALONE = Attention.HANDS_ON, Attention.NEARBY, Attention.UNATTENDED
POLICY = Policy()


def weekly(days: str, start: str, end: str) -> Weekly:
    """ "0123456" is every day, "01234" the working week."""
    return Weekly(frozenset(map(int, days)), time.fromisoformat(start), time.fromisoformat(end))


ADA = Cook("Ada", (weekly("0123456", "07:00", "22:30"),))
WORKING_ADA = replace(ADA, away=(weekly("0123", "08:30", "17:30"),))


def at(day: int, clock: str) -> datetime:
    """A local time in November 2026 (the 1st is a Sunday; Paris is one hour ahead of UTC)."""
    return instant(
        datetime.combine(datetime(2026, 11, day, tzinfo=UTC).date(), time.fromisoformat(clock)), ZONE
    )


@dataclass(frozen=True)
class Row:
    """One step and when it is planned; `slack` is how late it may start, `day` and `clock` its start."""

    component: str
    name: str
    attention: Attention
    day: int
    clock: str
    lasts: timedelta
    slack: timedelta = timedelta(0)
    least: timedelta | None = None
    most: timedelta | None = None
    until: str | None = None
    keeps: timedelta | None = None
    after: tuple[str, ...] = ()
    tend: Tend | None = None
    buy: timedelta | None = None
    oven: int | None = None

    @property
    def range(self) -> Range:
        return Range(self.least or self.lasts, self.most or self.lasts, self.until)


@dataclass(frozen=True)
class Table:
    """A plan with its timetable, and what is owed of it."""

    plan: Plan
    timetable: Timetable
    policy: Policy = field(default=POLICY)

    def owed(self, now: datetime, *marks: Mark, progress: Progress | None = None) -> tuple[Nudge, ...]:
        progress = progress or fold(self.plan, marks, now, self.timetable)
        return owed(self.plan, self.timetable, progress, self.policy, now)

    def step(self, name: str) -> int:
        return next(step.number for step in self.plan.steps if step.name == name)

    def about(self, name: str, nudges: Iterable[Nudge], about: About | None = None) -> list[Nudge]:
        number = self.step(name)
        return [n for n in nudges if n.step == number and about in (None, n.about)]

    def mark(
        self,
        kind: MarkKind,
        name: str,
        when: datetime,
        occurrence: int | None = None,
        until: datetime | None = None,
    ) -> Mark:
        batch = f"{kind}/{name}/{occurrence}/{when}"
        return Mark(kind, when, when, batch, self.step(name), occurrence, until)


def table(rows: Iterable[Row], serve: datetime, cooks: tuple[Cook, ...] = (ADA,)) -> Table:
    listed = list(rows)
    names = list(dict.fromkeys(row.component for row in listed))
    last = {row.component: number for number, row in enumerate(listed)}
    steps = [_step(listed, number, last) for number in range(len(listed))]
    parts = tuple(Component(name, tuple(s for s in steps if s.component == name)) for name in names)
    plan = Plan("A table", ZONE, Kitchen(cooks, {"oven": 2}), parts, serve)
    slots = [_slot(number, row) for number, row in enumerate(listed)]
    touches = [touch for slot in slots for touch in _touches(steps[slot.step], slot)]
    return Table(plan, Timetable(serve, in_order(slots), tuple(touches)))


def _step(rows: list[Row], number: int, last: dict[str, int]) -> Step:
    row = rows[number]
    follows = [number - 1] if number and rows[number - 1].component == row.component else []
    follows += [last[name] for name in row.after]
    return Step(
        number, row.component, row.name, row.attention, row.range, tuple(follows), row.keeps,
        oven=row.oven, tend=row.tend, buy=row.buy,
    )  # fmt: skip


def _slot(number: int, row: Row) -> Slot:
    start = at(row.day, row.clock)
    return Slot(number, start, start + row.lasts, start, start, start + row.slack, "Ada")


def _touches(step: Step, slot: Slot) -> Iterator[Touch]:
    if step.tend is None:
        return
    lasting = min(step.tend.lasting or slot.end - slot.start, slot.end - slot.start - MIN)
    for count in range(1, lasting // step.tend.every + 1):
        due = slot.start + count * step.tend.every
        yield Touch(step.number, count, due, due)


BEFORE = at(1, "12:00")
"""Long before anything in these tables."""
SERVE = at(20, "19:00")


def one(**changes: Any) -> Table:
    """A table with a single step, "Work": an hour nearby at ten on the 14th, but for `changes`."""
    return table([replace(Row("Part", "Work", NEARBY, 14, "10:00", HOUR), **changes)], SERVE)


def told(nudges: Iterable[Nudge], about: About | None = None) -> list[tuple[str, str]]:
    """Stage and local day and time of each nudge."""
    return [
        (nudge.stage.value, local(nudge.due, ZONE).strftime("%d %H:%M"))
        for nudge in nudges
        if about in (None, nudge.about)
    ]


def starts(kitchen: Table, name: str = "Work", now: datetime = BEFORE, *marks: Mark) -> list[Nudge]:
    """The START nudges of a step."""
    return kitchen.about(name, kitchen.owed(now, *marks), About.START)


def jar(keeps: timedelta | None = None) -> Table:
    """A jar packed, left to stand by itself for a day, and drained; the packed one `keeps` so long."""
    rows = [
        Row("Jar", "Pack", HANDS, 14, "10:00", 30 * MIN, slack=HOUR, keeps=keeps),
        Row("Jar", "Stand", ALONE, 14, "10:30", DAY),
        Row("Jar", "Drain", HANDS, 15, "10:30", 10 * MIN, slack=HOUR, keeps=9 * DAY),
    ]
    return table(rows, SERVE)


def two_weeks() -> Table:
    """Thirty-one steps over two weeks, for one cook who is out on the first four days of the week."""
    vent = Tend("Vent the lid", DAY, 5 * DAY, 2 * MIN)
    fold_it = Tend("Fold the dough", 45 * MIN, timedelta(hours=2, minutes=15), 3 * MIN)
    baste = Tend("Baste", 40 * MIN, None, 2 * MIN)
    hands, near, alone, d, h, m, q = HANDS, NEARBY, ALONE, DAY, HOUR, MIN, 15 * MIN
    rows = [
        Row("Radishes", "Salt and pack the radishes", hands, 8, "18:00", 25 * m, slack=5 * h),
        Row("Radishes", "Radishes ferment", alone, 8, "18:25", 10 * d, least=7 * d, until="sour", tend=vent),
        Row("Radishes", "Chill the radishes", alone, 18, "18:25", 72 * h, slack=60 * h, keeps=30 * d),
        Row("Pork", "Salt the shoulder", hands, 13, "18:00", q, slack=9 * h, buy=2 * d),
        Row("Pork", "Cure in the cold", alone, 13, "18:15", 39.75 * h, least=24 * h, most=48 * h),
        Row("Pork", "Rinse the shoulder", hands, 15, "10:00", q, slack=4 * h),
        Row("Pork", "Roast", near, 15, "10:15", 3.5 * h, slack=h, least=2.5 * h, until="soft", oven=110),
        Row("Pork", "Cool under the fat", near, 15, "13:45", h),
        Row("Pork", "Rest in the cold", alone, 15, "14:45", 100 * h, keeps=10 * d),
        Row("Pulses", "Soak the chickpeas", alone, 20, "21:30", 15.5 * h, slack=h, least=12 * h),
        Row("Pulses", "Drain the chickpeas", hands, 21, "13:00", 5 * m, slack=20 * m),
        Row("Pulses", "Simmer chickpeas", near, 21, "13:05", 1.75 * h, least=h, until="soft", keeps=h),
        Row("Loaf", "Feed the starter", hands, 19, "20:00", 10 * m, slack=2 * h),
        Row("Loaf", "Starter ripens", alone, 19, "20:10", 12 * h, least=8 * h, until="domed", keeps=2 * h),
        Row("Loaf", "Knead the dough", hands, 20, "09:00", 25 * m, slack=70 * m),
        Row("Loaf", "First rise", near, 20, "09:25", 5 * h, least=3.5 * h, until="risen", tend=fold_it),
        Row("Loaf", "Shape the loaf", hands, 20, "14:25", q, slack=h),
        Row("Loaf", "Cold proof", alone, 20, "14:40", 1060 * m, least=10 * h, most=20 * h),
        Row("Loaf", "Heat the oven", near, 21, "08:20", 40 * m, slack=2 * h, oven=245),
        Row("Loaf", "Bake the loaf", near, 21, "09:00", 50 * m, oven=245),
        Row("Loaf", "Cool the loaf", alone, 21, "09:50", 9 * h, keeps=18 * h),
        Row("Labneh", "Salt and hang the yoghurt", hands, 18, "19:00", 5 * m, slack=3 * h),
        Row("Labneh", "Yoghurt drains", alone, 18, "19:05", 23 * h, least=18 * h, most=24 * h),
        Row("Labneh", "Chill the labneh", alone, 19, "18:05", 24 * h, slack=h, keeps=7 * d),
        Row("Bake", "Brown the shoulder", hands, 21, "15:20", 30 * m, slack=q, after=("Pork", "Pulses")),
        Row("Bake", "Sweat the onions", hands, 21, "15:50", q, slack=q),
        Row("Bake", "Layer the dish", hands, 21, "16:05", 20 * m, slack=q),
        Row("Bake", "Bake", near, 21, "16:25", 2.5 * h, slack=q, least=2 * h, until="crisp", tend=baste),
        Row("Bake", "Rest the dish", near, 21, "18:55", q, slack=5 * m, keeps=20 * m),
        Row("Leaves", "Wash the leaves", hands, 21, "17:30", 10 * m, slack=h, keeps=3 * h),
        Row("Table", "Slice, dress and plate up", hands, 21, "19:15", q, slack=0 * h, keeps=5 * m,
            after=("Bake", "Loaf", "Radishes", "Labneh", "Leaves")),
    ]  # fmt: skip
    return table(rows, at(21, "19:30"), (WORKING_ADA,))


@dataclass
class Fortnight:
    """A cook and the messages they get, in simulated time.

    `acts_on` are the stages of a start the cook acts on, at once; whoever acts on none says nothing at all.
    """

    kitchen: Table
    now: datetime
    acts_on: tuple[Stage, ...] = ()
    marks: list[Mark] = field(default_factory=list)
    heard: dict[str, Nudge] = field(default_factory=dict)

    def play(self) -> list[Nudge]:
        """Every message sent until nothing more is owed."""
        while (nudge := self._next()) is not None:
            self.now = max(self.now, nudge.due)
            if self.acts_on and self._finish_what_is_over():
                continue
            self.heard[nudge.key] = nudge
            self._act(nudge)
        return list(self.heard.values())

    def _next(self) -> Nudge | None:
        return next((n for n in self.kitchen.owed(self.now, *self.marks) if n.key not in self.heard), None)

    def _finish_what_is_over(self) -> bool:
        progress = fold(self.kitchen.plan, self.marks, self.now, self.kitchen.timetable)
        over = [
            slot
            for slot in self.kitchen.timetable.slots
            if progress.state(slot.step) is State.RUNNING
            and slot.end <= self.now
            and not self._left(slot.step)
        ]
        for slot in over:
            self._say(MarkKind.DONE, slot.step, slot.end)
        return bool(over)

    def _left(self, step: int) -> bool:
        """A wait that is simply over when the next step begins."""
        planned = self.kitchen.plan.steps[step]
        return planned.attention is ALONE and not planned.range.by_nature

    def _act(self, nudge: Nudge) -> None:
        if nudge.about is About.START and nudge.stage in self.acts_on:
            self._say(MarkKind.STARTED, nudge.step, nudge.due)
        elif nudge.about is About.TEND and self.acts_on:
            self._say(MarkKind.DONE, nudge.step, nudge.due, nudge.occurrence)

    def _say(self, kind: MarkKind, step: int | None, when: datetime, occurrence: int | None = None) -> None:
        said = max(when, self.now)
        self.marks.append(Mark(kind, when, said, f"{len(self.marks)}", step, occurrence))
