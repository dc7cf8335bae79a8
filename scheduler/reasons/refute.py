"""Showing from few facts that nothing fits: bounds, and where hands or gear are short, each order in turn."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, permutations

from scheduler.domain.plan import Attention, Step
from scheduler.domain.progress import State
from scheduler.facts import Fact, FactKind
from scheduler.reasons.constraints import Cause, Edge, end_of, start_of
from scheduler.reasons.network import Network
from scheduler.reasons.propagate import Bounds, Crossed, Entry, TooLong
from scheduler.reasons.records import Because

MOST_NODES = 60
"""Orders looked at before the work is left to the solver."""

MOST_HANDS = 3
"""Cooks looked at together."""


class Unsettled(Exception):
    """It was neither refuted nor found to hold in the steps allowed."""


@dataclass(frozen=True, slots=True)
class Crowd:
    """Steps that cannot all be under way at once, and the facts that say so."""

    steps: tuple[int, ...]
    facts: frozenset[Fact]


def refuted(net: Network, kept: frozenset[Fact], given: Sequence[Entry]) -> frozenset[Fact] | None:
    """The facts, of those kept, by which the given bounds cannot hold; None when they can.

    Raises Unsettled when it gives up.
    """
    return _Refuting(net, kept, given).under(())


class _Refuting:
    def __init__(self, net: Network, kept: frozenset[Fact], given: Sequence[Entry]) -> None:
        self.net, self.kept, self.given = net, kept, given
        self.constraints = net.constraints(kept)
        self.nodes = 0

    def under(self, orders: tuple[Edge, ...]) -> frozenset[Fact] | None:
        found = self._under(orders)
        return None if found is None else found[0]

    def _under(self, orders: tuple[Edge, ...]) -> tuple[frozenset[Fact], set[int]] | None:
        """The facts of the refutation, and the causes it used."""
        self.nodes += 1
        if self.nodes > MOST_NODES:
            raise Unsettled
        try:
            bounds = Bounds(self.constraints, orders, self.given)
        except Crossed as crossed:
            return crossed.low.facts() | crossed.high.facts(), crossed.low.causes() | crossed.high.causes()
        except TooLong as error:
            raise Unsettled from error
        crowd = next(crowds(self.net, self.kept, bounds), None)
        return None if crowd is None else self._each_order(orders, crowd)

    def _each_order(self, orders: tuple[Edge, ...], crowd: Crowd) -> tuple[frozenset[Fact], set[int]] | None:
        facts, causes = crowd.facts, set[int]()
        for first, second in permutations(crowd.steps, 2):
            if self.net.state(second) is not State.WAITING:
                continue
            cause = Cause(Because.GEAR, crowd.facts, first, second)
            found = self._under((*orders, Edge(end_of(first), start_of(second), 0, cause)))
            if found is None:
                return None
            if id(cause) not in found[1]:
                return found
            facts, causes = facts | found[0], causes | found[1]
        return facts, causes


# ---------------------------------------------------------------- what cannot be at once


def crowds(net: Network, kept: frozenset[Fact], bounds: Bounds) -> Iterator[Crowd]:
    """What would be short if every step stood at its upper bounds."""
    spans = [(step, *span) for step in net.live() if (span := _span(net, bounds, step)) is not None]
    for at in sorted({start for _, start, _ in spans}):
        there = [step for step, start, end in spans if start <= at < end]
        if any(net.state(step.number) is State.WAITING for step in there):
            yield from _short(net, kept, there)


def _span(net: Network, bounds: Bounds, step: Step) -> tuple[int, int] | None:
    start, end = bounds.upper.get(start_of(step.number)), bounds.upper.get(end_of(step.number))
    if start is None or end is None:
        return None
    running = net.state(step.number) is State.RUNNING
    return net.now if running else start.at, end.at


def _short(net: Network, kept: frozenset[Fact], there: list[Step]) -> Iterator[Crowd]:
    found = [*_hands(net, kept, there), *_gear(net, kept, there), *_ovens(net, kept, there)]
    for crowd in found:
        if any(net.state(number) is State.WAITING for number in crowd.steps):
            yield crowd


def _hands(net: Network, kept: frozenset[Fact], there: list[Step]) -> Iterator[Crowd]:
    hands = [step for step in there if step.attention is Attention.HANDS_ON]
    names = [cook.name for cook in net.plan.kitchen.cooks if Fact(FactKind.COOK, name=cook.name) in kept]
    for count in range(1, min(len(names), MOST_HANDS) + 1):
        for group in combinations(names, count):
            theirs = [step for step in hands if {c.name for c in net.plan.cooks_of(step)} <= set(group)]
            if len(theirs) > count:
                facts = frozenset(Fact(FactKind.COOK, name=name) for name in group)
                yield Crowd(_numbers(theirs[: count + 1]), facts)


def _gear(net: Network, kept: frozenset[Fact], there: list[Step]) -> Iterator[Crowd]:
    for name, count in sorted(net.plan.kitchen.gear.items()):
        fact = Fact(FactKind.GEAR, name=name)
        users = sorted((step for step in there if name in step.gear), key=lambda step: -step.gear.count(name))
        used = 0
        for index, step in enumerate(users if fact in kept else []):
            used += step.gear.count(name)
            if used > count:
                yield Crowd(_numbers(users[: index + 1]), frozenset({fact}))
                break


def _ovens(net: Network, kept: frozenset[Fact], there: list[Step]) -> Iterator[Crowd]:
    fact = Fact(FactKind.GEAR, name="oven")
    by_heat = {step.oven: step for step in there if step.oven is not None}
    ovens = net.plan.kitchen.ovens
    if fact in kept and len(by_heat) > ovens:
        yield Crowd(_numbers(list(by_heat.values())[: ovens + 1]), frozenset({fact}))


def _numbers(steps: Iterable[Step]) -> tuple[int, ...]:
    return tuple(sorted(step.number for step in steps))
