"""Plans that arrive or do not fit, amounts, cautions, catching up, and the rest of the conversation."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

import pytest

from scheduler.domain.kitchen.amounts import Amount
from scheduler.domain.kitchen.hazards import DEFERRAL
from scheduler.domain.kitchen.totals import totals
from scheduler.domain.stages import About, Stage
from scheduler.explain import Misfit, Remedy
from scheduler.planfile import Problem
from scheduler.service import answers as say
from scheduler.service.deeds import Deed, Verb
from tests.wording_gallery import SHIFTED, TOO_LATE
from tests.wording_kit import BEANS, BEFORE, CARROTS, KITCHEN, LOAF, deeds, labels, lines, put
from tests.wording_kitchen import ZONE, Kitchen, day, deed, nudge, step, timetable


def test_a_proposal_says_when_it_begins_and_what_to_know() -> None:
    """The hour, the first thing and how soon, the days, the warnings, and what else is under way."""
    answer = say.Proposed(BEFORE, ("Stock says nothing about keeping.",), ("Sunday lunch",))
    said = lines(answer)
    assert said[:2] == [
        "Supper by the stove fits: served on Sat 21 Nov at 19:30",
        "It begins at 18:00, in 10 h: Salt and pack the carrots.",
    ]
    assert "- Stock says nothing about keeping." in said and said[-1] == "Under way beside it: Sunday lunch."
    assert [each.verb for each in deeds(answer)] == [Verb.USE, Verb.DISCARD]


def test_no_fit_gives_the_reasons_and_the_hours_that_do() -> None:
    """The facts in conflict in the plan's words; for a draft it can be put aside, else left as it is."""
    draft = say.NoFit(7, KITCHEN.plan, TOO_LATE, day("11-20 22:50"))
    assert lines(draft)[1:3] == ["These cannot all be true:", "- the meal is at Sat 21 Nov 19:30"]
    assert [each.verb for each in deeds(draft)] == [Verb.SERVE, Verb.DISCARD]
    assert [each.verb for each in deeds(replace(draft, under_way=True))] == [Verb.SERVE, Verb.KEEP]


def test_another_day_is_named_on_the_button() -> None:
    """An hour on another day carries its date; a label never grows past its limit."""
    other = Misfit(day("11-21 19:30"), ("x",), (), (Remedy("Serve later", day("12-23 12:45")),))
    assert labels(say.NoFit(7, KITCHEN.plan, other, day("11-20 22:50")))[0] == "Serve Wed 23 Dec 12:45"


def test_not_proven_is_not_passed_off_as_proof() -> None:
    """Out of time is said as such, and so is that no other hour was found."""
    text = put(
        say.NoFit(
            7, KITCHEN.plan, Misfit(day("11-21 19:30"), ("it is so",), (), (), False), day("11-20 22:50")
        )
    ).text
    assert "I ran out of time looking." in text and "I found no other hour that fits." in text


def test_another_hour_is_asked_before_it_is_moved() -> None:
    """What would move, and the hour as it stands."""
    answer = say.HourFits(KITCHEN.view("11-20 22:50"), day("11-21 20:45"), timetable(), SHIFTED[:1])
    assert lines(answer) == [
        "Sat 21 Nov 20:45 fits. Move the meal?",
        "As things stand it is served at 19:30 tomorrow.",
        "Drain the chickpeas would move to Sat 13:40, from Sat 13:25",
    ]
    assert deeds(answer)[0] == Deed(Verb.SERVE, 7, at=day("11-21 20:45"))


def test_a_bad_file_lists_eight_problems_and_counts_the_rest() -> None:
    """One line each with its place; the nearest known word where there is one."""
    problems = tuple(Problem(n, 3, "'carots'", "an amount", "carrots") for n in range(1, 12))
    said = lines(say.BadFile(problems))
    assert said[0] == "Put right 11 things in this plan and send it again"
    assert said[2] == "- Line 1, column 3: 'carots'. Did you mean carrots?" and said[-1] == "and 3 more"
    assert len(said) == 11


