"""Whatever the plan: a yes is never late, a no is late as it says, and nobody looks ahead."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from scheduler.domain.marks import MarkKind
from scheduler.domain.plan import MINUTE, Plan
from scheduler.domain.progress import fold
from scheduler.domain.promise import Bet, Promise, promise, survivor
from scheduler.domain.timetable import Timetable
from scheduler.planning import time_out
from tests.plans_for_tests import (
    NOW,
    SERVED,
    mark,
    plans,
)
from tests.promise_kit import adversarial_draws, bet_on, breaches, random_draws


def guessed(made: Plan, usual: bool) -> Plan:
    """The plan with every step of nature's planned half-way, if so asked."""
    if not usual:
        return made
    parts = []
    for part in made.components:
        steps = []
        for each in part.steps:
            own = each.range
            if own.by_nature and own.longest is not None:
                middle = (own.shortest + own.longest) / 2 // MINUTE * MINUTE
                each = replace(each, range=replace(own, usually=middle))
            steps.append(each)
        parts.append(replace(part, steps=tuple(steps)))
    return replace(made, components=tuple(parts))


@pytest.mark.slow
@settings(
    max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much]
)
@given(plans(), st.booleans(), st.integers(0, 1 << 20))
def test_where_the_answer_is_yes_no_draw_is_late_and_where_it_is_no_the_one_named_is(
    made: Plan, usual: bool, seed: int
) -> None:
    """Random and adversarial draws against the executor; the verifier of timetables judges what was done as well."""
    made = guessed(made, usual)
    given = time_out(made, SERVED, NOW)
    assume(isinstance(given, Timetable) and any(each.range.by_nature for each in made.steps))
    assert isinstance(given, Timetable)
    found, bet = promise(made, given, NOW), bet_on(made, given, NOW)
    assert bet.kept(())
    if found.kept:
        never_late(bet, seed)
    elif found.kept is False:
        late_as_named(bet, found)


def never_late(bet: Bet, seed: int, count: int = 12) -> None:
    executor = bet.executor()
    assert executor is not None
    for draw in (*random_draws(bet, count, seed), *adversarial_draws(bet, count, seed)):
        done = executor.run(draw)
        assert list(bet.rules.troubles(done)) == []
        assert breaches(bet, done) == []
        assert all(done[n].end - done[n].start == length for n, length in draw.items())


def late_as_named(bet: Bet, found: Promise) -> None:
    for lost in found.breaks:
        named = {one.step: one.lasts // MINUTE for one in lost.draw}
        executor = survivor(bet, named)
        assert executor is not None
        done = executor.run({**bet.planned, **named})
        assert bet.rules.broken(done) == lost.trouble
        assert breaches(bet, done)
        assert all(bet.ranges[n][0] <= length <= bet.ranges[n][1] for n, length in named.items())
        if lost.towards:
            ((number, length),) = named.items()
            assert bet.rules.broken(executor.run({**bet.planned, number: length - lost.towards})) is None


@pytest.mark.slow
@settings(
    max_examples=15, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much]
)
@given(plans(), st.data())
def test_the_executor_never_looks_ahead(made: Plan, data: st.DataObject) -> None:
    """Two draws that differ in one step are carried out alike until the sooner of its two ends."""
    given = time_out(made, SERVED, NOW)
    assume(isinstance(given, Timetable))
    assert isinstance(given, Timetable)
    bet = bet_on(made, given, NOW)
    executor = bet.executor()
    assume(executor is not None and bet.unsure)
    assert executor is not None
    one = {n: data.draw(st.integers(low, high)) for n, (low, high) in bet.ranges.items()}
    step_ = data.draw(st.sampled_from(bet.unsure))
    other = {**one, step_: data.draw(st.integers(*bet.ranges[step_]))}
    first, second = executor.run(one), executor.run(other)
    assert first[step_].start == second[step_].start
    known = first[step_].start + min(one[step_], other[step_])
    for number, done in first.items():
        if min(done.start, second[number].start) < known:
            assert done.start == second[number].start


@pytest.mark.slow
@settings(
    max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much]
)
@given(plans(), st.floats(0.05, 0.95), st.integers(0, 1 << 20))
def test_half_way_through_the_answer_is_as_good(made: Plan, share: float, seed: int) -> None:
    """With some of the steps done or under way as planned, a yes is still never late, and a no still is."""
    given = time_out(made, SERVED, NOW)
    assume(isinstance(given, Timetable))
    assert isinstance(given, Timetable)
    nature = [each for each in given.slots if made.steps[each.step].range.by_nature]
    assume(nature)
    middle = nature[seed % len(nature)]
    now = (middle.start + (middle.end - middle.start) * share).replace(second=0, microsecond=0)
    marks = [mark(MarkKind.STARTED, each.step, each.start) for each in given.slots if each.start <= now]
    marks += [mark(MarkKind.DONE, each.step, each.end) for each in given.slots if each.end <= now]
    progress = fold(made, marks, now, given)
    again = time_out(made, SERVED, now, progress, given)
    assume(isinstance(again, Timetable))
    assert isinstance(again, Timetable)
    found, bet = promise(made, again, now, progress), bet_on(made, again, now, progress)
    assert bet.kept(())
    if found.kept:
        executor = bet.executor()
        assert executor is not None
        for draw in (*random_draws(bet, 10, seed), *adversarial_draws(bet, 10, seed)):
            assert list(bet.rules.troubles(executor.run(draw))) == []
    for lost in found.breaks:
        named = {one.step: one.lasts // MINUTE for one in lost.draw}
        executor = survivor(bet, named)
        assert executor is not None
        assert bet.rules.broken(executor.run({**bet.planned, **named})) == lost.trouble
