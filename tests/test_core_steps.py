"""Steps with a core, from the plan file to the messages: what is said of them, and that nothing shortens them."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot import report
from bot.wording.lines import LINE
from scheduler import heat_words, words
from scheduler.changes import Change, ChangeKind, changed
from scheduler.domain.kitchen.hazards import DEFERRAL
from scheduler.domain.marks import MarkKind
from scheduler.domain.progress import Progress, end_bounds, fold
from scheduler.domain.timetable import Timetable
from scheduler.planfile import read
from scheduler.planning import time_out
from scheduler.service.deeds import Deed, Verb
from tests.core_kit import BATH, DUCK, OVEN, PORK, bagged, heat, step_of
from tests.plans_for_tests import mark
from tests.samples import with_steps
from tests.talk_kit import Talk, number, on, with_supper
from tests.ways_kit import misfit_of

MINUTE = timedelta(minutes=1)
PLAN = read(DUCK, zone="UTC")
STEP = PLAN.steps[1]
FLOOR = STEP.floor or timedelta(0)
DEFERRED = "ask a licensed professional"


def deed(talk: Talk, verb: Verb, at: datetime | None = None, until: datetime | None = None) -> str:
    view = talk.view()
    return talk.press_data(Deed(verb, view.id, number(view, BATH), at=at, until=until).encode())


# ---------------------------------------------------------------- what is said


def test_what_was_worked_out_is_said_when_the_step_begins() -> None:
    """How soon the middle is hot, how long at least, for which reduction by which source; one deferral."""
    talk = bagged()
    said, worked = talk.last.text, heat(step_of(talk))
    assert f"Middle at 57 C after {words.length(worked.heats)}; at least {words.length(FLOOR)} for " in said
    assert all(each.source.name in said for each in worked.met)
    assert worked.warnings[0] in said
    assert said.count(DEFERRAL) == 1 and said.endswith(DEFERRAL) and "safe" not in said.lower()
    assert (
        "Count the time from when the middle is hot" not in said
    )  # the time that is told begins with the bath


def test_a_step_that_is_begun_by_hand_says_it_in_its_own_message() -> None:
    """An oven is begun by someone, who is told then."""
    talk = with_supper(on(8, "20:00"), PORK)
    talk.wait_until(talk.slot(OVEN).start)
    said = talk.nudge(OVEN).text
    assert "Middle at 65 C after " in said and said.count(DEFERRAL) == 1
    assert all(line.split(" (")[0] in said for line in heat_words.of_step(step_of(talk, OVEN)))


def test_a_look_says_what_has_been_met_by_then() -> None:
    """From its shortest time on the cook is asked to look, and what was worked out is met."""
    talk = with_supper(on(8, "20:00"), PORK)
    began = talk.slot(OVEN).start
    talk.wait_until(began)
    talk.say("started the pork")
    talk.wait_until(began + (step_of(talk, OVEN).floor or timedelta(0)) + 5 * MINUTE)
    look = talk.nudge("Have a look").text
    assert "that meets " in look and "not yet" not in look and look.count(DEFERRED) == 1


def test_the_end_of_an_oven_step_says_what_has_been_met() -> None:
    """What is to be taken off at its time has had its limit."""
    talk = with_supper(
        on(8, "20:00"), PORK.replace("        until: brown all over\n        usually: 3 h\n", "")
    )
    began = talk.slot(OVEN).start
    talk.wait_until(began)
    talk.say("started the pork")
    talk.wait_until(talk.slot(OVEN).end)
    end = talk.nudge("Time is up").text
    assert f"It has had {words.length(talk.now - began)}: that meets " in end and end.count(DEFERRED) == 1


def test_what_follows_a_bath_says_what_the_bath_has_met() -> None:
    """Nobody is asked to end a bath: the next step's message says how long it has had."""
    talk = bagged()
    talk.wait_until(talk.slot("Chill the duck").start)
    said = talk.nudge("Chill the duck").text
    assert f"“{BATH}” has had " in said and ": that meets " in said and said.endswith(DEFERRAL)


