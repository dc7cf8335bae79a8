"""Planning again after marks: what is past stays, what need not move stays, and the verifier agrees."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from scheduler.domain.check import Breach, check
from scheduler.domain.plan import MINUTE, Plan
from scheduler.domain.progress import Mark, MarkKind, Progress, State, fold
from scheduler.domain.timetable import Timetable
from scheduler.explain import Misfit
from scheduler.planning import Unsound, time_out
from tests.plans_for_tests import NOW, SERVED, at, component, mark, number_of, plan, plans, step

HOUR = timedelta(hours=1)
slow_machine = settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def lived(made: Plan, table: Timetable, until: datetime, lateness: dict[int, int]) -> Progress:
    """Everything that was to begin by then, begun (and ended) so many minutes late."""
    marks: list[Mark] = []
    for slot in table.slots:
        late = lateness.get(slot.step, 0) * MINUTE
        if slot.start + late <= until:
            marks.append(mark(MarkKind.STARTED, slot.step, slot.start + late))
        if slot.end + late <= until:
            marks.append(mark(MarkKind.DONE, slot.step, slot.end + late))
    marks.sort(key=lambda each: (each.about, each.kind is MarkKind.STARTED, each.step))
    return fold(made, marks, until, table)


@slow_machine
@given(plans(), st.integers(1, 13 * 24), st.dictionaries(st.integers(0, 19), st.integers(0, 50), max_size=3))
def test_whatever_happened_the_new_timetable_passes_the_verifier(
    made: Plan, hours: int, lateness: dict[int, int]
) -> None:
    """Random plans lived through with random lateness: planned again, or told that it cannot be."""
    table = time_out(made, SERVED, NOW)
    assume(isinstance(table, Timetable))
    assert isinstance(table, Timetable)
    now = NOW + hours * HOUR
    progress = lived(made, table, now, lateness)
    again = time_out(made, SERVED, now, progress, table)
    if isinstance(again, Timetable):
        since = min([now, *(s.start for s in again.slots if progress.state(s.step) is State.WAITING)])
        assert check(made, again, since, progress) == ()
    else:
        assert again.because


@slow_machine
@given(plans(), st.integers(1, 13 * 24))
def test_a_punctual_cook_sees_nothing_move(made: Plan, hours: int) -> None:
    """When everything happened as planned, every step still to come stays where it was."""
    table = time_out(made, SERVED, NOW)
    assume(isinstance(table, Timetable))
    assert isinstance(table, Timetable)
    now = NOW + hours * HOUR
    progress = lived(made, table, now, {})
    again = time_out(made, SERVED, now, progress, table)
    assert isinstance(again, Timetable)
    to_come = [n for n in table.moved(again) if progress.state(n) is State.WAITING]
    assert to_come == []


SUPPER = plan(
    component(
        "Stock", step("Roast the bones", nearby="60 min"), step("Simmer the stock", nearby="3 h", keeps="2 d")
    ),
    component("Cake", step("Bake the cake", nearby="50 min", keeps="2 d")),
    component(
        "Table", step("Ladle and carry out", hands_on="15 min", after=("Stock", "Cake"), keeps="5 min")
    ),
)


def test_a_late_step_moves_what_follows_it_and_nothing_else() -> None:
    """The bones went in forty minutes late: the stock moves with them, cake and table stay."""
    table = time_out(SUPPER, at("2026-12-12 19:30"), at("2026-12-11 08:00"))
    assert isinstance(table, Timetable)
    roast = table.slot(number_of(SUPPER, "Roast the bones"))
    assert roast is not None
    begun = roast.start + 40 * MINUTE
    progress = lived(SUPPER, table, begun, {roast.step: 40})
    again = time_out(SUPPER, table.serve, begun, progress, table)
    assert isinstance(again, Timetable)
    moved = [n for n in table.moved(again) if progress.state(n) is State.WAITING]
    assert moved == [number_of(SUPPER, "Simmer the stock")]


def test_a_step_that_is_due_stays_put_until_its_last_call() -> None:
    """Another step's mark does not move one the cook's hands are most likely in."""
    table = time_out(SUPPER, at("2026-12-12 19:30"), at("2026-12-11 08:00"))
    assert isinstance(table, Timetable)
    ladle = table.slot(number_of(SUPPER, "Ladle and carry out"))
    cake = table.slot(number_of(SUPPER, "Bake the cake"))
    stock = table.slot(number_of(SUPPER, "Simmer the stock"))
    assert ladle and cake and stock
    now = ladle.start + 10 * MINUTE
    marks = [mark(MarkKind.DONE, cake.step, cake.end), mark(MarkKind.DONE, stock.step, stock.end)]
    again = time_out(SUPPER, table.serve, now, fold(SUPPER, marks, now, table), table)
    assert isinstance(again, Timetable)
    slot = again.slot(ladle.step)
    assert slot is not None and slot.start == ladle.start


def test_an_hour_that_cannot_hold_is_a_misfit_with_the_earliest_that_can() -> None:
    """The stock is begun an hour before the table: the hour offered fits, a quarter of an hour less does not."""
    now = at("2026-12-12 18:30")
    misfit = time_out(SUPPER, at("2026-12-12 19:30"), now)
    assert isinstance(misfit, Misfit)
    offered = misfit.remedies[0].serve
    assert isinstance(time_out(SUPPER, offered, now), Timetable)
    assert isinstance(time_out(SUPPER, offered - 15 * MINUTE, now), Misfit)


def test_a_timetable_the_verifier_refuses_is_never_used(monkeypatch: pytest.MonkeyPatch) -> None:
    """Should the solver ever be wrong, planning raises instead of handing its slots on."""
    from scheduler import planning

    wrong = (Breach("hours", (0,), "everyone is asleep"),)
    monkeypatch.setattr(planning, "check", lambda *_: wrong)
    with pytest.raises(Unsound, match="everyone is asleep"):
        time_out(SUPPER, at("2026-12-12 19:30"), at("2026-12-11 08:00"))


def test_another_hour_moves_only_what_the_hour_moves() -> None:
    """Half an hour later at the table: the table step moves, what keeps for days need not."""
    table = time_out(SUPPER, at("2026-12-12 19:30"), at("2026-12-11 08:00"))
    assert isinstance(table, Timetable)
    later = table.serve + 30 * MINUTE
    again = time_out(SUPPER, later, at("2026-12-11 08:00"), None, replace(table, serve=later))
    assert isinstance(again, Timetable)
    assert table.moved(again) == (number_of(SUPPER, "Ladle and carry out"),)
