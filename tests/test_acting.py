"""Deeds done to a plan: what they mark, what they refuse, and what they do to the timetable."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

import pytest

from scheduler.domain.progress import State
from scheduler.planners import Here
from scheduler.service.acting import act
from scheduler.service.answers import Taken
from scheduler.service.deeds import Deed, Verb
from tests.acting_kit import (
    SERVE,
    STEPS,
    at,
    do,
    done,
    of,
    refused,
    said,
    salted,
    soaking,
    start,
    state,
)
from tests.talk_kit import on

# ---------------------------------------------------------------- marks


def test_done_twice_is_done_once() -> None:
    """The same button again is refused; a time that was said puts the first one right."""
    view = salted()
    assert refused(at(view, 6, "08:00"), do("Salt the radishes")).why == (
        "“Salt the radishes” is marked done already, at 07:15."
    )
    righted = done(at(view, 6, "08:00"), do("Salt the radishes", at=on(6, "07:40")))
    assert righted.progress.of(STEPS["Salt the radishes"]).ended == on(6, "07:40")


def test_begun_twice_is_begun_once() -> None:
    """So is a start; with a time it is put right."""
    view = at(soaking(), 9, "07:30")
    assert refused(view, start("Soak the beans")).why == "“Soak the beans” has been under way since 07:00."
    righted = done(view, start("Soak the beans", at=on(9, "06:50")))
    assert righted.progress.of(STEPS["Soak the beans"]).started == on(9, "06:50")
    assert "done already" in refused(salted(), start("Salt the radishes")).why


def test_what_was_only_taken_to_be_over_can_be_said() -> None:
    """Draining means that the soak is over; a word about when it ended is welcome, till draining began."""
    view = done(at(soaking(), 9, "17:20"), do("Drain the beans"))
    assert view.progress.of(STEPS["Soak the beans"]).assumed
    assert "It was over when “Drain the beans” began." in refused(view, do("Soak the beans")).why
    told = done(view, do("Soak the beans", at=on(9, "17:05")))
    assert told.progress.of(STEPS["Soak the beans"]).ended == on(9, "17:05")


@pytest.mark.parametrize("verb", [Verb.DONE, Verb.START])
def test_a_time_to_come_is_refused(verb: Verb) -> None:
    """Nothing has happened yet that will."""
    assert "has not come yet" in refused(salted(), of(verb, "Soak the beans", at=on(6, "09:00"))).why


def test_an_end_before_the_beginning_is_refused() -> None:
    """It began at seven; it was not over at half past six."""
    view = done(at(soaking(), 9, "18:00"), do("Drain the beans", at=on(9, "17:20")))
    view = done(view, start("Simmer the beans", at=on(9, "17:30")))
    assert refused(view, do("Simmer the beans", at=on(9, "17:25"))).why == (
        "“Simmer the beans” began only at 17:30."
    )


def test_times_keep_to_the_order_of_the_steps() -> None:
    """Neither before what comes before was over, nor after what comes after began."""
    view = done(at(soaking(), 9, "18:00"), do("Drain the beans", at=on(9, "17:20")))
    assert "was over only at 17:20" in refused(view, start("Simmer the beans", at=on(9, "17:00"))).why
    view = done(view, start("Simmer the beans", at=on(9, "17:30")))
    assert "began at 17:30 already" in refused(view, do("Drain the beans", at=on(9, "17:45"))).why


@pytest.mark.parametrize("deed", [do("Soak the beans"), do("Drain the beans"), start("Drain the beans")])
def test_a_wait_that_is_not_over_yet_is_asked_about(deed: Deed) -> None:
    """Not before a word that it is meant; then it is taken, at the time of that word."""
    view = at(soaking(), 9, "12:00")
    question = refused(view, deed)
    assert question.why.startswith("“Soak the beans” has run 5 h; the plan wants at least 10 h.")
    (label, sure), (_, keep) = question.instead
    assert (label, keep.verb) == ("It is over", Verb.KEEP)
    assert state(done(at(view, 9, "12:05"), sure), "Soak the beans") is State.DONE


def test_done_of_a_wait_that_just_began_means_begun() -> None:
    """A cook who has put the beans to soak says "done"; after ten hours it means over."""
    view = at(salted(), 9, "07:05")
    assert state(done(view, do("Soak the beans")), "Soak the beans") is State.RUNNING
    assert state(done(at(salted(), 9, "17:10"), do("Soak the beans")), "Soak the beans") is State.DONE


def test_a_time_of_another_day_is_asked_about() -> None:
    """ "At three", said at noon of a step planned for noon: yesterday at three is surely not meant."""
    view = at(soaking(), 9, "12:20")
    question = refused(view, do("Whisk the flan", at=on(8, "15:00")))
    assert question.why == "“Whisk the flan” was planned for 12:15. Was it done at 15:00 yesterday?"
    assert state(done(view, question.instead[0][1]), "Whisk the flan") is State.DONE


@pytest.mark.parametrize("verb", [Verb.DONE, Verb.START, Verb.LATER, Verb.SKIP])
def test_what_was_left_out_can_only_be_put_back(verb: Verb) -> None:
    """And then only that: what was done of the component stays done."""
    view = done(at(soaking(), 9, "12:40"), do("Whisk the flan"))
    view = done(view, of(Verb.LEAVE_OUT, "Bake the flan"))
    assert (state(view, "Whisk the flan"), state(view, "Bake the flan")) == (State.DONE, State.DROPPED)
    ((label, back),) = refused(view, of(verb, "Bake the flan", until=on(9, "13:00"))).instead
    view = done(view, back)
    assert (label, state(view, "Whisk the flan")) == ("Put it back", State.DONE)
    assert state(view, "Bake the flan") is State.WAITING
    assert "is part of the meal" in refused(view, back).why


def test_a_component_that_is_done_is_not_left_out_but_may_be_ruined() -> None:
    """Burnt after baking is burnt all the same; again means from the start."""
    view = done(at(soaking(), 9, "13:20"), do("Whisk the flan", at=on(9, "12:35")))
    view = done(view, do("Bake the flan"))
    assert "is done already" in refused(view, of(Verb.LEAVE_OUT, "Whisk the flan")).why
    view = done(view, of(Verb.RUINED, "Bake the flan"))
    assert {state(view, "Whisk the flan"), state(view, "Bake the flan")} == {State.DROPPED}
    view = done(view, of(Verb.AGAIN, "Bake the flan"))
    assert {state(view, "Whisk the flan"), state(view, "Bake the flan")} == {State.WAITING}
    assert view.timetable.slot(STEPS["Whisk the flan"]) is not None


def test_a_touch_counts_once_and_only_while_it_is_wanted() -> None:
    """Marked twice, marked after its step, marked though there is no such touch: refused."""
    view = done(at(salted(), 7, "07:20"), do("Radishes ferment", occurrence=1))
    assert "is marked already" in refused(view, do("Radishes ferment", occurrence=1)).why
    assert "is not wanted any more" in refused(view, do("Radishes ferment", occurrence=9)).why
    over = done(at(view, 8, "08:00"), do("Radishes ferment"))
    assert "is not wanted any more" in refused(over, do("Radishes ferment", occurrence=2)).why


@pytest.mark.parametrize("until", [on(9, "07:10"), on(9, "06:00")])
def test_nothing_is_put_off_into_the_past(until: datetime) -> None:
    """Neither to a time gone by nor to this very moment."""
    view = at(salted(), 9, "07:10")
    assert refused(view, of(Verb.LATER, "Soak the beans", until=until)).why == "That time has passed already."


def test_deeds_are_done_all_or_none() -> None:
    """One that is refused keeps the others back."""
    view = at(salted(), 9, "12:40")
    assert refused(view, do("Whisk the flan"), do("Salt the radishes"))
    assert state(view, "Whisk the flan") is State.WAITING
    both = act(view, (do("Whisk the flan"), start("Soak the beans")), said(view), Here())
    assert len(both.marks) == 2 and len({mark.batch for mark in both.marks}) == 1


# ---------------------------------------------------------------- put off


def test_a_snooze_never_reaches_past_the_last_call() -> None:
    """What was said is in the answer, what is kept is the last call, and the hour stands."""
    view = at(salted(), 9, "07:01")
    slot = view.timetable.slot(STEPS["Soak the beans"])
    result = act(view, (of(Verb.LATER, "Soak the beans", until=on(9, "09:00")),), said(view), Here())
    assert slot is not None and isinstance(result.answer, Taken) and result.answer.misfit is not None
    assert [mark.until for mark in result.marks] == [slot.last_call]
    assert result.view.serve == SERVE and result.view.timetable.serve == SERVE


def test_put_off_times_are_whole_minutes() -> None:
    """Seconds are rounded up, so that it is never early."""
    view = replace(at(salted(), 9, "07:01"), now=on(9, "07:01").replace(second=20)).with_marks(())
    until = on(9, "07:11").replace(second=20)
    result = act(view, (of(Verb.LATER, "Soak the beans", until=until),), said(view), Here())
    assert [mark.until for mark in result.marks] == [on(9, "07:12")]
