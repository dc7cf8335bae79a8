"""A cook's own times count: what starters took before is looked up when a plan arrives, and told."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

import pytest

from scheduler.changes import Change, ChangeKind
from scheduler.domain.check import check
from scheduler.domain.kitchen.ripeness import Observed
from scheduler.domain.kitchen.starter import Feed
from scheduler.planfile import read
from scheduler.records import PlanStatus
from scheduler.service.deeds import Deed, Verb
from scheduler.service.learning import learned
from tests.starter_plans import LOAF, ZONE, cooked, on_day, served, settled, with_ripens
from tests.talk_kit import Talk

MINUTES = timedelta(minutes=1)
TOOK = timedelta(hours=5, minutes=30)
LINE = "Your starter took 5 h 30 min last time at 22 C: I count on 4 h 35 min to 6 h 35 min."


def proposed(talk: Talk, source: str) -> str:
    """What is said about a plan that arrives."""
    return talk.send(source)


def lasts(talk: Talk) -> tuple[int, int, int]:
    """Shortest, usual and longest minutes of the starter of the newest plan, as it is read back."""
    found = talk.view().step(1).range
    assert found.longest is not None and found.usually is not None
    return found.shortest // MINUTES, found.usually // MINUTES, found.longest // MINUTES


@pytest.fixture(scope="module")
def after_one() -> Talk:
    """The loaf of the 3rd of May cooked, its starter ripe after 5 h 30 min."""
    return cooked(settled(), 3, TOOK)


def test_the_first_plan_is_counted_by_the_rule_of_thumb() -> None:
    """Nothing was learned yet; the remark says that it is from memory."""
    talk = settled()
    said = proposed(talk, LOAF)
    assert "from memory" in said and "Your starter" not in said
    assert talk.view().row.changes == () and lasts(talk) == (250, 335, 435)


def test_the_next_plan_counts_on_what_the_last_one_took(after_one: Talk) -> None:
    """One line says so, the plan is read with it, and its timetable passes the verifier."""
    talk = after_one.fork()
    assert f"- {LINE}" in proposed(talk, LOAF).splitlines()
    (change,) = talk.view().row.changes
    assert (change.kind, change.step, change.took, change.took_at_c) == (ChangeKind.LASTS, 1, 330, 22.0)
    assert lasts(talk) == (275, 330, 395)
    view = talk.view()
    assert check(view.plan, view.timetable, view.now, view.progress) == ()


def test_it_is_planned_at_the_new_length(after_one: Talk) -> None:
    """The slot of the starter is as long as the last one took."""
    talk = after_one.fork()
    proposed(talk, LOAF)
    slot = talk.slot("Starter ripens")
    assert slot.end - slot.start == TOOK


def test_it_holds_in_use_through_marks_and_undo(after_one: Talk) -> None:
    """Marking something and taking it back leaves what was learned as it was."""
    talk = after_one.fork()
    proposed(talk, LOAF)
    talk.press("Use this plan")
    talk.wait_until(talk.slot("Feed the starter").end)
    talk.say("fed the starter")
    assert lasts(talk) == (275, 330, 395)
    assert talk.say("undo").startswith("Taken back")
    assert lasts(talk) == (275, 330, 395) and talk.view().row.changes[0].took == 330


def test_another_hour_does_not_undo_it(after_one: Talk) -> None:
    """A draft moved to another hour keeps it, and says it again."""
    talk = after_one.fork()
    proposed(talk, LOAF)
    deed = Deed(Verb.SERVE, talk.view().id, at=on_day(10, "20:30"))
    assert LINE in talk.press_data(deed.encode())
    assert talk.view().serve == on_day(10, "20:30") and lasts(talk) == (275, 330, 395)


def test_a_plan_without_an_hour_learns_too(after_one: Talk) -> None:
    """What is asked for first is the hour; then the proposal counts on it."""
    talk = after_one.fork()
    proposed(talk, LOAF.replace("serve: 2026-05-10 19:30\n", ""))
    assert LINE in talk.say("2026-05-10 19:30")


def test_the_message_says_that_it_is_the_cooks_own(after_one: Talk) -> None:
    """And no longer that it is a rule of thumb."""
    talk = after_one.fork()
    proposed(talk, LOAF)
    talk.press("Use this plan")
    fed = talk.slot("Feed the starter").end
    talk.wait_until(fed)
    talk.say("fed the starter")
    talk.wait_until(fed + timedelta(hours=5))
    look = talk.nudge("Starter ripens").text
    assert "Fed 1:1:1, at 22 C. How long is counted from your own last times." in look


def test_a_written_time_is_left_alone(after_one: Talk) -> None:
    """What the cook wrote counts for more than what was learned."""
    talk = after_one.fork()
    written = with_ripens("        unattended: 5 h to 9 h\n        ripens: {ratio: 1:1:1, at: 22 C}\n")
    assert "Your starter" not in proposed(talk, written) and talk.view().row.changes == ()


def test_another_feed_and_temperature_are_worked_out_from_it(after_one: Talk) -> None:
    """The line tells the time that was, and counts on what follows for this feed."""
    talk = after_one.fork()
    said = proposed(talk, with_ripens("        ripens: {ratio: 1:2:2, at: 24 C}\n"))
    assert "Your starter took 5 h 30 min last time at 22 C: I count on 5 h 35 min to 8 h 30 min." in said


def test_a_plan_stopped_in_the_middle_teaches_as_well(after_one: Talk) -> None:
    """Whatever became of the bread, the starter was ripe when it was."""
    talk = after_one.fork()
    talk.say("stop the plan")
    talk.say("yes")
    assert talk.plans()[0].status is PlanStatus.STOPPED
    assert LINE in proposed(talk, LOAF)


def test_two_starters_are_told_apart(after_one: Talk) -> None:
    """With more than one in a plan, each line says which it is about."""
    talk = after_one.fork()
    second = (
        "      - name: Starter ripens again\n        ripens: {ratio: 1:2:2, at: 24 C}\n        keeps: 1 h\n"
    )
    said = proposed(
        talk, LOAF.replace("      - name: Mix the dough\n", f"{second}      - name: Mix the dough\n")
    )
    assert "for “Starter ripens”." in said and "for “Starter ripens again”." in said
    assert len(talk.view().row.changes) == 2


# ---------------------------------------------------------------- what teaches nothing


def test_the_end_alone_is_no_measure() -> None:
    """ "The starter is ripe", of one of which nobody said when it was fed: the start is only what was planned."""
    talk = settled()
    talk.clock.move_to(on_day(2, "12:00"))
    talk.send(served(3))
    talk.press("Use this plan")
    talk.wait_until(talk.slot("Starter ripens").end)
    talk.say("the starter is ripe")
    assert talk.state("Starter ripens") == "done"
    assert "Your starter" not in proposed(talk, LOAF)


def test_what_was_taken_back_is_no_measure(after_one: Talk) -> None:
    """The mark of its end is undone: the starter is not ripe after all."""
    talk = after_one.fork()
    talk.say("undo")
    assert talk.state("Starter ripens") == "running"
    assert "Your starter" not in proposed(talk, LOAF)


def test_a_word_much_too_early_is_no_measure() -> None:
    """Less than a third of what the rule of thumb says is something else than a starter; it is ripe all the same."""
    talk = cooked(settled(), 3, timedelta(hours=1, minutes=30))
    talk.press("It is over")
    assert talk.state("Starter ripens") == "done"
    assert "Your starter" not in proposed(talk, LOAF)


def test_a_slow_starter_in_the_cold_stays_with_the_rule_of_thumb() -> None:
    """By its own times it would take more than a week, of which nothing is known."""
    plan = read(with_ripens("        ripens: {ratio: 1:5:5, at: 12 C}\n"), zone=ZONE)
    slow = Observed(Feed(Decimal(1), Decimal(1), Decimal(1)), 22.0, timedelta(hours=12))
    assert learned(plan, [slow]) == () and len(learned(plan, [replace(slow, lasted=TOOK)])) == 1


def test_a_usual_time_of_the_cooks_own_stays() -> None:
    """With `usually:` the cook has said what to plan by."""
    own = "        ripens: {ratio: 1:1:1, at: 22 C}\n        until: it floats\n        usually: 6 h\n"
    quick = Observed(Feed(Decimal(1), Decimal(1), Decimal(1)), 22.0, TOOK)
    assert learned(read(with_ripens(own), zone=ZONE), [quick]) == ()


def test_what_was_learned_is_stored_as_plain_data() -> None:
    """And comes back as it was."""
    quick = Observed(Feed(Decimal(1), Decimal(1), Decimal(1)), 22.0, TOOK)
    (change,) = learned(read(LOAF, zone=ZONE), [quick])
    assert Change.from_json(change.as_json()) == change
    assert change.as_json()["took"] == 330


def test_a_plan_that_no_longer_reads_teaches_nothing(after_one: Talk) -> None:
    """One stored by an earlier version is passed over, and the new one is taken."""
    talk = after_one.fork()
    talk.say("stop the plan")
    talk.say("yes")
    for row in talk.store.world.plans.values():
        row.source = row.source.replace("crockbell: 1", "crockbell: 0")
    assert "Your starter" not in proposed(talk, LOAF)
    assert len(talk.plans()) == 2


def test_the_latest_of_several_is_told() -> None:
    """After a slower one the line names that, and the range lies between the two."""
    talk = cooked(cooked(settled(), 3, TOOK), 6, timedelta(hours=7))
    said = proposed(talk, LOAF)
    assert "Your starter took 7 h last time at 22 C: I count on " in said
    assert 330 < lasts(talk)[1] < 420
