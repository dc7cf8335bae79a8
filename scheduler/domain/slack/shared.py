"""When a step cannot run for want of hands, gear or an oven, in whole minutes."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable
from functools import partial
from itertools import pairwise

from scheduler.domain.plan import Attention, Plan, Step
from scheduler.domain.progress import Progress, State
from scheduler.domain.slack.room import Place, Stretch, minute
from scheduler.domain.timetable import Slot


class Shared:
    """What the steps that are not over yet take up."""

    def __init__(self, plan: Plan, slots: Iterable[Slot], progress: Progress) -> None:
        self.plan = plan
        self.slots = [slot for slot in slots if progress.state(slot.step) is not State.DONE]

    def blocked(self, place: Place, aside: Collection[int]) -> list[Stretch]:
        """The stretches a step cannot run in; the step itself and those in `aside` take up nothing."""
        others = [slot for slot in self.slots if slot.step != place.step.number and slot.step not in aside]
        found: list[Stretch] = []
        if place.hands_on:
            found += self._busy(others, place.cook)
        for name in set(place.step.gear):
            spare = self.plan.kitchen.gear[name] - place.step.gear.count(name)
            users = [slot for slot in others if name in self._step(slot).gear]
            found += _crowded(users, partial(self._count, name), spare)
        if place.step.oven is not None:
            users = [slot for slot in others if self._step(slot).oven not in (None, place.step.oven)]
            found += _crowded(users, self._heats, self.plan.kitchen.ovens - 1)
        return _joined(found)

    def _busy(self, others: list[Slot], cook: str | None) -> list[Stretch]:
        return [
            (minute(slot.start), minute(slot.end))
            for slot in others
            if slot.cook == cook and self._step(slot).attention is Attention.HANDS_ON
        ]

    def _step(self, slot: Slot) -> Step:
        return self.plan.steps[slot.step]

    def _count(self, name: str, slots: list[Slot]) -> int:
        return sum(self._step(slot).gear.count(name) for slot in slots)

    def _heats(self, slots: list[Slot]) -> int:
        return len({self._step(slot).oven for slot in slots})


def _crowded(slots: list[Slot], weigh: Callable[[list[Slot]], int], limit: int) -> list[Stretch]:
    """The stretches in which the slots under way weigh more than the limit."""
    spans = [(minute(slot.start), minute(slot.end), slot) for slot in slots]
    times = sorted({at for start, end, _ in spans for at in (start, end)})
    return [
        (since, until)
        for since, until in pairwise(times)
        if weigh([slot for start, end, slot in spans if start <= since < end]) > limit
    ]


def _joined(pieces: list[Stretch]) -> list[Stretch]:
    """In order and disjoint."""
    joined: list[Stretch] = []
    for start, end in sorted(pieces):
        if joined and start <= joined[-1][1]:
            joined[-1] = (joined[-1][0], max(joined[-1][1], end))
        elif start < end:
            joined.append((start, end))
    return joined
