"""The facts in conflict as a cook would say them, and the moments between which steps can lie at all."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import HealthCheck, assume, given, settings

from scheduler import hour_words
from scheduler.changes import Change, ChangeKind, changed
from scheduler.domain.plan import Plan
from scheduler.domain.progress import MarkKind, at_the_start, fold
from scheduler.domain.timetable import Timetable
from scheduler.explain import conflict
from scheduler.fact_words import in_words, reasons
from scheduler.facts import NOW as THE_PRESENT
from scheduler.facts import SERVE, Fact, FactKind
from scheduler.planfile import read
from scheduler.planning import time_out
from scheduler.reach import reach
from scheduler.solver import Task, Verdict, fits
from tests.plans_for_tests import (
    NOW,
    PARIS,
    SERVED,
    at,
    component,
    cook,
    hours,
    mark,
    number_of,
    plan,
    plans,
    step,
)

HOUR = timedelta(hours=1)
MEAL = plan(
    component(
        "Stew",
        step("Brown", hands_on="40 min"),
        step("Simmer", nearby="3 h", until="tender"),
        step("Rest", unattended="20 min", keeps="30 min"),
    ),
    component("Pickle", step("Slice", hands_on="20 min", between=["09:00-18:00"], on=[1, 2, 3])),
    component(
        "Dough", step("Rise", unattended="at least 8 h", keeps="2 h"), step("Shape", hands_on="10 min")
    ),
    component("Bread", step("Roll", hands_on="10 min"), step("Bake", nearby="40 min", oven=220, cook="Ada")),
    cooks=[cook("Ada", away=["mon-fri 08:30-17:45"])],
    gear={"oven": 1, "burner": 2},
)
TASK = Task(MEAL, at_the_start(MEAL), at("2026-12-10 09:00"), at("2026-12-10 21:00"))


def said(kind: FactKind, name: str | None = None, other: str | None = None, of: str | None = None) -> str:
    numbers = [None if each is None else number_of(MEAL, each) for each in (name, other)]
    return in_words(Fact(kind, numbers[0], numbers[1], of), TASK)


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        (in_words(SERVE, TASK), "the meal is at Thu 10 Dec 21:00"),
        (in_words(THE_PRESENT, TASK), "it is Thu 10 Dec 09:00, and nothing can begin earlier"),
        (said(FactKind.LENGTH, "Brown"), "“Brown” takes at least 40 min"),
        (said(FactKind.LENGTH, "Simmer"), "“Simmer” may take 3 h until tender"),
        (said(FactKind.KEEPS, "Brown", "Simmer"), "“Simmer” has to follow “Brown” at once"),
        (said(FactKind.KEEPS, "Rise", "Shape"), "“Shape” has to follow “Rise” within 2 h"),
        (said(FactKind.COOK, of="Ada"), "Ada can do only one hands-on thing at a time"),
        (said(FactKind.GEAR, of="burner"), "there are only 2 burners"),
        (said(FactKind.GEAR, of="oven"), "there is only 1 oven; it holds one temperature at a time"),
        (
            said(FactKind.ONLY, "Slice"),
            "“Slice” may only be done on Tue to Thu, in the hours 09:00 to 18:00",
        ),
        (
            said(FactKind.HOURS, "Brown"),
            "“Brown” needs free hands for 40 min, and Ada is out until Thu 10 Dec 17:45",
        ),
        (
            said(FactKind.HOURS, "Bake"),
            "“Bake” needs someone at home for 40 min, and Ada is up 07:00 to 22:30 and out Mon to Fri 08:30 to 17:45",
        ),
        (
            said(FactKind.HOURS, "Rise"),
            "“Rise” has to be begun by someone, and Ada is out until Thu 10 Dec 17:45",
        ),
    ],
)
def test_every_kind_of_fact_in_words(words: str, expected: str) -> None:
    """With the numbers that make it one, and with who is out, and until when."""
    assert words == expected


def test_what_was_put_off_and_what_has_begun() -> None:
    """Until when it was put off; and that it goes on."""
    now = at("2026-12-10 18:00")
    marks = [
        mark(MarkKind.LATER, number_of(MEAL, "Brown"), now, until=now + HOUR),
        mark(MarkKind.STARTED, number_of(MEAL, "Rise"), now),
    ]
    task = Task(MEAL, fold(MEAL, marks, now), now, TASK.serve)
    put_off = Fact(FactKind.PUT_OFF, number_of(MEAL, "Brown"))
    assert in_words(put_off, task) == "“Brown” was put off until Thu 10 Dec 19:00"
    assert (
        in_words(Fact(FactKind.LENGTH, number_of(MEAL, "Rise")), task)
        == "“Rise” has begun and is not over yet"
    )


def test_many_absences_are_told_as_hours() -> None:
    """Over a fortnight the nights are not listed one by one."""
    task = Task(MEAL, at_the_start(MEAL), at("2026-12-01 09:00"), at("2026-12-15 21:00"))
    rise = in_words(Fact(FactKind.HOURS, number_of(MEAL, "Rise")), task)
    assert rise.endswith(", and Ada is up 07:00 to 22:30 and out Mon to Fri 08:30 to 17:45")


def test_a_cook_without_a_name_is_the_one_spoken_to() -> None:
    """A plan that names no cooks says "you"; several cooks are told together."""
    head = "crockbell: 1\ntitle: T\nserve: 2026-12-12 08:00\n"
    text = f"{head}components:\n- name: A\n  steps:\n  - {{name: Boil, nearby: 2 h}}\n"
    alone = read(text, zone=PARIS, awake="07:00-22:30")
    task = Task(alone, at_the_start(alone), at("2026-12-11 20:00"), at("2026-12-12 08:00"))
    assert in_words(Fact(FactKind.HOURS, 0), task) == (
        "“Boil” needs someone at home for 2 h, and you are asleep Fri 11 Dec 22:30 to Sat 07:00"
    )
    two = read(
        text.replace("components", "kitchen: {cooks: [Ada, Noor]}\ncomponents"),
        zone=PARIS,
        awake="07:00-22:30",
    )
    assert "Ada and Noor are asleep Fri 11 Dec 22:30" in in_words(
        Fact(FactKind.HOURS, 0), Task(two, at_the_start(two), task.now, task.serve)
    )


def test_steps_that_follow_one_another_at_once_share_a_sentence() -> None:
    """Two, three, and more of them; what may wait has a sentence of its own."""
    steps = [step(f"S{n}", nearby="20 min", keeps="1 h" if n == 5 else None) for n in range(8)]
    made = plan(component("A", *steps))
    task = Task(made, at_the_start(made), NOW, SERVED)

    def chain(*pairs: tuple[int, int]) -> tuple[str, ...]:
        return reasons([SERVE, *(Fact(FactKind.KEEPS, a, b) for a, b in pairs)], task)[1:]

    assert chain((0, 1)) == ("“S1” has to follow “S0” at once",)
    assert chain((0, 1), (1, 2)) == ("“S0”, “S1” and “S2” have to follow one another at once",)
    assert chain((0, 1), (1, 2), (2, 3), (5, 6), (6, 7)) == (
        "the 4 steps from “S0” to “S3” have to follow one another at once",
        "“S6” has to follow “S5” within 1 h",
        "“S7” has to follow “S6” at once",
    )
    assert chain((0, 1), (3, 4)) == ("“S1” has to follow “S0” at once", "“S4” has to follow “S3” at once")


def test_hours_as_people_say_them() -> None:
    """Runs of weekdays from three on, dates by their names, stretches with the day they end on."""
    assert hour_words.days([5, 1, 2, 3]) == "Tue to Thu and Sat"
    assert hour_words.days([0, 2, date(2026, 12, 12)]) == "Mon, Wed and Sat 12 Dec"
    assert hour_words.spans(hours("mon-fri 08:30-17:45", "2026-12-10 18:00-23:00")) == (
        "Mon to Fri 08:30 to 17:45 and Thu 10 Dec 18:00 to 23:00"
    )
    night = at("2026-12-11 22:30"), at("2026-12-12 07:00")
    assert hour_words.stretch(night, PARIS, NOW) == "Fri 11 Dec 22:30 to Sat 07:00"
    assert hour_words.stretch(night, PARIS, night[0]) == "until Sat 12 Dec 07:00"


@settings(max_examples=10, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(plans())
def test_no_timetable_reaches_further_than_its_steps_can(made: Plan) -> None:
    """Every slot of a timetable that fits lies between the moments worked out without hours, hands or gear."""
    found = time_out(made, SERVED, NOW)
    assume(isinstance(found, Timetable))
    assert isinstance(found, Timetable)
    limits = reach(made, at_the_start(made), NOW, SERVED)
    for slot in found.slots:
        first, last = limits[slot.step]
        assert first <= slot.start and slot.end <= last


def test_a_chain_that_keeps_briefly_is_held_near_the_table() -> None:
    """The stew can be begun at 16:30 at the earliest for nine o'clock: what it made keeps half an hour."""
    limits = reach(MEAL, at_the_start(MEAL), TASK.now, TASK.serve)
    assert limits[number_of(MEAL, "Brown")] == (at("2026-12-10 16:30"), at("2026-12-10 17:40"))
    assert limits[number_of(MEAL, "Rest")][1] == TASK.serve
    now = at("2026-12-10 18:00")
    begun = fold(MEAL, [mark(MarkKind.STARTED, number_of(MEAL, "Simmer"), now)], now)
    assert reach(MEAL, begun, now, TASK.serve)[number_of(MEAL, "Rest")][0] == at("2026-12-10 21:00")


