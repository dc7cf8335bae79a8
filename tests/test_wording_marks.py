"""What is said back: what was taken down, what moves, what is next."""

from __future__ import annotations

from scheduler.domain.kitchen.hazards import DEFERRAL
from scheduler.domain.marks import MarkKind
from scheduler.service import answers as say
from scheduler.service.answers import Taken
from scheduler.service.deeds import Deed, Verb
from tests.wording_gallery import SHIFTED, TOO_LATE
from tests.wording_kit import BEANS, BEFORE, CARROTS, KITCHEN, LOAF, deeds, labels, lines
from tests.wording_kitchen import day, deed, mark, moved, step


def test_done_says_when_what_moves_and_what_is_next() -> None:
    """The mark with its time first, then old and new times, then what is next."""
    view = KITCHEN.view("11-21 13:41", mark(MarkKind.DONE, "Drain the chickpeas", "11-21 13:41"))
    answer = Taken((deed(Verb.DONE, "Drain the chickpeas"),), BEFORE, view, SHIFTED[1:])
    assert lines(answer) == [
        "Done: Drain the chickpeas, 13:41",
        "Moved: Simmer the chickpeas, now 13:45, was 13:30",
        "Moved: Brown the lamb, now 15:45, was 15:30",
        "Now: Simmer the chickpeas.",
    ]
    assert [each.verb for each in deeds(answer)] == [Verb.NEXT, Verb.UNDO]


def test_many_moves_are_counted() -> None:
    """At most five lines of what moves."""
    view = KITCHEN.view("11-21 13:41")
    many = tuple(moved(LOAF, "11-21 09:00", f"11-21 {hour}:00") for hour in range(10, 19))
    said = lines(Taken((deed(Verb.DONE, "Drain the chickpeas"),), BEFORE, view, many))
    assert sum(line.startswith("Moved: ") for line in said) == 4 and "and 5 more moved" in said


def test_a_wait_begun_says_between_which_moments_it_may_end() -> None:
    """The limits of its range from its real start, its planned end, and what comes then."""
    view = KITCHEN.view("11-20 20:05", mark(MarkKind.STARTED, BEANS, "11-20 20:05"))
    assert lines(Taken((deed(Verb.START, BEANS),), BEFORE, view))[:2] == [
        "Started: Soak the chickpeas, 20:05",
        "It may end between 08:05 and 14:05 tomorrow; "
        "planned until 13:25 tomorrow, then “Drain the chickpeas”.",
    ]


def test_done_of_a_wait_that_has_only_begun_says_so() -> None:
    """What "done" came to is what the message says."""
    view = KITCHEN.view("11-20 20:05", mark(MarkKind.STARTED, BEANS, "11-20 20:05"))
    assert lines(Taken((deed(Verb.DONE, BEANS),), BEFORE, view))[0].startswith("Started: ")


def test_what_begins_by_itself_is_told_with_its_caution() -> None:
    """No other message would say that the stock cools now, and within which published limits."""
    view = KITCHEN.view("11-20 15:02", mark(MarkKind.DONE, "Simmer the bones", "11-20 15:02"))
    said = lines(Taken((deed(Verb.DONE, "Simmer the bones"),), BEFORE, view))
    assert "“Cool the stock” has begun by itself. Planned until 17:00 today, then “Chill the stock”." in said
    assert any("(FDA Food Code 3-501.14)." in line for line in said)
    assert said[-1] == DEFERRAL


def test_put_off_says_how_long_remains() -> None:
    """When it will be said again, and the last call."""
    view = KITCHEN.view("11-20 20:05", mark(MarkKind.LATER, BEANS, "11-20 20:05", until="11-20 20:15"))
    assert lines(Taken((deed(Verb.LATER, BEANS, until="11-20 20:15"),), BEFORE, view)) == [
        "I will say so again at 20:15: Soak the chickpeas",
        "It can wait until 22:25 today.",
    ]


def test_put_off_too_far_is_not_agreed_to() -> None:
    """Beyond the last call it is said again before then, and the message says so."""
    view = KITCHEN.view("11-20 20:05", mark(MarkKind.LATER, BEANS, "11-20 20:05", until="11-20 23:15"))
    answer = Taken((deed(Verb.LATER, BEANS, until="11-20 23:15"),), BEFORE, view, misfit=TOO_LATE)
    assert lines(answer)[:3] == [
        "23:15 is too late for the meal: Soak the chickpeas",
        "It can wait only until 22:25 today: I will say so again before then.",
        "Done only then, Sat 21 Nov 19:30 cannot hold.",
    ]


