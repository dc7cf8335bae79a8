"""Marks by button, by reply and in free text; put off, late, taken back; timers and notes."""

from __future__ import annotations

from datetime import timedelta

import pytest

from scheduler.domain.marks import MarkKind
from scheduler.records import PlanStatus
from scheduler.service.deeds import Deed, Verb
from tests.talk_kit import (
    at_the_radishes,
    before_the_soak,
    fermenting,
    number,
    on,
    saturday,
    so_far,
    with_supper,
)

# ---------------------------------------------------------------- done, started


@pytest.mark.parametrize("way", ["button", "reply", "bare word", "in words"])
def test_a_mark_comes_four_ways(way: str) -> None:
    """By button, by reply to the message, as a bare "done", and named: all the same mark."""
    talk = at_the_radishes()
    nudge = talk.nudge("Salt the radishes")
    answer = {
        "button": lambda: talk.press("Done", nudge),
        "reply": lambda: talk.reply("all done", nudge),
        "bare word": lambda: talk.say("done"),
        "in words": lambda: talk.say("salted the radishes"),
    }[way]()
    assert answer.startswith("Done: Salt the radishes (Pickle), 07:05")
    assert "“Radishes ferment” has begun by itself." in answer
    (mark,) = talk.view().marks
    assert (mark.kind, mark.about) == (MarkKind.DONE, on(6, "07:05"))


def test_a_time_that_was_said_is_the_time_that_counts() -> None:
    """An hour ago, and by the clock."""
    talk = so_far()
    talk.wait_until(on(6, "09:00"))
    talk.say("salted the radishes at 8:20")
    assert talk.view().progress.of(number(talk.view(), "Radishes ferment")).started == on(6, "08:20")


def test_begun_half_an_hour_ago() -> None:
    """What takes someone near is begun when they say, and ends by that."""
    talk = saturday("17:35")
    talk.say("drained the beans")
    talk.wait_until(on(9, "18:05"))
    assert talk.say("started simmering the beans half an hour ago").startswith(
        "Started: Simmer the beans, 17:35"
    )


def test_done_of_a_step_whose_turn_before_was_never_marked() -> None:
    """Drained beans were soaked: what came before is taken to be over."""
    talk = so_far()
    talk.wait_until(on(9, "17:20"))
    talk.say("drained the beans")
    assert talk.state("Soak the beans") == "done"


@pytest.mark.parametrize("said", ["the beans are soaked", "drained the beans", "started draining the beans"])
def test_a_wait_that_is_surely_not_over_is_asked_about_first(said: str) -> None:
    """Two hours into a soak of ten: nothing counts before a yes, and a no leaves it soaking."""
    talk = saturday("09:00")
    marks = len(talk.view().marks)
    assert talk.say(said) == (
        "“Soak the beans” has run 2 h; the plan wants at least 10 h. Is it really over?"
    )
    assert talk.labels == ["It is over", "Not yet"] and len(talk.view().marks) == marks
    talk.say("no")
    assert talk.state("Soak the beans") == "running"
    talk.say(said)
    talk.say("yes")
    assert talk.state("Soak the beans") == "done"


def test_a_time_to_come_is_no_mark() -> None:
    """Nobody has done what they will do at noon."""
    talk = saturday("12:20")
    before = talk.view().marks
    assert talk.say("whisked the flan at 15:00").endswith("Was it done at 15:00 yesterday?")
    talk.say("no")
    assert talk.view().marks == before
    deed = Deed(Verb.DONE, 1, number(talk.view(), "Whisk the flan"), at=on(9, "15:00"))
    assert talk.press_data(deed.encode()).startswith("That time has not come yet.")
    assert talk.view().marks == before


def test_a_time_before_what_comes_before_is_refused() -> None:
    """The beans were drained at 17:20; they cannot have simmered at 16:00."""
    talk = saturday("17:20")
    talk.say("drained the beans")
    talk.wait_until(on(9, "18:00"))
    answer = talk.say("simmering the beans since 16:00")
    assert answer == "“Drain the beans”, which comes before it, was over only at 17:20."


def test_done_twice_in_words() -> None:
    """The second time it asks what else was meant, and marks nothing."""
    talk = fermenting()
    marks = talk.view().marks
    talk.say("salted the radishes")
    assert talk.view().marks == marks


def test_the_last_step_ends_the_plan_and_undo_takes_that_back() -> None:
    """A plan that was over is under way again, and its next end is an end."""
    talk = saturday("17:20")
    talk.say("drained the beans")
    talk.say("leave out the flan")
    talk.say("yes")
    talk.wait_until(on(9, "17:40"))
    talk.say("simmering")
    talk.wait_until(on(9, "19:00"))
    talk.say("beans are creamy")
    talk.wait_until(on(9, "19:16"))
    assert "That was the last step" in talk.say("dished up, done")
    assert talk.plans()[0].status is PlanStatus.FINISHED
    assert talk.say("undo").startswith("Taken back: “Dress and serve” (done)")
    assert talk.plans()[0].status is PlanStatus.ACTIVE
    talk.say("dress and serve is done")
    assert talk.press("Undo").startswith("Taken back") and talk.plans()[0].status is PlanStatus.ACTIVE


# ---------------------------------------------------------------- tends and looks


