"""Sentences as they come with wet hands: said twice, two matters in one, a question for a wish, the shopping done."""

from __future__ import annotations

from tests.talk_kit import at_the_radishes, fermenting, on, saturday, with_supper
from tests.test_conversation_clocks import cooling


def test_said_twice_it_is_said_to_be_so_already() -> None:
    """ "Done salting" of what is done: when, and not which one of one is meant."""
    talk = fermenting()
    assert talk.say("done salting").startswith("“Salt the radishes” is marked done already, at 07:15.")


def test_one_thing_that_may_be_meant_is_asked_about_with_yes_and_no() -> None:
    """No list of one; and a plain yes is enough."""
    talk = saturday("17:31")
    talk.say("drained the beans")
    talk.say("simmering the beans")
    assert talk.say("I think the beans simmered").startswith("Is “Simmer the beans” done?")
    assert talk.labels[-1] == "No"


def test_two_matters_in_one_sentence_are_not_lost() -> None:
    """The mark counts; the number at the table, or a reading, is to be said by itself, in the cook's words."""
    for besides in ("we're ten now", "it's 26 degrees in here"):
        told = at_the_radishes().say(f"salted the radishes and {besides}")
        assert told.startswith("Done: Salt the radishes (Pickle), 07:05")
        assert told.endswith(f"One thing at a time: say “{besides}” by itself\nIt is not taken down yet.")


def test_the_shopping_that_is_done_is_noted() -> None:
    """After "buy today" that is what there is to say."""
    assert at_the_radishes().say("bought everything").startswith("Noted: bought everything")


KIDNEY = """\
crockbell: 1
title: Beans
serve: 2026-05-09 19:30
zone: Europe/Lisbon
kitchen: {awake: 07:00-23:00, gear: {burner: 2}}
components:
  - name: Beans
    steps:
      - {name: Soak the kidney beans, unattended: 8 h to 12 h, amounts: {dried kidney beans: 400 g}, keeps: 1 h}
      - {name: Drain the kidney beans, hands-on: 5 min}
      - {name: Boil the kidney beans hard, nearby: 30 min, gear: [burner], keeps: 2 h}
"""


def test_whether_a_boil_may_be_skipped_is_answered_with_its_limit() -> None:
    """Asked or said, it is refused with its reason at once, and not offered first."""
    talk = with_supper(on(8, "10:00"), KIDNEY)
    for said in ("can I skip the boiling", "skip the boiling"):
        assert "cannot be left out while the rest is kept." in talk.say(said)
        assert talk.labels == ["Leave out Beans", "Keep it"]


def test_undo_that_in_words_is_the_button_of_that_name() -> None:
    """Also when a nudge came in between: what was taken back counts again, and nothing older is taken back."""
    talk = at_the_radishes()
    talk.say("kitchen is 21 degrees")
    talk.say("salted the radishes")
    talk.say("undo")
    talk.wait_until(on(6, "08:30"))
    assert talk.say("undo that").startswith("In again: “Salt the radishes” (done)")


def test_whether_a_cooling_may_be_left_out_is_asked_once() -> None:
    """With its limit, and a plain yes is enough."""
    talk = cooling()
    asked = talk.say("can I skip the cooling")
    assert "Cool it from 57 C to 21 C within 2 h" in asked and asked.endswith("Leave it out all the same?")
    assert talk.say("yes").startswith("Left out: Cool under the fat")
