"""Which messages are owed about steps under way: ends, looks and touches; and how many in all."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

from scheduler.domain.marks import Mark, MarkKind
from scheduler.domain.nudges import Policy
from scheduler.domain.plan import Range, Tend
from scheduler.domain.progress import Progress, Standing, State
from scheduler.domain.stages import About, Nudge, Stage
from tests.nudge_kitchen import (
    ALONE,
    BEFORE,
    DAY,
    HANDS,
    HOUR,
    MIN,
    NEARBY,
    SERVE,
    Fortnight,
    Row,
    Table,
    at,
    one,
    table,
    told,
    two_weeks,
)


def under_way(kitchen: Table, about: About, *marks: Mark, name: str = "Work") -> list[Nudge]:
    """What is owed about a step just after it was begun as planned."""
    slot = kitchen.timetable.slot(kitchen.step(name))
    assert slot is not None
    begun = kitchen.mark(MarkKind.STARTED, name, slot.start)
    now = max([slot.start, *(mark.said for mark in marks)])
    return kitchen.about(name, kitchen.owed(now, begun, *marks), about)


def test_a_pot_is_to_be_taken_off_at_its_end() -> None:
    """What stands on the fire is spoken of at its end, and twice more if nobody answers."""
    assert told(under_way(one(), About.END)) == [
        ("now", "14 11:00"),
        ("waiting", "14 11:05"),
        ("waiting", "14 11:15"),
    ]


def test_work_of_the_hands_is_asked_after_once_it_should_be_over() -> None:
    """A cook with busy hands is not told to stop, but asked twice whether it is done."""
    stages = told(under_way(one(attention=HANDS), About.END))
    assert stages == [("waiting", "14 11:10"), ("waiting", "14 11:30")]


def test_an_end_that_is_the_next_start_is_not_told_twice() -> None:
    """Where the next step of the component starts at that moment, its start says it all."""
    rows = [
        Row("Loaf", "Work", NEARBY, 14, "10:00", HOUR),
        Row("Loaf", "Shape", HANDS, 14, "11:00", 15 * MIN),
    ]
    kitchen = table(rows, SERVE)
    assert not under_way(kitchen, About.END)
    put_off = kitchen.mark(MarkKind.LATER, "Shape", at(14, "10:30"), until=at(14, "11:30"))
    assert told(under_way(kitchen, About.END, put_off))[0] == ("now", "14 11:00")


def test_an_end_is_not_told_twice_when_another_component_takes_it_up() -> None:
    """Plating up at that moment says that the pot comes off; a step of another pot would not."""
    rows = [
        Row("Loaf", "Work", NEARBY, 14, "10:00", HOUR),
        Row("Table", "Plate up", HANDS, 14, "11:00", 15 * MIN, after=("Loaf",)),
    ]
    assert not under_way(table(rows, SERVE), About.END)
    beside = [rows[0], Row("Salad", "Dress", HANDS, 14, "11:00", 15 * MIN)]
    assert told(under_way(table(beside, SERVE), About.END))[0] == ("now", "14 11:00")


def test_an_end_that_begins_a_wait_is_told() -> None:
    """A pot whose rest begins by itself has nothing else to tell that it must come off."""
    rows = [
        Row("Loaf", "Work", NEARBY, 14, "10:00", HOUR),
        Row("Loaf", "Cool", ALONE, 14, "11:00", HOUR, keeps=9 * DAY),
    ]
    assert told(under_way(table(rows, SERVE), About.END))[0] == ("now", "14 11:00")


def test_an_end_the_cook_put_off_is_told_then() -> None:
    """ "Another twenty minutes" moves the end, and what is said about it."""
    kitchen = one()
    later = kitchen.mark(MarkKind.LATER, "Work", at(14, "10:50"), until=at(14, "11:20"))
    assert told(under_way(kitchen, About.END, later))[0] == ("now", "14 11:20")


def test_steps_not_begun_have_neither_ends_nor_looks() -> None:
    """Before it is begun, a step is only asked for; its end and its looks come with its start."""
    for kitchen in (one(), one(until="soft", least=30 * MIN)):
        abouts = {nudge.about for nudge in kitchen.about("Work", kitchen.owed(BEFORE))}
        assert abouts == {About.START}


def test_what_nature_ends_is_looked_at_from_its_shortest_on() -> None:
    """Looks come every quarter of the range, with a last word before its end and one after it."""
    kitchen = one(lasts=3 * HOUR, least=HOUR, until="soft")
    assert told(under_way(kitchen, About.LOOK)) == [
        ("now", "14 11:00"),
        ("waiting", "14 11:30"),
        ("waiting", "14 12:00"),
        ("closing", "14 12:30"),
        ("missed", "14 13:15"),
    ]
    assert not under_way(kitchen, About.END)


def test_looks_are_no_closer_than_is_sensible() -> None:
    """A narrow range on the fire is looked at every ten minutes, elsewhere every half hour."""
    near, alone = (
        one(attention=attention, lasts=90 * MIN, least=30 * MIN, until="soft")
        for attention in (NEARBY, ALONE)
    )
    assert [when for _, when in told(under_way(near, About.LOOK))][:2] == ["14 10:30", "14 10:45"]
    assert [when for _, when in told(under_way(alone, About.LOOK))][:2] == ["14 10:30", "14 11:00"]


def test_a_ferment_is_looked_at_once_a_day_at_most() -> None:
    """A range of nine days has a look each day, not every quarter."""
    kitchen = one(attention=ALONE, day=2, lasts=14 * DAY, least=5 * DAY, until="sour")
    days = [when for stage, when in told(under_way(kitchen, About.LOOK)) if stage == "waiting"]
    assert days == [f"{day:02} 10:00" for day in range(8, 16)]


def test_a_look_that_falls_in_the_night_waits_for_the_morning() -> None:
    """Nobody is woken to look at what may stand till seven."""
    kitchen = one(attention=ALONE, clock="20:00", lasts=12 * HOUR, least=8 * HOUR, until="domed")
    assert told(under_way(kitchen, About.LOOK))[0] == ("now", "15 07:00")


def test_a_look_made_up_for_in_the_morning_is_not_followed_at_once() -> None:
    """After the look that waited for seven, the one planned for half past seven is left out."""
    kitchen = one(attention=ALONE, clock="11:00", lasts=37 * HOUR, least=4 * HOUR, until="domed")
    assert told(under_way(kitchen, About.LOOK)) == [
        ("now", "14 15:00"),
        ("waiting", "15 07:00"),
        ("waiting", "15 15:45"),
        ("closing", "15 22:20"),
        ("missed", "16 07:00"),
    ]


def test_what_is_on_the_fire_is_not_left_till_morning() -> None:
    """A pot that stands past bedtime has somebody beside it, and is spoken of at its hour."""
    kitchen = one(clock="21:00", lasts=3 * HOUR, least=2 * HOUR, until="soft")
    assert told(under_way(kitchen, About.LOOK))[0] == ("now", "14 23:00")
    assert told(under_way(one(clock="22:00"), About.END))[0] == ("now", "14 23:00")


def test_a_look_put_off_comes_when_the_cook_said() -> None:
    """ "Twenty minutes more" is the next look, under a key of its own, and looks go on from there."""
    kitchen = one(lasts=3 * HOUR, least=HOUR, until="soft")
    later = kitchen.mark(MarkKind.LATER, "Work", at(14, "11:01"), until=at(14, "11:20"))
    before, after = under_way(kitchen, About.LOOK), under_way(kitchen, About.LOOK, later)
    assert told(after)[:2] == [("now", "14 11:20"), ("waiting", "14 11:50")]
    assert not {nudge.key for nudge in before} & {nudge.key for nudge in after}


def test_work_of_the_hands_needs_no_looks() -> None:
    """Whoever kneads until smooth is looking; only the overdue end is asked after."""
    kitchen = one(attention=HANDS, lasts=20 * MIN, least=10 * MIN, until="smooth")
    assert not under_way(kitchen, About.LOOK)
    assert told(under_way(kitchen, About.END))[0] == ("waiting", "14 10:30")


def test_what_has_no_longest_time_is_never_too_late() -> None:
    """Without a longest time looks go on past the usual one, with neither a last word nor a missed one."""
    kitchen = one()
    step = replace(kitchen.plan.steps[0], range=Range(HOUR, None, "soft", usually=2 * HOUR))
    part = replace(kitchen.plan.components[0], steps=(step,))
    open_ended = replace(kitchen, plan=replace(kitchen.plan, components=(part,)))
    assert [stage for stage, _ in told(under_way(open_ended, About.LOOK))] == ["now", *["waiting"] * 8]


def tended(every: timedelta, lasts: timedelta, clock: str = "10:00") -> Table:
    return one(attention=ALONE, clock=clock, lasts=lasts, tend=Tend("Stir", every, None, MIN))


def test_a_touch_is_asked_for_and_once_more() -> None:
    """A daily touch is repeated after twenty minutes and has its use until the next."""
    first, again, second, _ = under_way(tended(DAY, 60 * HOUR), About.TEND)
    assert told([first, again, second]) == [
        ("now", "15 10:00"),
        ("waiting", "15 10:20"),
        ("now", "16 10:00"),
    ]
    assert (first.occurrence, second.occurrence) == (1, 2)
    assert first.expires == again.expires == second.due


def test_touches_that_return_soon_are_repeated_soon() -> None:
    """A touch every three quarters of an hour is repeated after five minutes."""
    stages = told(under_way(tended(45 * MIN, 2 * HOUR), About.TEND))
    assert stages[:2] == [("now", "14 10:45"), ("waiting", "14 10:50")]


def test_touches_are_known_before_the_step_is_begun_and_not_after_it_is_late() -> None:
    """The rows of a tend are there from the first, and keep quiet while its start is overdue."""
    kitchen = tended(45 * MIN, 2 * HOUR)
    assert kitchen.about("Work", kitchen.owed(BEFORE), About.TEND)
    assert not kitchen.about("Work", kitchen.owed(at(14, "10:01")), About.TEND)


def test_a_touch_done_is_not_asked_for() -> None:
    """Marking a touch takes away its nudges and no others."""
    kitchen = tended(45 * MIN, 2 * HOUR)
    done = kitchen.mark(MarkKind.DONE, "Work", at(14, "10:45"), occurrence=1)
    assert {nudge.occurrence for nudge in under_way(kitchen, About.TEND, done)} == {2}


def test_a_touch_put_off_is_asked_for_when_the_cook_said() -> None:
    """A snoozed touch is said anew then, unless the next one comes first."""
    kitchen = tended(45 * MIN, 2 * HOUR)
    soon = kitchen.mark(MarkKind.LATER, "Work", at(14, "10:46"), occurrence=1, until=at(14, "11:00"))
    late = replace(soon, until=at(14, "11:40"))
    before, after = under_way(kitchen, About.TEND)[0], under_way(kitchen, About.TEND, soon)[0]
    assert told([after]) == [("now", "14 11:00")] and before.key != after.key
    assert {nudge.occurrence for nudge in under_way(kitchen, About.TEND, late)} == {2}


def test_touches_of_a_night_are_made_up_for_once_in_the_morning() -> None:
    """Of the touches that fall in sleep only the last is asked for, at waking, unless nights are wanted."""
    kitchen = tended(3 * HOUR, 16 * HOUR, "18:00")
    nows = [when for stage, when in told(under_way(kitchen, About.TEND)) if stage == "now"]
    assert nows == ["14 21:00", "15 07:00", "15 09:00"]
    by_night = replace(kitchen, policy=Policy(night_touches=True))
    assert ("now", "15 03:00") in told(under_way(by_night, About.TEND))


def test_moving_a_touch_within_its_tolerance_does_not_say_it_twice() -> None:
    """A touch is known by when it is due, not by the moment picked for it."""
    kitchen = tended(DAY, 60 * HOUR)
    moved = tuple(replace(touch, at=touch.at + HOUR) for touch in kitchen.timetable.touches)
    other = replace(kitchen, timetable=replace(kitchen.timetable, touches=moved))
    keys = [{nudge.key for nudge in under_way(each, About.TEND)} for each in (kitchen, other)]
    assert keys[0] == keys[1]


def test_starts_said_to_the_second_give_whole_minutes() -> None:
    """Looks counted from a start at 10:00:30 are due on whole minutes."""
    kitchen = one(lasts=3 * HOUR, least=HOUR, until="soft")
    begun = Standing(State.RUNNING, started=at(14, "10:00") + timedelta(seconds=30))
    nudges = kitchen.owed(at(14, "10:01"), progress=Progress((begun,)))
    assert all(nudge.due.second == 0 for nudge in nudges)
    assert told(kitchen.about("Work", nudges, About.LOOK))[0] == ("now", "14 11:01")


def heard(*stages: Stage) -> list[Nudge]:
    return Fortnight(two_weeks(), at(8, "06:00"), stages).play()


def test_two_weeks_are_neither_forgetful_nor_pestering() -> None:
    """A punctual cook hears 60 to 90 messages over 31 steps; late and silent ones at most twice that."""
    punctual = heard(Stage.NOW)
    assert 60 <= len(punctual) <= 90
    assert len(heard(Stage.CLOSING, Stage.MISSED)) <= 2 * len(punctual)
    assert len(heard()) <= 2 * len(punctual)


def test_no_more_than_three_messages_of_ours_crowd_together() -> None:
    """In any ten minutes a punctual cook hears at most three messages the plan itself did not put there."""
    dues = [nudge.due for nudge in heard(Stage.NOW) if nudge.stage is not Stage.NOW]
    assert max(crowd(dues, due) for due in dues) <= 3


def crowd(dues: list[datetime], since: datetime) -> int:
    return sum(since <= due < since + 10 * MIN for due in dues)