def test_what_cannot_wait_for_the_meal_is_a_fact_of_its_own() -> None:
    """Two dishes that keep five minutes and one pair of hands: the keeping is named, and leaving it out helps."""
    made = plan(
        component("Porridge", step("Stir the porridge", hands_on="25 min", keeps="5 min")),
        component("Eggs", step("Boil the eggs", hands_on="10 min")),
    )
    task = Task(made, at_the_start(made), at("2026-12-12 08:00"), at("2026-12-12 12:00"))
    facts = conflict(task)
    assert {fact.step for fact in facts if fact.kind is FactKind.KEEPS} == {0, 1}
    told = [in_words(fact, task) for fact in facts]
    assert "“Stir the porridge” may wait 5 min at most for the meal" in told
    assert "“Boil the eggs” may not wait for the meal" in told
    for fact in facts:
        assert fits(replace(task, dropped=frozenset({fact}))) is not Verdict.INFEASIBLE


def test_who_only_lends_a_hand_is_not_called_out() -> None:
    """A helping hand for one hour is named in no absence: it is the cook who is out."""
    helped = Change(ChangeKind.HELPER, start=at("2026-12-10 19:00"), end=at("2026-12-10 20:00"))
    helping = replace(TASK, plan=changed(MEAL, (helped,)))
    alone = in_words(Fact(FactKind.HOURS, number_of(MEAL, "Brown")), TASK)
    assert alone.endswith("and Ada is out until Thu 10 Dec 17:45")
    assert in_words(Fact(FactKind.HOURS, number_of(MEAL, "Brown")), helping) == alone
