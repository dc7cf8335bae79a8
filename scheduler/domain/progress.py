"""Marks folded into where each step stands, and what that leaves free."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import datetime
from enum import StrEnum
from functools import cached_property

from scheduler.domain.links import live_links as live_links
from scheduler.domain.links import off_mark
from scheduler.domain.marks import Mark as Mark
from scheduler.domain.marks import MarkKind as MarkKind
from scheduler.domain.marks import standing_marks as standing_marks
from scheduler.domain.plan import FIVE_MINUTES, MINUTE, Attention, Link, Plan, Step
from scheduler.domain.timetable import Timetable, next_mark


class State(StrEnum):
    WAITING = "waiting"
    RUNNING = "running"
    DONE = "done"
    DROPPED = "dropped"


@dataclass(frozen=True, slots=True)
class Standing:
    """Where one step stands. `assumed`: nobody said so; it follows from what they did say."""

    state: State = State.WAITING
    started: datetime | None = None
    ended: datetime | None = None
    not_before: datetime | None = None
    expected: datetime | None = None
    assumed: bool = False


@dataclass(frozen=True)
class Progress:
    """Standings by step number, touches done as (step, occurrence), and notes, oldest first.

    What was said of food out of temperature control is among the notes.
    """

    standings: tuple[Standing, ...]
    touched: frozenset[tuple[int, int]] = frozenset()
    put_off: dict[tuple[int, int], datetime] = field(default_factory=dict)
    notes: tuple[Mark, ...] = ()

    def of(self, step: int) -> Standing:
        return self.standings[step]

    def state(self, step: int) -> State:
        return self.standings[step].state

    @cached_property
    def dropped(self) -> frozenset[int]:
        return frozenset(n for n, standing in enumerate(self.standings) if standing.state is State.DROPPED)

    @property
    def untouched(self) -> bool:
        return all(standing == Standing() for standing in self.standings)


def at_the_start(plan: Plan) -> Progress:
    """Nothing said yet."""
    return Progress(tuple(Standing() for _ in plan.steps))


def starts_itself(plan: Plan, step: Step) -> bool:
    """A wait that begins by itself when the work before it in its component is done.

    Salting and packing a jar leaves it fermenting; nobody has to begin that. A wait after another wait,
    and anything that takes a cook, has to be begun by someone.
    """
    if step.attention is not Attention.UNATTENDED or step.wait is not None or len(step.follows) != 1:
        return False
    before = plan.steps[step.follows[0]]
    return before.component == step.component and before.attention is not Attention.UNATTENDED


def fold(plan: Plan, marks: Iterable[Mark], now: datetime, timetable: Timetable | None = None) -> Progress:
    """Where every step stands at `now`, from what was said.

    A step begun means that what it follows is over. A wait whose length the planner chose, and whose
    result keeps, is over when the timetable says, without a word from anyone.
    """
    folding = _Folding(plan)
    for mark in standing_marks(mark for mark in marks if mark.said <= now):
        folding.take(mark)
    if timetable is not None:
        folding.let_waits_end(timetable, now)
    return Progress(
        tuple(folding.standings), frozenset(folding.touched), folding.put_off, tuple(folding.notes)
    )


class _Folding:
    def __init__(self, plan: Plan) -> None:
        self.plan = plan
        self.standings = [Standing() for _ in plan.steps]
        self.touched: set[tuple[int, int]] = set()
        self.put_off: dict[tuple[int, int], datetime] = {}
        self.notes: list[Mark] = []

    def take(self, mark: Mark) -> None:
        if mark.kind in (MarkKind.MOVED, MarkKind.CHANGED):
            return  # the plan's row keeps the hour and the changes; the mark is there to be taken back
        if mark.kind in (MarkKind.NOTE, MarkKind.CLOCK) or mark.step is None:
            self.notes.append(mark)
        elif mark.occurrence is not None:
            self._touch(mark.step, mark.occurrence, mark)
        elif mark.kind is MarkKind.STARTED:
            self._start(mark.step, mark.about)
        elif mark.kind is MarkKind.DONE:
            self._finish(mark.step, mark.about)
        elif mark.kind is MarkKind.LATER:
            self._put_off(mark.step, mark)
        elif mark.kind is MarkKind.AGAIN:
            self.standings[mark.step] = Standing()
            self.touched = {key for key in self.touched if key[0] != mark.step}
            self.put_off = {key: until for key, until in self.put_off.items() if key[0] != mark.step}
        else:
            self.standings[mark.step] = Standing(State.DROPPED)

    def _touch(self, step: int, occurrence: int, mark: Mark) -> None:
        if mark.kind is MarkKind.LATER and mark.until is not None:
            self.put_off[step, occurrence] = mark.until
        else:
            self.touched.add((step, occurrence))

    def _start(self, number: int, at: datetime, assumed: bool = False) -> None:
        standing = self.standings[number]
        said_so = standing.state is State.RUNNING and not standing.assumed
        if standing.state in (State.DONE, State.DROPPED) or (assumed and said_so):
            return
        self._finish_all_before(number, at)
        self.standings[number] = replace(
            standing, state=State.RUNNING, started=at, not_before=None, assumed=assumed
        )

    def _finish(self, number: int, at: datetime, assumed: bool = False) -> None:
        standing = self.standings[number]
        if standing.state is State.DROPPED or (assumed and standing.state is State.DONE):
            return
        started = standing.started
        if started is None:
            started = max(at - self.plan.steps[number].range.planned()[0], self._known_end_before(number, at))
            self._finish_all_before(number, started)
        self.standings[number] = replace(
            standing, state=State.DONE, started=min(started, at), ended=at, assumed=assumed
        )
        for link in self.plan.links_out_of[number]:
            if link.after is not None and link.tied and starts_itself(self.plan, self.plan.steps[link.after]):
                self._start(link.after, at, assumed=True)

    def _known_end_before(self, number: int, at: datetime) -> datetime:
        """The latest end already known of what a step follows; long ago when none is."""
        ends = [self.standings[before].ended for before in self.plan.steps[number].follows]
        known = [end for end in ends if end is not None and end <= at]
        return max(known, default=at - self.plan.steps[number].range.planned()[0])

    def _finish_all_before(self, number: int, at: datetime) -> None:
        for before in self.plan.steps[number].follows:
            if self.standings[before].state in (State.WAITING, State.RUNNING):
                self._finish(before, at, assumed=True)
            elif self._left_out_between(before, number):
                self._finish_all_before(before, at)

    def _left_out_between(self, before: int, number: int) -> bool:
        """A step left out of the same component: what it came after is then over too."""
        steps = self.plan.steps
        dropped = self.standings[before].state is State.DROPPED
        return dropped and steps[before].component == steps[number].component

    def _put_off(self, number: int, mark: Mark) -> None:
        standing = self.standings[number]
        if standing.state is State.RUNNING:
            self.standings[number] = replace(standing, expected=self._not_too_soon(number, mark.until))
        elif standing.state is State.WAITING:
            self.standings[number] = replace(standing, not_before=mark.until)

    def _not_too_soon(self, number: int, until: datetime | None) -> datetime | None:
        """What a cook expects of a step under way, but not before the published limit it is to meet."""
        floor, started = self.plan.steps[number].floor, self.standings[number].started
        if floor is None or started is None or until is None:
            return until
        return max(until, started + floor)

    def let_waits_end(self, timetable: Timetable, now: datetime) -> None:
        for number in self.plan.order:
            step, standing, slot = self.plan.steps[number], self.standings[number], timetable.slot(number)
            if standing.state is not State.RUNNING or slot is None:
                continue
            if not _over(step, standing, slot.end, now):
                continue
            if step.attention is Attention.UNATTENDED and not step.range.by_nature and step.keeps:
                self._finish(number, slot.end, assumed=True)


def _over(step: Step, standing: Standing, end: datetime, now: datetime) -> bool:
    """Whether a planned end has come, and was planned for this start and for what the cook expects."""
    if standing.started is None or end - standing.started <= step.range.planned()[0] - MINUTE:
        return False
    return max(end, standing.expected or end) <= now


def may_miss_mark(plan: Plan, progress: Progress, now: datetime | None = None) -> frozenset[int]:
    """Steps not begun whose start may miss its mark of the clock (see links.off_mark).

    With `now`, also those for which no mark is left before what they follow has kept too long.
    """
    links = live_links(plan, progress.dropped)
    waiting = {n for n, standing in enumerate(progress.standings) if standing.state is State.WAITING}
    missed = off_mark(plan, links, frozenset(range(len(plan.steps))) - waiting)
    if now is None:
        return missed
    pressed = [link for link in links if link.after in waiting and _pressed(progress, link, now)]
    return missed | {n for n in waiting if any(link.after == n for link in pressed)}


def _pressed(progress: Progress, link: Link, now: datetime) -> bool:
    """Whether no mark is left to start at once an earlier step has really ended."""
    ended = progress.of(link.before).ended
    if ended is None or link.after is None:
        return False
    limit, not_before = latest_after(link, ended, now), progress.of(link.after).not_before
    soonest = max(now, ended + link.shortest, not_before or now)
    return limit is not None and next_mark(soonest, FIVE_MINUTES) > limit


def end_bounds(step: Step, standing: Standing, now: datetime) -> tuple[datetime, datetime | None]:
    """The earliest and latest a running step may be planned to end; None is no limit.

    What nature ends is expected when the cook said, else at its planned length, on the next mark. What
    has overrun its longest ends as soon as may be.
    """
    if standing.started is None:
        raise ValueError(f"{step.name} is not running")
    shortest, longest = step.range.planned()
    soonest = next_mark(now, MINUTE)
    if step.range.by_nature or standing.expected is not None:
        expected = standing.expected or standing.started + shortest
        at = next_mark(max(expected, soonest), step.grain)
        return at, at
    first = max(next_mark(standing.started + shortest, MINUTE), soonest)
    if longest is None:
        return first, None
    last = max(standing.started + longest, first)
    return first, max(last, next_mark(first, step.grain)) if last - first < step.grain else last


def latest_after(link: Link, ended: datetime, now: datetime) -> datetime | None:
    """The latest the later step of a link may start once the earlier one has really ended.

    None is no limit: the link has none, or the limit passes before the next whole minute. Then what follows
    is late, which the cook is told, and it starts as soon as it can.
    """
    if link.longest is None:
        return None
    limit = ended + link.longest
    return None if limit < next_mark(now, MINUTE) else limit


def overdue(plan: Plan, progress: Progress, now: datetime) -> tuple[Link, ...]:
    """Links whose earlier step has ended and whose limit has passed before the later one was begun."""
    late: list[Link] = []
    for link in live_links(plan, progress.dropped):
        ended = progress.of(link.before).ended
        waiting = link.after is not None and progress.state(link.after) is State.WAITING
        if waiting and ended is not None and link.longest is not None and ended + link.longest < now:
            late.append(link)
    return tuple(late)


def still_to_do(progress: Progress) -> bool:
    """Whether anything of the meal is left to begin or to end."""
    return any(standing.state in (State.WAITING, State.RUNNING) for standing in progress.standings)
