"""A plan asks when it is to be on the table, and is told no hour but which would do."""

from __future__ import annotations

import pytest

from tests.talk_kit import SUPPER, Talk, on, so_far

EVENING = on(5, "20:00")
NO_HOUR = SUPPER.replace("serve: 2026-05-09 19:30\n", "")


@pytest.mark.parametrize(
    ("said", "hour"),
    [
        ("as soon as possible", "Friday at 20:45"),
        ("Earliest.", "Friday at 20:45"),
        ("sat or sun evening", "Saturday at 18:00"),
        ("Sat or Sun, 12:15-14:00", "Saturday at 12:15"),
        ("weekend", "Saturday at 09:00"),
    ],
)
def test_a_wish_is_answered_with_the_first_hour_that_fits(said: str, hour: str) -> None:
    """The proposal names it, and a plain yes takes the plan into use at that hour."""
    talk = Talk(EVENING)
    talk.send(NO_HOUR)
    assert talk.say(said).startswith(f"Supper for four fits: served on {hour}")
    assert talk.say("ok").startswith("Supper for four is in use")


def test_a_wish_that_nothing_fits_says_why_and_offers_an_hour() -> None:
    """As any hour that does not fit."""
    talk = Talk(EVENING)
    talk.send(NO_HOUR)
    assert talk.say("2026-05-06 to 2026-05-07").startswith(
        "Supper for four cannot be served on Thu 7 May at 22:45"
    )
    assert talk.say("yes").startswith("Supper for four fits: served on")


def test_days_gone_by_are_asked_about_again() -> None:
    """The question stays open."""
    talk = Talk(EVENING)
    talk.send(NO_HOUR)
    assert talk.say("2026-05-01").startswith("There is no such time within 400 days.")
    assert talk.say("earliest").startswith("Supper for four fits: served on Friday at 20:45")


def test_the_earliest_hour_still_fits_when_the_cook_has_read_it() -> None:
    """What is proposed at 20:00 can be taken into use at 20:04, as it was proposed."""
    talk = Talk(EVENING)
    talk.send(NO_HOUR)
    talk.say("as soon as possible")
    talk.wait_until(on(5, "20:04"))
    assert talk.say("ok").startswith("Supper for four is in use")
    assert talk.plans()[0].serve == on(8, "20:45")


def test_a_meal_under_way_is_moved_to_the_first_hour_that_still_fits() -> None:
    """What was done already counts: the move is proposed before it is made."""
    talk = so_far()
    assert talk.say("move the meal").startswith("Say when it is to be on the table")
    assert talk.say("sunday evening").startswith("Sun 10 May 18:00 fits.")