def test_a_touch_is_the_one_that_was_asked_about() -> None:
    """The second vent while the first was never answered: each by its own message."""
    talk = fermenting()
    talk.wait_until(on(8, "07:30"))
    second = talk.nudge("Vent the jar")
    assert talk.reply("done", second).startswith("Done: Vent the jar, 2nd of")
    assert {touch for _, touch in talk.view().progress.touched} == {2}


def test_a_touch_said_in_words_is_the_nearest_one_due() -> None:
    """Venting long before the next one is due does not count for it."""
    talk = fermenting()
    talk.wait_until(on(6, "12:00"))
    assert talk.say("vented the jar").startswith("Vent the jar: next at 07:15 tomorrow")
    talk.wait_until(on(7, "06:50"))
    assert talk.say("vented the jar").startswith("Done: Vent the jar, 1st of")


def test_not_yet_goes_on_and_is_asked_again() -> None:
    """A look at something that is not ready marks nothing, by button and in words."""
    talk = fermenting()
    talk.wait_until(on(8, "07:20"))
    marks = talk.view().marks
    look = talk.nudge("Have a look")
    for answer in (talk.press("Not yet", look), talk.reply("not yet", look)):
        assert answer.startswith("Not ready yet: Radishes ferment") and "I will ask again" in answer
    assert talk.view().marks == marks


# ---------------------------------------------------------------- put off, late


def test_later_says_how_long_it_can_wait() -> None:
    """By button and in words; it is asked again then."""
    talk = at_the_radishes()
    answer = talk.press("In 10 min", talk.nudge("Salt the radishes"))
    assert answer.splitlines()[:2] == [
        "I will say so again at 07:15: Salt the radishes (Pickle)",
        "It can wait until 19:00 today.",
    ]
    again = talk.wait_until(on(6, "07:20"))
    assert "Salt the radishes" in again[-1].text


def test_later_without_a_time_asks_until_when() -> None:
    """A time, a length or a button answers."""
    talk = at_the_radishes()
    assert talk.say("later").startswith("Until when? Salt the radishes")
    assert talk.labels == ["Until 07:20", "Until 07:35", "Until 08:05"]
    assert talk.say("at 9").startswith("I will say so again at 09:00")
    talk.wait_until(on(6, "09:05"))
    talk.say("not now")
    assert talk.press("Until 10:05").startswith("I will say so again at 10:05")


def test_nothing_is_put_off_past_its_last_call() -> None:
    """The soak's last call is 07:40: asked again before that, the hour stands, and the other hour is offered."""
    talk = before_the_soak()
    view = talk.view()
    last_call = talk.slot("Soak the beans").last_call
    answer = talk.reply("at 9", talk.nudge("Soak the beans"))
    assert answer.startswith(
        "09:00 is too late for the meal: Soak the beans\nIt can wait only until 07:40 today"
    )
    assert "The earliest hour that fits:" in answer and talk.plans()[0].serve == on(9, "19:30")
    assert talk.view().progress.of(number(view, "Soak the beans")).not_before == last_call
    assert any("Soak the beans" in letter.text for letter in talk.wait_until(last_call))


def test_the_hour_offered_for_what_is_put_off_takes_it_along() -> None:
    """Pressed, the meal moves and the step is put off till when it was said."""
    talk = before_the_soak()
    talk.reply("at 9", talk.nudge("Soak the beans"))
    assert talk.say("yes").startswith("The meal is now served at")
    assert talk.slot("Soak the beans").start >= on(9, "09:00")
    talk.say("undo")
    assert talk.plans()[0].serve == on(9, "19:30")


@pytest.mark.parametrize("said", ["running late", "half an hour late"])
def test_late_puts_off_what_comes_next(said: str) -> None:
    """How late is asked where it was not said; then one message says what moves."""
    talk = saturday("12:16")
    answer = talk.say(said)
    if said == "running late":
        assert answer.startswith("How late are you?")
        answer = talk.say("30 min")
    assert answer.startswith("I will say so again at 12:50: Whisk the flan")
    assert "Moved: Bake the flan" in answer
    assert talk.slot("Whisk the flan").start == on(9, "12:50")


def test_late_gives_the_work_under_way_its_time_and_moves_what_follows() -> None:
    """Draining takes twenty minutes longer, so simmering begins later; the oven's limits are not bent."""
    talk = saturday("17:15")
    talk.say("started draining the beans")
    answer = talk.say("10 minutes late")
    assert answer.startswith("Given until 17:30: Drain the beans")
    talk.say("drained the beans")
    talk.wait_until(on(9, "17:31"))
    talk.say("flan is whisked")
    talk.say("flan is in the oven")
    talk.say("20 min late")
    baked = talk.slot("Bake the flan")
    assert baked.end - baked.start < timedelta(minutes=45)


def test_late_with_nothing_near_says_what_is_next() -> None:
    """A day before anything is due there is nothing to move."""
    talk = fermenting()
    marks = talk.view().marks
    assert talk.say("an hour late").startswith("Next, at 07:15 tomorrow") and talk.view().marks == marks


def test_a_later_that_names_nothing_puts_off_and_never_marks_done() -> None:
    """With nothing asked lately it asks which one is to wait; the choice waits."""
    talk = with_supper(on(6, "04:30"))
    talk.wait_until(on(6, "06:00"))
    assert talk.say("at 9").startswith("Which one do you mean?")
    assert talk.say("1").startswith("I will say so again at 09:00: Salt the radishes")
    assert talk.state("Salt the radishes") == "waiting"
