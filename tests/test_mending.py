"""Bets in words, what would mend them, and timetables chosen because they are none."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import timedelta

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from bot.promised import as_json, as_text
from bot.report import as_json as reported
from scheduler import promised
from scheduler.bets import bets_on
from scheduler.domain.check import check
from scheduler.domain.hours import Dated, local
from scheduler.domain.plan import Plan
from scheduler.domain.progress import at_the_start
from scheduler.domain.promise import Break, Lasting, Trouble, promise
from scheduler.domain.slack.room import minute
from scheduler.domain.timetable import Timetable
from scheduler.keeping import surer
from scheduler.mending import Mend, changed
from scheduler.planning import time_out, within
from scheduler.service.intake import warnings
from scheduler.solver import Bound, Task, solve
from tests.plans_for_tests import (
    NOW,
    SERVED,
    at,
    component,
    cook,
    number_of,
    plan,
    plans,
    slot,
    span,
    step,
    timetable,
)
from tests.promise_kit import MORNING, a_rise_till_bedtime, beans, bet_on, bundled, of_beans, timed


def test_a_bet_is_told_in_the_words_of_the_plan() -> None:
    """What it is on, up to which length all is well, and what goes wrong."""
    made = of_beans("1 h", usually="1 h 20 min")
    given = beans(made, "17:40", "19:00")
    found = promise(made, given, MORNING)
    assert promised.bet(made, given, found.breaks[0]) == (
        "If “Simmer” takes more than 1 h 30 min, the meal is late: “Dress and serve” is not done by 19:30."
    )
    short = of_beans("40 min")
    other = promise(short, beans(short, "17:10", "19:10"), MORNING)
    assert promised.bet(short, given, other.breaks[0]) == (
        "If “Simmer” takes less than 1 h 15 min, “Dress and serve” cannot follow “Simmer” within 40 min."
    )


def test_a_length_that_is_one_of_many_is_given_as_an_instance() -> None:
    """Any end in the night loses it; and what begins before another is over says before which."""
    ends = at("2026-12-12 19:10")
    made = of_beans("1 h")
    step_there = number_of(made, "Dress and serve")
    one = Lasting(number_of(made, "Simmer"), timedelta(hours=1, minutes=3))
    lost = Break((one,), Trouble("soon", step_there, minute(ends), one.step))
    assert promised.bet(made, beans(made, "17:10", "19:10"), lost) == (
        "If “Simmer” takes 1 h 3 min, for instance, “Dress and serve” has to begin Sat 12 Dec 19:10, before “Simmer”"
        " is over."
    )


def test_beginning_earlier_mends_a_long_time_and_keeping_a_short_one() -> None:
    """Each bet names what would do, and with it the promise is found kept."""
    made = of_beans("1 h", usually="1 h 20 min")
    texts = list(as_text(made, beans(made, "17:40", "19:00"), MORNING))
    assert texts[0] == "\nIt is a bet:"
    assert "  - Begin “Simmer” earlier, Sat 12 Dec 17:10." in texts
    assert "  - Plan “Simmer” at its longest, 2 h, in place of the usual time." in texts
    short = of_beans("40 min")
    found = as_json(short, beans(short, "17:10", "19:10"), MORNING)
    assert found["kept"] is False
    assert found["breaks"] == [{"component": "Beans", "step": "Simmer", "lasts": "1 h 14 min"}]
    assert "If what comes of “Simmer” may stand for 1 h, write “keeps: 1 h” there" in found["mends"]


def test_somebody_staying_up_is_offered_for_what_runs_past_bedtime() -> None:
    """A rise that may go on past half past ten is mended by somebody who stays up for it."""
    made, given = a_rise_till_bedtime()
    found = as_json(made, given, at("2026-12-12 12:00"))
    assert "Somebody awake and at home Sat 12 Dec 22:30 to 23:30" in found["mends"]
    assert found["because"] == (
        "If “Rise” takes more than 2 h 19 min, “Into the cold” has to begin Sat 12 Dec 22:30, when nobody who may"
        " do it is awake and at home."
    )


def test_a_kept_promise_is_said_in_one_line_and_a_plan_without_nature_says_nothing() -> None:
    """Nothing more than the one sentence, and in JSON no breaks and no mends."""
    made = of_beans("1 h")
    given = beans(made, "17:10", "19:10")
    assert list(as_text(made, given, MORNING)) == [f"\n{promised.KEPT}"]
    assert as_json(made, given, MORNING) == {
        "kept": True,
        "breaks": [],
        "because": None,
        "mends": [],
        "besides": [],
    }
    plain = plan(component("Soup", step("Cook", nearby="1 h", keeps="10 min")))
    soup = timetable(plain, "2026-12-12 19:30", slot(plain, "Cook", "2026-12-12 18:30", "2026-12-12 19:30"))
    assert list(as_text(plain, soup, MORNING)) == []


def test_the_report_has_the_promise_and_the_proposal_its_warning() -> None:
    """`check --json` carries it under "promise"; whoever is asked to agree is told in one sentence, first."""
    made = of_beans("40 min")
    given = beans(made, "17:10", "19:10")
    assert json.loads(json.dumps(reported(made, given, MORNING)))["promise"]["kept"] is False
    first = warnings(made, given, MORNING)[0]
    assert first.startswith("This is a bet: if “Simmer” takes less than 1 h 15 min, ")
    assert not any(text.startswith("This is a bet") for text in warnings(made, given))


def applied(made: Plan, given: Timetable, mend: Mend) -> tuple[Plan, Timetable | None]:
    """The plan and timetable after a mend, worked out here from what it says."""
    own = made.steps[mend.step]
    if mend.keeps is not None:
        assert mend.keeps > own.fresh_for
        return changed(made, replace(own, keeps=mend.keeps)), given
    if mend.longest is not None:
        plain = changed(made, replace(own, range=replace(own.range, usually=None)))
        again = time_out(plain, given.serve, NOW)
        return plain, again if isinstance(again, Timetable) else None
    if mend.home is not None:
        there = Dated(*(local(when, made.zone).replace(tzinfo=None) for when in mend.home))
        cooks = [
            replace(each, home=(*each.home, there)) if each.name == mend.cook else each
            for each in made.kitchen.cooks
        ]
        return replace(made, kitchen=replace(made.kitchen, cooks=tuple(cooks))), given
    assert mend.begin is not None
    bound = Bound(mend.step, not_before=mend.begin, not_after=mend.begin)
    return made, within(made, given.serve, NOW, at_the_start(made), (bound,))


@pytest.mark.slow
@settings(
    max_examples=15, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much]
)
@given(plans(), st.booleans())
def test_every_mend_that_is_shown_fits_and_mends(made: Plan, usual: bool) -> None:
    """Applied by hand, each leaves a timetable the verifier passes; what is said to mend wholly keeps the promise."""
    if usual:
        for each in made.steps:
            if each.range.by_nature:
                made = changed(made, replace(each, range=replace(each.range, usually=each.range.shortest)))
    given = time_out(made, SERVED, NOW)
    assume(isinstance(given, Timetable))
    assert isinstance(given, Timetable)
    found = bets_on(made, given, NOW)
    assert len(found.mends) == len(found.promise.breaks)
    for lost, mends in zip(found.promise.breaks, found.mends, strict=True):
        for mend in mends:
            assert promised.mended(made, mend)
            new, table = applied(made, given, mend)
            assert table is not None
            assert check(new, table, NOW) == ()
            for before, after in zip(made.steps, new.steps, strict=True):
                assert (after.range.shortest, after.range.longest) == (
                    before.range.shortest,
                    before.range.longest,
                )
                assert (after.oven, after.at) == (before.oven, before.at)
            if mend.begin is None:
                assert bet_on(new, table, NOW).kept_towards(lost.steps[0], lost.towards)
                assert not mend.wholly or promise(new, table, NOW).kept


# ---------------------------------------------------------------- preferring what keeps it


def test_of_timetables_that_fit_one_that_keeps_its_promise_is_preferred() -> None:
    """The roast of the bundled lunch could begin late enough to be a bet; the timetable chosen begins it sooner."""
    made = bundled("terrace-lunch.yaml")
    now = at("2027-06-01 09:00", made.zone)
    serve = at("2027-06-20 13:30", made.zone)
    first = solve(Task(made, at_the_start(made), now, serve))
    chosen = timed(made, serve, now)
    assert promise(made, chosen, now).kept
    assert check(made, chosen, now) == ()
    plain = replace(chosen, slots=first.slots)
    assert promise(made, plain, now).kept is False
    roast = number_of(made, "Roast the pork until it crackles")
    before, after = plain.slot(roast), chosen.slot(roast)
    assert before is not None
    assert after is not None
    assert after.start < before.start


def test_where_no_start_can_be_moved_the_first_timetable_stays() -> None:
    """A bet that no other start would mend costs nothing but the looking."""
    made = of_beans("40 min")
    given = beans(made, "17:10", "19:10")
    asked: list[tuple[Bound, ...]] = []

    def nothing(_: Plan, bounds: tuple[Bound, ...]) -> None:
        asked.append(bounds)

    assert surer(made, given, MORNING, at_the_start(made), nothing) is given
    assert len(asked) == 1


def test_the_other_timetable_is_one_of_the_plan_as_written() -> None:
    """For a cook whose mornings are short a long rise is begun the evening before, within the plan's own rules."""
    made = plan(
        component(
            "Loaf",
            step("Mix", hands_on="20 min"),
            step("Rise", unattended="8 h to 12 h", until="domed", usually="9 h", keeps="2 h"),
            step("Shape and bake", nearby="2 h", keeps="12 h"),
        ),
        cooks=[cook("Ada")],
    )
    serve, now = at("2026-12-12 19:30"), at("2026-12-10 12:00")
    chosen = timed(made, serve, now)
    assert check(made, chosen, now) == ()
    assert promise(made, chosen, now).kept
    first = solve(Task(made, at_the_start(made), now, serve))
    assert promise(made, replace(chosen, slots=first.slots), now).kept is False
    rise = chosen.slot(number_of(made, "Rise"))
    assert rise is not None
    assert rise.end - rise.start == span("9 h")


def test_a_bet_that_makes_the_meal_late_is_warned_of_in_few_words() -> None:
    """Whoever is to agree reads which step and how long, and that the meal is late: no more than fits a phone."""
    made = of_beans("1 h", usually="1 h 20 min")
    (first, *_) = warnings(made, beans(made, "17:40", "19:00"), MORNING)
    assert first.startswith("This is a bet: if “Simmer” takes more than ")
    assert first.endswith(", the meal is late.")
