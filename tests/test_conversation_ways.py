"""Ways out of what does not fit, in the chat: each a button, worked out again when it is pressed."""

from __future__ import annotations

import pytest

from scheduler.changes import ChangeKind
from scheduler.domain.check import check
from scheduler.domain.marks import MarkKind
from scheduler.service.deeds import Deed, Verb
from tests.talk_kit import Talk, on

BREAKFAST = """\
crockbell: 1
title: Saturday breakfast
serve: 2026-05-09 08:00
zone: Europe/Lisbon
kitchen:
  awake: 07:00-22:30
  gear: {oven: 1}
components:
  - name: Loaf
    optional: true
    steps:
      - name: Knead the dough
        hands-on: 20 min
      - name: Dough rises
        unattended: 8 h
        until: doubled
      - name: Bake the loaf
        nearby: 50 min
        oven: 220 C
        keeps: 2 h
  - name: Eggs
    steps:
      - name: Fry the eggs
        hands-on: 10 min
        keeps: 5 min
        after: [Loaf]
"""
"""A dough that would have to rise from bedtime to an hour before anyone is up."""

LOAF = """\
crockbell: 1
title: Saturday loaf
serve: 2026-05-09 19:00
zone: Europe/Lisbon
kitchen:
  awake: 07:00-22:30
  away: 2026-05-09 13:00-17:00
  gear: {oven: 1}
components:
  - name: Loaf
    steps:
      - name: Mix the dough
        hands-on: 30 min
      - name: Fold the dough
        wait: 4 h to 5 h
        hands-on: 20 min
        keeps: 5 h
      - name: Bake the loaf
        nearby: 50 min
        oven: 220 C
        keeps: 2 h
  - name: Jam
    steps:
      - name: Open the jam
        hands-on: 5 min
        keeps: 8 h
"""
"""Mixed before a quarter to eight, or after a quarter to nine, the dough has to be folded with nobody in."""

EVENING = on(8, "18:00")
LATER_OUT, HELPED = "Home Sat 13:00-14:00", "Help Sat 12:30-13:30"


def early_loaf() -> Talk:
    """The breakfast was sent on Friday evening and does not fit."""
    talk = Talk(EVENING)
    talk.send(BREAKFAST)
    return talk


def drifted() -> Talk:
    """The loaf is in use, and was mixed hours before it was planned."""
    talk = Talk(EVENING)
    talk.send(LOAF)
    talk.press("Use this plan")
    talk.wait_until(on(9, "08:52"))
    talk.say("mixed the dough")
    return talk


# ---------------------------------------------------------------- a draft


def test_a_plan_that_does_not_fit_offers_its_ways_as_buttons() -> None:
    """Why, in numbers; then each way as a line and as a button, the least disturbing first."""
    talk = early_loaf()
    text = talk.last.text
    assert "you are asleep Fri 8 May 22:30 to Sat 07:00" in text
    assert (
        "\n1. Get up 45 min earlier on Sat 9 May, at 06:15\n2. Leave out “Loaf” altogether\n3. Serve at "
        in text
    )
    assert talk.labels[0:2] == ["Up 45 min earlier", "Leave out Loaf"] and talk.labels[3] == "Not this plan"


@pytest.mark.parametrize(
    ("how", "told"),
    [
        ("Up 45 min earlier", "This counts on getting up 45 min earlier"),
        ("Leave out Loaf", "“Loaf” is left out."),
    ],
)
def test_a_way_chosen_for_a_draft_is_solved_again_and_proposed(how: str, told: str) -> None:
    """The plan with it fits its own hour, says so, and comes into use as it was proposed."""
    talk = early_loaf()
    answer = talk.press(how)
    assert answer.startswith("Saturday breakfast fits: served at 08:00 tomorrow") and told in answer
    assert talk.press("Use this plan").startswith("Saturday breakfast is in use")
    view = talk.view()
    assert check(view.plan, view.timetable, view.now, view.progress) == ()
    assert len(view.row.changes) == (how == "Up 45 min earlier")
    assert len(view.progress.dropped) == (3 if how == "Leave out Loaf" else 0)


def test_a_way_can_be_picked_by_its_number_or_with_a_yes() -> None:
    """ "2" is the second of them; a plain yes the first; no puts the plan aside."""
    assert early_loaf().say("2").startswith("Saturday breakfast fits: served at 08:00 tomorrow")
    talk = early_loaf()
    assert "getting up 45 min earlier" in talk.say("yes")
    assert early_loaf().say("no").startswith("Put aside: Saturday breakfast")


def test_a_way_chosen_twice_is_done_once() -> None:
    """The second press finds another state of the plan, and is refused with a sentence."""
    talk = early_loaf()
    offered = talk.last
    talk.press("Up 45 min earlier", offered)
    revision = talk.view().row.revision
    assert talk.press("Up 45 min earlier", offered).startswith(
        "That was worked out for the plan as it stood then"
    )
    assert talk.view().row.revision == revision and len(talk.view().row.changes) == 1
    assert talk.press("Look again").startswith("Saturday breakfast fits")


# ---------------------------------------------------------------- under way


