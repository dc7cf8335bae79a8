"""Marks folded into where each step stands, and what that leaves free."""

from __future__ import annotations

from datetime import datetime

from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.domain.plan import MINUTE
from scheduler.domain.progress import (
    Mark,
    MarkKind,
    Progress,
    Standing,
    State,
    at_the_start,
    fold,
    standing_marks,
    starts_itself,
    still_to_do,
)
from tests.plans_for_tests import (
    component,
    mark,
    plan,
    slot,
    span,
    step,
    tend,
    timetable,
    utc,
)

M = MarkKind
PICKLE = plan(
    component(
        "Pickle",
        step("Salt", hands_on="20 min"),
        step("Ferment", unattended="2 d to 4 d", until="sour", tend=tend("Vent", "1 d")),
        step("Chill", unattended="at least 4 h", keeps="30 d"),
        step("Slice", hands_on="10 min", keeps="1 h"),
    ),
    component("Beans", step("Soak", unattended="12 h to 18 h"), step("Drain", hands_on="5 min", keeps="1 h")),
    component("Table", step("Plate", hands_on="15 min", after=["Pickle", "Beans"])),
)
SALT, FERMENT, CHILL, SLICE, SOAK, DRAIN, PLATE = range(7)
T = utc("2026-12-08 18:00")
HOUR = span("1 h")


def states(progress: Progress) -> list[str]:
    return [standing.state.value for standing in progress.standings]


def folded(*marks: Mark, now: datetime | None = None) -> Progress:
    return fold(PICKLE, marks, now or T + 30 * span("1 d"))


# ---------------------------------------------------------------- what is said, and what follows from it


def test_nothing_said_is_nothing_begun() -> None:
    """Without marks every step waits, untouched."""
    assert folded() == at_the_start(PICKLE)
    assert folded().untouched and still_to_do(folded())


def test_a_start_and_an_end_are_taken_at_the_time_they_are_about() -> None:
    """A step said late to have started and ended has the times it was said of."""
    progress = folded(mark(M.STARTED, SOAK, T, T + HOUR), mark(M.DONE, SOAK, T + 14 * HOUR, T + 15 * HOUR))
    assert progress.of(SOAK) == Standing(State.DONE, T, T + 14 * HOUR)


def test_work_that_is_done_leaves_its_wait_running() -> None:
    """Salting done means fermenting since, which nobody has to begin; it is marked as assumed."""
    progress = folded(mark(M.DONE, SALT, T))
    assert progress.of(SALT) == Standing(State.DONE, T - span("20 min"), T)
    assert progress.of(FERMENT) == Standing(State.RUNNING, T, assumed=True)
    assert progress.state(CHILL) is State.WAITING


def test_only_a_wait_right_after_work_in_its_component_starts_itself() -> None:
    """A wait after a wait, a first wait and anything that takes a cook have to be begun by someone."""
    assert [starts_itself(PICKLE, each) for each in PICKLE.steps] == [False, True, *[False] * 5]


def test_a_step_begun_means_that_what_it_follows_is_over() -> None:
    """Starting to chill the jar ends the ferment then, and the salting before it, all assumed."""
    progress = folded(mark(M.STARTED, CHILL, T))
    assert progress.of(FERMENT).ended == T and progress.of(FERMENT).assumed
    assert states(progress)[:4] == ["done", "done", "running", "waiting"]


def test_what_was_said_outright_is_not_undone_by_what_is_assumed() -> None:
    """A wait said to have begun at ten keeps that start when the work before it is said done later."""
    progress = folded(mark(M.STARTED, FERMENT, T), mark(M.DONE, SALT, T + MINUTE, T + HOUR))
    assert progress.of(FERMENT) == Standing(State.RUNNING, T)
    corrected = folded(mark(M.DONE, SALT, T), mark(M.DONE, SALT, T - HOUR, T + MINUTE))
    assert corrected.of(FERMENT).started == T - HOUR


