"""The serving hour: drift that moves what can move, hours that cannot hold, and other hours asked for."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest

from scheduler.domain.check import check
from scheduler.domain.plan import MINUTE
from scheduler.records import PlanStatus
from scheduler.service.deeds import Deed, Verb
from tests.talk_kit import SALTED, SOAKING, SOUR, Talk, number, on, so_far

HALF_PAST_SEVEN = on(9, "19:30")


def cooking(clock: str) -> Talk:
    """Saturday: pickle and flan are made, the beans were soaked and drained at 17:20; nothing simmers yet."""
    return so_far(
        SALTED,
        SOUR,
        SOAKING,
        "9 12:36 whisked the flan",
        "9 12:37 the flan is in the oven",
        "9 13:20 the flan is baked",
        "9 17:20 drained the beans",
        f"9 {clock}",
    )


def starts(talk: Talk) -> dict[str, datetime]:
    view = talk.view()
    return {view.step(slot.step).name: slot.start for slot in view.upcoming()}


def sound(talk: Talk) -> bool:
    view = talk.view()
    return check(view.plan, view.timetable, talk.now, view.progress) == ()


# ---------------------------------------------------------------- drift


def test_what_differs_moves_what_follows_and_nothing_else() -> None:
    """The past is fixed, what runs runs on, what moves is told once, what need not move stays put."""
    talk = so_far()
    before = starts(talk)
    talk.wait_until(on(6, "08:07"))
    answer = talk.say("done")
    after = starts(talk)
    assert answer.startswith("Done: Salt the radishes (Pickle), 08:07")
    moved = {name for name, start in after.items() if start != before[name]}
    assert moved == set() and "Moved" not in answer and sound(talk)
    assert talk.view().progress.of(number(talk.view(), "Radishes ferment")).started == on(6, "08:07")


def test_a_late_start_moves_its_followers_in_one_message() -> None:
    """Simmering begun 10 min late: the hour holds, and the message says what is next."""
    talk = cooking("17:44")
    answer = talk.say("started simmering the beans")
    assert answer.startswith("Started: Simmer the beans, 17:44") and "cannot hold" not in answer
    assert talk.plans()[0].serve == HALF_PAST_SEVEN and sound(talk)
    assert starts(talk) == {"Dress and serve": on(9, "19:15")}


def test_an_hour_that_cannot_hold_is_said_at_once_and_kept_until_the_cook_agrees() -> None:
    """With the earliest hour that can, what it was is kept; "ok" is no agreement, a yes is."""
    talk = cooking("18:00")
    answer = talk.say("started simmering the beans")
    assert "Sat 9 May 19:30 cannot hold any more." in answer
    assert "Why: “Simmer the beans” has begun and is not over yet." in answer
    assert "The earliest hour that fits: Sat 9 May 19:45." in answer
    assert talk.labels[:3] == ["Serve 19:45", "Other ways", "Leave it as it is"]
    talk.say("ok")
    assert talk.plans()[0].serve == HALF_PAST_SEVEN
    assert talk.say("yes").startswith("The meal is now served at 19:45")
    assert talk.plans()[0].serve == on(9, "19:45") and sound(talk)


def test_the_hour_offered_still_fits_some_minutes_later() -> None:
    """A cook with wet hands takes a while to answer."""
    talk = cooking("18:03")
    talk.say("started simmering the beans")
    offer = talk.last
    talk.clock.advance(timedelta(minutes=4))
    assert talk.press(offer.buttons[0].label, offer).startswith("The meal is now served at")


def test_an_hour_kept_though_it_cannot_hold_goes_on_as_best_it_can() -> None:
    """What is held up begins when it can, is nudged then, and the reason is not told over and over."""
    talk = cooking("18:05")
    talk.say("started simmering the beans")
    assert talk.press("Leave it as it is") == "All right, it stays as it is"
    assert talk.plans()[0].serve == HALF_PAST_SEVEN
    assert talk.slot("Simmer the beans").end == on(9, "19:35")
    assert starts(talk)["Dress and serve"] >= on(9, "19:35")
    talk.wait_until(on(9, "19:36"))
    answer = talk.say("the beans are creamy")
    assert "Sat 9 May 19:30 still cannot hold." in answer and "Why:" not in answer
    assert talk.last.text.startswith("Dress and serve")


def test_a_mark_taken_back_lets_the_hour_hold_again() -> None:
    """Undo says so too where it still cannot."""
    talk = cooking("18:00")
    talk.say("started simmering the beans")
    assert talk.say("undo").startswith("Taken back: “Simmer the beans” (started)")
    answer = talk.say("simmering the beans since 17:40")
    assert answer.startswith("Started: Simmer the beans, 17:40") and "cannot hold" not in answer


# ---------------------------------------------------------------- another hour


@pytest.mark.parametrize("word", ["yes", "Move it to 20:30", "do it"])
def test_another_hour_that_fits_is_asked_about_before_it_is_moved(word: str) -> None:
    """What would move is named; only then, at the cook's word, it moves."""
    talk = so_far()
    answer = talk.say("dinner at 20:30")
    assert answer.startswith("Sat 9 May 20:30 fits. Move the meal?")
    assert "Dress and serve would move to Sat 20:10" in answer
    assert talk.plans()[0].serve == HALF_PAST_SEVEN
    assert talk.say(word).startswith("The meal is now served on Saturday at 20:30")
    assert talk.plans()[0].serve == on(9, "20:30") and sound(talk)