def test_a_meal_that_drifted_has_other_ways() -> None:
    """The mark is taken, what stands in the way is said, and other ways are one press away."""
    talk = drifted()
    assert talk.labels == ["Other ways", "Leave it as it is", "Undo"]
    text = talk.press("Other ways")
    assert "1. Have a second cook to help on Sat 9 May, 12:30 to 13:30" in text
    assert "2. Leave 1 h later on Sat 9 May, at 14:00" in text and text.endswith("Nothing was changed.")
    assert talk.labels == [HELPED, LATER_OUT, "Leave it as it is"]


def test_a_way_out_of_a_drift_changes_the_plan_and_moves_what_it_must() -> None:
    """A new revision with the change stored, verified; what moved and what is next are said."""
    talk = drifted()
    talk.press("Other ways")
    before = talk.view().row.revision
    answer = talk.press(LATER_OUT)
    assert answer.startswith(
        "Good: 19:00 today holds again\nI count on leaving 1 h later on Sat 9 May, at 14:00."
    )
    assert "Moved: Fold the dough, now 13:40" in answer
    view = talk.view()
    assert view.row.revision == before + 1 and [change.kind for change in view.row.changes] == [
        ChangeKind.OFF
    ]
    assert check(view.plan, view.timetable, view.now, view.progress) == ()
    assert talk.wait_until(on(9, "13:41"))[-1].text.startswith("Fold the dough")


def test_a_way_can_be_taken_back_and_put_in_again() -> None:
    """Undo leaves the plan as it was written, which does not fit; undoing that brings the change back."""
    talk = drifted()
    talk.press("Other ways")
    talk.press(HELPED)
    assert next(slot.cook for slot in talk.view().upcoming()) == "Helper"
    assert talk.press("Undo").startswith("Taken back: a second cook on Sat 9 May, 12:30 to 13:30")
    assert talk.view().row.changes == () and "Other ways" in talk.labels
    assert {slot.cook for slot in talk.view().timetable.slots} <= {"Cook", None}
    assert talk.press("Undo that").startswith("In again: ")
    view = talk.view()
    assert [change.kind for change in view.row.changes] == [ChangeKind.HELPER]
    assert check(view.plan, view.timetable, view.now, view.progress) == ()
    assert [mark.kind for mark in view.marks].count(MarkKind.CHANGED) == 1


def test_a_press_that_something_overtook_is_refused() -> None:
    """Something else was said in between: the old button does nothing, and a fresh look is offered."""
    talk = drifted()
    talk.press("Other ways")
    offered = talk.last
    talk.say("opened the jam")
    before = talk.view()
    assert talk.press(LATER_OUT, offered).startswith("That was worked out for the plan as it stood then")
    assert talk.view().row == before.row and talk.view().marks == before.marks
    assert talk.press("Look again").startswith("Saturday loaf cannot be served")
    assert talk.press(LATER_OUT).startswith("Good: ")


def test_a_press_whose_hour_has_come_is_refused() -> None:
    """An hour that has begun cannot be taken off any more."""
    talk = drifted()
    talk.press("Other ways")
    offered = talk.last
    talk.wait_until(on(9, "13:10"))
    assert talk.press(LATER_OUT, offered) == "That cannot be done any more."
    assert talk.view().row.changes == ()


def test_other_ways_of_a_meal_that_fits() -> None:
    """Asked by an old button when nothing is in the way any more: that is said, and nothing changed."""
    talk = drifted()
    asked = talk.last
    talk.press("Undo")
    assert talk.press("Other ways", asked).startswith(
        "Nothing has to change: “Saturday loaf” fits 19:00 as it stands"
    )


@pytest.mark.parametrize(
    "rest",
    [
        "9:{}:::4",
        "7:{}:29638800:29638860:2",
        "0:{}:1:2:0",
        "0:{}:::0",
        "0:{}:::99",
        "",
        "0:{}:29638860:29638800:2",
    ],
)
def test_a_button_that_was_never_offered_does_nothing(rest: str) -> None:
    """Gear, a cook or a kind that there is not, no stretch, one that is over or ends before it begins: refused."""
    talk = drifted()
    before = talk.view()
    answer = talk.press_data(f"way:{before.id}:{rest.format(before.row.revision)}")
    assert answer.startswith(("That cannot be done any more.", "That was worked out"))
    assert talk.view().row == before.row and talk.view().marks == before.marks


def test_more_ways_are_worked_out_again_when_asked_for() -> None:
    """The button asks for those after the ones that were shown."""
    talk = early_loaf()
    plan = talk.plans()[0].id
    text = talk.press_data(Deed(Verb.WAYS, plan, minutes=2).encode())
    assert text.startswith("More ways to serve Saturday breakfast\n3. Serve at ")
    assert len(talk.labels) == 2 and talk.labels[0].startswith("Serve ")
    assert talk.press(talk.labels[0]).startswith("Saturday breakfast fits: served at ")


def test_more_than_there_are_is_all_of_them() -> None:
    """Asked to go on after the last, the list begins anew."""
    talk = early_loaf()
    text = talk.press_data(Deed(Verb.WAYS, talk.plans()[0].id, minutes=9).encode())
    assert text.startswith("Saturday breakfast cannot be served") and "\n1. Get up 45 min earlier" in text
