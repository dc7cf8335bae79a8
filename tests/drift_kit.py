"""A cook whose kitchen drifts: early, late, put off, as a seed has it; every reply and the planning it needs."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from scheduler.domain.plan import FIVE_MINUTES, MINUTE, Attention, Plan, Step
from scheduler.domain.presence import Presence
from scheduler.domain.progress import Mark, MarkKind, Progress, State, at_the_start, fold, overdue
from scheduler.domain.timetable import Slot, Timetable
from scheduler.explain import Misfit
from scheduler.planning import carried_on, time_out
from scheduler.solver import Bound, Task, Verdict, fits
from scheduler.solver.steady import ANNOUNCED
from scheduler.staying import still_due, waiting_since

Planner = Callable[[Plan, datetime, datetime, Progress, Timetable], "Timetable | Misfit"]

DELAYS = (0, 0, 0, 1, 2, 3, 5, 8, 12, 20, 35, 50)
"""Minutes after its planned start at which the cook speaks of something."""

PACE = (0.8, 0.9, 1.0, 1.0, 1.1, 1.25, 1.5)
"""How long work of the hands takes, in parts of what was planned."""

PUT_OFF = (15, 30, 45, 60, 120)
MOST_REPLIES = 400


@dataclass(frozen=True)
class Reply:
    """One reply: what was in force before it, where everything stands after it, and what came of it."""

    plan: Plan
    mark: Mark
    now: datetime
    before: Timetable
    progress: Progress
    after: Timetable | Misfit


@dataclass(frozen=True)
class _Coming:
    at: datetime
    kind: MarkKind
    step: int


class DriftingCook:
    """Lives through a plan from `now` on: says that something began, is done, is put off; each when it is.

    The same plan and seed give the same drift for the same planner.
    """

    def __init__(
        self, plan: Plan, table: Timetable, now: datetime, seed: int, planner: Planner = time_out
    ) -> None:
        self.plan, self.table, self.now, self.planner = plan, table, now, planner
        self.rng = random.Random(seed)
        self.marks: list[Mark] = []
        self.progress = at_the_start(plan)
        self.delay = {step.number: self.rng.choice(DELAYS) * MINUTE for step in plan.steps}
        self.pace = {step.number: self.rng.choice(PACE) for step in plan.steps}
        self.part = {step.number: self.rng.random() for step in plan.steps}
        self.puts_off = {step.number: self.rng.random() < 0.05 for step in plan.steps}
        self.presence = Presence(plan, now - timedelta(days=7), table.serve + timedelta(days=60))

    def live(self) -> Iterator[Reply]:
        """Every reply, until nothing is left to say."""
        for count in range(MOST_REPLIES):
            coming = min(self._coming(), key=lambda each: (each.at, each.step), default=None)
            if coming is None:
                return
            self.now = max(self.now, coming.at)
            yield self._say(self._mark(coming, count))

    # ------------------------------------------------------------ what is said next

    def _coming(self) -> Iterator[_Coming]:
        for slot in self.table.slots:
            step, state = self.plan.steps[slot.step], self.progress.state(slot.step)
            if state is State.WAITING and self._ready(step):
                yield self._beginning(step, slot)
            elif state is State.RUNNING and (over := self._over(step, slot)) is not None:
                yield _Coming(self._awake(over), MarkKind.DONE, step.number)

    def _ready(self, step: Step) -> bool:
        states = [self.progress.state(before) for before in step.follows]
        return State.WAITING not in states and not any(
            state is State.RUNNING and self.plan.steps[before].range.by_nature
            for before, state in zip(step.follows, states, strict=True)
        )

    def _beginning(self, step: Step, slot: Slot) -> _Coming:
        at = self._awake(max(slot.start + self.delay[step.number], self.now))
        if step.attention is Attention.HANDS_ON and not self.puts_off[step.number]:
            at += step.range.shortest * self.pace[step.number] // MINUTE * MINUTE
            return _Coming(at, MarkKind.DONE, step.number)
        return _Coming(at, MarkKind.STARTED, step.number)

    def _over(self, step: Step, slot: Slot) -> datetime | None:
        """When a step under way is said to be over; None when it ends without a word."""
        started = self.progress.of(step.number).started or slot.start
        if step.range.by_nature:
            longest = step.range.longest or 1.3 * (step.range.usually or step.range.shortest)
            lasts = step.range.shortest + (longest * 1.05 - step.range.shortest) * self.part[step.number]
            return max(self.now, started + lasts // MINUTE * MINUTE)
        if step.attention is Attention.UNATTENDED and (step.keeps or self._followed(step)):
            return None
        return max(self.now, slot.end + self.delay[step.number] / 3 // MINUTE * MINUTE)

    def _followed(self, step: Step) -> bool:
        """Whether something begins as it ends, so that nobody speaks of the end."""
        return any(link.after is not None and link.tied for link in self.plan.links_out_of[step.number])

    def _awake(self, at: datetime) -> datetime:
        return self.presence.next_awake(at) or at

    # ------------------------------------------------------------ saying it

    def _mark(self, coming: _Coming, count: int) -> Mark:
        step, now = coming.step, self.now
        if self.puts_off[step] and coming.kind is MarkKind.STARTED:
            self.puts_off[step] = False
            until = now + self.rng.choice(PUT_OFF) * MINUTE
            return Mark(MarkKind.LATER, now, now, f"{count}", step, until=until)
        return Mark(coming.kind, now, now, f"{count}", step)

    def _say(self, mark: Mark) -> Reply:
        self.marks.append(mark)
        before, progress = self.table, self._folded(self.table)
        after = self.planner(self.plan, before.serve, self.now, progress, before)
        self.table = after if isinstance(after, Timetable) else self._otherwise(after, progress)
        self.progress = self._folded(self.table)
        return Reply(self.plan, mark, self.now, before, progress, after)

    def _folded(self, table: Timetable) -> Progress:
        return fold(self.plan, self.marks, self.now, table)

    def _otherwise(self, misfit: Misfit, progress: Progress) -> Timetable:
        """The hour that is offered, agreed to; or else the timetable carried on."""
        for remedy in misfit.remedies[:1]:
            moved = replace(self.table, serve=remedy.serve)
            again = self.planner(self.plan, remedy.serve, self.now, progress, moved)
            if isinstance(again, Timetable):
                return again
        return carried_on(self.plan, self.table, self.now, progress)


# ---------------------------------------------------------------- what a reply did to the timetable


@dataclass(frozen=True)
class Moves:
    """The steps not begun that a reply moved: all of them, those by less than five minutes, those that were
    announced for the hour after it; and the announced ones that stayed.
    """

    every: tuple[int, ...]
    little: tuple[int, ...]
    announced: tuple[int, ...]
    stayed: tuple[int, ...]


def moves(reply: Reply) -> Moves:
    """What a reply moved; raises ValueError for one that nothing fitted after."""
    if not isinstance(reply.after, Timetable):
        raise ValueError("nothing fitted after this reply")
    waiting = {n for n in range(len(reply.plan.steps)) if reply.progress.state(n) is State.WAITING}
    was = {slot.step: slot.start for slot in reply.before.slots if slot.step in waiting}
    by = {slot.step: slot.start - was[slot.step] for slot in reply.after.slots if slot.step in was}
    every = tuple(n for n, far in by.items() if far)
    soon = [n for n in by if was[n] <= reply.now + ANNOUNCED]
    return Moves(
        every,
        tuple(n for n in every if abs(by[n]) < FIVE_MINUTES),
        tuple(n for n in soon if n in every),
        tuple(n for n in soon if n not in every),
    )


def could_stay(reply: Reply, step: int) -> bool:
    """Whether something fits in which the step starts when it did."""
    return any(_fits(reply, [_at(reply, step), *_announced(reply)]))


def could_move_more(reply: Reply, step: int) -> bool:
    """Whether something fits in which the step moves by five minutes or more, either way."""
    ways = (FIVE_MINUTES, -FIVE_MINUTES)
    return any(any(_fits(reply, [_away(reply, step, by), *_announced(reply)])) for by in ways)


def could_all_stay(reply: Reply, steps: Iterable[int], away: Mapping[int, timedelta] | None = None) -> bool:
    """Whether something fits in which these steps start when they did, and each of `away` at least so much later
    (or earlier, below nothing); whatever was announced.
    """
    moved = [_away(reply, step, by) for step, by in (away or {}).items()]
    return any(_fits(reply, [*(_at(reply, step) for step in steps), *moved]))


def _announced(reply: Reply) -> list[Bound]:
    """What was announced and left alone stays so."""
    return [_at(reply, step) for step in moves(reply).stayed]


def _fits(reply: Reply, bounds: list[Bound]) -> Iterator[bool]:
    """Asked of the search without an aim: as of now, and as of the first step that is due.

    What has kept too long begins no later than it does after the reply.
    """
    if not isinstance(reply.after, Timetable):
        raise ValueError("nothing fitted after this reply")
    links = overdue(reply.plan, reply.progress, reply.now)
    late = {link.after for link in links if link.after is not None}
    bounds = [*bounds, *(Bound(n, not_after=_start(reply.after, n)) for n in sorted(late))]
    task = Task(reply.plan, reply.progress, reply.now, reply.before.serve, bounds=tuple(bounds))
    yield fits(task) is not Verdict.INFEASIBLE
    if due := still_due(reply.plan, reply.before, reply.now, reply.progress):
        yield fits(waiting_since(task, due)) is not Verdict.INFEASIBLE


def _at(reply: Reply, step: int) -> Bound:
    at = _start(reply.before, step)
    return Bound(step, at, at)


def _away(reply: Reply, step: int, by: timedelta) -> Bound:
    at = _start(reply.before, step) + by
    return Bound(step, not_before=at) if by > timedelta(0) else Bound(step, not_after=at)


def _start(table: Timetable, step: int) -> datetime:
    slot = table.slot(step)
    if slot is None:
        raise ValueError(f"step {step} has no time")
    return slot.start
