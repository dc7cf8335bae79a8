"""What is next, a day, the whole plan, when a step is and why."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date

import pytest

from scheduler import words
from scheduler.commands import Target
from scheduler.domain.marks import MarkKind
from scheduler.domain.timetable import Slot
from scheduler.planners import Here
from scheduler.service import answers as say
from scheduler.service.deeds import Deed, Verb
from scheduler.service.explaining import why
from scheduler.service.view import View
from tests.wording_kit import BEANS, CARROTS, KITCHEN, LOAF, deeds, labels, lines, put
from tests.wording_kitchen import mark, step, timetable


def test_next_gives_the_order_what_runs_and_three_things_more() -> None:
    """What is due now first; later things of different kinds with their times."""
    view = KITCHEN.view("11-21 13:28", unsaid=["Drain the chickpeas"])
    assert lines(say.NextIs(view)) == [
        "Now: Drain the chickpeas",
        "It was planned for 13:25. It can wait until 13:40 today.",
        "Then 13:30 Simmer the chickpeas",
        "Then 15:30 Brown the lamb (Stew)",
        "Then 16:00 Bake the stew",
    ]
    assert labels(say.NextIs(view)) == ["Done", "Why now", "Today"]


def test_next_while_hands_are_full() -> None:
    """Work under way is what is now, with its end."""
    view = KITCHEN.view("11-21 15:40")
    assert lines(say.NextIs(view))[0] == "Under way: Brown the lamb (Stew), until 16:00"
    assert deeds(say.NextIs(view))[0] == Deed(Verb.DONE, 7, step("Brown the lamb"))


def test_nothing_far_ahead_is_offered_to_be_marked() -> None:
    """A button pressed by mistake must not begin what is ten hours away."""
    assert labels(say.NextIs(KITCHEN.fresh("11-10 08:00"))) == ["Why then", "Today"]


def test_a_touch_overtaken_by_the_next_is_not_asked_for() -> None:
    """Of touches nobody spoke of, only the latest is still to do."""
    view = KITCHEN.view("11-13 19:00")
    kept = tuple(each for each in view.marks if each.occurrence is None)
    forgotten = replace(view, marks=kept, progress=replace(view.progress, touched=frozenset()))
    assert lines(say.NextIs(forgotten))[:2] == [
        "Now: Vent the lid (Carrot pickle)",
        "It was planned for 18:20.",
    ]


def test_another_day_is_listed_without_what_runs_now() -> None:
    """The things of that day by the clock, and the meal on its day."""
    said = lines(say.DayIs(KITCHEN.view("11-20 12:00"), date(2026, 11, 21)))
    assert said[0] == "Sat 21 Nov: 8 things, the first at 09:00" and said[-1] == "On the table at 19:30"
    assert not any(line.startswith("Running") for line in said)


def test_a_day_that_is_over_says_what_was_done() -> None:
    """Looking back at a day."""
    said = lines(say.DayIs(KITCHEN.view("11-20 12:00"), date(2026, 11, 19)))
    assert said == ["Thu 19 Nov: over", "Done: Feed the starter"]


def test_the_looks_of_a_day_are_among_its_things() -> None:
    """A day on which there is only something to look at is not an empty day."""
    view = KITCHEN.view("11-18 07:10", mark(MarkKind.STARTED, CARROTS, "11-10 18:20"))
    assert any("Have a look: Carrots ferment" in line for line in lines(say.DayIs(view, date(2026, 11, 18))))


def test_the_whole_plan_by_days() -> None:
    """Each working day's number of things and minutes of work; days with touches only in one line."""
    assert lines(say.PlanIs(KITCHEN.fresh("11-10 08:00"))) == [
        "Supper by the stove: served on Sat 21 Nov at 19:30",
        "0 of 19 steps done.",
        "Tue 10 Nov: 1 thing, 20 min of work, from 18:00",
        "Thu 19 Nov: 2 things, 10 min of work, from 11:00",
        "Fri 20 Nov: 5 things, 20 min of work, from 09:30",
        "Sat 21 Nov: 8 things, 56 min of work, from 09:00",
        "On 5 other days only: Vent the lid (Carrot pickle)",
        "Next, at 18:00: Salt and pack the carrots.",
    ]


def test_when_answers_by_where_a_step_stands() -> None:
    """To come, under way, over."""
    view = KITCHEN.view("11-20 12:00")
    assert lines(say.WhenIs(view, Target(step(LOAF), LOAF))) == [
        "Bake the loaf: at 09:00 tomorrow",
        "Takes 50 min, until 09:50 tomorrow, then “Cool the loaf”.",
        "It may begin between 09:00 and 12:00 tomorrow.",
    ]
    assert lines(say.WhenIs(view, Target(step(CARROTS), CARROTS)))[0] == "Carrots ferment, day 10 of 7 to 10"
    over = say.WhenIs(view, Target(step("Feed the starter"), "Feed the starter"))
    assert lines(over) == ["Feed the starter (Rye loaf): over since 21:10 yesterday"]


