"""Which messages are owed about beginning a step: each stage, and each rule that moves or silences one."""

from __future__ import annotations

from scheduler.domain.marks import MarkKind
from scheduler.domain.stages import Stage
from tests.nudge_kitchen import (
    BEFORE,
    DAY,
    HANDS,
    HOUR,
    MIN,
    NEARBY,
    SERVE,
    WORKING_ADA,
    Row,
    at,
    jar,
    one,
    starts,
    table,
    told,
    two_weeks,
)


def test_a_step_is_asked_for_at_its_start_and_again_until_its_window_shuts() -> None:
    """The four stages of a start come in order, at growing distances, within its window."""
    assert told(starts(one(slack=2 * HOUR))) == [
        ("now", "14 10:00"),
        ("waiting", "14 10:15"),
        ("waiting", "14 10:45"),
        ("closing", "14 11:30"),
        ("missed", "14 12:15"),
    ]


def test_each_nudge_loses_its_use_when_the_next_one_says_more() -> None:
    """A waiting nudge expires when the next is due, the others once the step counts as missed."""
    now, first, second, closing, missed = starts(one(slack=2 * HOUR))
    assert (first.expires, second.expires) == (second.due, closing.due)
    assert now.expires == closing.expires == missed.due == at(14, "12:15")
    assert missed.expires == SERVE


def test_a_step_without_slack_is_asked_for_once_more_and_then_missed() -> None:
    """A window of no length has one repeat and no last word; a quarter of an hour later it is missed."""
    assert told(starts(one())) == [("now", "14 10:00"), ("waiting", "14 10:05"), ("missed", "14 10:15")]


def test_a_narrow_window_has_room_for_a_last_word_only() -> None:
    """In ten minutes there is a last word halfway, and no repeat beside it."""
    stages = told(starts(one(slack=10 * MIN)))
    assert stages == [("now", "14 10:00"), ("closing", "14 10:05"), ("missed", "14 10:25")]


def test_hands_in_the_dough_are_left_alone_where_there_is_time() -> None:
    """A job of the hands is not asked for again before it could have been done, if its window is wide."""
    stages = told(starts(one(attention=HANDS, lasts=40 * MIN, slack=6 * HOUR)))
    assert stages[:2] == [("now", "14 10:00"), ("waiting", "14 10:45")]


def test_a_window_of_days_is_spread_over_the_days() -> None:
    """After a first repeat within the hour, a window of eight days is asked about once a day."""
    stages = told(starts(one(day=8, slack=8 * DAY)))
    assert stages[1] == ("waiting", "08 10:15")
    assert [when[:2] for stage, when in stages if stage == "waiting"] == ["08", "09", "10", "11"]


def test_what_would_fall_in_the_night_is_moved_out_of_it() -> None:
    """The last word comes ahead of the night, and a step missed in the night is told in the morning."""
    stages = told(starts(one(clock="20:00", slack=7 * HOUR)))
    assert stages[-2:] == [("closing", "14 22:20"), ("missed", "15 07:00")]


def test_a_last_word_that_has_no_room_before_the_night_is_left_out() -> None:
    """A window that opens as the house goes to bed has neither repeat nor last word."""
    stages = told(starts(one(clock="22:20", slack=160 * MIN)))
    assert stages == [("now", "14 22:20"), ("missed", "15 07:00")]


def test_nobody_is_asked_to_begin_while_out() -> None:
    """Repeats wait until the cook is back home, where one is enough for all that fell due meanwhile."""
    kitchen = table([Row("Part", "Work", NEARBY, 9, "07:30", HOUR, slack=12 * HOUR)], SERVE, (WORKING_ADA,))
    assert told(starts(kitchen)) == [
        ("now", "09 07:30"),
        ("waiting", "09 07:45"),
        ("waiting", "09 17:30"),
        ("closing", "09 18:30"),
        ("missed", "09 19:45"),
    ]


def test_a_wait_that_begins_by_itself_is_not_asked_for() -> None:
    """Packing the jar leaves it standing: only the work before and after the wait is asked for."""
    kitchen = jar()
    assert not starts(kitchen, "Stand")
    assert starts(kitchen, "Pack") and starts(kitchen, "Drain")


def test_a_wait_that_cannot_begin_by_itself_is_asked_for() -> None:
    """Where the work before may wait, or was left out, somebody has to begin the wait."""
    assert told(starts(jar(keeps=HOUR), "Stand"))[0] == ("now", "14 10:30")
    kitchen = jar()
    skipped = kitchen.mark(MarkKind.SKIPPED, "Pack", BEFORE)
    assert told(starts(kitchen, "Stand", BEFORE, skipped))[0] == ("now", "14 10:30")


