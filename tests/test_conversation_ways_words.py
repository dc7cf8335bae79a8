"""Ways out of what does not fit, asked for and chosen in plain words."""

from __future__ import annotations

import pytest

from scheduler.changes import ChangeKind
from tests.talk_kit import Talk, on, saturday
from tests.test_conversation_ways import LOAF, drifted, early_loaf

OTHER_LOAF = LOAF.replace("2026-05-09 19:00", "2026-05-10 19:00").replace("Saturday loaf", "Sunday loaf")
ROASTS = """\
crockbell: 1
title: Two roasts
serve: 2026-05-09 14:00
zone: Europe/Lisbon
kitchen:
  awake: 11:00-22:30
  gear: {oven: 1}
components:
  - name: Lamb
    steps:
      - name: Roast the lamb
        nearby: 2 h
        oven: 160 C
        keeps: 20 min
  - name: Potatoes
    steps:
      - name: Roast the potatoes
        nearby: 1 h
        oven: 220 C
        keeps: 10 min
"""
CANNOT = "Saturday breakfast cannot be served on Sat 9 May at 08:00"


@pytest.mark.parametrize(
    "words", ["Other ways", "more ways please", "What else could I do?", "any alternatives"]
)
def test_words_ask_for_the_ways_out_of_a_proposal(words: str) -> None:
    """They are told again, and a number then picks one."""
    talk = early_loaf()
    assert talk.say(words).startswith(CANNOT)
    assert talk.say("3").startswith("Saturday breakfast fits: served at 16:30 tomorrow")


@pytest.mark.parametrize("words", ["more ways", "what else can I do", "other options"])
def test_words_ask_for_the_ways_out_of_a_drift(words: str) -> None:
    """As the button would, also by another name than the button's."""
    assert drifted().say(words).startswith("Saturday loaf cannot be served on Sat 9 May at 19:00")


def test_other_ways_after_another_hour_was_refused() -> None:
    """The meal as it stands fits, and that is said."""
    talk = saturday()
    assert talk.say("serve at 17:00").startswith("Supper for four cannot be served")
    assert talk.say("other ways").startswith(
        "Nothing has to change: “Supper for four” fits 19:30 as it stands"
    )


def test_words_that_may_mean_other_things_keep_their_meaning() -> None:
    """Where nothing was in the way, "what else could I do" asks what is next."""
    assert saturday().say("what else could I do").startswith("Next, at 12:15: Whisk the flan")


def test_of_two_plans_the_one_that_does_not_fit_is_meant() -> None:
    """Where the last message is about another plan; and where both fit, both are named."""
    talk = drifted()
    talk.send(OTHER_LOAF)
    assert talk.say("yes").startswith("Sunday loaf is in use")
    assert talk.say("other ways").startswith("Saturday loaf cannot be served")
    talk.say("2")
    talk.say("what's next")
    assert talk.say("other ways").startswith("Nothing has to change: “")
    assert all(
        title in talk.last.text for title in ("“Saturday loaf” fits", "“Sunday loaf” fits", "they stand.")
    )


def test_a_plan_that_waits_for_its_hour_is_asked_for_it_again() -> None:
    """There is nothing to be in the way of an hour that was not named."""
    talk = Talk(on(8, "18:00"))
    talk.send(LOAF.replace("serve: 2026-05-09 19:00\n", ""))
    assert talk.say("other ways").startswith("Say when it is to be on the table")
    assert talk.say("as early as possible please").startswith("Saturday loaf fits: served at 12:45 tomorrow")


@pytest.mark.parametrize("words", ["number 2", "the second", "second one", "option 2", "2"])
def test_a_way_is_picked_by_its_place(words: str) -> None:
    """However the cook counts."""
    talk = drifted()
    talk.press("Other ways")
    assert "I count on leaving 1 h later" in talk.say(words)


def test_a_yes_does_not_say_which_of_several() -> None:
    """Under way nothing is done on it; the question stays, and a number answers it."""
    talk = drifted()
    talk.press("Other ways")
    before = talk.view()
    assert talk.say("yes") == "Which one? Say its number, or press its button."
    assert talk.view().row == before.row
    assert talk.say("1").startswith("Good: 19:00 today holds again")


@pytest.mark.parametrize("words", ["yes", "1"])
def test_the_only_way_is_taken_with_a_yes(words: str) -> None:
    """A change, not the hour that it keeps."""
    talk = drifted()
    talk.wait_until(on(9, "12:45"))
    assert "What would do: Leave 1 h later" in talk.say("other ways")
    assert talk.say(words).startswith("Good: 19:00 today holds again")
    assert [change.kind for change in talk.view().row.changes] == [ChangeKind.OFF]


# ---------------------------------------------------------------- another hour for a proposal


def test_another_hour_can_be_named_for_a_proposal() -> None:
    """Near the planned one, also at breakfast; what was changed for the hour before is kept only where needed."""
    talk = early_loaf()
    talk.press("Up 45 min earlier")
    assert talk.say("serve at 9:00").startswith("Saturday breakfast fits: served at 09:00 tomorrow")
    assert "getting up 45 min earlier" in talk.last.text
    assert talk.say("serve at 17:00").startswith("Saturday breakfast fits: served at 17:00 tomorrow")
    assert "counts on" not in talk.last.text and talk.view().row.changes == ()
    assert talk.say("yes").startswith("Saturday breakfast is in use\nThe meal is served at 17:00 tomorrow")


def test_another_hour_for_a_plan_that_does_not_fit() -> None:
    """The same where none of the ways was taken; an hour gone by is refused, and the question stays."""
    talk = early_loaf()
    assert talk.say("serve dinner 20 hours earlier").startswith("That time has passed already")
    assert talk.say("serve at 17:00").startswith("Saturday breakfast fits: served at 17:00 tomorrow")


# ---------------------------------------------------------------- the change holds


def test_quiet_for_the_night_ends_with_the_earlier_alarm() -> None:
    """Getting up earlier is what the plan counts on from then on."""
    talk = early_loaf()
    talk.press("Up 45 min earlier")
    talk.press("Use this plan")
    assert talk.say("good night").startswith("Quiet until 06:15 tomorrow")


def test_who_does_what_with_a_helping_hand() -> None:
    """The helper is named; the cook without a name of their own is the one spoken to."""
    talk = drifted()
    talk.press("Other ways")
    talk.press("Help Sat 12:30-13:30")
    lines = talk.say("today").splitlines()
    assert "13:10 Helper: Fold the dough (Loaf)" in lines and "18:15 Open the jam" in lines


def test_every_fact_in_conflict_is_told() -> None:
    """Any of them may be the one to do something about: the oven, of which there is one."""
    talk = Talk(on(8, "18:00"))
    text = talk.send(ROASTS)
    assert "more" not in text.partition("What would do")[0]
    assert "oven" in text.partition("What would do")[0]


def test_what_is_put_off_past_its_last_call_is_to_be_begun_at_once() -> None:
    """No promise to say so again before a moment that has passed."""
    talk = drifted()
    talk.press("Other ways")
    talk.press("Home Sat 13:00-14:00")
    talk.wait_until(on(9, "13:51"))
    talk.say("folded")
    talk.wait_until(on(9, "18:40"))
    assert "It could wait only until 18:10 today: begin at once." in talk.say(
        "remind me about the baking in 5 min"
    )