def test_where_little_is_wrong_its_reason_and_source_are_told_whole() -> None:
    """A limit that a plan crosses is told with who says so."""
    expected = "at most 4 d in all, cold (National Center for Home Food Preservation, from memory)"
    (line,) = lines(
        say.BadFile((Problem(3, 5, "garlic or herbs in oil kept without a longest time", expected),))
    )[2:]
    assert line.endswith(f"kept without a longest time, expected {expected}")


@pytest.mark.parametrize(
    ("asked", "heading"),
    [
        ("how much salt for 850 g of carrots", "Salt: 21 g for 850 g of carrots"),  # 850 x 2.5 % = 21.25
        ("how much salt for 1.2 kg rye flour?", "Salt: 24 g for 1.2 kg of rye flour"),  # 1200 x 2 %
        ("for 100 grams of carrots how much salt", "Salt: 2.5 g for 100 g of carrots"),
        (
            "how much salt for the carrots",
            "Salt: 20 g (2.5 % of the carrots' weight), for “Salt and pack the carrots”",
        ),
        ("how much flour goes in the dough", "Rye flour: 600 g, for “Mix the dough”"),
        ("how much dill", "Dill: 1 bunch, for “Salt and pack the carrots”"),
        ("how much cinnamon", "I cannot tell that from the plan"),
    ],
)
def test_one_amount_asked_after(asked: str, heading: str) -> None:
    """A percentage of the weight that is named, or what the plan says, or that it does not say."""
    assert lines(say.AmountIs(BEFORE, asked))[0] == heading


def test_amounts_are_added_up_where_units_agree() -> None:
    """Weights with weights, volumes with volumes, counted words with their own; water comes from the tap."""
    given = [
        Amount("Onions", Decimal(200), "g"),
        Amount("onions", Decimal("0.3"), "kg"),
        Amount("onions", Decimal(2)),
        Amount("salt", Decimal(2), "%", ("flour",), Decimal(12)),
        Amount("milk", Decimal(1), "L"),
        Amount("milk", Decimal(500), "ml"),
        Amount("water", Decimal(3), "L"),
    ]
    assert [(each.name, each.quantity, each.unit) for each in totals(given)] == [
        ("onions", Decimal("500.0"), "g"),
        ("onions", Decimal(2), ""),
        ("salt", Decimal(12), "g"),
        ("milk", Decimal(1500), "ml"),
    ]


def test_shopping_for_one_day_is_what_to_buy_on_it() -> None:
    """The weekday that was named, the next one to come; what has to be bought before is not on it."""
    said = lines(say.Shopping(KITCHEN.view("11-18 12:00"), "fri"))
    assert said == ["To have or to buy on Fri 20 Nov", "- dried chickpeas 600 g"]


def test_a_long_list_is_packed() -> None:
    """More than a dozen things go several to a line."""
    made = KITCHEN.plan
    spices = tuple(Amount(f"spice {n}", Decimal(n), "g") for n in range(1, 41))
    first = replace(made.components[0].steps[0], amounts=spices)
    part = replace(made.components[0], steps=(first, *made.components[0].steps[1:]))
    plan = replace(made, components=(part, *made.components[1:]))
    said = lines(say.Shopping(Kitchen(plan).fresh("11-10 08:00"), ""))
    assert "- spice 1 1 g, spice 2 2 g, spice 3 3 g" in said and len(said) == 13
    assert re.fullmatch(r"- and \d+ lines more", said[-1])


@pytest.mark.parametrize(
    ("asked", "limit"),
    [
        ("the stock sat out for three hours", "FDA Food Code 2013, 3-501.19"),
        ("is this safe to eat", "FDA Food Code 3-501.14"),
        ("there is mould on it", "21 CFR 114.3"),
        ("can kidney beans go in the slow cooker", "FDA Bad Bug Book, 2nd ed."),
        ("is the stock all right", "FDA Food Code 3-501.14"),  # the caution of a step it names
    ],
)
def test_a_question_of_safety_is_answered_with_the_published_limit(asked: str, limit: str) -> None:
    """The limit and its source, the deferral at the end, and no claim."""
    said = lines(say.Caution(KITCHEN.view("11-20 12:00"), asked))
    assert any(limit in line for line in said) and said[-1] == DEFERRAL
    assert not re.search(r"\bsafe", "\n".join(said), re.IGNORECASE)