def test_when_of_a_touch_and_of_a_whole_part() -> None:
    """The next touch and those after it; the steps of a part that are left."""
    touch = say.WhenIs(KITCHEN.view("11-13 12:00"), Target(step(CARROTS), "Vent the lid", tend=True))
    assert lines(touch)[:2] == ["Vent the lid: next at 18:20", "3rd of 5, during “Carrots ferment”."]
    part = say.WhenIs(KITCHEN.view("11-20 12:00"), Target(step("Feed the starter"), "Rye loaf", whole=True))
    assert lines(part) == [
        "Rye loaf: what is left of it",
        "Running: Cold proof, until Sat 03:50",
        "Sat 09:00 Bake the loaf",
        "Sat 09:50 Cool the loaf",
    ]


def told_why(view: View, number: int) -> say.WhyIs:
    return why(view, Target(number, view.plan.steps[number].name), Here())


def test_why_says_how_late_how_early_and_what_is_preferred() -> None:
    """Each side a line with its numbers: bedtime, what follows and by when, the meal; what is in hand."""
    assert lines(told_why(KITCHEN.view("11-20 12:00"), step(BEANS))) == [
        "Soak the chickpeas, at 20:00, because:",
        "No later than 22:25: you are asleep from 22:30 to Sat 07:00; it takes at least 12 h; "
        "“Simmer the chickpeas” may take 1 h 45 min and has to begin by Sat 14:15; the meal is at Sat 19:30.",
        "No earlier than 18:45: “Drain the chickpeas” has to follow it at once and cannot begin before Sat 12:45; "
        "then 5 more steps; “Slice the bread and dish up” may wait 5 min for the meal at Sat 19:30.",
        "Planned for 20:00: that leaves 2 h 25 min in hand.",
    ]


def test_why_of_what_is_under_way_over_or_past_saving() -> None:
    """Since when and until when; a step over says when it was; one that no longer fits, how and how long."""
    view = KITCHEN.view("11-20 12:00")
    assert lines(told_why(view, step(CARROTS)))[0] == "Carrots ferment, since Tue 10 Nov 18:20"
    assert lines(told_why(view, step("Cool the stock")))[1] == (
        "Only at 15:00: it has to follow “Simmer the bones” at once; “Simmer the bones” ends at 15:00."
    )
    assert lines(told_why(view, step("Feed the starter"))) == [
        "Feed the starter (Rye loaf): over since 21:10 yesterday"
    ]
    late = told_why(KITCHEN.view("11-21 15:40"), step("Bake the stew"))
    assert lines(late)[0] == "Bake the stew, at 16:00" and lines(late)[1].startswith(
        "Takes 2 h to 2 h 30 min"
    )


def test_why_without_time_to_find_out_says_when() -> None:
    """No reasons at hand: when it is, and how far it may move."""
    view = KITCHEN.view("11-20 12:00")
    assert lines(say.WhyIs(view, Target(step(BEANS), BEANS)))[0] == "Soak the chickpeas: at 20:00"


@pytest.mark.parametrize("slot", timetable().slots, ids=lambda slot: KITCHEN.plan.steps[slot.step].name)
def test_every_figure_of_a_reason_follows_from_plan_and_timetable(slot: Slot) -> None:
    """Figures out of the plan and out of the reasons (see test_reasons): none is left over."""
    view = KITCHEN.fresh("11-09 12:00")
    answer = told_why(view, slot.step)
    text = put(answer).text
    for phrase in sorted(_true_phrases(view, answer), key=len, reverse=True):
        text = text.replace(phrase, "")
    text = re.sub(r"then \d+ more steps?|only 1 oven", "", text)
    assert not re.search(r"\d", text), text
    assert len(put(answer).text.splitlines()) <= 6


def _true_phrases(view: View, answer: say.WhyIs) -> set[str]:
    """Every length and time that a reason may speak of, as it would be put."""
    found, slot = answer.reasons, view.timetable.slot(answer.target.step)
    assert found is not None and slot is not None
    known = {words.length(step.range.planned()[0]) for step in view.plan.steps}
    known |= {words.length(link.longest) for link in view.plan.links if link.longest}
    known.add(words.length(found.latest - found.start))
    moments = [found.latest, found.earliest, found.start, view.now]
    for reason in (*found.no_later, *found.no_earlier, *found.preferred):
        moments += [at for at in (reason.at, reason.by, reason.since, reason.until) if at]
    for moment in moments:
        known |= {words.brief(moment, view.zone, slot.start), words.clock(moment, view.zone)}
    return known | {words.at_time(slot.start, view.zone, view.now)}


def test_what_hangs_on_a_missed_step_is_not_asked_for() -> None:
    """Long after its last call a step is still to do; what follows it waits until that is settled."""
    view = KITCHEN.view("11-19 07:10", unsaid=["Salt and pack the carrots"])
    told = lines(say.DayIs(view, date(2026, 11, 19)))
    assert told[0] == "Today, Thu 19 Nov: 3 things, the first at once"
    assert told[1] == "Tue 10 Nov 18:00 Salt and pack the carrots"
    assert not any("Vent the lid" in line for line in told)
    friday = lines(say.DayIs(view, date(2026, 11, 20)))
    assert not any("Chill the jar" in line for line in friday)
