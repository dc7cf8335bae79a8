"""Projects with shared resources and lags: right answers, honest verdicts, and readers of published files."""

from __future__ import annotations

import time
from collections.abc import Iterator
from itertools import count, product
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.solver.projects import Activity, Lag, Project, ProjectAnswer, Status, faults, solve_project
from scheduler.solver.projects.chains import handed_on
from scheduler.solver.projects.cliques import large_cliques
from scheduler.solver.projects.evolve import Evolution
from scheduler.solver.projects.neighbourhood import Neighbourhoods
from scheduler.solver.projects.network import Network
from scheduler.solver.projects.packing import Packing
from scheduler.solver.projects.reorder import wander
from scheduler.solver.projects.serial import Sides
from scheduler.solver.projects.unschedule import first_schedules

# Fisher and Thompson (1963), the 6 x 6 job shop: machine and length of each job's steps, from memory.
FT06 = (
    ((2, 1), (0, 3), (1, 6), (3, 7), (5, 3), (4, 6)),
    ((1, 8), (2, 5), (4, 10), (5, 10), (0, 10), (3, 4)),
    ((2, 5), (3, 4), (5, 8), (0, 9), (1, 1), (4, 7)),
    ((1, 5), (0, 5), (2, 5), (3, 3), (4, 8), (5, 9)),
    ((2, 9), (1, 3), (4, 5), (5, 4), (0, 3), (3, 1)),
    ((1, 3), (3, 3), (5, 9), (0, 10), (4, 4), (2, 1)),
)
FT06_OPTIMUM = 55
"""Published many times, for one in Carlier and Pinson (1989)."""


def job_shop() -> Project:
    activities, lags = [], []
    for job, steps in enumerate(FT06):
        for place, (machine, length) in enumerate(steps):
            number = 6 * job + place
            activities.append(Activity(length, tuple(int(machine == each) for each in range(6))))
            if place:
                lags.append(Lag(number - 1, number, steps[place - 1][1]))
    return Project(tuple(activities), (1,) * 6, tuple(lags))


def solved(project: Project, limit: float = 20) -> ProjectAnswer:
    return solve_project(project, limit, time.perf_counter)


def one_resource(lengths: list[int], *lags: tuple[int, int, int], capacity: int = 1) -> Project:
    activities = tuple(Activity(length, (1,)) for length in lengths)
    return Project(activities, (capacity,), tuple(Lag(*lag) for lag in lags))


@st.composite
def projects(draw: st.DrawFn, least_lag: int = -3) -> Project:
    size = draw(st.integers(1, 4))
    capacities = (draw(st.integers(1, 3)), draw(st.integers(1, 2)))
    activities = [
        Activity(draw(st.integers(0, 2)), tuple(draw(st.integers(0, c)) for c in capacities))
        for _ in range(size)
    ]
    numbers = st.integers(0, size - 1)
    drawn = draw(st.lists(st.tuples(numbers, numbers, st.integers(least_lag, 2)), max_size=5))
    lags = tuple(Lag(a, b, least) for a, b, least in drawn if a != b and (least_lag < 0 or a < b))
    return Project(tuple(activities), capacities, lags)


def by_trying_everything(project: Project) -> int | None:
    """The shortest makespan among all starts up to 2 (no duration or lag is longer) for every other activity."""
    latest = 2 * (len(project.activities) - 1)
    best: int | None = None
    for starts in product(range(latest + 1), repeat=len(project.activities)):
        ends = [start + activity.duration for start, activity in zip(starts, project.activities, strict=True)]
        if (best is None or max(ends) < best) and not faults(project, starts, max(ends)):
            best = max(ends)
    return best


# ------------------------------------------------------------ answers


def test_the_published_job_shop_is_solved_to_its_optimum() -> None:
    """Proves that a well-known problem gets its published optimum, with a schedule the verifier accepts."""
    answer = solved(job_shop())
    assert (answer.status, answer.makespan, answer.bound) == (Status.OPTIMAL, FT06_OPTIMUM, FT06_OPTIMUM)
    assert answer.starts is not None
    assert faults(job_shop(), answer.starts, FT06_OPTIMUM) == []


