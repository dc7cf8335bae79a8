"""The first answer of our own: whatever it gives passes the verifier, and nothing goes unanswered."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from itertools import pairwise

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from scheduler.domain.check import check
from scheduler.domain.plan import MINUTE, Plan
from scheduler.domain.progress import Mark, MarkKind, Progress, at_the_start, fold
from scheduler.facts import SERVE
from scheduler.planning import complete
from scheduler.solver import Answer, Task, Verdict, fits, search, solve
from scheduler.solver.places import Places
from scheduler.solver.serial import First, first_answer
from tests.bench.kitchens import begins, kitchen
from tests.plans_for_tests import NOW, SERVED, at, component, cook, mark, plan, plans, step

HOUR = timedelta(hours=1)
few = settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def first_of(task: Task) -> First | None:
    """Our own first answer, or None when there is none or the plan is impossible on its face."""
    places = Places(replace(task, from_now=True))
    return None if places.impossible else first_answer(places)


def verified(task: Task, answer: First | Answer) -> bool:
    """Whether the verifier has nothing against an answer."""
    slots = answer.slots if isinstance(answer, Answer) else answer.slots()
    table = complete(task.plan, task.serve, task.now, task.progress, slots, False)
    return check(task.plan, table, task.now, task.progress) == ()


def start_of(made: Plan, serve: str, now: str) -> Task:
    return Task(made, at_the_start(made), at(now, made.zone), at(serve, made.zone))


def lived(made: Plan, first: First, until: datetime, late: int) -> Progress:
    """All that was to begin or end by then did, so many minutes late."""
    marks: list[Mark] = []
    for slot in first.slots():
        if slot.start + late * MINUTE <= until:
            marks.append(mark(MarkKind.STARTED, slot.step, slot.start + late * MINUTE))
        if slot.end + late * MINUTE <= until:
            marks.append(mark(MarkKind.DONE, slot.step, slot.end + late * MINUTE))
    marks.sort(key=lambda each: (each.about, each.kind is MarkKind.STARTED, each.step))
    return fold(made, marks, until)


# ---------------------------------------------------------------- sound


@few
@given(plans())
def test_a_first_answer_passes_the_verifier(made: Plan) -> None:
    """Random plans: placed without a search tree, made cheaper and polished, every rule still holds."""
    task = Task(made, at_the_start(made), NOW, SERVED)
    first = first_of(task)
    assume(first is not None)
    assert first is not None
    assert verified(task, first)
    dear = first.cost
    first.improve()
    assert first.cost <= dear
    cheap = first.cost
    first.polish()
    assert first.cost == cheap
    assert verified(task, first)


@few
@given(plans(), st.integers(1, 13 * 24), st.sampled_from([0, 0, 7, 35]))
def test_a_first_answer_keeps_to_what_has_happened(made: Plan, hours: int, late: int) -> None:
    """With steps done and under way, possibly late, what is placed passes the verifier."""
    task = Task(made, at_the_start(made), NOW, SERVED)
    before = first_of(task)
    assume(before is not None)
    assert before is not None
    now = NOW + hours * HOUR
    again = replace(task, progress=lived(made, before, now, late), now=now)
    first = first_of(again)
    if first is not None:
        assert verified(again, first)


@few
@given(plans())
def test_nothing_is_placed_where_nothing_fits(made: Plan) -> None:
    """Served within hours, what the search refutes our own way does not place either."""
    task = Task(made, at_the_start(made), NOW, NOW + 9 * HOUR)
    if solve(task).verdict is Verdict.INFEASIBLE:
        assert first_of(task) is None


@few
@given(plans())
def test_the_bound_is_never_above_what_the_search_proves_best(made: Plan) -> None:
    """The bound without shared things, the best by search, and the first answer come in this order."""
    task = Task(made, at_the_start(made), NOW, SERVED)
    places, best = Places(task), solve(task)
    first = None if places.impossible else first_answer(places)
    assume(first is not None and best.verdict is Verdict.OPTIMAL)
    assert first is not None and best.cost is not None
    first.improve()
    assert first.bound <= best.cost <= first.cost
    assert best.bound == best.cost


@few
@given(plans())
def test_moments_left_out_are_not_needed_for_the_best(made: Plan) -> None:
    """With the moments that cost too much left out, the best still costs the same."""
    task = Task(made, at_the_start(made), NOW, SERVED)
    places, best = Places(task), solve(task)
    first = None if places.impossible else first_answer(places)
    assume(first is not None and best.verdict is Verdict.OPTIMAL)
    large = search._large(Places(task))
    assert large.verdict is Verdict.OPTIMAL
    assert large.cost == best.cost
    assert verified(task, large)


# ---------------------------------------------------------------- many steps


@pytest.mark.parametrize(("steps", "seed"), [(60, 3), (60, 4)])
def test_a_generated_kitchen_is_answered_and_verified(steps: int, seed: int) -> None:
    """Kitchens of many steps, cooks and ovens get a timetable that the verifier accepts."""
    made = kitchen(steps, seed)
    assert made.serve is not None and len(made.steps) == steps
    task = Task(made, at_the_start(made), begins(made), made.serve)
    answer = solve(task)
    assert answer.fits and verified(task, answer)
    assert answer.verdict is Verdict.OPTIMAL and answer.bound == answer.cost


def test_when_time_runs_out_the_first_answer_stands(monkeypatch: pytest.MonkeyPatch) -> None:
    """With no time for the search at all, a large and a small plan are still answered, unproven."""
    monkeypatch.setattr(search, "SEARCH_LIMIT", 0.0)
    for steps, seed in ((24, 1), (60, 3)):
        made = kitchen(steps, seed)
        assert made.serve is not None
        task = Task(made, at_the_start(made), begins(made), made.serve)
        answer = solve(task)
        assert answer.verdict is Verdict.FEASIBLE
        assert verified(task, answer)
        assert answer.bound is not None and answer.cost is not None and answer.bound < answer.cost


def test_an_hour_is_found_though_the_earliest_is_not(monkeypatch: pytest.MonkeyPatch) -> None:
    """With no time to seek the earliest hour, a later one at which our own way places all is given."""
    monkeypatch.setattr(search, "SEARCH_LIMIT", 0.0)
    made = kitchen(24, 1)
    assert made.serve is not None
    task = Task(made, at_the_start(made), begins(made), made.serve - timedelta(days=26))
    answer = solve(replace(task, latest_serve=made.serve))
    assert answer.verdict is Verdict.FEASIBLE and answer.serve is not None
    assert verified(replace(task, serve=answer.serve), answer)


def test_the_same_large_plan_gives_the_same_timetable() -> None:
    """Two answers for one plan of many steps agree in every slot."""
    made = kitchen(60, 4)
    assert made.serve is not None
    task = Task(made, at_the_start(made), begins(made), made.serve)
    assert solve(task) == solve(task)


def test_a_large_plan_that_cannot_be_is_refuted() -> None:
    """One dish too many for the last hour is found out, however many steps there are."""
    made = kitchen(60, 3)
    assert made.serve is not None
    task = Task(made, at_the_start(made), begins(made), made.serve)
    assert fits(task) is not Verdict.INFEASIBLE
    soon = replace(task, serve=task.now + 3 * HOUR)
    assert fits(soon) is Verdict.INFEASIBLE
    assert fits(replace(soon, dropped=frozenset([SERVE]))) is not Verdict.INFEASIBLE


def test_round_times_and_spread_work_come_last() -> None:
    """Polishing puts work on quarter hours, away from other work, where freshness and margins allow it."""
    jars = [component(f"Jar {n}", step(f"Fill jar {n}", hands_on="10 min", keeps="30 h")) for n in range(5)]
    task = start_of(plan(*jars), "2026-12-12 19:00", "2026-12-06 09:00")
    first = first_of(task)
    assert first is not None
    cost = first.cost
    first.polish()
    starts = sorted(slot.start for slot in first.slots())
    assert first.cost == cost
    assert all(each.minute % 15 == 0 for each in starts)
    assert all(later - earlier >= HOUR for earlier, later in pairwise(starts))


# ---------------------------------------------------------------- before any search


def test_a_head_keeps_only_moments_its_neighbours_can_be_reached_from() -> None:
    """A soak of 12 to 14 hours drained between eight and nine: it begins the evening before, while Ada is up."""
    made = plan(
        component(
            "Beans",
            step("Soak", unattended="12 h to 14 h"),
            step("Drain", hands_on="10 min", between=("08:00-09:00",), keeps="12 h"),
        )
    )
    places = Places(start_of(made, "2026-12-12 19:00", "2026-12-10 12:00"))
    soak = places.moments(places.starts[0])
    evenings = [
        (at("2026-12-10 18:00"), at("2026-12-10 20:50")),
        (at("2026-12-11 18:00"), at("2026-12-11 20:50")),
    ]
    assert [(places.moment(low), places.moment(high)) for low, high in soak] == evenings[1:]


def test_without_room_between_neighbours_a_plan_is_impossible_before_any_search() -> None:
    """A wait that can only end at night, for work that has to be done by day, needs no search."""
    made = plan(
        component(
            "Dough",
            step("Knead", hands_on="10 min", between=("08:00-09:00",)),
            step("Rise", unattended="17 h"),
            step("Shape", hands_on="10 min", keeps="1 d"),
        )
    )
    assert Places(start_of(made, "2026-12-12 19:00", "2026-12-06 12:00")).impossible


# ---------------------------------------------------------------- shared things


def test_blocks_that_are_in_the_way_are_pushed_out() -> None:
    """One cook, three dishes, and one of them kept to the only hour the others would take first."""
    hands = [
        component(name, step(f"Make {name}", hands_on="50 min", keeps="4 h", between=between))
        for name, between in (("soup", ()), ("tart", ()), ("fish", ("18:00-19:00",)))
    ]
    made = plan(*hands, cooks=[cook("Ada", awake=("07:00-22:30",))])
    first = first_of(start_of(made, "2026-12-12 19:00", "2026-12-12 09:00"))
    assert first is not None
    assert verified(start_of(made, "2026-12-12 19:00", "2026-12-12 09:00"), first)


def test_two_ovens_hold_two_temperatures() -> None:
    """Three dishes at three heats, an hour each: with two ovens they take two hours, not one."""
    bakes = [
        component(f"Dish {heat}", step(f"Bake at {heat}", nearby="60 min", oven=heat, keeps="70 min"))
        for heat in (120, 180, 220)
    ]
    made = plan(*bakes, gear={"oven": 2})
    first = first_of(start_of(made, "2026-12-12 19:00", "2026-12-12 09:00"))
    assert first is not None
    starts = sorted(slot.start for slot in first.slots())
    assert starts[2] - starts[0] >= HOUR
    assert verified(start_of(made, "2026-12-12 19:00", "2026-12-12 09:00"), first)


def test_a_step_that_only_one_cook_may_do_gets_that_cook() -> None:
    """Two things tied to one moment: the one that anybody may do goes to the other cook."""
    made = plan(
        component("Roast", step("Roast", nearby="60 min"), step("Carve", hands_on="10 min", cook="Ada")),
        component("Sauce", step("Reduce", nearby="30 min"), step("Season", hands_on="10 min")),
        cooks=[cook("Ada"), cook("Noor")],
    )
    first = first_of(start_of(made, "2026-12-12 19:00", "2026-12-12 09:00"))
    assert first is not None
    assert {slot.step: slot.cook for slot in first.slots() if slot.cook} == {1: "Ada", 3: "Noor"}