def test_a_step_put_off_is_asked_for_again_when_the_cook_said() -> None:
    """A snoozed start is said anew at the hour asked for, under a key of its own."""
    kitchen = one(slack=4 * HOUR)
    later = kitchen.mark(MarkKind.LATER, "Work", at(14, "10:01"), until=at(14, "11:00"))
    before, after = starts(kitchen), starts(kitchen, "Work", at(14, "10:01"), later)
    assert told(after)[:2] == [("now", "14 11:00"), ("waiting", "14 11:15")]
    assert after[0].key not in {nudge.key for nudge in before}


def test_a_step_is_not_put_off_past_its_last_word() -> None:
    """However late the cook asks for, the step is said again while it can still be begun."""
    kitchen = one(slack=4 * HOUR)
    later = kitchen.mark(MarkKind.LATER, "Work", at(14, "10:01"), until=at(14, "18:00"))
    stages = told(starts(kitchen, "Work", at(14, "10:01"), later))
    assert (stages[0], stages[-1]) == (("now", "14 13:00"), ("missed", "14 14:15"))


def test_a_step_put_off_into_the_night_is_asked_for_in_the_morning() -> None:
    """Whoever puts a step off till half past eleven at night hears of it on waking, and has no heads-up."""
    kitchen = one(slack=DAY, oven=180)
    later = kitchen.mark(MarkKind.LATER, "Work", at(14, "09:00"), until=at(14, "23:30"))
    assert told(starts(kitchen, "Work", at(14, "09:00"), later))[0] == ("now", "15 07:00")


def test_nothing_is_asked_of_steps_that_follow_one_never_begun() -> None:
    """Once a start has passed unanswered, what follows it keeps quiet; it is not held back before that."""
    kitchen = jar()
    assert starts(kitchen, "Drain", at(14, "10:00"))
    assert not starts(kitchen, "Drain", at(14, "10:01"))
    assert starts(kitchen, "Pack", at(14, "10:01"))
    begun = kitchen.mark(MarkKind.STARTED, "Pack", at(14, "10:01"))
    assert starts(kitchen, "Drain", at(14, "10:01"), begun)


def test_what_follows_a_step_under_way_is_asked_for_as_planned() -> None:
    """A step begun and not yet marked as done does not hold back the one after it."""
    kitchen = jar()
    packed = kitchen.mark(MarkKind.DONE, "Pack", at(14, "10:30"))
    assert told(starts(kitchen, "Drain", at(15, "10:29"), packed))[0] == ("now", "15 10:30")


def test_done_and_dropped_steps_owe_nothing() -> None:
    """No nudge of any kind is about a step that is over or left out."""
    kitchen = two_weeks()
    for kind in (MarkKind.DONE, MarkKind.SKIPPED, MarkKind.RUINED):
        over = kitchen.mark(kind, "First rise", BEFORE)
        assert not kitchen.about("First rise", kitchen.owed(BEFORE, over))


def test_after_the_meal_only_the_table_itself_is_spoken_of() -> None:
    """A step with a window beyond the serving hour is dropped then, the table's own last step is not."""
    rows = [
        Row("Broth", "Skim", NEARBY, 20, "18:00", HOUR, slack=3 * HOUR),
        Row("Table", "Plate up", HANDS, 20, "18:55", 5 * MIN, after=("Broth",)),
    ]
    kitchen = table(rows, SERVE)
    assert ("missed", "20 19:15") in told(starts(kitchen, "Plate up"))
    assert all(nudge.due <= SERVE for nudge in starts(kitchen, "Skim"))
    kitchen = one(day=20, clock="18:00", slack=3 * HOUR)
    assert told(starts(kitchen))[-1] == ("waiting", "20 19:45")


def test_what_has_lost_its_use_is_left_out_and_the_rest_is_in_order() -> None:
    """After downtime only what still has its use is owed, overdue or not, by due time."""
    kitchen = two_weeks()
    for now in (at(8, "08:00"), at(13, "21:00"), at(21, "16:00")):
        nudges = kitchen.owed(now)
        assert all(nudge.expires > now for nudge in nudges)
        assert [nudge.due for nudge in nudges] == sorted(nudge.due for nudge in nudges)
    assert [n.stage for n in starts(one(slack=2 * HOUR), "Work", at(14, "11:40"))] == [
        Stage.NOW,
        Stage.CLOSING,
        Stage.MISSED,
    ]


def test_the_last_word_to_whose_hands_were_full_waits_for_the_morning_or_is_none() -> None:
    """Nine hours of work from 13:35 leave the hands free at 22:35, when the house is asleep: nobody is woken."""
    work = one(attention=HANDS, clock="13:35", lasts=9 * HOUR, slack=9 * HOUR + 30 * MIN)
    assert Stage.CLOSING not in {nudge.stage for nudge in starts(work)}
    longer = one(attention=HANDS, clock="13:35", lasts=9 * HOUR, slack=18 * HOUR)
    assert [when for stage, when in told(starts(longer)) if stage == "closing"] == ["15 07:00"]