def test_a_step_put_off_waits_and_a_running_one_is_expected_later() -> None:
    """ "Later" is a first moment for what has not begun and a new end for what has."""
    progress = folded(
        mark(M.LATER, SOAK, T, until=T + HOUR),
        mark(M.STARTED, FERMENT, T),
        mark(M.LATER, FERMENT, T + HOUR, until=T + 60 * HOUR),
    )
    assert progress.of(SOAK).not_before == T + HOUR
    assert progress.of(FERMENT).expected == T + 60 * HOUR
    assert (
        folded(mark(M.LATER, SOAK, T, until=T + HOUR), mark(M.STARTED, SOAK, T)).of(SOAK).not_before is None
    )


def test_what_is_skipped_or_ruined_is_no_longer_part_of_the_meal() -> None:
    """Both drop the step; a word about it afterwards changes nothing."""
    progress = folded(mark(M.SKIPPED, CHILL, T), mark(M.RUINED, SOAK, T), mark(M.STARTED, SOAK, T + HOUR))
    assert progress.dropped == {CHILL, SOAK}


def test_starting_over_forgets_the_first_attempt() -> None:
    """ "Again" sets a step back to the start, with the touches done and put off during it."""
    progress = folded(
        mark(M.STARTED, FERMENT, T),
        mark(M.DONE, FERMENT, T + 24 * HOUR, occurrence=1),
        mark(M.LATER, FERMENT, T + 48 * HOUR, until=T + 49 * HOUR, occurrence=2),
        mark(M.AGAIN, FERMENT, T + 50 * HOUR),
    )
    assert progress.of(FERMENT) == Standing()
    assert not progress.touched and not progress.put_off


def test_touches_are_counted_apart_from_their_step() -> None:
    """A touch done or put off leaves its step as it was."""
    progress = folded(
        mark(M.DONE, FERMENT, T, occurrence=1), mark(M.LATER, FERMENT, T, until=T + HOUR, occurrence=2)
    )
    assert progress.touched == {(FERMENT, 1)} and progress.put_off == {(FERMENT, 2): T + HOUR}
    assert progress.state(FERMENT) is State.WAITING


def test_a_step_left_out_does_not_hide_what_came_before_it() -> None:
    """With the chilling skipped, slicing means that the ferment is over."""
    progress = folded(
        mark(M.STARTED, FERMENT, T), mark(M.SKIPPED, CHILL, T), mark(M.STARTED, SLICE, T + HOUR)
    )
    assert progress.of(FERMENT).ended == T + HOUR


def test_another_component_left_out_is_not_taken_for_done() -> None:
    """Plating without the beans does not mean that they were soaked."""
    marks = [mark(M.SKIPPED, DRAIN, T), mark(M.STARTED, PLATE, T + HOUR)]
    assert folded(*marks).state(SOAK) is State.WAITING
    assert folded(*marks).state(SLICE) is State.DONE


def test_a_note_changes_nothing_but_the_notes() -> None:
    """Notes are kept, oldest first, wherever they belong."""
    notes = [
        Mark(M.NOTE, T, T, "a", text="smells good"),
        Mark(M.NOTE, T, T, "b", step=SOAK, text="old beans"),
    ]
    assert folded(*notes).notes == tuple(notes)
    assert folded(*notes).untouched


def test_what_was_taken_back_was_never_said() -> None:
    """Undoing takes back a whole reply; undoing that lets it stand again."""
    said = [mark(M.DONE, SALT, T, batch="one"), mark(M.STARTED, SOAK, T, batch="one")]
    undo = Mark(M.UNDONE, T, T, "two", undoes="one")
    redo = Mark(M.UNDONE, T, T, "three", undoes="two")
    assert standing_marks([*said, undo]) == []
    assert standing_marks([*said, undo, redo]) == said


def test_only_what_was_said_by_then_counts() -> None:
    """How things stood earlier is not changed by what was said, or taken back, afterwards."""
    marks = [mark(M.DONE, SALT, T, batch="one"), Mark(M.UNDONE, T + HOUR, T + HOUR, "two", undoes="one")]
    assert folded(*marks, now=T).state(SALT) is State.DONE
    assert folded(*marks, now=T - MINUTE).untouched
    assert folded(*marks, now=T + HOUR).untouched


# ---------------------------------------------------------------- waits that end by themselves

