"""Hard limits hold whatever is offered or pressed: nothing shortens a step with one, or leaves it out."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.wording import Wording
from scheduler.bets import bets_on
from scheduler.candidates import Candidates
from scheduler.changes import Change, ChangeKind
from scheduler.domain.kitchen.hazards import DEFERRAL
from scheduler.domain.kitchen.hazards.guards import unguarded
from scheduler.domain.progress import State, at_the_start
from scheduler.domain.scaling import with_step
from scheduler.domain.timetable import Timetable
from scheduler.facts import Fact, FactKind
from scheduler.planning import time_out
from scheduler.service.answers import Taken
from scheduler.service.deeds import Deed, Verb
from scheduler.solver import Task
from tests.hazard_plans import BOIL, CHILLI, DRAIN, HEAD, SOAK, STOCK, part, plan_of, step_of
from tests.limits_kit import (
    BEFORE,
    BOILING,
    BONES,
    COOLING,
    MINUTE,
    SERVE,
    at,
    boiling,
    fresh,
    of,
    refused,
    said,
    taken,
)

# ---------------------------------------------------------------- left out


@pytest.mark.parametrize("name", [BOILING, "Soak the kidney beans"])
def test_a_step_with_a_published_limit_is_not_left_out_alone(name: str) -> None:
    """Refused with the reason, however sure one is; all of the beans may go in its place."""
    view = fresh()
    for sure in (False, True):
        answer = refused(view, replace(of(view, Verb.SKIP, name), sure=sure))
        assert "cannot be left out while the rest is kept" in answer.why
        assert "FDA Bad Bug Book, 2nd ed." in answer.why and answer.why.endswith(DEFERRAL)
        assert [label for label, _ in answer.instead] == ["Leave out Bean chilli", "Keep it"]
    whole = taken(view, Deed(Verb.LEAVE_OUT, 1, step_of(view.plan, name).number)).view
    assert whole.progress.state(step_of(view.plan, BOILING).number) is State.DROPPED


@pytest.mark.parametrize("name", [COOLING, "Drain the beans"])
def test_what_guards_food_is_asked_about_with_the_reason(name: str) -> None:
    """No limit is surely missed, so it is a question; only the second, explicit word leaves it out."""
    view = fresh()
    answer = refused(view, of(view, Verb.SKIP, name))
    assert answer.why.endswith("?") and "Caution: " in answer.why and DEFERRAL in answer.why
    label, sure = answer.instead[0]
    assert label == "Leave it out" and sure.sure
    assert taken(view, sure).view.progress.state(step_of(view.plan, name).number) is State.DROPPED


def test_the_boil_of_another_part_is_not_left_out_while_its_beans_are_kept() -> None:
    """Leaving out a whole component that boils another one's beans is refused like leaving out a step."""
    source = HEAD + part("Beans", SOAK, DRAIN) + part("Pot", BOIL.replace("name: ", "after: [Beans], name: "))
    view = fresh(source)
    pot = step_of(view.plan, BOILING).number
    for verb in (Verb.LEAVE_OUT, Verb.SKIP):
        answer = refused(view, Deed(verb, 1, pot))
        assert "cannot be left out" in answer.why
        label, beans = answer.instead[0]
        assert label == "Leave out Beans"
    without = taken(view, beans).view
    assert taken(without, Deed(Verb.LEAVE_OUT, 1, pot)).view.progress.state(pot) is State.DROPPED
    with pytest.raises(ValueError, match="may not be left out"):
        Change(ChangeKind.LEAVE_OUT, step=pot).left_out(view.plan, view.progress)


@pytest.mark.parametrize("kind", [ChangeKind.SKIP])
def test_a_change_never_leaves_out_the_boil(kind: ChangeKind) -> None:
    """Not even one that a button of an older message carries."""
    view = fresh()
    with pytest.raises(ValueError, match="may not be left out"):
        Change(kind, step=step_of(view.plan, BOILING).number).apply(view.plan, view.progress)