@pytest.mark.parametrize("word", ["no", "leave it as it is", "never mind"])
def test_another_hour_that_is_not_agreed_to_changes_nothing(word: str) -> None:
    """Not the hour, not a step."""
    talk = so_far()
    before = (talk.plans()[0].revision, starts(talk))
    talk.say("dinner at 20:30")
    assert talk.say(word) == "All right, it stays as it is"
    assert (talk.plans()[0].revision, starts(talk)) == before


def test_a_moved_hour_can_be_taken_back() -> None:
    """Undo moves the meal back, also after other words; undoing that moves it again."""
    talk = so_far()
    before = starts(talk)
    talk.say("dinner at 20:30")
    talk.say("yes")
    talk.say("what's next")
    answer = talk.say("undo")
    assert answer.startswith("Taken back: the serving hour")
    assert talk.plans()[0].serve == HALF_PAST_SEVEN and starts(talk) == before
    talk.press("Undo that")
    assert talk.plans()[0].serve == on(9, "20:30")


def test_undo_of_a_mark_leaves_a_moved_hour_alone() -> None:
    """Each is taken back by itself, in turn."""
    talk = so_far()
    talk.say("dinner at 20:30")
    talk.say("yes")
    talk.wait_until(on(6, "07:05"))
    talk.say("done")
    talk.say("undo")
    assert talk.plans()[0].serve == on(9, "20:30") and talk.state("Salt the radishes") == "waiting"
    talk.say("undo")
    assert talk.plans()[0].serve == HALF_PAST_SEVEN


def test_an_hour_that_does_not_fit_comes_with_one_that_does() -> None:
    """Why not, in the plan's words; the remedy is a button, and a plain yes."""
    talk = cooking("18:05")
    answer = talk.say("dinner at 19:15")
    assert answer.startswith("Supper for four cannot be served on Sat 9 May at 19:15")
    assert (
        "- “Simmer the beans” may take 1 h 30 min until creamy" in answer and "Nothing was changed." in answer
    )
    assert talk.plans()[0].serve == HALF_PAST_SEVEN
    hour = next(label for label in talk.labels if label.startswith("Serve "))
    assert talk.say("yes").startswith("The meal is now served at " + hour.removeprefix("Serve "))


def test_another_hour_without_the_hour_asks_which() -> None:
    """ "Move the meal" is answered by an hour."""
    talk = so_far()
    assert talk.say("move the meal").startswith("Say when it is to be on the table")
    assert talk.say("saturday 20:30").startswith("Sat 9 May 20:30 fits.")


def test_the_hour_it_has_already_needs_no_moving() -> None:
    """Said twice is said once."""
    talk = so_far()
    assert talk.say("dinner at 19:30 on saturday").startswith("The meal is at Sat 19:30 as it is.")


@pytest.mark.parametrize("status", [PlanStatus.STOPPED, PlanStatus.FINISHED])
def test_no_hour_moves_a_plan_that_is_over(status: PlanStatus) -> None:
    """A stale button of a plan that has ended is refused."""
    talk = so_far()
    row = talk.plans()[0]
    with talk.store() as uow:
        row.status = status
        uow.plans.save(row, row.revision)
        uow.commit()
    answer = talk.press_data(Deed(Verb.SERVE, 1, at=HALF_PAST_SEVEN + 30 * MINUTE).encode())
    assert answer == "“Supper for four” is over." and talk.plans()[0].serve == HALF_PAST_SEVEN