@pytest.mark.slow
@settings(max_examples=40, deadline=None)
@given(projects())
def test_small_projects_get_what_trying_everything_gives(project: Project) -> None:
    """Proves optimum and infeasibility right for random small projects with lags either way."""
    answer = solved(project)
    best = by_trying_everything(project)
    if best is None:
        assert answer == ProjectAnswer(Status.INFEASIBLE)
        return
    assert (answer.status, answer.makespan, answer.bound) == (Status.OPTIMAL, best, best)
    assert answer.starts is not None
    assert faults(project, answer.starts, best) == []


def test_a_cycle_of_lags_that_gains_time_is_refuted() -> None:
    """Proves that two starts, each told to be after the other, are INFEASIBLE."""
    answer = solved(one_resource([1, 1], (0, 1, 3), (1, 0, -2), capacity=2))
    assert answer == ProjectAnswer(Status.INFEASIBLE)


def test_a_pair_that_must_overlap_on_one_resource_is_refuted() -> None:
    """Proves that lags which force an overlap are INFEASIBLE exactly while the resource has one unit."""
    lags = ((0, 1, 1), (1, 0, -2))
    assert solved(one_resource([4, 4], *lags)).status is Status.INFEASIBLE
    assert solved(one_resource([4, 4], *lags, capacity=2)).makespan == 5


def test_more_than_there_is_can_never_be_given() -> None:
    """Proves that a demand above capacity is INFEASIBLE, unless it lasts no time."""
    assert solved(Project((Activity(1, (2,)),), (1,))).status is Status.INFEASIBLE
    assert solved(Project((Activity(0, (2,)),), (1,))).makespan == 0


def test_a_project_of_nothing_takes_no_time() -> None:
    """Proves that the empty project is solved."""
    assert solved(Project(())) == ProjectAnswer(Status.OPTIMAL, (), 0, 0)


@pytest.mark.slow
def test_the_same_project_gets_the_same_schedule() -> None:
    """Proves the search deterministic where it ends before its limit."""
    assert solved(job_shop()) == solved(job_shop())


@pytest.mark.parametrize("limit", [0.0, 0.2])
def test_with_hardly_any_time_there_is_still_a_schedule(limit: float) -> None:
    """Proves that a clock that runs out at once leaves a checked schedule with a bound below it."""
    ticks: Iterator[int] = count()
    answer = solve_project(job_shop(), limit, lambda: next(ticks) * 0.1)
    assert answer.starts is not None and answer.makespan is not None and answer.bound is not None
    assert faults(job_shop(), answer.starts, answer.makespan) == []
    assert answer.bound <= FT06_OPTIMUM <= answer.makespan


@pytest.mark.parametrize(
    "parts",
    [
        ((Activity(-1),), (), ()),
        ((Activity(1, (1,)),), (), ()),
        ((Activity(1, (-1,)),), (1,), ()),
        ((Activity(1),), (), (Lag(0, 1, 0),)),
        ((), (-1,), ()),
    ],
)
def test_parts_that_do_not_belong_together_are_refused(
    parts: tuple[tuple[Activity, ...], tuple[int, ...], tuple[Lag, ...]],
) -> None:
    """Proves that a project can't be built with numbers that mean nothing."""
    with pytest.raises(ValueError):
        Project(*parts)


# ------------------------------------------------------------ the verifier


@pytest.mark.parametrize(
    ("starts", "makespan", "said"),
    [
        ((0, 3), 5, None),
        ((-1, 3), 5, "before time 0"),
        ((0, 2), 4, "not at least 3"),
        ((0, 9), 11, "not at least -5"),
        ((0, 3), 6, "not at 6"),
        ((0,), 3, "1 starts for 2"),
    ],
)
def test_the_verifier_names_what_is_wrong(starts: tuple[int, ...], makespan: int, said: str | None) -> None:
    """Proves that each rule is checked: time 0, least and greatest lags, the end, the number of starts."""
    found = faults(one_resource([3, 2], (0, 1, 3), (1, 0, -5)), starts, makespan)
    assert found == [] if said is None else said in found[0]


def test_the_verifier_counts_what_is_in_use() -> None:
    """Proves that three at once are too many for two units, and that one may start as another ends."""
    project = one_resource([2, 2, 2], capacity=2)
    assert "used 3 times" in faults(project, (0, 1, 1), 3)[0]
    assert faults(project, (0, 0, 2), 4) == []


# ------------------------------------------------------------ parts of the search


