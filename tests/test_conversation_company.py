"""More or fewer at the table, said in the chat: amounts follow, times stand, what is done is left as it is."""

from __future__ import annotations

import pytest

from scheduler.changes import ChangeKind
from scheduler.domain.check import check
from scheduler.domain.marks import MarkKind
from scheduler.records import PlanStatus
from tests.talk_kit import SUPPER, TUESDAY_EVENING, Talk, on, with_supper

FOR_FOUR = SUPPER.replace("title: Supper for four\n", "title: Supper\nserves: 4\n")
HOURLESS = FOR_FOUR.replace("serve: 2026-05-09 19:30\n", "")


def salted() -> Talk:
    """The supper for four, its radishes salted on Wednesday morning."""
    talk = with_supper(TUESDAY_EVENING, FOR_FOUR)
    talk.wait_until(on(6, "07:20"))
    talk.say("salted the radishes")
    return talk


def kinds(talk: Talk) -> list[ChangeKind]:
    return [change.kind for change in talk.view().row.changes]


# ---------------------------------------------------------------- under way


def test_more_at_the_table() -> None:
    """What is done is named as left so, the next steps come with their new amounts, and what to look at."""
    talk = salted()
    assert talk.say("we are six now").splitlines() == [
        "Now for 6 instead of 4",
        "Done already for 4, and left so: “Salt the radishes (Pickle)”.",
        "Soak the beans, Sat 07:00: beans 600 g.",
        "Whisk the flan, Sat 12:15: milk 750 ml, eggs 6.",
        "No time changes. Look at how thick it lies, the size of the pot and the room in the oven.",
    ]
    assert talk.labels == ["What's next", "Undo"]


def test_the_timetable_stays_the_same() -> None:
    """Not a minute of it moves, and it is still one that keeps every rule."""
    talk = salted()
    before = talk.view()
    talk.say("2 more are coming")
    view = talk.view()
    assert view.timetable == before.timetable and view.serve == before.serve
    assert view.plan.serves == 6 and view.row.revision == before.row.revision + 1
    assert check(view.plan, view.timetable, view.now, view.progress) == ()


@pytest.mark.parametrize(
    ("said", "serves"),
    [
        ("there will be 12 of us", 12),
        ("cook for 6", 6),
        ("one guest cancelled", 3),
        ("two more guests", 6),
        ("scale the plan to 10", 10),
        ("we'll be a dozen", 12),
    ],
)
def test_ways_of_saying_it(said: str, serves: int) -> None:
    """In all, so many more, so many fewer."""
    talk = salted()
    assert talk.say(said).startswith(f"Now for {serves} instead of 4")
    assert talk.view().plan.serves == serves


def test_a_count_that_comes_to_a_part() -> None:
    """Three eggs for four are four and a half for six: which whole numbers that lies between is told."""
    talk = with_supper(TUESDAY_EVENING, FOR_FOUR.replace("eggs: 4", "eggs: 3"))
    assert "eggs 4.5, so 4 or 5." in talk.say("we are six")


def test_later_messages_have_the_new_amounts() -> None:
    """The nudge for the beans says how many beans there are to be now."""
    talk = salted()
    talk.say("we are eight")
    heard = talk.wait_until(on(9, "07:05"))
    assert any("Soak the beans" in letter.text and "800 g" in letter.text for letter in heard)


def test_it_is_taken_back_and_put_in_again() -> None:
    """Undo and redo change the amounts alone; the timetable is the same throughout."""
    talk = salted()
    before = talk.view().timetable
    talk.say("we are six")
    assert talk.press("Undo").startswith("Taken back: cooking for 6 instead of 4")
    assert (talk.view().plan.serves, kinds(talk)) == (4, [])
    assert talk.view().timetable == before
    assert talk.press("Undo that").startswith("In again: cooking for 6 instead of 4")
    assert (talk.view().plan.serves, kinds(talk)) == (6, [ChangeKind.SERVES])
    assert talk.view().timetable == before
    assert [mark.kind for mark in talk.view().marks].count(MarkKind.CHANGED) == 1


def test_what_was_begun_for_others_keeps_its_amounts() -> None:
    """Salted for four, then six, then five: the radishes were salted for four, and are told as that."""
    talk = salted()
    talk.say("we are six")
    assert "Done already for 4" in talk.say("one guest cancelled")
    told = talk.say("how much salt for the radishes")
    assert told.startswith("Salt: 10 g") and told.count("begun for 4") == 1


def test_a_mark_after_it_counts_as_for_the_others() -> None:
    """Salted after they were six, it was salted for six."""
    talk = with_supper(TUESDAY_EVENING, FOR_FOUR)
    talk.say("we are six")
    talk.wait_until(on(6, "07:20"))
    talk.say("salted the radishes")
    assert "Done already for 6" in talk.say("we are eight")


# ---------------------------------------------------------------- what cannot be


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ("we are four", "The plan is for 4 as it is."),
        ("four guests cancelled", "The plan is for 4: say for how many it is to be, from 1 to 10000."),
        ("there will be 99999 of us", "The plan is for 4: say for how many it is to be, from 1 to 10000."),
    ],
)
def test_no_change_and_nobody_left(said: str, told: str) -> None:
    """Nothing is changed, and that is said."""
    talk = salted()
    assert talk.say(said) == told
    assert talk.view().row.changes == ()


