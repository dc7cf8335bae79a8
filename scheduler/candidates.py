"""Single changes that could take one of the facts in conflict out of the way: what remedies are sought among.

A change that touches none of the facts in conflict cannot help, so none is looked at.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import datetime, timedelta

from scheduler.changes import Change, ChangeKind, on_the_clock
from scheduler.domain.hours import Interval, without
from scheduler.domain.kitchen.hazards.guards import unguarded
from scheduler.domain.plan import Attention, Component, Cook, Step
from scheduler.domain.presence import Presence, holding
from scheduler.domain.progress import State
from scheduler.domain.timetable import next_mark
from scheduler.facts import Fact, FactKind
from scheduler.reach import Reach, reach
from scheduler.solver import Task

QUARTER = timedelta(minutes=15)
HOUR = timedelta(hours=1)
HALF_HOUR = timedelta(minutes=30)
MOST = 96
"""How many changes of one kind are looked at: those nearest to the meal."""


class Candidates:
    """Candidates for one task and the facts in conflict in it, in order of their time."""

    def __init__(self, task: Task, facts: Iterable[Fact]) -> None:
        self.task, self.plan, self.facts = task, task.plan, tuple(facts)
        self.reach: Reach = reach(task.plan, task.progress, task.now, task.serve)
        self.since, self.until = task.now - timedelta(days=2), task.serve + timedelta(days=2)
        self.presence = Presence(task.plan, self.since, self.until)

    # ------------------------------------------------------------ hours

    def nights(self, by: timedelta) -> list[Change]:
        """Every later bedtime and every earlier alarm, by so much, that a step held up by hours can use."""
        found = (change for cook in self.plan.kitchen.cooks for change in self._nights(cook, by))
        return self._latest(change for change in found if self._usable(change, FactKind.HOURS))

    def _nights(self, cook: Cook, by: timedelta) -> Iterator[Change]:
        home = self.presence.home(cook.name)
        for wakes, sleeps in self.presence.awake(cook.name):
            if holding(home, wakes):
                yield Change(ChangeKind.ALARM, cook.name, wakes - by, wakes)
            if any(start < sleeps == end for start, end in home):
                yield Change(ChangeKind.BED, cook.name, sleeps, sleeps + by)

    def hours_off(self) -> list[Change]:
        """Every hour at the beginning, at the end and in the middle of what a cook is out for."""
        found = (change for cook in self.plan.kitchen.cooks for change in self._hours_off(cook))
        return self._latest(change for change in found if self._usable(change, FactKind.HOURS))

    def _hours_off(self, cook: Cook) -> Iterator[Change]:
        for leaves, returns in without(self.presence.awake(cook.name), self.presence.home(cook.name)):
            if returns - leaves < HOUR:
                continue
            last = returns - HOUR
            middle = [leaves + n * HOUR for n in range(1, (last - leaves) // HOUR)]
            for start in dict.fromkeys((leaves, last, *middle)):
                yield Change(ChangeKind.OFF, cook.name, start, start + HOUR)

    def helping(self) -> list[Change]:
        """An hour of a second cook, every half hour in which a step that wants hands could use one."""
        windows = [self.reach[step.number] for step in self._wanting_hands()]
        starts = {start for window in windows for start in _marks(window)}
        found = (Change(ChangeKind.HELPER, None, start, start + HOUR) for start in sorted(starts))
        return self._latest(change for change in found if self._sound(change) and self._someone_in(change))

    def _wanting_hands(self) -> list[Step]:
        """The steps not begun that any cook may do and that hands or hours hold up."""
        held = {fact.step for fact in self.facts if fact.step is not None}
        held |= {fact.other for fact in self.facts if fact.other is not None}
        return [
            step
            for step in self.plan.steps
            if step.attention is Attention.HANDS_ON and step.cook is None
            and step.number in held and self._waits(step.number)
        ]  # fmt: skip

    def _someone_in(self, change: Change) -> bool:
        """A helper needs to be let in: some cook is awake and at home when they come."""
        return change.start is not None and self.presence.is_awake(change.start)

    def _usable(self, change: Change, kind: FactKind) -> bool:
        """Whether a stretch to come overlaps what a step in conflict can reach, and is that step's cook's."""
        held = [fact.step for fact in self.facts if fact.kind is kind and fact.step is not None]
        return self._sound(change) and any(
            change.cook in [cook.name for cook in self.plan.cooks_of(self.plan.steps[number])]
            and _overlap(change, self.reach[number])
            for number in held
            if number in self.reach
        )

    def _sound(self, change: Change) -> bool:
        """Still to come, and told apart by the clocks on the wall."""
        if change.start is None or change.end is None or change.start < self.task.now:
            return False
        return all(on_the_clock(at, self.plan.zone) for at in (change.start, change.end))

    def _latest(self, found: Iterable[Change]) -> list[Change]:
        """Each once, those nearest to the meal where there are too many; in order of time."""
        return sorted(dict.fromkeys(found), key=self._in_time)[-MOST:]

    def _in_time(self, change: Change) -> tuple[datetime, str, str]:
        return change.start or self.since, change.cook or "", change.kind

    # ------------------------------------------------------------ gear, parts

    def gear(self) -> list[Change]:
        """One more of each piece in conflict."""
        names = [fact.name for fact in self.facts if fact.kind is FactKind.GEAR]
        return [Change(ChangeKind.GEAR, gear=name) for name in names]

    def parts(self) -> list[Change]:
        """What may be left out and has to do with the conflict: steps first, then whole components."""
        steps = [
            Change(ChangeKind.SKIP, step=step.number)
            for step in self.plan.steps
            if step.optional and step.floor is None and self._waits(step.number) and self._concerned(step)
            if unguarded(self.plan, frozenset({step.number}), self.task.progress.dropped) is None
        ]
        components = [
            Change(ChangeKind.LEAVE_OUT, step=component.steps[0].number)
            for component in self.plan.components
            if component.optional
            and any(step.number in self.reach for step in component.steps)
            and any(self._concerned(step) for step in component.steps)
            and unguarded(self.plan, _numbers(component), self.task.progress.dropped) is None
        ]
        return steps + components

    def _concerned(self, step: Step) -> bool:
        """Whether a fact in conflict is about the step, or about hands or gear that it uses."""
        uses = {*step.gear, *(("oven",) if step.oven is not None else ())}
        hands = step.attention is Attention.HANDS_ON
        return any(
            step.number in (fact.step, fact.other)
            or (fact.kind is FactKind.GEAR and fact.name in uses)
            or (fact.kind is FactKind.COOK and hands)
            for fact in self.facts
        )

    def _waits(self, number: int) -> bool:
        return self.task.progress.state(number) is State.WAITING


def _numbers(component: Component) -> frozenset[int]:
    return frozenset(step.number for step in component.steps)


def _overlap(change: Change, window: Interval) -> bool:
    """Whether the two touch: a step may start the moment a stretch begins, and end as it ends."""
    return bool(change.start and change.end and change.start <= window[1] and change.end >= window[0])


def _marks(window: Interval) -> Iterator[datetime]:
    """Every half hour of the clock at which an hour has something of the window in it."""
    at = next_mark(window[0] - HALF_HOUR, HALF_HOUR)
    while at < window[1]:
        yield at
        at += HALF_HOUR


def longer(change: Change, by: timedelta) -> Change:
    """A later bedtime or an earlier alarm by another length."""
    if change.start is None or change.end is None:
        raise ValueError(f"no stretch: {change}")
    if change.kind is ChangeKind.ALARM:
        return Change(change.kind, change.cook, change.end - by, change.end)
    return Change(change.kind, change.cook, change.start, change.start + by)