@given(st.data())
@settings(max_examples=40, deadline=None)
def test_no_remedy_leaves_out_what_guards_something(data: st.DataObject) -> None:
    """Whatever is optional and whatever is in conflict, what is offered to go guards nothing that stays."""
    plan = plan_of(CHILLI, STOCK)
    free = data.draw(st.sets(st.sampled_from(range(len(plan.steps)))))
    for number in free:
        plan = with_step(plan, replace(plan.steps[number], optional=True))
    parts = tuple(replace(each, optional=data.draw(st.booleans())) for each in plan.components)
    plan = replace(plan, components=parts)
    facts = [Fact(FactKind.LENGTH, step.number) for step in plan.steps]
    offered = Candidates(Task(plan, at_the_start(plan), BEFORE, SERVE), facts).parts()
    for change in offered:
        gone = change.left_out(plan, at_the_start(plan))
        assert unguarded(plan, gone) is None
    names = {plan.steps[change.step or 0].name for change in offered if change.kind is ChangeKind.SKIP}
    assert not names & {BOILING, "Soak the kidney beans", "Drain the beans", COOLING, "Rest in the fridge"}
    assert (BONES in names) == (step_of(plan, BONES).number in free)


def test_no_remedy_leaves_out_the_part_that_boils_anothers_beans() -> None:
    """An optional pot is offered to go only where its beans are its own."""
    pot = BOIL.replace("name: ", "after: [Beans], name: ")
    apart = plan_of(part("Beans", SOAK, DRAIN), part("Pot", pot, optional=True))
    whole = plan_of(part("Beans", SOAK, DRAIN, BOIL, optional=True))
    offered = []
    for plan in (apart, whole):
        facts = [Fact(FactKind.LENGTH, step.number) for step in plan.steps]
        offered.append(Candidates(Task(plan, at_the_start(plan), BEFORE, SERVE), facts).parts())
    assert offered == [[], [Change(ChangeKind.LEAVE_OUT, step=0)]]


# ---------------------------------------------------------------- shortened


@given(st.data())
@settings(max_examples=20, deadline=None)
def test_no_remedy_touches_how_long_a_step_takes_or_keeps(data: st.DataObject) -> None:
    """Whatever is in conflict, a night, an hour off, a helper or a pot leaves every step as it was written."""
    plan = plan_of(CHILLI, STOCK)
    kinds = st.sampled_from([FactKind.LENGTH, FactKind.HOURS, FactKind.COOK, FactKind.KEEPS])
    facts = [Fact(data.draw(kinds), step.number) for step in plan.steps]
    found = Candidates(
        Task(plan, at_the_start(plan), BEFORE, SERVE), [*facts, Fact(FactKind.GEAR, name="burner")]
    )
    every = [*found.nights(15 * MINUTE), *found.hours_off(), *found.helping(), *found.gear()]
    assert every
    for change in every:
        assert change.apply(plan, at_the_start(plan))[0].steps == plan.steps


def test_no_mend_plans_a_boil_shorter_than_its_floor() -> None:
    """A boil that nature ends is a bet on when they are soft: what would mend it leaves its 30 min alone."""
    pot = "name: Boil the kidney beans, nearby: 30 min to 1 h 30 min, until: soft, keeps: 40 min"
    table = part("Table", "name: Dish up, hands-on: 20 min, after: [Chilli], keeps: 5 min")
    plan = plan_of(part("Chilli", SOAK, DRAIN, pot), table)
    timetable = time_out(plan, SERVE, BEFORE)
    assert isinstance(timetable, Timetable)
    found = [mend for each in bets_on(plan, timetable, BEFORE).mends for mend in each]
    assert found
    boil = step_of(plan, BOILING)
    assert boil.floor == 30 * MINUTE
    assert all(
        mend.longest is None or mend.longest >= boil.floor for mend in found if mend.step == boil.number
    )