def test_a_plan_that_does_not_say_for_how_many() -> None:
    """What is missing in it is said."""
    talk = with_supper(TUESDAY_EVENING)
    assert talk.say("we are ten now").startswith("The plan does not say how many it serves")
    assert talk.view().row.changes == ()


def test_without_a_plan() -> None:
    """There is nothing to scale."""
    assert "plan" in Talk(TUESDAY_EVENING).say("we are ten now")


# ---------------------------------------------------------------- drafts


def drafted(source: str = FOR_FOUR) -> Talk:
    talk = Talk(TUESDAY_EVENING)
    talk.send(source)
    return talk


def test_a_draft_is_scaled_and_still_asked_about() -> None:
    """Its timetable stands, a plain yes takes it into use, and it comes into use with the new amounts."""
    talk = drafted()
    before = talk.view().timetable
    assert talk.say("there will be 6 of us").startswith("Now for 6 instead of 4\nSalt the radishes")
    assert talk.labels == ["Use this plan", "Not this one"]
    assert talk.view().timetable == before
    assert talk.say("yes").startswith("Supper is in use")
    view = talk.view()
    assert (view.row.status, view.plan.serves, view.timetable) == (PlanStatus.ACTIVE, 6, before)
    assert talk.say("one guest cancelled").startswith("Now for 5 instead of 6")


def test_a_draft_counts_only_the_last_number() -> None:
    """Six, then eight, then four again, as it was written: no change is left."""
    talk = drafted()
    talk.say("we are six")
    talk.say("we are eight")
    assert len(talk.view().row.changes) == 1
    assert talk.say("we are four").startswith("Now for 4 instead of 8")
    assert talk.view().row.changes == ()


def test_a_draft_that_waits_for_its_hour() -> None:
    """The number is taken, and the hour is still what is asked for."""
    talk = drafted(HOURLESS)
    assert talk.say("we are six").startswith("Now for 6 instead of 4")
    assert talk.say("2026-05-09 19:30").startswith("Supper fits: served on Saturday at 19:30")
    assert talk.view().plan.serves == 6


def test_a_draft_that_does_not_fit_is_shown_with_its_ways_again() -> None:
    """The number is kept, and the ways out are still there to press."""
    talk = Talk(on(8, "20:00"))
    talk.send(FOR_FOUR)
    assert "cannot be served" in talk.say("we are six")
    assert talk.view().plan.serves == 6


def test_another_hour_keeps_the_number() -> None:
    """How many there are has nothing to do with the hour."""
    talk = drafted()
    talk.say("we are six")
    talk.say("2026-05-09 20:30")
    assert talk.view().plan.serves == 6


def test_a_draft_beside_a_plan_under_way() -> None:
    """What was just proposed is meant, as long as it is asked about; afterwards the plan under way."""
    talk = salted()
    first = talk.view().id
    talk.send(FOR_FOUR.replace("2026-05-09", "2026-05-16").replace("title: Supper", "title: Second supper"))
    assert talk.say("we are six").startswith("Now for 6 instead of 4")
    assert (talk.view(first).plan.serves, talk.view().plan.serves) == (4, 6)
    talk.say("no")
    assert "Done already for 4" in talk.say("we are five")
    assert talk.view(first).plan.serves == 5


# ---------------------------------------------------------------- sums in the chat


@pytest.mark.parametrize(
    ("asked", "first"),
    [
        ("scale 900 g from 8 to 12", "900 g for 8 is 1350 g for 12"),
        ("how many grams is 2 cups of flour", "2 cups of flour is 250 g"),
        ("what is 3 lb in grams", "3 lb is 1361 g"),
        (
            "how many grams is a tablespoon of salt",
            "1 tbsp of salt weighs 8.3 g to 19 g, by its crystals: weigh it",
        ),
    ],
)
def test_one_amount_asked_after(asked: str, first: str) -> None:
    """With a plan and without one; nothing is marked by it."""
    for talk in (salted(), Talk(TUESDAY_EVENING)):
        assert talk.say(asked).splitlines()[0] == first


LOAF = """\
crockbell: 1
title: Loaf
serves: 4
serve: 2026-05-09 18:00
zone: Europe/Lisbon
kitchen: {awake: 07:00-23:00, gear: {burner: 2, oven: 1}}
components:
  - name: Rye loaf
    steps:
      - name: Mix the dough
        hands-on: 20 min
        amounts: {rye flour: 500 g, salt: 2 % of rye flour}
      - {name: Bake the dough, nearby: 1 h, oven: 230 C, keeps: 12 h}
"""


def test_of_two_plans_the_one_that_is_meant_is_named() -> None:
    """Which of them is for more now, what is left as it is; shopping for both; amounts of the one spoken of."""
    talk = with_supper(on(5, "20:00"), SUPPER.replace("serve:", "serves: 4\nserve:", 1))
    talk.send(LOAF)
    talk.press("Use this plan")
    shopping = talk.say("what do I need to buy")
    assert "for Supper for four" in shopping and "for Loaf" in shopping
    assert talk.say("how much salt is in the loaf").startswith("Salt: 10 g (2 % of the rye flour's weight)")
    answer = talk.say("we are ten now").splitlines()
    assert answer[0].endswith(": now for 10 instead of 4") and answer[1].endswith("stays as it is.")
