"""Planning again: as few starts move as can be, none by a little, what was announced stays; proved by search."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta
from itertools import combinations, product

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from scheduler.domain.nudges import Policy
from scheduler.domain.plan import FIVE_MINUTES, Plan
from scheduler.domain.progress import State
from scheduler.domain.timetable import Timetable
from scheduler.planning import time_out
from scheduler.solver.steady import ANNOUNCED
from tests.drift_kit import DriftingCook, Reply, could_all_stay, could_move_more, could_stay, moves
from tests.plans_for_tests import (
    NOW,
    SERVED,
    component,
    plan,
    plans,
    step,
)

HOUR = timedelta(hours=1)
drifting = settings(max_examples=8, deadline=None, suppress_health_check=[HealthCheck.too_slow])
SEEDS = st.integers(0, 999)


def lived(made: Plan, seed: int, since: datetime = NOW, most: int = 12) -> list[Reply]:
    """The first replies of a drifting cook that a timetable came of."""
    table = time_out(made, SERVED, since)
    assume(isinstance(table, Timetable))
    assert isinstance(table, Timetable)
    replies = zip(range(most), DriftingCook(made, table, since, seed).live(), strict=False)
    return [reply for _, reply in replies if isinstance(reply.after, Timetable)]


@st.composite
def afternoons(draw: st.DrawFn) -> Plan:
    """One cook with four to seven small jobs in four hours: whatever is late, something else has to make way,
    and there is a choice.
    """
    lengths = draw(st.lists(st.sampled_from([10, 15, 20, 30]), min_size=4, max_size=7))
    jobs = [
        component(
            f"Dish {n}", step(f"Job {n}", hands_on=f"{length} min", between=("15:00-19:00",), keeps="6 h")
        )
        for n, length in enumerate(lengths)
    ]
    return plan(*jobs)


NOON = SERVED - 6 * HOUR


# ---------------------------------------------------------------- whatever happens


@drifting
@given(plans(), SEEDS)
def test_no_start_moves_by_a_little_unless_it_must(made: Plan, seed: int) -> None:
    """Of a start moved by less than five minutes, neither staying nor moving further fits."""
    for reply in lived(made, seed):
        for number in moves(reply).little:
            assert not could_stay(reply, number)
            assert not could_move_more(reply, number)


@pytest.mark.slow
@drifting
@given(plans(), afternoons(), SEEDS)
def test_what_was_announced_stays_unless_it_must_move(made: Plan, afternoon: Plan, seed: int) -> None:
    """With those that stayed held where they are, nothing fits in which one that moved had stayed as well."""
    for reply in lived(made, seed) + lived(afternoon, seed, NOON):
        for number in moves(reply).announced:
            assert not could_stay(reply, number)


@drifting
@given(plans(), afternoons(), SEEDS)
def test_no_fewer_starts_could_have_moved(made: Plan, afternoon: Plan, seed: int) -> None:
    """Every choice of one step less than were moved is tried: nothing fits when only those may move."""
    for reply in lived(made, seed) + lived(afternoon, seed, NOON):
        found = moves(reply)
        waiting = [
            slot.step for slot in reply.before.slots if reply.progress.state(slot.step) is State.WAITING
        ]
        if found.little or not 0 < len(found.every) <= 3 or len(waiting) > 12:
            continue
        for chosen in combinations(waiting, len(found.every) - 1):
            if len({*chosen} & {*found.announced, *found.stayed}) <= len(found.announced):
                assert not any(moved_properly(reply, waiting, chosen)), chosen


def moved_properly(reply: Reply, waiting: list[int], chosen: tuple[int, ...]) -> Iterator[bool]:
    """Whether something fits in which only the chosen steps move, each by five minutes or more."""
    stay = tuple(number for number in waiting if number not in chosen)
    if could_all_stay(reply, stay):
        for ways in product((-FIVE_MINUTES, FIVE_MINUTES), repeat=len(chosen)):
            yield could_all_stay(reply, stay, dict(zip(chosen, ways, strict=True)))


@drifting
@given(plans(), SEEDS)
def test_the_same_reply_always_gives_the_same_timetable(made: Plan, seed: int) -> None:
    """Asked again, the answer is the same to the minute, the cook and the touch."""
    for reply in lived(made, seed, most=5):
        assert time_out(made, reply.before.serve, reply.now, reply.progress, reply.before) == reply.after


def test_no_heads_up_goes_out_before_a_start_counts_as_announced() -> None:
    """Whatever was said ahead of a start is therefore kept."""
    assert Policy().heads_up <= ANNOUNCED
