"""Which of the timetables that fit is preferred.

The order is kept by searching twice. The first search minimises one sum in which freshness outweighs every
margin together (or, with a timetable in force, what is overdue outweighs moving, and moving one more step
outweighs any distance). Its result is then held while the second, short search spreads hands-on work and
rounds the times.
"""

from __future__ import annotations

from itertools import combinations
from typing import TYPE_CHECKING, Any

from scheduler.domain.plan import MINUTE, Attention, Link, Step
from scheduler.domain.progress import State
from scheduler.solver.ranges import DAY, Ranges
from scheduler.solver.steady import steady

if TYPE_CHECKING:
    from scheduler.solver.model import Model
    from scheduler.solver.places import Places

MARGIN = 15
"""Minutes between hands-on work and bedtime, or the end of its window, when they can be had."""

SHORTEST_EIGHTH = 5
HOUR = 60
CROWD_PAIRS = 120
"""How many pairs of hands-on steps the second search spreads apart, the nearest ones first."""


def first(model: Model) -> Any:
    if model.task.previous is not None:
        return steady(model)
    return sum(_freshness(model)) * (margins_at_most(model) * 3 + 1) + sum(_margins(model))


# ---------------------------------------------------------------- freshness


def _freshness(model: Model) -> list[Any]:
    """How many eighths of what it keeps each thing waits, after the first two.

    The first quarter (a day at most) is free, and eighths are not divided further: that is what buys a
    margin against a late cook. An "at least" that is stretched counts like a wait, from its start.
    """
    costs = [
        _eighths(
            model,
            _gap(model, link),
            longest_gap(link),
            free_wait(longest_gap(link) // 4),
            f"fresh{link.before}.{link.after}",
        )
        for link in gaps(model)
    ]
    for step in model.waiting():
        least, most = model.lengths(step)
        if most is None:
            over = model.at(model.ends[step.number]) - model.at(model.starts[step.number]) - least
            keeps = max(int(step.fresh_for / MINUTE), least)
            costs.append(_eighths(model, over, keeps, 0, f"long{step.number}"))
    return costs


def gaps(places: Places) -> list[Link]:
    """The links whose gap is free to be long or short."""
    return [link for link in places.links if link.longest and _open(places, link)]


def _open(places: Places, link: Link) -> bool:
    if link.after is None:
        return places.state(link.before) is not State.DONE
    return places.state(link.after) is State.WAITING


def longest_gap(link: Link) -> int:
    """Minutes; 0 where there is no limit."""
    return int(link.longest / MINUTE) if link.longest else 0


def free_wait(quarter: int) -> int:
    """What a thing may wait for nothing: a quarter of its keeping time, a day at most."""
    return min(DAY, quarter)


def a_day(most: int) -> int:
    """The day in hand that what keeps for days should have, in minutes; 0 for what does not keep so long."""
    return min(DAY, most // 4) if most >= 2 * DAY else 0


def _gap(model: Model, link: Link) -> Any:
    started = model.serve_var if link.after is None else model.at(model.starts[link.after])
    return started - model.at(model.ends[link.before]) - int(link.shortest / MINUTE)


def _eighths(model: Model, gap: Any, keeps: int, free: int, name: str) -> Any:
    """Rounded up, of at least five minutes each."""
    eighth = max(SHORTEST_EIGHTH, keeps // 8)
    eighths = model.cp.new_int_var(0, 2 * (model.last - model.first + DAY) // eighth + 1, name)
    model.cp.add(eighth * eighths >= gap - free)
    return eighths


# ---------------------------------------------------------------- margins


def _margins(model: Model) -> list[Any]:
    """One for each margin of a quarter of an hour that is missing.

    Hands-on work has one before bedtime (or leaving), and every gap that is allowed to be long has one: it
    is what the steps before it may slip by. What keeps for days has a day in hand where there is one.
    """
    costs = []
    for step in model.waiting():
        if step.attention is Attention.HANDS_ON:
            clear = _among(model, step, clear_of_bedtime(model, step))
            costs.append(2 * _missing(model, f"bed{step.number}", clear))
    for link in gaps(model):
        gap, most = _gap(model, link), longest_gap(link)
        if most > MARGIN:
            costs.append(2 * _missing(model, f"room{link.before}.{link.after}", gap >= MARGIN))
        if a_day(most):
            costs.append(_missing(model, f"day{link.before}.{link.after}", gap >= a_day(most)))
    return costs


def margins_at_most(places: Places) -> int:
    """How many margins there are to miss."""
    hands = sum(step.attention is Attention.HANDS_ON for step in places.waiting())
    return hands + sum((longest_gap(link) > MARGIN) + bool(a_day(longest_gap(link))) for link in gaps(places))


def clear_of_bedtime(places: Places, step: Step) -> Ranges:
    """Where hands-on work can start and leave a margin before bedtime or going out."""
    return places.stretches.starts_of_any(step, places.lengths(step)[0] + MARGIN)


def _among(model: Model, step: Step, starts: Ranges) -> Any:
    from ortools.sat.python import cp_model

    domain = cp_model.Domain.from_intervals([list(pair) for pair in starts])
    return model.at(model.starts[step.number]), domain


def _missing(model: Model, name: str, condition: Any) -> Any:
    missing = model.cp.new_bool_var(name)
    if isinstance(condition, tuple):
        expression, domain = condition
        model.cp.add_linear_expression_in_domain(expression, domain).only_enforce_if(~missing)
    elif condition is not True:
        model.cp.add(condition).only_enforce_if(~missing)
    return missing


# ---------------------------------------------------------------- crowding and round times


def last(model: Model) -> Any:
    hands = [step for step in model.waiting() if step.attention is Attention.HANDS_ON]
    crowds = [_crowded(model, one, other) for one, other in _apart(model, hands)]
    small = [_not_round(model, step) for step in hands] + [_at_the_door(model, step) for step in hands]
    return sum(crowds) * (len(small) + 1) + sum(small)


def _apart(model: Model, hands: list[Step]) -> list[tuple[Step, Step]]:
    """Pairs of hands-on steps that could move apart, the likeliest to crowd first."""
    pairs = [
        (one, other)
        for one, other in combinations(hands, 2)
        if model.starts[one.number].head != model.starts[other.number].head
        and other.component != one.component
    ]
    return pairs[:CROWD_PAIRS]


def _crowded(model: Model, one: Step, other: Step) -> Any:
    start, than = model.at(model.starts[one.number]), model.at(model.starts[other.number])
    name = f"{one.number}.{other.number}"
    crowded, before = model.cp.new_bool_var(f"crowd{name}"), model.cp.new_bool_var(f"before{name}")
    model.cp.add(than - start >= HOUR).only_enforce_if(~crowded, before)
    model.cp.add(start - than >= HOUR).only_enforce_if(~crowded, ~before)
    return crowded


def _not_round(model: Model, step: Step) -> Any:
    """A start off the quarter hour."""
    quarter = model.cp.new_int_var(model.first // 15 - 1, model.last // 15 + 1, f"q{step.number}")
    missed = model.cp.new_bool_var(f"odd{step.number}")
    model.cp.add(model.at(model.starts[step.number]) == 15 * quarter).only_enforce_if(~missed)
    return missed


def _at_the_door(model: Model, step: Step) -> Any:
    return _missing(model, f"door{step.number}", _among(model, step, settled(model, step)))


def settled(places: Places, step: Step) -> Ranges:
    """Where hands-on work can start more than a quarter of an hour after waking or coming home."""
    starts = places.stretches.starts_of_any(step, places.lengths(step)[0])
    return [(a + MARGIN, b) for a, b in starts if a + MARGIN <= b]
