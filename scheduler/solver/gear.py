"""Shared things in the model: pairs of hands, counted gear, and ovens that hold one temperature."""

from __future__ import annotations

from itertools import combinations
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
            _one_at_a_time(model, users)


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
    for name, count in sorted(model.task.plan.kitchen.gear.items()):
        users = [(step, step.gear.count(name)) for step in _live(model) if name in step.gear]
        if model.without(FactKind.GEAR, name=name) or sum(n for _, n in users) <= count:
            continue
        pairs = [(step, model.interval(step.number)) for step, _ in users]
        if count == 1:
            _one_at_a_time(model, pairs)
        else:
            in_use = sum(n for step, n in users if model.state(step.number) is State.RUNNING)
            model.cp.add_cumulative([i for _, i in pairs], [n for _, n in users], max(count, in_use))


def share_ovens(model: Model) -> None:
    """An oven holds one temperature at a time; steps at the same temperature share it."""
    ovens = model.task.plan.kitchen.ovens
    users = [step for step in _live(model) if step.oven is not None]
    heats = {step.oven for step in users}
    if model.without(FactKind.GEAR, name="oven") or len(heats) <= ovens:
        return
    in_oven = {step.number: _ovens_of(model, step, ovens) for step in users}
    for one, other in combinations(users, 2):
        if one.oven != other.oven and not _both_running(model, one, other):
            for oven in range(ovens):
                pair = (in_oven[one.number][oven], in_oven[other.number][oven])
                model.cp.add_no_overlap(pair)


def _both_running(model: Model, one: Step, other: Step) -> bool:
    return all(model.state(step.number) is State.RUNNING for step in (one, other))


def _ovens_of(model: Model, step: Step, ovens: int) -> list[Any]:
    """The step's interval in each oven, exactly one of them there."""
    if ovens == 1:
        return [model.interval(step.number)]
    there = [model.cp.new_bool_var(f"o{step.number}.{oven}") for oven in range(ovens)]
    model.cp.add_exactly_one(there)
    return [model.interval(step.number, flag) for flag in there]