def test_no_change_makes_it_shorter_than_its_floor() -> None:
    """30 min at the boil, 5 h of soaking; at the limit itself it may be."""
    plan = fresh().plan
    for name, floor in ((BOILING, 30), ("Soak the kidney beans", 300)):
        number = step_of(plan, name).number
        with pytest.raises(ValueError, match="may not be shorter"):
            Change(ChangeKind.LASTS, step=number, shortest=floor - 1, longest=900).apply(
                plan, at_the_start(plan)
            )
        at_limit = Change(ChangeKind.LASTS, step=number, shortest=floor, longest=900)
        changed, _ = at_limit.apply(plan, at_the_start(plan))
        assert changed.steps[number].range.shortest == floor * MINUTE


def test_done_too_early_is_told_what_remains_and_marked_only_when_said_again() -> None:
    """The published limit, how long remains, and afterwards that it was not met."""
    view = boiling(fresh(), 12 * MINUTE)
    answer = refused(view, of(view, Verb.DONE, BOILING))
    assert (
        "18 min remain" in answer.why
        and "30 min for the published boil of kidney beans (FDA Bad Bug Book, 2nd ed.)" in answer.why
    )
    sure = answer.instead[0][1]
    text = Wording().answer(taken(view, sure)).text
    assert "12 min of 30 min" in text and "this was not met" in text and text.endswith(DEFERRAL)


def test_beginning_the_next_step_does_not_end_it_early_unasked() -> None:
    """The simmer begun while the beans have boiled 10 min is asked about like "done"."""
    view = boiling(fresh(), 10 * MINUTE)
    assert "20 min remain" in refused(view, of(view, Verb.START, "Simmer the chilli")).why


def test_done_in_time_needs_no_second_word() -> None:
    """At 30 min the limit is met: it is marked at once, and nothing is said of it."""
    view = boiling(fresh(), 30 * MINUTE)
    text = Wording().answer(taken(view, of(view, Verb.DONE, BOILING))).text
    assert "not met" not in text


def test_work_of_the_hands_with_a_limit_is_asked_about_too() -> None:
    """A boil that somebody stands beside has the same limit."""
    by_hand = CHILLI.replace("nearby: 30 min to 40 min", "hands-on: 30 min")
    view = boiling(fresh(HEAD + by_hand), 5 * MINUTE)
    assert "25 min remain" in refused(view, of(view, Verb.DONE, BOILING)).why


def test_an_end_put_off_to_before_the_limit_is_held_there() -> None:
    """ "Ends in 5 min", said after 10 min at the boil: it goes on to 30 min, and the message says until when."""
    view = boiling(fresh(), 10 * MINUTE)
    answer = taken(view, of(view, Verb.LATER, BOILING, until=view.now + 5 * MINUTE))
    standing = answer.view.progress.of(step_of(view.plan, BOILING).number)
    assert standing.started is not None and standing.expected == standing.started + 30 * MINUTE
    assert "at least, for the published boil of kidney beans" in Wording().answer(answer).text


DEEDS = st.lists(
    st.tuples(
        st.sampled_from([Verb.DONE, Verb.START, Verb.LATER, Verb.SKIP]),
        st.integers(0, 6),
        st.integers(1, 90),
    ),
    min_size=1,
    max_size=4,
)


@given(DEEDS)
@settings(max_examples=20, deadline=None)
def test_nothing_that_is_said_once_crosses_a_floor(deeds: list[tuple[Verb, int, int]]) -> None:
    """Whatever is said in whatever order, without a second word: no floor is cut into, nothing with one is dropped."""
    view = fresh()
    for verb, number, minutes in deeds:
        view = at(view, view.now + minutes * MINUTE * 6)
        until = view.now + minutes * MINUTE if verb is Verb.LATER else None
        result = said(view, Deed(verb, 1, number, until=until))
        view = result.view if isinstance(result.answer, Taken) else view
    for step in view.plan.steps:
        if step.floor is None:
            continue
        standing, slot = view.progress.of(step.number), view.timetable.slot(step.number)
        assert standing.state is not State.DROPPED
        if standing.state is State.DONE and standing.started and standing.ended and not standing.assumed:
            assert standing.ended - standing.started >= step.floor
        if slot is not None and standing.state in (State.WAITING, State.RUNNING):
            assert slot.end - slot.start >= step.floor
