"""Journeys on which cooks change their minds, and journeys of several plans and cooks at once."""

from __future__ import annotations

from collections import Counter
from datetime import timedelta
from itertools import pairwise

from scheduler.domain.stages import Stage
from scheduler.records import PlanStatus
from tests.journey_cook import EVENING, Cook, nudges, stages
from tests.journey_kit import ADA, Journey
from tests.journey_messages import said
from tests.journey_plans import overnight, sunday
from tests.plans_for_tests import at

MINUTE = timedelta(minutes=1)
NOON = "2026-03-15 12:00"
NOOR = "kitchen:noor"


# ---------------------------------------------------------------- changes of mind


def test_what_is_taken_back_is_owed_again() -> None:
    """Marked done by mistake and taken back, mixing is asked for again, and can then be done."""
    with Journey.in_use(overnight(), *EVENING) as journey:
        journey.run_to("2026-03-21 21:01")
        journey.press("Done")
        assert "Taken back" in journey.press("Undo")[0].text
        again = journey.run_to("2026-03-21 21:40")
        assert stages(again, journey, "Mix the dough")
        journey.press("Done", on=again[-1])
        assert [mark.kind for mark in journey.marks()] == ["done", "undone", "done"]
        assert stages(journey.run_to("2026-03-21 22:30"), journey, "Mix the dough") == []


def test_a_part_left_out_is_not_spoken_of_again() -> None:
    """Asked first, because it is not lightly undone; the rest of the meal is as it was."""
    with Journey.in_use(sunday(), NOON, NOON) as journey:
        planned = journey.starts()
        journey.say("leave out the radish pickle")
        assert journey.marks() == []
        journey.press("Leave it out")
        heard = nudges(journey.run_to("2026-03-21 20:00"))
        assert [message for message in heard if "adish" in message.text] == []
        kept = journey.starts()
        assert len(kept) == 9 and kept == {name: planned[name] for name in kept}


def test_what_was_ruined_is_made_again() -> None:
    """The dough fell on the floor: its part is begun from the start, in time for the table."""
    with Journey.in_use(overnight(), *EVENING) as journey:
        journey.run_to("2026-03-21 21:00")
        journey.press("Done")
        journey.run_to("2026-03-21 21:10")
        journey.say("the rye loaf is ruined")
        journey.press("It is lost")
        assert "Mix the dough" not in journey.starts()
        journey.press("Make it again")
        Cook(journey)
        heard = journey.run_to("2026-03-22 14:00")
        assert Stage.NOW in stages(heard, journey, "Mix the dough")
        assert stages(heard, journey, "Bake the loaf") == [Stage.NOW]
        assert journey.plan().status is PlanStatus.FINISHED
        assert journey.plan().serve == at("2026-03-22 13:00")


def test_what_is_put_off_is_said_again_when_it_was_asked_for() -> None:
    """ "In 10 min": quiet about it for ten minutes, then asked for once more, with all its buttons."""
    with Journey.in_use(overnight(), *EVENING) as journey:
        journey.run_to("2026-03-21 21:00")
        asked = journey.heard()[-1]
        journey.clock.move_to(at("2026-03-21 21:02"))
        journey.press("In 10 min", on=asked)
        heard = [each for each in journey.run_to("2026-03-21 21:20") if "Mix the dough" in each.heading]
        assert [(each.nudge, each.labels[0]) for each in nudges(heard)] == [("start/now", "Done")]
        assert at("2026-03-21 21:12") <= nudges(heard)[0].at <= at("2026-03-21 21:15")


# ---------------------------------------------------------------- several at once


def test_two_plans_in_one_chat_do_not_mix() -> None:
    """Each button marks its own plan; both are finished; the chat never gets two messages in a second."""
    with Journey.in_use(overnight(), *EVENING) as journey:
        journey.use(overnight("2026-03-22 19:00", "Second table"))
        Cook(journey)
        heard = journey.run_to("2026-03-23 02:00")
        assert [journey.plan(plan).status for plan in (1, 2)] == [PlanStatus.FINISHED] * 2
        kinds = [Counter(mark.step for mark in journey.marks(plan) if mark.kind == "done") for plan in (1, 2)]
        assert kinds[0] == kinds[1]
        assert all(after.at - before.at >= timedelta(seconds=1) for before, after in pairwise(heard))


def test_two_chats_do_not_mix() -> None:
    """One cook answers and one does not; each hears of their own plan, as if alone."""
    with Journey.in_use(overnight(), *EVENING) as alone:
        Cook(alone)
        alone.run_to("2026-03-22 14:00")
        expected = said(alone.heard())
    with Journey.in_use(overnight(), *EVENING) as journey:
        journey.settle(NOOR)
        journey.use(overnight(title="For Noor"), NOOR)
        Cook(journey)
        journey.run_to("2026-03-22 14:00")
        assert said(journey.heard(ADA)) == expected
        assert journey.plan(2).status is PlanStatus.FINISHED