def test_check_tells_the_shortest_length() -> None:
    """Below the step's line, and as a key of its own for steps with a core only."""
    timing = time_out(PLAN, on(9, "19:30"), on(8, "20:00"))
    assert isinstance(timing, Timetable)
    text = "\n".join(report.as_text(PLAN, timing, on(8, "20:00")))
    steps = report.as_json(PLAN, timing)["steps"]
    assert heat_words.of_step(STEP)[0] in text
    assert [step["name"] for step in steps if "shortest_because" in step] == [BATH]
    assert next(step for step in steps if step["name"] == BATH)["shortest_because"].startswith(
        "Middle at 57 C"
    )


def test_why_names_what_the_length_is_for() -> None:
    """The reason of what comes before, and of a misfit: so long, for that reduction."""
    talk = with_supper(on(8, "20:00"), DUCK)
    wanted = heat_words.wanted_for(STEP)
    assert f"takes at least {words.length(FLOOR)}, for {wanted}" in talk.say("why salt the duck then")
    because = misfit_of(PLAN, on(9, "19:30"), on(9, "16:00")).because
    assert f"“{BATH}” takes at least {words.length(FLOOR)}, for {wanted}" in because


def test_a_step_made_longer_is_told_when_the_plan_arrives() -> None:
    """The remark comes with the proposal, before the plan is in use."""
    talk = Talk(on(8, "20:00"))
    assert f"“{BATH}” lasts at least {words.length(FLOOR)}, not 1 h, for 7-log Salmonella" in talk.send(DUCK)


# ---------------------------------------------------------------- nothing makes it shorter


def test_done_too_early_is_asked_with_what_remains() -> None:
    """How long remains of which published limit; a no leaves it in the bath."""
    talk = bagged()
    talk.wait_until(on(9, "12:30"))
    remain, limit = words.length(FLOOR - timedelta(hours=1)), heat_words.still_for(STEP, timedelta(hours=1))
    assert talk.say("the duck in the bath is done") == (
        f"“{BATH}” has run 1 h; {remain} remain of {words.length(FLOOR)} for {limit}. Is it really over?"
    )
    assert talk.labels == ["It is over", "Not yet"] and talk.state(BATH) == "running"
    assert "stays as it is" in talk.press("Not yet") and talk.state(BATH) == "running"


def test_insisted_on_it_is_marked_and_told_plainly() -> None:
    """It counts as done, and the limit that was not met is named, with the deferral."""
    talk = bagged()
    talk.wait_until(on(9, "12:30"))
    talk.say("the duck in the bath is done")
    said = talk.press("It is over")
    assert talk.state(BATH) == "done" and said.startswith(f"Done: {BATH}")
    assert f"“{BATH}” had 1 h of {words.length(FLOOR)}; this was not met: 7-log Salmonella" in said
    assert said.endswith(DEFERRAL)


@pytest.mark.parametrize("said", ["started chilling the duck", "chilled the duck", "seared the duck"])
def test_what_comes_after_is_asked_about_too(said: str) -> None:
    """Whatever implies that the bath is over, however far on, is asked about first and told of after."""
    talk = bagged()
    talk.wait_until(on(9, "12:30"))
    assert "remain of" in talk.say(said) and talk.state(BATH) == "running"
    assert "this was not met: 7-log Salmonella" in talk.press("It is over")


def test_a_time_put_right_afterwards_is_asked_about() -> None:
    """Done in time, then said to have been done long before."""
    talk = bagged()
    talk.wait_until(on(9, "11:30") + FLOOR + 5 * MINUTE)
    assert "not met" not in talk.say("the duck in the bath is done")
    assert "remain of" in deed(talk, Verb.DONE, at=on(9, "12:30"))
    assert "this was not met: 7-log Salmonella" in talk.press("It is over")


def test_after_its_limit_it_is_done_without_a_question() -> None:
    """Nothing stands in the way of a bath that has had its time."""
    talk = bagged()
    talk.wait_until(on(9, "11:30") + FLOOR)
    said = deed(talk, Verb.DONE)
    assert said.startswith(f"Done: {BATH}") and "not met" not in said


