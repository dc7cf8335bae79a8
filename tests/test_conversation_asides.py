"""What is asked first, what is taken back, and what is said beside the marks: timers, notes, quiet, questions."""

from __future__ import annotations

import pytest

from scheduler.records import PlanStatus
from tests.core_kit import bagged
from tests.talk_kit import SUPPER, Talk, at_the_radishes, fermenting, on, saturday, with_supper
from tests.test_conversation_ways import LOAF

EVENING = on(5, "20:00")

# ---------------------------------------------------------------- skipped, left out, ruined, stopped


@pytest.mark.parametrize(
    ("said", "state"),
    [("leave out the flan", "dropped"), ("the flan is ruined", "dropped"), ("stop", "waiting")],
)
def test_what_is_not_lightly_undone_is_asked_first(said: str, state: str) -> None:
    """No leaves everything as it was; yes does it."""
    talk = fermenting()
    before = (talk.plans()[0].revision, talk.view().marks)
    talk.say(said)
    assert talk.say("no") == "All right, it stays as it is"
    assert (talk.plans()[0].revision, talk.view().marks) == before
    talk.say(said)
    talk.say("yes")
    assert talk.state("Whisk the flan") == state
    assert talk.plans()[0].status is (PlanStatus.STOPPED if said == "stop" else PlanStatus.ACTIVE)


def test_a_yes_after_the_next_nudge_is_about_the_nudge() -> None:
    """A question that something pressing has overtaken is not answered by accident."""
    talk = saturday("12:14")
    talk.say("leave out the flan")
    talk.wait_until(on(9, "12:16"))
    talk.say("yes")
    assert talk.state("Whisk the flan") == "done" and talk.state("Bake the flan") == "waiting"


def test_a_reply_to_the_question_answers_it_whatever_came_after() -> None:
    """A yes under the question itself is certain."""
    talk = saturday("12:14")
    talk.say("leave out the flan")
    question = talk.last
    talk.wait_until(on(9, "12:16"))
    talk.reply("yes", question)
    assert talk.state("Whisk the flan") == "dropped"


def test_what_is_ruined_can_be_made_again() -> None:
    """All of it from its first step, timed anew, also when some of it was done."""
    talk = saturday("12:40")
    talk.say("whisked the flan")
    talk.say("the flan is ruined")
    assert talk.say("yes").startswith("Lost: Flan") and talk.state("Whisk the flan") == "dropped"
    assert "It begins" in talk.press("Make it again")
    assert (talk.state("Whisk the flan"), talk.state("Bake the flan")) == ("waiting", "waiting")


def test_a_step_left_out_closes_the_gap() -> None:
    """Skipping is told, and can be taken back."""
    talk = saturday("12:16")
    assert talk.press("Why now", talk.nudge("Whisk the flan")).startswith("Whisk the flan")
    assert talk.say("skip whisking the flan").startswith("Left out: Whisk the flan")
    talk.say("undo")
    assert talk.state("Whisk the flan") == "waiting"


# ---------------------------------------------------------------- undo


def test_undo_takes_back_one_thing_after_another() -> None:
    """Two undos in a row go two back; with nothing left it says so."""
    talk = fermenting()
    talk.wait_until(on(7, "07:16"))
    talk.say("vented the jar")
    assert talk.say("undo").startswith("Taken back: “Vent the jar” (done)")
    assert talk.say("undo").startswith("Taken back: “Salt the radishes” (done)")
    assert talk.say("undo") == "There is nothing to take back."
    assert talk.state("Salt the radishes") == "waiting" and not talk.view().progress.touched


def test_an_undo_can_itself_be_taken_back() -> None:
    """The button under it puts it in again, as often as the cook likes."""
    talk = fermenting()
    talk.say("undo")
    assert talk.press("Undo that").startswith("In again: “Salt the radishes” (done)")
    assert talk.state("Salt the radishes") == "done"
    talk.press("Undo that")
    assert talk.state("Salt the radishes") == "waiting"


def test_a_stopped_plan_goes_on_when_it_is_taken_back_at_once() -> None:
    """As it stood, with what was said about it."""
    talk = fermenting()
    talk.say("stop")
    talk.say("yes")
    assert talk.say("undo").startswith("Supper for four is in use")
    assert talk.state("Radishes ferment") == "running"
    assert any("Vent the jar" in letter.text for letter in talk.wait_until(on(7, "08:00")))


def test_undo_without_a_plan() -> None:
    """Nothing said, nothing to take back."""
    assert Talk(EVENING).say("undo").startswith("There is no plan under way")


# ---------------------------------------------------------------- timers, notes, quiet


