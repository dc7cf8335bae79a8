"""What is said ahead of time: shopping, what starts early, what to bring out, the card of the day."""

from __future__ import annotations

from datetime import datetime

from scheduler.domain.marks import MarkKind
from scheduler.domain.stages import About
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
    Table,
    at,
    jar,
    one,
    starts,
    table,
    told,
)


def test_shopping_is_told_on_the_morning_of_its_day() -> None:
    """Two days before an evening start is that morning, and said once."""
    kitchen = one(clock="18:00", buy=2 * DAY)
    assert told(kitchen.about("Work", kitchen.owed(BEFORE), About.BUY)) == [("heads-up", "12 07:20")]


def test_shopping_that_leaves_no_time_is_told_a_day_earlier() -> None:
    """What must be bought by eight in the morning is told the morning before."""
    kitchen = one(clock="08:00", buy=DAY)
    assert told(kitchen.about("Work", kitchen.owed(BEFORE), About.BUY)) == [("heads-up", "12 07:20")]


def test_shopping_is_not_told_again_when_the_step_moves_a_little() -> None:
    """The key of a shopping nudge is the same for another hour of the same day, and gone once put off."""
    early, late = one(clock="17:00", buy=DAY), one(clock="18:00", buy=DAY)
    first, second = (kitchen.about("Work", kitchen.owed(BEFORE), About.BUY)[0] for kitchen in (early, late))
    assert first.key == second.key
    later = late.mark(MarkKind.LATER, "Work", at(14, "17:00"), until=at(14, "18:30"))
    assert not late.about("Work", late.owed(at(14, "17:00"), later), About.BUY)


def test_shopping_for_several_steps_does_not_come_all_at_once() -> None:
    """Three steps to shop for on one morning are told a few minutes apart."""
    rows = [Row(f"Part {n}", f"Work {n}", NEARBY, 14, "18:00", HOUR, buy=DAY) for n in range(3)]
    nudges = [nudge for nudge in table(rows, SERVE).owed(BEFORE) if nudge.about is About.BUY]
    assert [when for _, when in told(nudges)] == ["13 07:20", "13 07:25", "13 07:30"]


def test_what_starts_soon_after_waking_is_announced_the_evening_before() -> None:
    """A start at half past seven is told an hour before bedtime, one at ten is not."""
    early, late = one(clock="07:30"), one(clock="10:00")
    assert told(early.about("Work", early.owed(BEFORE), About.EARLY)) == [("heads-up", "13 21:30")]
    assert not late.about("Work", late.owed(BEFORE), About.EARLY)


def test_one_message_an_evening_announces_the_morning() -> None:
    """Of several early steps only the first is announced, even of one in the night."""
    clocks = ("05:00", "07:15", "07:45")
    rows = [Row(f"Part {c}", f"Work {c}", NEARBY, 14, c, 20 * MIN) for c in clocks]
    kitchen = table(rows, SERVE)
    early = [nudge for nudge in kitchen.owed(BEFORE) if nudge.about is About.EARLY]
    assert [(n.step, n.due) for n in early] == [(kitchen.step("Work 05:00"), at(13, "21:30"))]
    begun = kitchen.mark(MarkKind.STARTED, "Work 05:00", at(14, "05:00"))
    assert About.EARLY not in {nudge.about for nudge in kitchen.owed(at(14, "05:00"), begun)}


def test_work_that_needs_preparing_is_announced_after_a_quiet_time() -> None:
    """An oven to heat is announced three quarters of an hour ahead, unless something was said lately."""
    quiet, busy = one(oven=180), one(clock="08:00", oven=180)
    assert told(starts(quiet))[0] == ("heads-up", "14 09:15")
    assert told(starts(busy))[0] == ("now", "14 08:00")


def test_plain_work_and_small_jobs_are_not_announced() -> None:
    """A step with nothing to bring out and somebody at home has no heads-up, nor has a job of minutes."""
    for kitchen in (one(), one(attention=HANDS, lasts=10 * MIN, oven=180)):
        assert told(starts(kitchen))[0] == ("now", "14 10:00")


def test_two_steps_that_start_together_are_announced_once() -> None:
    """Of two ovens to heat at once only the first is announced."""
    rows = [Row(f"Part {n}", f"Work {n}", NEARBY, 14, "10:00", HOUR, oven=180) for n in range(2)]
    nudges = [nudge for nudge in table(rows, SERVE).owed(BEFORE) if nudge.about is About.START]
    assert [stage for stage, _ in told(nudges)].count("heads-up") == 1
    kitchen = table(rows, SERVE)
    begun = kitchen.mark(MarkKind.STARTED, "Work 0", at(14, "09:50"))
    assert told(starts(kitchen, "Work 1", at(14, "09:50"), begun))[0] == ("now", "14 10:00")


def test_somebody_out_is_told_to_come_home() -> None:
    """A step that starts soon after the cook comes home is announced while they are out."""
    kitchen = table([Row("Part", "Work", HANDS, 9, "17:45", 5 * MIN)], SERVE, (WORKING_ADA,))
    assert told(starts(kitchen))[0] == ("heads-up", "09 17:00")


def test_a_heads_up_does_not_appear_because_the_step_before_was_begun() -> None:
    """What was quiet when planned stays so: marks do not call up heads-ups that were not owed."""
    rows = [
        Row("Meat", "Rinse", HANDS, 14, "10:00", 15 * MIN),
        Row("Meat", "Roast", NEARBY, 14, "10:15", HOUR, oven=110),
    ]
    kitchen = table(rows, SERVE)
    begun = kitchen.mark(MarkKind.STARTED, "Rinse", at(14, "10:00"))
    assert told(starts(kitchen, "Roast", at(14, "10:00"), begun))[0] == ("now", "14 10:15")


def cards(kitchen: Table, now: datetime = BEFORE) -> list[str]:
    return [when for _, when in told(list(kitchen.owed(now)), About.DAY)]


def test_a_day_with_something_to_do_has_one_card_in_the_morning() -> None:
    """Days of a start have a card ten minutes after waking, idle days none, and none is left after it."""
    assert cards(jar()) == ["14 07:10", "15 07:10"]
    assert cards(jar(), at(14, "12:00")) == []


def test_the_card_comes_before_the_first_thing_to_do() -> None:
    """A start ten minutes after waking has its card five minutes ahead; one at waking, with it."""
    assert cards(one(clock="07:10")) == ["14 07:05"]
    assert cards(one(clock="07:00")) == ["14 07:00"]


def test_a_night_start_already_over_has_no_card() -> None:
    """Nothing is left to announce in the morning when the day's only step began in the night."""
    assert cards(one(clock="05:00")) == []


def test_the_card_is_known_by_its_day_and_useful_till_noon() -> None:
    """Its subject is midnight, so that it is sent once whatever the day's first step becomes."""
    card = next(nudge for nudge in one().owed(BEFORE) if nudge.about is About.DAY)
    assert (card.subject, card.expires, card.step) == (at(14, "00:00"), at(14, "12:00"), None)
