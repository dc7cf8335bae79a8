"""What is true of every way out of a misfit, and of the facts in conflict, whatever the plan."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from scheduler import seeking
from scheduler.changes import Change, ChangeKind
from scheduler.domain.plan import Plan
from scheduler.domain.progress import at_the_start
from scheduler.explain import Misfit, conflict
from scheduler.facts import facts_of
from scheduler.planning import time_out, ways_out
from scheduler.remedies import MOST, disturbance
from scheduler.seeking import MOST_LOOKS
from scheduler.solver import Task, Verdict, fits
from tests.plans_for_tests import NOW, at, component, cook, plan, plans, step
from tests.ways_kit import NO_LEAD, misfit_of, sound

MINUTE = timedelta(minutes=1)


@st.composite
def hurried(draw: st.DrawFn) -> tuple[Plan, datetime]:
    """Random plans, parts of which may be left out, served hours or a few days from now."""
    made = draw(plans())
    parts = tuple(replace(part, optional=draw(st.booleans())) for part in made.components)
    return replace(made, components=parts), NOW + draw(st.integers(1, 72)) * timedelta(hours=1)


few = settings(
    max_examples=10, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much]
)


@pytest.mark.slow
@few
@given(hurried())
def test_every_remedy_fits_and_touches_nothing_that_must_stand(given_: tuple[Plan, datetime]) -> None:
    """Made to the plan it gives a verified timetable; lengths, keeping and heat stay; the least comes first."""
    made, serve = given_
    first = time_out(made, serve, NOW)
    assume(isinstance(first, Misfit))
    assert isinstance(first, Misfit)
    found = ways_out(first, made, NOW, None, NO_LEAD)
    assert len(found.remedies) <= MOST
    changes = [remedy.what for remedy in found.remedies if remedy.what is not None]
    assert len(changes) == len(found.remedies) == len(set(changes))
    assert [disturbance(c, serve) for c in changes] == sorted(disturbance(c, serve) for c in changes)
    for remedy, change in zip(found.remedies, changes, strict=True):
        assert change.apply(made, at_the_start(made))[0].steps == made.steps
        assert (remedy.serve == serve) is (change.kind is not ChangeKind.HOUR)
        assert sound(remedy, made, NOW, at_the_start(made))


@few
@given(hurried())
def test_the_facts_in_conflict_are_as_few_as_can_be(given_: tuple[Plan, datetime]) -> None:
    """By themselves they rule everything out; with any one of them left out, the others do not."""
    made, serve = given_
    task = Task(made, at_the_start(made), NOW, serve)
    assume(fits(task) is Verdict.INFEASIBLE)
    facts, every = frozenset(conflict(task)), frozenset(facts_of(made, task.progress))
    assert fits(replace(task, dropped=every - facts)) is Verdict.INFEASIBLE
    for left_out in facts:
        others = replace(task, dropped=every - facts | {left_out})
        assert fits(others) is not Verdict.INFEASIBLE


CROWDED = plan(
    component("Pasta", step("Roll the pasta", hands_on="45 min", keeps="15 min")),
    component("Sauce", step("Fry the sauce", hands_on="40 min", keeps="10 min")),
)
TOO_LATE = plan(
    component("Soup", step("Chop it", hands_on="20 min"), step("Simmer it", nearby="1 h", gear=["burner"])),
    component(
        "Loaf", step("Dough rises", unattended="3 h", until="doubled"), step("Bake it", nearby="50 min")
    ),
    gear={"burner": 1},
)


@pytest.mark.parametrize(
    ("made", "now"), [(CROWDED, "2026-12-11 09:00"), (TOO_LATE, "2026-12-12 16:00")], ids=["hands", "time"]
)
def test_where_there_is_one_conflict_any_fact_of_it_would_free_the_meal(made: Plan, now: str) -> None:
    """With any one of them left out of the whole plan, the plan fits."""
    task = Task(made, at_the_start(made), at(now), at("2026-12-12 19:00"))
    facts = conflict(task)
    assert len(facts) > 1
    for left_out in facts:
        assert fits(replace(task, dropped=frozenset({left_out}))) is Verdict.OPTIMAL


def test_the_search_is_counted_and_the_same_again(monkeypatch: pytest.MonkeyPatch) -> None:
    """Never more looks than may be, and the same ways out for the same plan; what fits is never looked at."""
    looks: list[Task] = []

    def counted(task: Task) -> Verdict:
        looks.append(task)
        return fits(task)

    monkeypatch.setattr(seeking, "fits", counted)
    night = cook("Ada", ["09:00-17:00"], ["mon-sun 11:00-15:00"])
    stiff = plan(
        *(
            component(n, step(f"Fry {n}", hands_on="40 min"), step(f"Rest {n}", unattended="9 h"))
            for n in "ABC"
        ),
        cooks=[night],
    )
    serve, now = at("2026-12-12 08:00"), at("2026-12-10 09:00")
    first = misfit_of(stiff, serve, now)
    assert 0 < len(looks) <= MOST_LOOKS
    assert misfit_of(stiff, serve, now) == first
    looks.clear()
    assert isinstance(time_out(stiff, serve, now), Misfit) and looks == []


def test_what_did_not_pass_the_verifier_is_not_shown(monkeypatch: pytest.MonkeyPatch) -> None:
    """A change the solver would take and the verifier would not is left out of the list."""
    from scheduler import planning

    pots = plan(
        component("Pasta", step("Boil the pasta", nearby="15 min", gear=["burner"])),
        component("Sauce", step("Simmer the sauce", nearby="40 min", gear=["burner"])),
        gear={"burner": 1},
    )
    found = time_out(pots, at("2026-12-12 19:00"), at("2026-12-11 09:00"))
    assert isinstance(found, Misfit)
    monkeypatch.setattr(planning, "check", lambda *_: ("something is wrong",))
    assert ways_out(found, pots, at("2026-12-11 09:00")).remedies == ()


def test_what_is_offered_can_be_read_first() -> None:
    """With the usual lead every way out still does five minutes after it was worked out."""
    stew = plan(
        component(
            "Stew", step("Brown the lamb", hands_on="40 min"), step("Simmer it", nearby="3 h", keeps="5 min")
        )
    )
    now = at("2026-12-12 15:25")
    found = time_out(stew, at("2026-12-12 19:00"), now)
    assert isinstance(found, Misfit)
    for remedy in ways_out(found, stew, now).remedies:
        assert sound(remedy, stew, now + 5 * MINUTE, at_the_start(stew))


def test_disturbance_is_counted_in_minutes() -> None:
    """A quarter of an hour of sleep before a quarter at the table, before an hour off; another day comes last."""
    serve = at("2026-12-12 19:30")

    def hour(after: timedelta) -> Change:
        return Change(ChangeKind.HOUR, serve=serve + after)

    late = Change(ChangeKind.BED, "Ada", serve, serve + 15 * MINUTE)
    off = Change(ChangeKind.OFF, "Ada", serve, serve + 60 * MINUTE)
    in_order = [
        late,
        hour(-15 * MINUTE),
        Change(ChangeKind.GEAR, gear="burner"),
        off,
        hour(timedelta(days=1)),
    ]
    minutes = [disturbance(change, serve) for change in in_order]
    assert minutes == sorted(set(minutes))