DAYS = timetable(
    PICKLE,
    "2026-12-12 19:30",
    slot(PICKLE, "Chill", "2026-12-10 12:00", "2026-12-10 16:00"),
    slot(PICKLE, "Soak", "2026-12-09 20:00", "2026-12-10 10:00"),
)
NOON = utc("2026-12-10 11:00")


def test_a_wait_that_keeps_is_over_when_it_was_planned_to_be() -> None:
    """Chilling ends without a word at its planned end, not a minute before; a soak has to be ended."""
    marks = [mark(M.STARTED, CHILL, NOON), mark(M.STARTED, SOAK, NOON - 15 * HOUR)]
    assert fold(PICKLE, marks, NOON + 4 * HOUR - MINUTE, DAYS).state(CHILL) is State.RUNNING
    progress = fold(PICKLE, marks, NOON + 4 * HOUR, DAYS)
    assert progress.of(CHILL) == Standing(State.DONE, NOON, NOON + 4 * HOUR, assumed=True)
    assert progress.state(SOAK) is State.RUNNING


def test_a_wait_is_not_over_by_a_timetable_made_for_another_start() -> None:
    """Begun late, it has not lasted long enough by its old end; put off, it is not over before that."""
    late = mark(M.STARTED, CHILL, NOON + 3 * HOUR)
    assert fold(PICKLE, [late], NOON + 5 * HOUR, DAYS).state(CHILL) is State.RUNNING
    longer = [mark(M.STARTED, CHILL, NOON), mark(M.LATER, CHILL, NOON + HOUR, until=NOON + 6 * HOUR)]
    assert fold(PICKLE, longer, NOON + 5 * HOUR, DAYS).state(CHILL) is State.RUNNING
    assert fold(PICKLE, longer, NOON + 6 * HOUR, DAYS).state(CHILL) is State.DONE


# ---------------------------------------------------------------- whatever is said

STEPS = st.integers(0, len(PICKLE.steps) - 1)
KINDS = st.sampled_from([M.STARTED, M.DONE, M.LATER, M.SKIPPED, M.RUINED, M.AGAIN])


@st.composite
def said(draw: st.DrawFn, kinds: st.SearchStrategy[MarkKind] = KINDS) -> list[Mark]:
    """Marks in the order they were said, each about a time up to a day before."""
    marks = []
    for n, minutes in enumerate(draw(st.lists(st.integers(0, 600), max_size=12))):
        now = T + n * 10 * HOUR
        until = now + draw(st.integers(1, 600)) * MINUTE
        marks.append(mark(draw(kinds), draw(STEPS), now - minutes * MINUTE, now, until, batch=str(n)))
    return marks


@given(said())
@settings(max_examples=100)
def test_standings_always_make_sense(marks: list[Mark]) -> None:
    """Whatever is said in whatever order, what is done has a start and a later end, and so on."""
    for standing in folded(*marks).standings:
        if standing.state is State.DONE:
            assert standing.started is not None and standing.ended is not None
            assert standing.started <= standing.ended
        elif standing.state is State.RUNNING:
            assert standing.started is not None and standing.ended is None
        else:
            assert standing.started is None and standing.ended is None


@given(said(st.sampled_from([M.STARTED, M.DONE, M.LATER])))
@settings(max_examples=100)
def test_what_comes_before_a_step_begun_is_over(marks: list[Mark]) -> None:
    """While nothing is left out or done over, a step begun has only finished steps before it."""
    progress = folded(*marks)
    for each in PICKLE.steps:
        if progress.state(each.number) is not State.WAITING:
            assert all(progress.state(before) is State.DONE for before in each.follows)


@given(said())
@settings(max_examples=60)
def test_taking_everything_back_leaves_nothing(marks: list[Mark]) -> None:
    """With every reply undone, and then every undoing undone, all is as before."""
    undo = [Mark(M.UNDONE, each.said, each.said, f"u{each.batch}", undoes=each.batch) for each in marks]
    redo = [Mark(M.UNDONE, each.said, each.said, f"r{each.batch}", undoes=each.batch) for each in undo]
    assert folded(*marks, *undo) == at_the_start(PICKLE)
    assert folded(*marks, *undo, *redo) == folded(*marks)