def test_leaving_it_out_is_asked_about() -> None:
    """Skipped, the limit is not met: that is said before and after."""
    talk = bagged()
    assert "this is not met: 7-log Salmonella" in deed(talk, Verb.SKIP) and talk.state(BATH) == "running"
    assert "this was not met: 7-log Salmonella" in talk.press("Leave it out")


def test_an_end_wished_too_soon_is_put_at_the_limit() -> None:
    """A cook may say until when it goes on, and it goes on as long as it needs."""
    talk = bagged()
    said = deed(talk, Verb.LATER, until=on(9, "13:00"))
    assert talk.view().progress.of(number(talk.view(), BATH)).expected == on(9, "11:30") + FLOOR
    assert talk.slot(BATH).end >= on(9, "11:30") + FLOOR
    assert f"at least, for {heat_words.wanted_for(STEP)}" in said


def begun_until(started: datetime, until: datetime, now: datetime) -> Progress:
    return fold(
        PLAN, [mark(MarkKind.STARTED, 1, started), mark(MarkKind.LATER, 1, started, until=until)], now
    )


@settings(max_examples=60, deadline=None)
@given(st.integers(1, 700), st.integers(0, 700))
def test_whatever_end_is_wished_it_is_planned_no_sooner(wished: int, passed: int) -> None:
    """For any wish, said at any time, the planned end of a running step leaves it its limit."""
    started = on(9, "11:30")
    now = started + passed * MINUTE
    standing = begun_until(started, started + wished * MINUTE, now).of(1)
    assert end_bounds(STEP, standing, now)[0] >= started + FLOOR


def test_no_way_out_shortens_it_or_leaves_it_out() -> None:
    """With too little time, every remedy keeps the step and its length, even where the step may be left out."""
    optional = read(
        DUCK.replace("unattended: 1 h to 8 h", "optional: true\n        unattended: 1 h to 8 h"), zone="UTC"
    )
    found = misfit_of(optional, on(9, "19:30"), on(9, "16:00"))
    assert found.remedies
    for remedy in found.remedies:
        assert remedy.what is not None and remedy.what.kind is not ChangeKind.SKIP
        after = changed(optional, (remedy.what,))
        assert (after.steps[1].range, after.steps[1].floor) == (STEP.range, FLOOR)


def test_a_change_of_its_length_keeps_to_the_limit() -> None:
    """As long as the limit is fine, a minute less is refused, and so is another temperature for the same time."""
    least = int(FLOOR / MINUTE)
    assert changed(PLAN, (Change(ChangeKind.LASTS, step=1, shortest=least),)).steps[1].range.shortest == FLOOR
    with pytest.raises(ValueError, match="may not be shorter"):
        changed(PLAN, (Change(ChangeKind.LASTS, step=1, shortest=least - 1),))
    with pytest.raises(ValueError, match="for the temperature the plan says"):
        changed(PLAN, (Change(ChangeKind.LASTS, step=1, shortest=least, at_c=55.0),))


@settings(max_examples=8, deadline=None)
@given(st.integers(0, 16))
def test_any_timetable_gives_it_its_limit(half_hours: int) -> None:
    """Wherever the serving hour falls, the step is at least as long as was worked out."""
    timing = time_out(PLAN, on(10, "12:00") + half_hours * 30 * MINUTE, on(8, "20:00"))
    slot = timing.slot(1) if isinstance(timing, Timetable) else None
    assert slot is not None and slot.end - slot.start >= FLOOR


@pytest.mark.parametrize("food", ["meat", "poultry", "ground", "fish", "plant"])
@pytest.mark.parametrize("at", [55, 65, 75, 95])
def test_every_line_fits_a_phone(food: str, at: int) -> None:
    """Whatever is met, by whichever sources, no line is cut short."""
    core = f"core: {{shape: slab, thickness: 30 mm, at: {at} C, start: 4 C, food: {food}}}"
    step = read(with_steps(f"name: Heat it, at: {at} C, {core}"), zone="UTC").steps[0]
    lengths = [5 * MINUTE, timedelta(hours=1), timedelta(hours=12)]
    had = [heat_words.had(step, lasted, f"“{'x' * 40}”") for lasted in lengths]
    assert all(len(line) <= LINE for line in [*heat_words.of_step(step), *had])
