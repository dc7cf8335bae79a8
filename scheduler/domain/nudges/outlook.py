"""What the nudges are worked out from: where every step stands, and what waits for what."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property

from scheduler.domain.links import live_links
from scheduler.domain.nudges.hours import MARGIN, Stretches, Waking
from scheduler.domain.nudges.policy import Policy
from scheduler.domain.plan import NO_TIME, Attention, Link, Plan, Step
from scheduler.domain.progress import Progress, State, starts_itself
from scheduler.domain.timetable import Slot, Timetable, Touch


@dataclass(frozen=True)
class Outlook:
    """A plan, its timetable, what was said so far, and the present moment.

    `now` decides only what is withheld, so that the nudges themselves do not move as time passes.
    """

    plan: Plan
    timetable: Timetable
    progress: Progress
    policy: Policy
    now: datetime

    @cached_property
    def waking(self) -> Waking:
        moments = [moment for pair in self._spans() for moment in pair]
        first, last = min(moments, default=self.now), max(moments, default=self.now)
        return Waking(self.plan, first - MARGIN, max(last, self.timetable.serve) + MARGIN)

    def _spans(self) -> Iterator[tuple[datetime, datetime]]:
        for slot in self.timetable.slots:
            step, standing = self.plan.steps[slot.step], self.progress.of(slot.step)
            if standing.state is State.WAITING:
                last = max(slot.end, slot.last_call, standing.not_before or slot.end)
                yield slot.start - (step.buy or NO_TIME), last
            elif standing.state is State.RUNNING:
                started = standing.started or slot.start
                longest = step.range.longest or step.range.usually or NO_TIME
                yield started, max(slot.end, standing.expected or slot.end, started + longest)

    def hours(self, step: Step) -> Stretches | None:
        """The hours to move nudges into: when one of its cooks is awake and at home.

        None for what is on the fire, beside which somebody is up whatever the clock says.
        """
        on_the_fire = step.attention is Attention.NEARBY
        running = self.progress.state(step.number) is State.RUNNING
        return None if on_the_fire and running else self.waking.home(step)

    def touches_of(self, step: int) -> list[Touch]:
        """The planned touches of a step, by occurrence."""
        return self._touches.get(step, [])

    @cached_property
    def _touches(self) -> dict[int, list[Touch]]:
        found: dict[int, list[Touch]] = {}
        for touch in sorted(self.timetable.touches, key=lambda touch: touch.occurrence):
            found.setdefault(touch.step, []).append(touch)
        return found

    @cached_property
    def asked_for(self) -> tuple[tuple[Step, Slot], ...]:
        """The steps that need someone to begin them, begun or not, in order of start."""
        placed = ((self.plan.steps[slot.step], slot) for slot in self.timetable.slots)
        return tuple((step, slot) for step, slot in placed if self.begun_by_hand(step))

    @cached_property
    def to_begin(self) -> tuple[tuple[Step, Slot], ...]:
        """Those that nobody has begun yet."""
        return tuple(
            (step, slot) for step, slot in self.asked_for if self.progress.state(slot.step) is State.WAITING
        )

    @cached_property
    def running(self) -> tuple[tuple[Step, Slot], ...]:
        """The steps begun and not ended, in order of start."""
        return tuple(
            (self.plan.steps[slot.step], slot)
            for slot in self.timetable.slots
            if self.progress.state(slot.step) is State.RUNNING
        )

    def begun_by_hand(self, step: Step) -> bool:
        """Whether someone has to say that the step is begun.

        A wait that begins by itself does so only at the end of the work before it: when that may wait,
        was left out, or is over already (the wait is being done again), it is begun like anything else.
        """
        if not starts_itself(self.plan, step):
            return True
        tied = all(link.tied for link in self.plan.links_into[step.number])
        return not tied or self.progress.state(step.follows[0]) in (State.DONE, State.DROPPED)

    @property
    def planned_moments(self) -> Iterator[datetime]:
        """When the timetable has somebody do something, whether it was done since or not."""
        yield from (slot.start for slot in self.timetable.slots)
        yield from (touch.at for touch in self.timetable.touches)

    @cached_property
    def links(self) -> tuple[Link, ...]:
        return live_links(self.plan, self.progress.dropped)

    def handed_over(self, step: Step, slot: Slot) -> bool:
        """Whether something that comes after the step begins as it ends, and is asked for itself."""
        begins = {
            after.number: planned.start
            for after, planned in self.to_begin
            if self.progress.of(after.number).not_before is None
        }
        return any(
            begins.get(link.after) == slot.end
            for link in self.links
            if link.before == step.number and link.after is not None
        )

    @cached_property
    def held_up(self) -> frozenset[int]:
        """Steps that follow, however far, one that should have been begun and was not."""
        late = {step.number for step, slot in self.to_begin if slot.start < self.now}
        held: set[int] = set()
        after: dict[int, list[int]] = {}
        for link in self.links:
            if link.after is not None:
                after.setdefault(link.before, []).append(link.after)
        reach = list(late)
        while reach:
            fresh = [number for number in after.get(reach.pop(), []) if number not in held]
            held.update(fresh)
            reach += fresh
        return frozenset(held)

    @cached_property
    def at_the_table(self) -> frozenset[int]:
        """The steps whose result goes straight to the table."""
        return frozenset(link.before for link in self.links if link.after is None)
