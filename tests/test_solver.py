"""The solver: every timetable it gives passes the verifier, the same one each time, and none is missed."""

from __future__ import annotations

import random
from dataclasses import replace
from datetime import datetime, timedelta

import networkx as nx
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from scheduler.domain.check import check
from scheduler.domain.plan import MINUTE, Plan
from scheduler.domain.progress import at_the_start
from scheduler.domain.timetable import Timetable
from scheduler.explain import Misfit, conflict
from scheduler.facts import facts_of
from scheduler.planning import time_out
from scheduler.solver import Answer, Bound, Task, Verdict, fits, solve
from tests.critical_paths import EXAMPLES, Example
from tests.plans_for_tests import NOW, SERVED, at, component, cook, number_of, plan, plans, step

ALWAYS = cook("Ada", awake=("00:00-00:00",))
HOUR = timedelta(hours=1)


def timed(made: Plan, serve: str, now: str) -> Timetable:
    timing = time_out(made, at(serve, made.zone), at(now, made.zone))
    assert isinstance(timing, Timetable), timing
    return timing


# ---------------------------------------------------------------- against the verifier


@pytest.mark.slow
@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(plans())
def test_whatever_fits_passes_the_verifier(made: Plan) -> None:
    """Random plans with hours, gear, ovens and cooks: what the solver gives, the verifier accepts."""
    timing = time_out(made, SERVED, NOW)
    if isinstance(timing, Timetable):
        assert check(made, timing, NOW) == ()
        assert {slot.step for slot in timing.slots} == {each.number for each in made.steps}
    else:
        assert timing.because


