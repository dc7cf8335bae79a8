"""What holds of the nudges of any plan, whatever was said so far: checked over random plans."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from itertools import pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.domain.marks import Mark, MarkKind
from scheduler.domain.nudges.hours import next_in
from scheduler.domain.nudges.outlook import Outlook
from scheduler.domain.plan import Attention, Component, Cook, Kitchen, Plan, Range, Step, Tend
from scheduler.domain.presence import Presence
from scheduler.domain.progress import Progress, State, fold
from scheduler.domain.stages import About, Nudge, Stage
from scheduler.domain.tends import touches
from scheduler.domain.timetable import Slot, Timetable, in_order, next_mark
from tests.nudge_kitchen import DAY, HOUR, MIN, POLICY, WORKING_ADA, ZONE, Table, at, weekly

NOOR = Cook("Noor", (weekly("0123456", "09:00", "00:30"),), (weekly("56", "12:00", "20:00"),))
HOUSES = ((WORKING_ADA,), (NOOR,), (WORKING_ADA, NOOR))
SINCE = at(1, "06:00")

lengths = st.sampled_from([10 * MIN, 40 * MIN, 2 * HOUR, 9 * HOUR, 26 * HOUR, 3 * DAY])
slacks = st.sampled_from([0 * MIN, 8 * MIN, 20 * MIN, 2 * HOUR, 11 * HOUR, 4 * DAY])


@st.composite
def steps(draw: st.DrawFn, number: int, component: str, follows: tuple[int, ...]) -> Step:
    attention = draw(st.sampled_from(list(Attention)))
    longest = draw(lengths)
    shortest = draw(st.sampled_from([longest, longest / 2]))
    tend = Tend("Stir", draw(st.sampled_from([45 * MIN, 7 * HOUR, DAY])), None, MIN)
    return Step(
        number,
        component,
        f"Step {number}",
        attention,
        Range(shortest, longest, draw(st.sampled_from([None, "soft"]))),
        follows,
        keeps=draw(st.sampled_from([None, 2 * HOUR])),
        oven=draw(st.sampled_from([None, 180])),
        tend=tend if attention is not Attention.HANDS_ON and draw(st.booleans()) else None,
        buy=draw(st.sampled_from([None, DAY])),
    )


@st.composite
def tables(draw: st.DrawFn) -> Table:
    """One to three components of up to four steps, each placed as soon as somebody is there."""
    found: list[Step] = []
    for part in range(draw(st.integers(1, 3))):
        for place in range(draw(st.integers(1, 4))):
            number = len(found)
            found.append(draw(steps(number, f"Part {part}", (number - 1,) if place else ())))
    names = dict.fromkeys(step.component for step in found)
    parts = tuple(Component(name, tuple(step for step in found if step.component == name)) for name in names)
    plan = Plan("Any table", ZONE, Kitchen(draw(st.sampled_from(HOUSES)), {"oven": 9}), parts)
    return _placed(plan, draw(st.lists(slacks, min_size=len(found), max_size=len(found))))


def _placed(plan: Plan, late: list[timedelta]) -> Table:
    presence = Presence(plan, SINCE, SINCE + 60 * DAY)
    slots: list[Slot] = []
    for step in plan.steps:
        free = max((slots[before].end for before in step.follows), default=SINCE + step.number * 3 * HOUR)
        start = next_in(presence.someone(step), next_mark(free, 5 * MIN))
        assert start is not None
        end = start + step.range.planned()[0]
        slots.append(Slot(step.number, start, end, start, start, start + late[step.number]))
    serve = max(slot.end for slot in slots)
    nothing = Progress(tuple(fold(plan, [], SINCE).standings))
    return Table(plan, Timetable(serve, in_order(slots), touches(plan, slots, nothing, presence)))


@st.composite
def moments(draw: st.DrawFn) -> tuple[Table, tuple[Mark, ...], datetime]:
    """A table, some of its steps spoken of as far as that goes, and a moment after that."""
    kitchen = draw(tables())
    spoken = kitchen.timetable.slots[: draw(st.integers(0, len(kitchen.timetable.slots)))]
    marks: list[Mark] = []
    for slot in spoken:
        kind = draw(
            st.sampled_from([None, MarkKind.STARTED, MarkKind.DONE, MarkKind.SKIPPED, MarkKind.LATER])
        )
        when = slot.end if kind is MarkKind.DONE else slot.start
        if kind is not None:
            until = when + draw(slacks)
            marks.append(Mark(kind, when, when, f"{slot.step}", slot.step, until=until))
    now = max([SINCE - DAY, *(mark.said for mark in marks)]) + draw(st.sampled_from([0 * MIN, HOUR, 2 * DAY]))
    return kitchen, tuple(sorted(marks, key=lambda mark: mark.said)), now


some = settings(max_examples=50, deadline=None)


@some
@given(moments())
def test_everything_about_a_nudge_is_in_order(moment: tuple[Table, tuple[Mark, ...], datetime]) -> None:
    """Keys are unique, times are whole minutes, use lasts beyond the due time, and the list is repeatable."""
    kitchen, marks, now = moment
    nudges = kitchen.owed(now, *marks)
    assert len({nudge.key for nudge in nudges}) == len(nudges)
    assert all(nudge.due < nudge.expires and nudge.expires > now for nudge in nudges)
    assert all(nudge.due == next_mark(nudge.due, MIN) for nudge in nudges)
    assert nudges == kitchen.owed(now, *marks)


@some
@given(moments())
def test_nobody_is_woken(moment: tuple[Table, tuple[Mark, ...], datetime]) -> None:
    """While everyone sleeps only starts that were planned there come due, and what is on the fire."""
    kitchen, marks, now = moment
    progress = fold(kitchen.plan, marks, now, kitchen.timetable)
    presence = Presence(kitchen.plan, SINCE - 9 * DAY, SINCE + 90 * DAY)
    for nudge in kitchen.owed(now, *marks):
        if not presence.is_awake(nudge.due, at_home=False):
            assert _planned_there(kitchen, nudge) or _on_the_fire(kitchen, progress, nudge)


def _planned_there(kitchen: Table, nudge: Nudge) -> bool:
    slot = None if nudge.step is None else kitchen.timetable.slot(nudge.step)
    return (
        nudge.about is About.START
        and nudge.stage is Stage.NOW
        and slot is not None
        and slot.start == nudge.due
    )


def _on_the_fire(kitchen: Table, progress: Progress, nudge: Nudge) -> bool:
    if nudge.step is None or progress.state(nudge.step) is not State.RUNNING:
        return False
    return kitchen.plan.steps[nudge.step].attention is Attention.NEARBY


@some
@given(moments())
def test_steps_over_owe_nothing(moment: tuple[Table, tuple[Mark, ...], datetime]) -> None:
    """Done and dropped steps have no nudges, and marking one as done takes away all of its own."""
    kitchen, marks, now = moment
    progress = fold(kitchen.plan, marks, now, kitchen.timetable)
    over = {
        n for n, standing in enumerate(progress.standings) if standing.state in (State.DONE, State.DROPPED)
    }
    assert not over & {nudge.step for nudge in kitchen.owed(now, *marks)}
    step = kitchen.timetable.slots[0].step
    done = Mark(MarkKind.DONE, now, now, "done", step)
    assert step not in {nudge.step for nudge in kitchen.owed(now, *marks, done)}


@some
@given(moments(), slacks)
def test_time_alone_takes_nudges_away_and_adds_none(
    moment: tuple[Table, tuple[Mark, ...], datetime], passed: timedelta
) -> None:
    """With nothing said, a later moment owes no nudge that an earlier one did not; what is gone has lost
    its use or is held up.
    """
    kitchen, marks, now = moment
    progress = fold(kitchen.plan, marks, now, kitchen.timetable)
    before = {nudge.key: nudge for nudge in kitchen.owed(now, progress=progress)}
    after = {nudge.key for nudge in kitchen.owed(now + passed, progress=progress)}
    assert after <= before.keys()
    gone = [nudge for key, nudge in before.items() if key not in after and nudge.expires > now + passed]
    held = _silent(kitchen, progress, now + passed)
    assert all(nudge.about is About.DAY or nudge.step in held for nudge in gone)


def _silent(kitchen: Table, progress: Progress, now: datetime) -> set[int]:
    """Steps that follow one never begun, and those whose own start has passed."""
    late = {
        slot.step
        for slot in kitchen.timetable.slots
        if slot.start < now and progress.state(slot.step) is State.WAITING
    }
    return late | Outlook(kitchen.plan, kitchen.timetable, progress, POLICY, now).held_up


@some
@given(moments())
def test_a_matter_is_pressed_in_order(moment: tuple[Table, tuple[Mark, ...], datetime]) -> None:
    """About one thing, waiting comes after now, closing after waiting, missed last; never within minutes."""
    kitchen, marks, now = moment
    ladders: dict[tuple[About, int | None, datetime], list[Nudge]] = {}
    for nudge in kitchen.owed(now, *marks):
        if nudge.about in (About.START, About.LOOK, About.END) and nudge.stage is not Stage.HEADS_UP:
            ladders.setdefault((nudge.about, nudge.step, nudge.subject), []).append(nudge)
    rank = [Stage.NOW, Stage.WAITING, Stage.CLOSING, Stage.MISSED]
    for said in ladders.values():
        places = [
            (rank.index(nudge.stage), nudge.occurrence) for nudge in said if nudge.stage is not Stage.NOW
        ]
        assert places == sorted(places)
        assert all(a.stage is not Stage.NOW or i == 0 for i, a in enumerate(said))
        assert all(b.due - a.due >= POLICY.apart for a, b in pairwise(said))


@some
@given(tables())
def test_every_step_ahead_that_needs_someone_is_asked_for_once(kitchen: Table) -> None:
    """Before anything began, each step that does not begin by itself has exactly one "now" at its start."""
    now = SINCE - DAY
    outlook = Outlook(kitchen.plan, kitchen.timetable, fold(kitchen.plan, [], now), POLICY, now)
    nows = [(n.step, n.due) for n in kitchen.owed(now) if (n.about, n.stage) == (About.START, Stage.NOW)]
    expected = [
        (s.number, slot.start) for s, slot in outlook.to_begin if slot.start <= kitchen.timetable.serve
    ]
    assert sorted(nows) == sorted(expected)
    asked = {step for step, _ in nows}
    assert all(s.number in asked for s in kitchen.plan.steps if s.attention is not Attention.UNATTENDED)


@some
@given(tables())
def test_what_is_said_ahead_does_not_crowd(kitchen: Table) -> None:
    """Shopping, cards, evenings and heads-ups never come more than three in any ten minutes."""
    dues = [nudge.due for nudge in kitchen.owed(SINCE - 3 * DAY) if nudge.stage is Stage.HEADS_UP]
    assert all(sum(since <= due < since + 10 * MIN for due in dues) <= 3 for since in dues)


@some
@given(tables())
def test_the_order_of_what_is_given_does_not_matter(kitchen: Table) -> None:
    """The nudges are the same in whatever order the touches are given."""
    timetable = kitchen.timetable
    other = replace(timetable, touches=timetable.touches[::-1])
    assert kitchen.owed(SINCE - DAY) == replace(kitchen, timetable=other).owed(SINCE - DAY)