def test_timers_are_set_listed_and_taken_off() -> None:
    """Beside a plan: what's next lists them; the one named is taken off, the other rings."""
    talk = at_the_radishes()
    assert talk.say("timer 10 min tea") == "Tea: 10 min, until 07:15"
    talk.say("timer 2 min eggs")
    assert "Timer: eggs, until 07:07\nTimer: tea, until 07:15" in talk.say("what's next")
    assert talk.say("timers").startswith("Timer: eggs")
    assert talk.say("cancel the tea timer") == "Timer taken off: tea"
    rung = talk.wait_until(on(6, "07:20"))
    assert [letter.text for letter in rung if "time is up" in letter.text] == ["Eggs: time is up"]
    assert talk.say("timers").startswith("No timer is running")


def test_a_timer_needs_no_plan() -> None:
    """A kitchen timer is a kitchen timer."""
    talk = Talk(EVENING)
    assert talk.say("set a timer for 6 minutes").startswith("Timer: 6 min, until 20:06")
    assert talk.say("what's next").startswith("Timer: until 20:06")
    assert [letter.text for letter in talk.wait_until(on(5, "20:10"))] == ["Time is up"]


@pytest.mark.parametrize(("said", "kept"), [("pH 4.1", "pH 4.1"), ("kitchen is 24 C", "24 C")])
def test_readings_are_kept(said: str, kept: str) -> None:
    """A note is stored with its time, moves nothing, and can be taken back."""
    talk = fermenting()
    revision = talk.plans()[0].revision
    assert talk.say(said).startswith(f"Noted: {kept}")
    assert [note.text for note in talk.view().progress.notes] == [kept]
    assert talk.plans()[0].revision == revision
    talk.say("undo")
    assert talk.view().progress.notes == ()


def test_quiet_and_no_longer_quiet() -> None:
    """An hour that is named, and a word that ends it."""
    talk = fermenting()
    assert talk.say("quiet until 9").startswith("Quiet until 09:00 today")
    assert talk.chat().quiet_until == on(6, "09:00")
    assert talk.say("unmute").startswith("No longer quiet") and talk.chat().quiet_until is None


def test_questions_are_answered_and_mark_nothing() -> None:
    """When, why, today, the plan, shopping, how much: each from the plan as it stands."""
    talk = fermenting()
    marks = talk.view().marks
    for question, answer in {
        "when do I drain the beans": "Drain the beans: on Saturday at",
        "why do I drain the beans then": "Drain the beans, on Saturday at",
        "what's on today": "Today, Wed 6 May",
        "the whole plan": "Supper for four: served on Saturday",
        "what do I need to buy": "To have or to buy",
        "how much salt": "Salt: 10 g (2 % of the radishes' weight)",
        "when is dinner": "Supper for four: served on Saturday",
        "is it safe to eat": "",
    }.items():
        assert talk.say(question).startswith(answer), question
    assert talk.view().marks == marks


def test_a_question_why_is_about_the_plan_that_has_what_it_names() -> None:
    """Not about what was nudged last in another plan; a bare "why" is."""
    talk = saturday("09:00")
    talk.send(LOAF.replace("2026-05-09 19:00", "2026-05-10 19:00"))
    talk.say("yes")
    assert talk.say("why mix the dough").startswith("Mix the dough")
    assert talk.say("when do I mix the dough").startswith("Mix the dough")
    assert talk.say("why").startswith("Soak the beans")


def test_why_a_touch_is_when_it_is() -> None:
    """It falls due so often from when its step began."""
    talk = fermenting()
    assert talk.say("why vent the jar").startswith(
        "Vent the jar, at 07:15 tomorrow, because:\n"
        "It is to be done every 1 d while “Radishes ferment (Pickle)” goes on, since 07:15."
    )


@pytest.mark.parametrize(
    ("every", "told"),
    [
        (
            "8 h",
            "Vent the jar, at 22:55, because:\n{}\nDue 23:15: moved to when somebody is up, at home and free.",
        ),
        (
            "9 h",
            "Vent the jar, at 01:15 tomorrow, because:\n{}\nNo better moment is near enough: everyone is asleep.",
        ),
    ],
)
def test_why_a_touch_is_in_the_night_or_before_it(every: str, told: str) -> None:
    """What would fall due in the night comes before bedtime where it may; where it may not, that is said."""
    talk = with_supper(EVENING, SUPPER.replace("every: 1 d", f"every: {every}"))
    talk.wait_until(on(6, "07:15"))
    talk.say("salted the radishes")
    talk.wait_until(on(6, "16:20"))
    talk.say("vented")
    how = f"It is to be done every {every} while “Radishes ferment (Pickle)” goes on, since 07:15."
    assert talk.say("why vent the jar") == told.format(how)


def test_is_it_safe_of_what_is_in_the_bath_tells_how_far_it_has_come() -> None:
    """The limit the bath is for, and how much of its time is over; never that it is safe."""
    talk = bagged()
    talk.wait_until(on(9, "12:00"))
    answer = talk.say("is the duck safe yet")
    assert "“Duck in the bath” has had 30 min of " in answer and "not met yet: " in answer
    assert "safe" not in answer.casefold()