@settings(max_examples=20, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(plans())
def test_the_same_plan_gives_the_same_timetable(made: Plan) -> None:
    """Two searches of one plan agree in every slot and touch."""
    assert time_out(made, SERVED, NOW) == time_out(made, SERVED, NOW)


@settings(max_examples=12, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(plans(), st.integers(1, 40))
def test_a_conflict_is_minimal(made: Plan, hours: int) -> None:
    """Served too soon, the facts named conflict, and leaving out any one of them makes it fit."""
    task = Task(made, at_the_start(made), NOW, NOW + hours * HOUR)
    if fits(task) is not Verdict.INFEASIBLE:
        return
    every = frozenset(facts_of(made, task.progress))
    found = conflict(task)
    assert found
    assert fits(replace(task, dropped=every - frozenset(found))) is Verdict.INFEASIBLE
    for fact in found:
        assert fits(replace(task, dropped=every - (frozenset(found) - {fact}))) is not Verdict.INFEASIBLE


@settings(max_examples=8, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(plans())
def test_the_hour_offered_fits_and_no_earlier_quarter_hour_does(made: Plan) -> None:
    """A misfit's remedy is the earliest quarter hour at or after the one asked for."""
    timing = time_out(made, NOW + 3 * HOUR, NOW)
    if isinstance(timing, Timetable) or not timing.remedies:
        return
    offered = timing.remedies[0].serve
    assert isinstance(time_out(made, offered, NOW), Timetable)
    assert isinstance(time_out(made, offered - 15 * MINUTE, NOW), Misfit)


# ---------------------------------------------------------------- against critical paths


def network(durations: dict[str, int], after: dict[str, tuple[str, ...]]) -> Plan:
    """One unattended step of so many minutes for each activity, its result keeping long, and a table."""
    ordered = nx.lexicographical_topological_sort(
        nx.DiGraph(
            [(a, b) for b, before in after.items() for a in before] or [(n, "table") for n in durations]
        )
    )
    names = [name for name in ordered if name != "table"]
    names = [*[name for name in durations if name not in names], *names]
    parts = [
        component(
            name, step(name, unattended=f"{durations[name]} min", keeps="300 d", after=after.get(name, ()))
        )
        for name in names
    ]
    table = component("table", step("table", unattended="5 min", keeps="5 min", after=tuple(names)))
    return plan(*parts, table, cooks=[ALWAYS], zone="UTC")


@pytest.mark.parametrize("seed", range(12))
def test_without_shared_things_the_shortest_meal_is_the_longest_path(seed: int) -> None:
    """Against networkx's dag_longest_path_length on random networks: fits at that length, not five less."""
    pick = random.Random(seed)
    names = [f"n{i:02}" for i in range(pick.randint(3, 14))]
    durations = {name: 5 * pick.randint(1, 60) for name in names}
    after = {name: tuple(other for other in names[:i] if pick.random() < 0.3) for i, name in enumerate(names)}
    graph = nx.DiGraph()
    for name in names:
        graph.add_edge(f"{name}<", f"{name}>", weight=durations[name])
        graph.add_edges_from((f"{other}>", f"{name}<", {"weight": 0}) for other in after[name])
    length = nx.dag_longest_path_length(graph)
    made = network(durations, after)
    served = NOW + (length + 5) * MINUTE
    assert fits(Task(made, at_the_start(made), NOW, served)) is Verdict.OPTIMAL
    assert fits(Task(made, at_the_start(made), NOW, served - 5 * MINUTE)) is Verdict.INFEASIBLE


@pytest.mark.parametrize("name", EXAMPLES)
def test_published_critical_paths(name: str) -> None:
    """Textbook networks (source in each Example), an hour for each unit: the length, and where steps lie."""
    example = EXAMPLES[name]
    made = network(
        {a.name: _minutes(a.duration) for a in example.activities if _minutes(a.duration)},
        _without_dummies(example),
    )
    length = round(example.length * 60 / 5) * 5
    served = NOW + (length + 5) * MINUTE
    assert fits(Task(made, at_the_start(made), NOW, served - 5 * MINUTE)) is Verdict.INFEASIBLE
    answer = solve(Task(made, at_the_start(made), NOW, served))
    assert answer.verdict is Verdict.OPTIMAL
    for activity in example.activities:
        if not _minutes(activity.duration):
            continue
        start = (_start(answer, made, activity.name) - NOW) / HOUR
        assert activity.earliest - 0.001 <= start <= activity.latest + 0.001
        if activity.critical:
            assert start == pytest.approx(activity.earliest, abs=0.001)


def _minutes(duration: float | tuple[int, int, int]) -> int:
    """An hour for each unit; ten minutes for each sixth of one, so expected times stay whole."""
    if isinstance(duration, tuple):
        a, m, b = duration
        return 10 * (a + 4 * m + b)
    return int(duration * 60)


def _without_dummies(example: Example) -> dict[str, tuple[str, ...]]:
    """An activity without duration only passes on what it follows."""
    dummies = {a.name: a.after for a in example.activities if not _minutes(a.duration)}
    return {
        a.name: tuple(p for before in a.after for p in dummies.get(before, (before,)))
        for a in example.activities
        if a.name not in dummies
    }


def _start(answer: Answer, made: Plan, name: str) -> datetime:
    return next(slot.start for slot in answer.slots if slot.step == number_of(made, name))


# ---------------------------------------------------------------- preferences


def test_freshness_comes_before_comfort() -> None:
    """What keeps for half an hour is finished right before the table, though that crowds the last hour."""
    made = plan(
        component("Sauce", step("Whisk the sauce", hands_on="10 min", keeps="30 min")),
        component("Jam", step("Pot the jam", hands_on="20 min", keeps="60 d")),
        component("Table", step("Plate up", hands_on="10 min", after=("Sauce", "Jam"))),
    )
    timing = timed(made, "2026-12-12 19:30", "2026-12-12 09:00")
    whisk = timing.slot(number_of(made, "Whisk the sauce"))
    plate = timing.slot(number_of(made, "Plate up"))
    pot = timing.slot(number_of(made, "Pot the jam"))
    assert whisk and plate and pot
    assert plate.start - whisk.end <= timedelta(minutes=7)
    assert plate.start - pot.start >= HOUR


def test_a_quarter_of_an_hour_is_left_before_bedtime_where_it_can_be_had() -> None:
    """Work that could be done any evening does not end at the moment the cook goes to bed."""
    made = plan(
        component("Stock", step("Strain the stock", hands_on="30 min", keeps="5 d")),
        component("Table", step("Ladle", hands_on="10 min", after=("Stock",))),
        cooks=[cook("Ada", awake=("07:00-22:30",), away=("mon-sun 08:00-21:30",))],
    )
    timing = timed(made, "2026-12-12 22:00", "2026-12-09 09:00")
    strain = timing.slot(number_of(made, "Strain the stock"))
    assert strain is not None
    ends = strain.end.astimezone(at("2026-12-12 22:00").tzinfo)
    assert any(
        at(f"2026-12-{day} {clock}") - ends >= 15 * MINUTE >= timedelta(0)
        for day in ("09", "10", "11", "12")
        for clock in ("08:00", "22:30")
        if 0 <= (at(f"2026-12-{day} {clock}") - ends) / MINUTE <= 60
    )


def test_an_oven_holds_one_temperature_and_shares_it() -> None:
    """Two dishes at one heat bake together in one oven; a third at another heat waits its turn."""
    made = plan(
        component("Squash", step("Roast the squash", nearby="40 min", oven=200, keeps="4 h")),
        component("Potatoes", step("Roast the potatoes", nearby="40 min", oven=200, keeps="4 h")),
        component("Meringue", step("Dry the meringue", nearby="60 min", oven=100, keeps="4 h")),
        component("Table", step("Plate up", hands_on="10 min", after=("Squash", "Potatoes", "Meringue"))),
        gear={"oven": 1},
    )
    assert check(made, timed(made, "2026-12-12 13:00", "2026-12-12 08:00"), at("2026-12-12 08:00")) == ()
    assert isinstance(time_out(made, at("2026-12-12 09:50"), at("2026-12-12 08:00")), Timetable)
    assert isinstance(time_out(made, at("2026-12-12 09:45"), at("2026-12-12 08:00")), Misfit)


@pytest.mark.parametrize(
    ("serve", "soaked_from"),
    [("2026-03-29 10:00", "2026-03-28"), ("2026-10-25 10:00", "2026-10-24")],
)
def test_a_soak_over_a_clock_change_lasts_its_hours(serve: str, soaked_from: str) -> None:
    """Both clock-change nights (IANA time zone database 2026f): twelve hours elapse, whatever clocks show."""
    made = plan(
        component("Beans", step("Soak", unattended="12 h"), step("Boil", nearby="60 min")),
        serve=serve,
    )
    timing = timed(made, serve, f"{soaked_from} 08:00")
    soak, boil = timing.slot(0), timing.slot(1)
    assert soak and boil
    assert soak.end - soak.start == timedelta(hours=12)
    assert boil.end == at(serve)


def test_an_answer_says_what_it_costs_and_what_it_costs_at_least() -> None:
    """Two sauces that keep for half an hour and one cook: one has to wait longer, and that is proven."""
    sauces = [
        component(name, step(f"Whisk {name}", hands_on="20 min", keeps="30 min")) for name in ("A", "B")
    ]
    both = plan(*sauces, component("Table", step("Plate up", hands_on="10 min", after=("A", "B"))))
    one = plan(sauces[0], component("Table", step("Plate up", hands_on="10 min", after=("A",))))
    now, serve = at("2026-12-12 12:00"), at("2026-12-12 19:00")
    answers = [solve(Task(made, at_the_start(made), now, serve)) for made in (one, both)]
    assert all(answer.verdict is Verdict.OPTIMAL and answer.bound == answer.cost for answer in answers)
    assert (answers[0].cost or 0) < (answers[1].cost or 0)


def test_a_bound_narrows_down_a_start() -> None:
    """A start kept after an instant moves there, and one that cannot be is found impossible."""
    made = plan(component("Rice", step("Rinse the rice", hands_on="10 min", keeps="8 h")))
    task = Task(made, at_the_start(made), at("2026-12-12 09:00"), at("2026-12-12 19:30"))
    late = replace(task, bounds=(Bound(0, not_before=at("2026-12-12 19:17")),))
    assert solve(late).slots[0].start == at("2026-12-12 19:20")
    assert fits(replace(task, bounds=(Bound(0, not_before=at("2026-12-12 19:25")),))) is Verdict.INFEASIBLE
    early = replace(task, bounds=(Bound(0, not_after=at("2026-12-12 13:02")),))
    assert at("2026-12-12 12:00") <= solve(early).slots[0].start <= at("2026-12-12 13:02")