@settings(max_examples=40, deadline=None)
@given(projects(least_lag=0))
def test_scheduling_both_ways_is_valid_and_never_longer(project: Project) -> None:
    """Proves that the serial schedule keeps every rule, and that justifying it doesn't lengthen it."""
    if not Sides.suits(project):
        return
    sides = Sides(project)
    first = sides.forward.schedule(sides.by_priority(sides.latest))
    better = sides.justified(first)
    assert faults(project, first, sides.makespan(first)) == []
    assert faults(project, better, sides.makespan(better)) == []
    assert sides.makespan(better) <= sides.makespan(first)


@settings(max_examples=40, deadline=None)
@given(projects(), st.integers(0, 2**16))
def test_a_first_schedule_under_greatest_lags_keeps_every_rule(project: Project, seed: int) -> None:
    """Proves that whatever the unscheduling search gives is a schedule, and that bounds lie below it."""
    network = Network(project)
    lags = network.within(network.horizon)
    if lags is None:
        return
    packing = Packing(project.capacities, [activity.demands for activity in project.activities])
    stops = iter([False, False, True])
    starts = first_schedules(network, lags, packing, Random(seed), lambda: next(stops))
    if starts is not None:
        makespan = max(s + a.duration for s, a in zip(starts, project.activities, strict=True))
        assert faults(project, starts, makespan) == []
        assert network.bound() <= makespan


def test_evolution_finds_the_published_optimum_and_takes_schedules_in() -> None:
    """Proves that the evolutionary search reaches it by itself, and keeps a schedule it is handed."""
    sides = Sides(job_shop())
    found = Evolution(sides, Random(1), FT06_OPTIMUM)
    tries = count()
    found.run(lambda: next(tries) > 20_000)
    assert found.makespan == FT06_OPTIMUM
    handed = Evolution(sides, Random(2), 0)
    handed.accept(found.best)
    assert handed.makespan == FT06_OPTIMUM


def test_walking_from_a_poor_schedule_never_loses() -> None:
    """Proves that shuffling stretches leads to a valid, shorter schedule, and stops when told."""
    project = job_shop()
    sides = Sides(project)
    starts = sides.forward.schedule(range(36))
    tries = count()
    found = wander(sides, starts, FT06_OPTIMUM, Random(1), lambda: next(tries) > 300)
    assert FT06_OPTIMUM <= sides.makespan(found) < sides.makespan(starts)
    assert faults(project, found, sides.makespan(found)) == []
    assert wander(sides, starts, 0, Random(1), lambda: True) == starts


def test_neighbourhoods_shorten_a_poor_schedule() -> None:
    """Proves that freeing part of a schedule leads to a valid, shorter one."""
    project = job_shop()
    sides = Sides(project)
    starts = sides.forward.schedule(range(36))
    steps = Neighbourhoods(project, Network(project), Random(1))
    upper = sides.makespan(starts) - 1
    found = next(new for _ in range(20) if (new := steps.step(starts, upper, 5.0)) is not None)
    assert sides.makespan(found) <= upper
    assert faults(project, found, sides.makespan(found)) == []


def test_chains_hand_units_on_and_leave_out_who_is_free() -> None:
    """Proves that a unit goes to the next activity in time, past an activity that is set free."""
    network = Network(one_resource([2, 2, 2]))
    assert handed_on(network, [0, 2, 4], frozenset()) == {(0, 1), (1, 2)}
    assert handed_on(network, [0, 2, 4], frozenset({1})) == {(0, 2)}


def test_a_clique_may_come_from_several_resources() -> None:
    """Proves that activities kept apart by different resources are found as one set."""
    demands = [(1, 1, 0), (1, 0, 1), (0, 1, 1), (1, 1, 1)]
    network = Network(Project(tuple(Activity(1, each) for each in demands), (1, 1, 1)))
    assert large_cliques(network) == [[0, 1, 2, 3]]


def test_a_latest_end_orders_pairs_and_refutes() -> None:
    """Proves that a makespan is refuted where a pair has no order left, and that one order left is taken."""
    network = Network(one_resource([3, 4]))
    assert network.within(6) is None
    lags = network.within(7)
    assert lags is not None and network.undecided(lags) == [(0, 1)]
    ordered = Network(one_resource([3, 4], (0, 1, 0))).within(8)
    assert ordered is not None and ordered[0, 1] == 3
