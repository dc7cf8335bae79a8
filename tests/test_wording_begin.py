"""What is said about beginning a step: the order, the amounts, the time left, why now, the buttons."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from scheduler.domain.plan import MINUTE, Cook
from scheduler.domain.plan import Kitchen as Room
from scheduler.domain.stages import About, Stage
from scheduler.service.answers import Consequence, NextIs
from scheduler.service.deeds import Deed, Verb
from tests.wording_gallery import SHIFTED, TOO_LATE
from tests.wording_kit import BEANS, LOAF, deeds, labels, lines, said, start
from tests.wording_kitchen import Kitchen, day, nudge, step, supper, timetable


def test_work_of_the_hands_is_an_order_with_its_amounts_and_reason() -> None:
    """The name itself is the order; amounts in grams, the reason with its time, the last call."""
    assert lines(start("Brown the lamb", "11-21 15:30")) == [
        "Brown the lamb (Stew)",
        "Lamb shoulder 1.6 kg, onions 300 g.",
        "Needs 2 burners.",
        "Takes 30 min, so that “Bake the stew” can begin at 16:00.",
        "It can wait until 15:40 today.",
    ]


def test_a_wait_is_begun_under_its_own_name_whatever_its_grammar() -> None:
    """Orders and noun phrases both read well after "Now:"; then how long, until when, and what comes then."""
    assert lines(start(BEANS, "11-20 20:00"))[0] == "Now: Soak the chickpeas"
    assert lines(start("Cold proof", "11-20 09:50"))[0] == "Now: Cold proof (Rye loaf)"
    assert "Takes 12 h to 18 h; planned until 13:25 tomorrow, then “Drain the chickpeas”." in lines(
        start(BEANS, "11-20 20:00")
    )


def test_a_wait_that_begins_by_itself_is_passed_over_for_what_follows() -> None:
    """Packing a jar leaves it fermenting: the reason names the next thing that someone has to do."""
    text = start("Salt and pack the carrots", "11-10 18:00").text
    assert (
        "Then “Carrots ferment” by itself, so that “Chill the jar” can begin on Fri 20 Nov at 18:20." in text
    )
    assert "salt 20 g (2.5 % of the carrots' weight)" in text  # 2.5 % of 800 g


def test_the_last_step_is_for_the_table() -> None:
    """What nothing follows is for the serving hour."""
    assert "Takes 15 min, for the table at 19:30." in start("Slice the bread and dish up", "11-21 19:10").text


def test_the_oven_is_named_with_its_heat() -> None:
    """What has to be hot is said with the order."""
    assert "Oven at 230 C." in lines(start(LOAF, "11-21 09:00"))


def test_no_slack_is_said_kindly_and_without_a_snooze() -> None:
    """A step whose last call is its start offers no putting off."""
    message = start("Rest the stew", "11-21 18:55")
    assert "There is no time to spare." in lines(message)
    assert labels(message) == ["Started", "Why now"]


@pytest.mark.parametrize("minutes", range(0, 26, 3))
def test_a_snooze_never_reaches_past_the_last_call(minutes: int) -> None:
    """Ten minutes are offered only where ten are left, five where five are."""
    view = Kitchen().view("11-20 22:00", unsaid=[BEANS])
    later = replace(view, now=view.now + minutes * MINUTE)
    offered = [
        deed.minutes
        for deed in deeds(said(nudge(About.START, Stage.NOW, BEANS, "11-20 20:00"), later))
        if deed.minutes
    ]
    left = 25 - minutes  # the last call is 22:25
    assert offered == ([10] if left >= 10 else [5] if left >= 5 else [])


def test_what_cannot_be_reached_in_time_is_not_promised() -> None:
    """Late by more than its slack, the reason says what waits instead of a time that has gone."""
    text = start("Drain the chickpeas", "11-21 13:25", now="11-21 13:50").text
    assert "and “Simmer the chickpeas” waits for it." in text
    assert "The last call was 13:40: begin at once." in text


def test_seconds_past_the_hour_are_not_late() -> None:
    """A message that goes out some seconds after its minute is on time."""
    view = Kitchen().view("11-21 18:55", unsaid=["Rest the stew"])
    late = replace(view, now=view.now + timedelta(seconds=40))
    assert said(nudge(About.START, Stage.NOW, "Rest the stew", "11-21 18:55"), late) == start(
        "Rest the stew", "11-21 18:55"
    )


def test_the_cook_is_named_where_there_are_several() -> None:
    """With two in the kitchen the message is addressed to whose it is, and lists say so too."""
    made = supper()
    noor = Cook("Noor", made.kitchen.cooks[0].awake)
    two = Kitchen(replace(made, kitchen=Room((*made.kitchen.cooks, noor), made.kitchen.gear)))
    view = two.view("11-21 15:30", unsaid=["Brown the lamb"])
    now = said(nudge(About.START, Stage.NOW, "Brown the lamb", "11-21 15:30"), view)
    again = said(nudge(About.START, Stage.WAITING, "Brown the lamb", "11-21 15:30"), view)
    assert lines(now)[0] == "Ada: Brown the lamb (Stew)"
    assert lines(again)[0] == "Ada, still to do: Brown the lamb (Stew)"
    assert lines(NextIs(view))[0] == "Now, Ada: Brown the lamb (Stew)"


def test_it_is_said_more_plainly_every_time() -> None:
    """Still waiting: three headings, each plainer, all with the time that is left."""
    again = [
        start(BEANS, "11-20 20:00", Stage.WAITING, now, n)
        for n, now in enumerate(("11-20 20:15", "11-20 20:45", "11-20 21:45", "11-20 22:05"))
    ]
    assert [lines(message)[0] for message in again] == [
        "Still to begin: Soak the chickpeas",
        "Waiting since 20:00: Soak the chickpeas",
        "Please begin this first: Soak the chickpeas",
        "Please begin this first: Soak the chickpeas",
    ]
    assert all("It can wait until 22:25 today." in message.text for message in again)
    assert "It has waited 1 h 45 min, since 20:00." in again[2].text


def test_a_wait_begun_in_time_but_not_spoken_of_keeps_its_time() -> None:
    """The end of a wait hangs on when it began: a button says it began as planned."""
    message = start(BEANS, "11-20 20:00", Stage.WAITING, "11-20 20:45")
    assert "Started at 20:00" in labels(message)
    assert Deed(Verb.START, 7, step(BEANS), at=day("11-20 20:00")) in deeds(message)


def test_closing_says_how_long_is_left_and_what_is_lost() -> None:
    """The last word before the window shuts."""
    message = start(BEANS, "11-20 20:00", Stage.CLOSING, "11-20 21:50")
    assert lines(message)[:2] == [
        "By 22:25 at the latest: Soak the chickpeas",
        "35 min left. After that the plan has to change, and 19:30 tomorrow may not hold.",
    ]


def test_missed_and_it_still_fits() -> None:
    """Until when it still works, and what would move; nothing is said to have moved yet."""
    view = Kitchen().view("11-20 22:10", unsaid=[BEANS])
    missed = nudge(About.START, Stage.MISSED, BEANS, "11-20 20:00")
    message = said(missed, view, Consequence(timetable(), None, SHIFTED))
    assert "Begun by 22:25, the meal can still be served at 19:30 tomorrow." in message.text
    assert "Drain the chickpeas would move to Sat 13:40, from Sat 13:25" in lines(message)
    assert [deed.verb for deed in deeds(message)] == [Verb.START, Verb.START, Verb.LEAVE_OUT]


def test_missed_and_it_no_longer_fits() -> None:
    """Which hour cannot hold, what hangs on it, why, and the hours that do fit as buttons."""
    view = Kitchen().view("11-20 22:50", unsaid=[BEANS])
    missed = nudge(About.START, Stage.MISSED, BEANS, "11-20 20:00")
    message = said(missed, view, Consequence(None, TOO_LATE))
    assert lines(message)[0] == "19:30 cannot hold: “Soak the chickpeas” was not begun"
    assert (
        "It holds up “Drain the chickpeas”, “Simmer the chickpeas”, “Brown the lamb” and 3 more steps."
        in message.text
    )
    assert "Why: “Soak the chickpeas” takes at least 12 h" in message.text
    assert "The earliest hour that fits: Sat 21 Nov 20:45." in lines(message)
    assert labels(message) == ["Serve 20:45", "Started at 20:00", "Other ways", "Leave out Chickpeas"]
    assert deeds(message)[0] == Deed(Verb.SERVE, 7, at=day("11-21 20:45"))


def test_missed_work_of_the_hands_may_have_been_done() -> None:
    """A button marks it done at the time it would have been."""
    view = Kitchen().view("11-21 14:10", unsaid=["Drain the chickpeas"])
    message = said(nudge(About.START, Stage.MISSED, "Drain the chickpeas", "11-21 13:25"), view)
    assert labels(message)[1] == "It was done"
    assert deeds(message)[1] == Deed(Verb.DONE, 7, step("Drain the chickpeas"), at=day("11-21 13:30"))