def test_catching_up_leaves_out_what_is_stale() -> None:
    """Only what is still to do, in order of time, with the buttons of the most pressing."""
    view = KITCHEN.view("11-20 22:00", unsaid=[BEANS])
    held = nudge(About.START, Stage.CLOSING, BEANS, "11-20 20:00")
    over = nudge(About.START, Stage.NOW, "Chill the jar", "11-20 18:20")
    answer = say.CatchUp((view,), ((7, over), (7, held)), day("11-20 17:55"), view.now)
    assert lines(answer) == [
        "While I was away (since 17:55), this fell due",
        "- Soak the chickpeas, planned for 20:00. It can wait until 22:25 today.",
    ]
    assert deeds(answer)[0] == Deed(Verb.START, 7, step(BEANS))
    calm = replace(answer, nudges=((7, over),))
    assert lines(calm)[0] == "While I was away (since 17:55), nothing fell due that is still to do"


def test_choices_are_numbered_so_that_a_number_can_answer() -> None:
    """Names on the buttons where they fit, in full in the text."""
    choices = (
        ("Drain the chickpeas", deed(Verb.DONE, "Drain the chickpeas")),
        ("Slice the bread and dish up", deed(Verb.DONE, LOAF)),
    )
    answer = say.AskWhich(BEFORE, "done", choices)
    assert lines(answer) == ["Which one is done?", "1. Drain the chickpeas", "2. Slice the bread and dish up"]
    assert labels(answer) == ["Drain the chickpeas", "2. Slice the bread and…"]


def test_a_question_back_has_both_answers() -> None:
    """Yes in the words of what it does, and no."""
    answer = say.Confirm("Leave “Carrot pickle” out of this meal?", deed(Verb.LEAVE_OUT, CARROTS), 7)
    assert labels(answer) == ["Leave it out", "No"]
    assert deeds(answer)[1] == Deed(Verb.KEEP, 7)


def test_until_when_says_how_long_it_can_wait() -> None:
    """The times offered, and the last call."""
    answer = say.AskUntil(
        KITCHEN.view("11-20 20:05", unsaid=[BEANS]), step(BEANS), None, (day("11-20 20:20"),)
    )
    assert "It can wait until 22:25 today." in lines(answer)
    assert deeds(answer) == [Deed(Verb.LATER, 7, step(BEANS), until=day("11-20 20:20"))]


def test_timers_and_quiet() -> None:
    """When they end, on the cook's clock."""
    assert lines(say.TimerSet("onions", timedelta(minutes=4), day("11-20 20:05"), ZONE)) == [
        "Onions: 4 min, until 20:05"
    ]
    assert lines(say.TimerGone("", found=False)) == ["No such timer is running"]
    quiet = say.QuietUntil(day("11-21 07:00"), ZONE, day("11-20 22:00"))
    assert lines(quiet)[0] == "Quiet until 07:00 tomorrow"


def test_getting_to_know_each_other_asks_one_thing_at_a_time() -> None:
    """The kitchen's place, then the waking hours, then a plan."""
    assert lines(say.Welcome("Ada"))[0] == "Hello, Ada. Tell me where your kitchen is"
    nearest = lines(say.ZoneUnclear("Pariss", ("Europe/Paris", "Europe/Prague")))
    assert nearest[-2:] == ["1. Europe/Paris", "2. Europe/Prague"]
    assert lines(say.AskHours(ZONE, day("11-10 08:00")))[0] == "Now say when you are awake"
    assert lines(say.Settled(ZONE, "07:00-22:30"))[0] == "Now send me a plan"
