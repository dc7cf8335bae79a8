"""Buttons: pressed twice, pressed late, pressed from elsewhere, and said in words."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scheduler.domain.plan import MINUTE
from scheduler.records import Kind, PlanStatus
from scheduler.service.deeds import Deed, Verb
from tests.talk_kit import SUPPER, Talk, at_the_radishes, on, so_far

EVENING = on(5, "20:00")


def test_a_button_pressed_twice_counts_once() -> None:
    """The second press says when it was done, and the mark stays as it was."""
    talk = at_the_radishes()
    nudge = talk.nudge("Salt the radishes")
    talk.press("Done", nudge)
    talk.wait_until(on(6, "09:00"))
    assert talk.press("Done", nudge) == "“Salt the radishes” is marked done already, at 07:05."
    assert len(talk.view().marks) == 1


def test_a_button_of_a_step_left_out_offers_to_put_it_back() -> None:
    """It is part of the meal again when the cook says so, and only then."""
    talk = so_far()
    talk.wait_until(on(9, "12:20"))
    nudge = talk.nudge("Whisk the flan")
    talk.say("leave out the flan")
    talk.say("yes")
    assert talk.press("Done", nudge).startswith("“Whisk the flan” was left out of this meal.")
    assert talk.state("Whisk the flan") == "dropped"
    assert talk.press("Put it back").startswith("Part of the meal again: Flan")
    assert talk.state("Whisk the flan") == "waiting"


def test_a_button_of_a_plan_that_ended_does_nothing() -> None:
    """Stopped is stopped."""
    talk = at_the_radishes()
    nudge = talk.nudge("Salt the radishes")
    talk.say("stop")
    talk.say("yes")
    talk.say("thanks")
    assert talk.press("Done", nudge) == "“Supper for four” is over."
    assert talk.view().marks == ()


@pytest.mark.parametrize("verb", list(Verb))
def test_no_button_reaches_the_plan_of_another_chat(verb: Verb) -> None:
    """Whatever data a client sends: a plan is its own chat's, and the answer tells nothing of it."""
    talk = at_the_radishes()
    other = "telegram:2"
    talk.settle(other)
    before = talk.plans()[0]
    answer = talk.press_data(Deed(verb, before.id, 0, at=on(9, "21:00")).encode(), address=other)
    after = talk.plans()[0]
    assert "Supper" not in answer and answer
    assert (after.revision, after.status, talk.view().marks) == (before.revision, before.status, ())


@pytest.mark.parametrize(
    "data", ["", "::", "done", "done:1", "done:1:99", "done:1:-1", "skip:1:0:7", "later:1:0", "serve:1", "x:1", "use:1",
             "why:1:44", "notyet:1:3", "done:999", "done:1:0::99999999999", "redo:1", "drop:1", "again:1:99"],
)  # fmt: skip
def test_a_button_that_makes_no_sense_changes_nothing(data: str) -> None:
    """Half a button, a step or touch there is not, a time beyond time: an answer, and nothing stored."""
    talk = so_far()
    before = talk.plans()[0].revision
    assert talk.press_data(data) or data == ""
    assert (talk.plans()[0].revision, talk.view().marks) == (before, ())


@pytest.mark.parametrize("said", ["use this plan", "Use this plan.", "not this one"])
def test_a_buttons_label_can_be_said(said: str) -> None:
    """Words on a button are words that work."""
    talk = Talk(EVENING)
    talk.send(SUPPER)
    talk.say(said)
    assert talk.plans()[0].status is (PlanStatus.STOPPED if "not" in said else PlanStatus.ACTIVE)


def test_messages_about_what_is_done_lose_their_buttons() -> None:
    """Also when it was said in words."""
    talk = at_the_radishes()
    talk.say("salted the radishes")
    off = [letter for _, letter in talk.messenger.sent if letter.kind is Kind.UNBUTTON]
    assert talk.receipt_of(talk.nudge("Salt the radishes")) in [letter.receipt for letter in off]


# ---------------------------------------------------------------- what travels in them


@given(
    st.builds(
        Deed,
        st.sampled_from(Verb),
        st.none() | st.integers(0, 10**6),
        st.none() | st.integers(0, 499),
        st.none() | st.integers(0, 2000),
        st.none() | st.integers(0, 5000).map(lambda minutes: on(5, "20:00") + minutes * MINUTE),
        st.none() | st.integers(0, 5000).map(lambda minutes: on(5, "20:00") + minutes * MINUTE),
        st.none() | st.integers(0, 10**4),
        st.booleans(),
    )
)
def test_every_deed_travels_in_a_button(deed: Deed) -> None:
    """Encoded and read back it is the same, in 64 bytes at most."""
    data = deed.encode()
    assert len(data.encode()) <= 64 and Deed.decode(data) == deed


@given(st.text(max_size=64))
def test_what_is_no_button_is_told_apart(data: str) -> None:
    """Anything a client may send either reads or raises ValueError."""
    try:
        deed = Deed.decode(data)
    except ValueError:
        return
    assert Deed.decode(deed.encode()) == deed
