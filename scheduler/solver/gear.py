"""Shared things in the model: pairs of hands, counted gear, and ovens that hold one temperature."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations, count
from typing import TYPE_CHECKING, Any

from scheduler.domain.plan import Attention, Step
from scheduler.domain.progress import State
from scheduler.facts import FactKind
from scheduler.solver.ranges import DAY, outside, starts_within

if TYPE_CHECKING:
    from scheduler.solver.model import Model


def _live(model: Model) -> list[Step]:
    states = (State.WAITING, State.RUNNING)
    return [step for step in model.task.plan.steps if model.state(step.number) in states]


def share_cooks(model: Model) -> None:
    """Give every hands-on step one cook, in that cook's hours, and no cook two at once."""
    busy: dict[str, list[tuple[Step, Any]]] = {cook.name: [] for cook in model.task.plan.kitchen.cooks}
    for step in _live(model):
        if step.attention is Attention.HANDS_ON:
            _choose_cook(model, step, busy)
    for name, users in busy.items():
        if not model.without(FactKind.COOK, name=name):
            for group in meeting(model, users):
                _one_at_a_time(model, group)


def meeting(model: Model, users: list[tuple[Step, Any]]) -> list[list[tuple[Step, Any]]]:
    """The users in groups of which no two can ever be under way at once, none of them alone."""
    groups: list[list[tuple[Step, Any]]] = []
    until = None
    for user in sorted(users, key=lambda user: (model.span(user[0].number), user[0].number)):
        first, last = model.span(user[0].number)
        if until is None or first >= until:
            groups.append([])
            until = last
        groups[-1].append(user)
        until = max(until, last)
    return [group for group in groups if len(group) > 1]


def _one_at_a_time(model: Model, users: list[tuple[Step, Any]]) -> None:
    """Steps under way may overlap, since they do; nothing may be begun beside them."""
    running = [interval for step, interval in users if model.state(step.number) is State.RUNNING]
    to_come = [interval for step, interval in users if model.state(step.number) is not State.RUNNING]
    for group in [[interval, *to_come] for interval in running] or [to_come]:
        if len(group) > 1:
            model.cp.add_no_overlap(group)


def _choose_cook(model: Model, step: Step, busy: dict[str, list[tuple[Step, Any]]]) -> None:
    cooks = model.task.plan.cooks_of(step)
    least, most = (0, 0) if model.state(step.number) is State.RUNNING else model.lengths(step)
    choices = []
    for cook in cooks:
        there = model.cp.new_bool_var(f"c{step.number}{cook.name}") if len(cooks) > 1 else None
        model.by_cook[step.number, cook.name] = 1 if there is None else there
        busy[cook.name].append((step, model.interval(step.number, there)))
        choices.append(there)
        if model.state(step.number) is State.RUNNING or model.without(FactKind.HOURS, step=step.number):
            continue
        home = model.stretches.home(cook)
        if least != most:
            model.avoid(step, outside(home, model.first - DAY, model.last + DAY), there)
        elif there is not None:
            _start_in(model, step, starts_within(home, least), there)
    if len(cooks) > 1:
        model.cp.add_exactly_one(choices)


def _start_in(model: Model, step: Step, allowed: list[tuple[int, int]], there: Any) -> None:
    from ortools.sat.python import cp_model

    start = model.at(model.starts[step.number])
    domain = cp_model.Domain.from_intervals([list(pair) for pair in allowed])
    model.cp.add_linear_expression_in_domain(start, domain).only_enforce_if(there)


def share_gear(model: Model) -> None:
    """Never more of a thing in use than the kitchen has."""
    for name, owned in sorted(model.task.plan.kitchen.gear.items()):
        users = [(step, step.gear.count(name)) for step in _live(model) if name in step.gear]
        if model.without(FactKind.GEAR, name=name) or sum(n for _, n in users) <= owned:
            continue
        for group in meeting(model, users):
            if sum(n for _, n in group) > owned:
                _share(model, owned, group)


def _share(model: Model, owned: int, users: list[tuple[Step, Any]]) -> None:
    pairs = [(step, model.interval(step.number)) for step, _ in users]
    if owned == 1:
        _one_at_a_time(model, pairs)
        return
    in_use = sum(n for step, n in users if model.state(step.number) is State.RUNNING)
    model.cp.add_cumulative([i for _, i in pairs], [n for _, n in users], max(owned, in_use))


def share_ovens(model: Model) -> None:
    """An oven holds one temperature at a time; steps at the same temperature share it."""
    ovens = model.task.plan.kitchen.ovens
    users = [step for step in _live(model) if step.oven is not None]
    heats = {step.oven for step in users}
    if model.without(FactKind.GEAR, name="oven") or len(heats) <= ovens:
        return
    in_oven = {step.number: _ovens_of(model, step, ovens) for step in users}
    for group in meeting(model, [(step, None) for step in users]):
        for together in _one_of_each_heat([step for step, _ in group]):
            _not_at_once(model, together, in_oven)


def _one_of_each_heat(users: list[Step]) -> Iterator[list[Step]]:
    """Sets of steps at different heats such that any two at different heats are in one of them, and few sets.

    They are the lines of a grid whose columns are heats, as long as a prime number (a transversal design).
    """
    heats = sorted({step.oven for step in users if step.oven is not None})
    columns = [[step for step in users if step.oven == heat] for heat in heats]
    size = _prime(max(len(heats), *(len(column) for column in columns)))
    for first in range(size):
        for slope in range(size):
            rows = [(first + slope * index) % size for index in range(len(columns))]
            line = [column[row] for column, row in zip(columns, rows, strict=True) if row < len(column)]
            if len(line) > 1:
                yield line


def _prime(least: int) -> int:
    return next(n for n in count(max(2, least)) if all(n % d for d in range(2, n)))


def _not_at_once(model: Model, users: list[Step], in_oven: dict[int, list[Any]]) -> None:
    """At most one of them in each oven at a time; those under way are as they are, and nothing joins them."""
    running = [step for step in users if model.state(step.number) is State.RUNNING]
    to_come = [step for step in users if model.state(step.number) is not State.RUNNING]
    for group in [[step, *to_come] for step in running] or [to_come]:
        if len(group) > 1 and any(_can_meet(model, *pair) for pair in combinations(group, 2)):
            for oven in zip(*(in_oven[step.number] for step in group), strict=True):
                model.cp.add_no_overlap(list(oven))


def _can_meet(model: Model, one: Step, other: Step) -> bool:
    mine, theirs = model.span(one.number), model.span(other.number)
    return mine[0] < theirs[1] and theirs[0] < mine[1]


def _ovens_of(model: Model, step: Step, ovens: int) -> list[Any]:
    """The step's interval in each oven, exactly one of them there."""
    if ovens == 1:
        return [model.interval(step.number)]
    there = [model.cp.new_bool_var(f"o{step.number}.{oven}") for oven in range(ovens)]
    model.cp.add_exactly_one(there)
    return [model.interval(step.number, flag) for flag in there]