def test_more_time_names_the_plans_own_limit() -> None:
    """What is under way may go on only as long as its range allows, and a wish does not change that."""
    begun = mark(MarkKind.STARTED, "Simmer the chickpeas", "11-21 13:30")
    asked = mark(MarkKind.LATER, "Simmer the chickpeas", "11-21 15:00", until="11-21 15:40")
    view = KITCHEN.view("11-21 15:00", begun, asked)
    asked_for = (deed(Verb.LATER, "Simmer the chickpeas", until="11-21 15:40"),)
    assert lines(Taken(asked_for, BEFORE, view))[:2] == [
        "Given until 15:40: Simmer the chickpeas",
        "The plan gives it only until 15:15 today.",
    ]


def test_what_has_waited_too_long_is_said_plainly() -> None:
    """How long it keeps, that it has waited longer, and whom to ask."""
    view = KITCHEN.view("11-20 12:05")
    said = lines(Taken((deed(Verb.DONE, "Mix the dough"),), BEFORE, view, late=("Starter ripens",)))
    assert "What “Starter ripens” made keeps 2 h and has waited longer. Look before you use it." in said
    assert said[-1] == DEFERRAL


def test_what_no_longer_fits_is_said_with_a_way_out() -> None:
    """The hour that cannot hold, why, the earliest that fits, and leaving it as it is."""
    answer = Taken((deed(Verb.DONE, "Chill the jar"),), BEFORE, KITCHEN.view("11-20 22:50"), misfit=TOO_LATE)
    assert "Sat 21 Nov 19:30 cannot hold any more." in lines(answer)
    assert labels(answer) == ["Serve 20:45", "Other ways", "Leave it as it is", "Undo"]
    assert deeds(answer)[0] == Deed(Verb.SERVE, 7, at=day("11-21 20:45"))


def test_a_lost_part_can_be_made_again() -> None:
    """What was ruined is offered from the start again."""
    view = KITCHEN.view("11-21 09:05", mark(MarkKind.RUINED, LOAF, "11-21 09:05"))
    answer = Taken((deed(Verb.RUINED, LOAF),), BEFORE, view)
    assert lines(answer)[0] == "Lost: Rye loaf"
    assert deeds(answer)[0] == Deed(Verb.AGAIN, 7, step(LOAF))


def test_the_last_step_ends_it() -> None:
    """Nothing more to say, and no button for a plan that is over but the one that takes it back."""
    view = KITCHEN.view("11-21 19:26")
    answer = Taken((deed(Verb.DONE, "Slice the bread and dish up"),), BEFORE, view)
    assert lines(answer)[-1] == "That was the last step. To the table." and labels(answer) == ["Undo"]


def test_a_touch_is_taken_by_its_number() -> None:
    """Which touch it was, done, skipped or put off."""
    view = KITCHEN.view("11-13 18:22", mark(MarkKind.DONE, CARROTS, "11-13 18:22", 3))
    first = {
        verb: lines(Taken((deed(verb, CARROTS, 3, "11-13 20:00"),), BEFORE, view))[0]
        for verb in (Verb.DONE, Verb.SKIP, Verb.LATER)
    }
    assert first == {
        Verb.DONE: "Done: Vent the lid, 3rd of 5, 18:22",
        Verb.SKIP: "Skipped: Vent the lid, 3rd of 5, 18:22",
        Verb.LATER: "I will say so again at 20:00: Vent the lid, 3rd of 5",
    }


def test_a_note_with_a_ph_names_the_limit_it_meets() -> None:
    """3.9 meets 4.6 or below (21 CFR 114.3); nothing is called anything more than that."""
    noted = lines(say.Noted(KITCHEN.view("11-15 12:00"), "pH 3,9 on the carrots", step(CARROTS)))
    assert "That meets the limit of pH 4.6 or below (21 CFR 114.3), with 0.1 to spare for the meter." in noted
    plain = lines(say.Noted(KITCHEN.view("11-15 12:00"), "kitchen is 24 degrees", None))
    assert plain == ["Noted: kitchen is 24 degrees"]


def test_taken_back_names_what() -> None:
    """What was undone, and what moves because of it."""
    said = lines(say.Undone(KITCHEN.view("11-21 13:41"), ("Drain the chickpeas: done",), SHIFTED[:1]))
    assert said[:2] == [
        "Taken back: “Drain the chickpeas” (done)",
        "Moved: Drain the chickpeas, now 13:40, was 13:25",
    ]
