"""Hard limits hold whatever is put off or offered to keep: nothing waits hot, and nothing is kept too long."""

from __future__ import annotations

from datetime import timedelta

import pytest

from bot.wording import Wording
from scheduler.bets import bets_on
from scheduler.changes import Change, ChangeKind
from scheduler.domain.kitchen.hazards import DEFERRAL
from scheduler.domain.kitchen.hazards.guards import may_stand_longer
from scheduler.domain.progress import at_the_start
from scheduler.domain.timetable import Timetable
from scheduler.planning import time_out
from scheduler.service.deeds import Verb
from scheduler.service.view import View
from tests.hazard_plans import CHILLI, STOCK, part, plan_of, step_of
from tests.limits_kit import (
    BEFORE,
    BONES,
    COOLING,
    MINUTE,
    SERVE,
    at,
    fresh,
    of,
    refused,
    taken,
)


def off_the_heat(ago: timedelta) -> View:
    """The stock off the heat since so long, and its cooling not begun."""
    view = fresh()
    bones = view.timetable.slot(step_of(view.plan, BONES).number)
    assert bones is not None
    begun = taken(at(view, bones.start), of(view, Verb.START, BONES)).view
    over = taken(at(begun, bones.end), of(view, Verb.DONE, BONES)).view
    return at(over, bones.end + ago)


def test_cooling_is_not_put_off_past_its_first_stage() -> None:
    """57 to 21 C within 2 h (FDA Food Code 3-501.14, read in a state's adoption): refused, with what is left."""
    view = off_the_heat(30 * MINUTE)
    answer = refused(view, of(view, Verb.LATER, COOLING, until=view.now + 90 * MINUTE))
    assert "1 h 30 min are left to get it down to 21 C" in answer.why
    assert "FDA Food Code 3-501.14" in answer.why and answer.why.endswith(DEFERRAL)


def test_a_short_snooze_of_cooling_says_how_long_remains() -> None:
    """Ten minutes are taken, with the moment by which it has to be down to 21 C."""
    view = off_the_heat(30 * MINUTE)
    answer = taken(view, of(view, Verb.LATER, COOLING, until=view.now + 10 * MINUTE))
    assert "to get down to 21 C (FDA Food Code 3-501.14)" in Wording().answer(answer).text


def keeps_offered(then: str) -> set[str]:
    """What is offered to stand longer where a pot may be ready an hour early, and `then` follows within 40 min."""
    pot = "name: Simmer the bones, nearby: 1 h to 2 h, until: bare, gear: [burner], keeps: 40 min"
    plan = plan_of(part("Stock", pot, f"name: {then}, hands-on: 20 min, keeps: 5 min"))
    timetable = time_out(plan, SERVE, BEFORE)
    assert isinstance(timetable, Timetable)
    found = bets_on(plan, timetable, BEFORE)
    assert found.promise.breaks
    return {plan.steps[mend.step].name for each in found.mends for mend in each if mend.keeps is not None}


def test_no_mend_lets_what_is_to_be_cooled_wait() -> None:
    """Where another step follows the pot may stand for a while; where its cooling follows, never."""
    assert BONES in keeps_offered("Strain the stock")
    assert keeps_offered(COOLING) == set()


@pytest.mark.parametrize(
    ("component", "name", "may"),
    [
        (STOCK, BONES, False),
        (STOCK, COOLING, False),
        (part("Garlic oil", "name: Cook garlic in oil, nearby: 1 h, oven: 110 C, keeps: 3 d"), "Cook garlic in oil",
         False),
        (part("Seeds", "name: Seeds sprout, unattended: 2 d, until: long, keeps: 1 d"), "Seeds sprout", False),
        (part("Loaf", "name: Bake it, nearby: 1 h, oven: 220 C", "name: Cool it, unattended: 1 h"), "Bake it", True),
        (CHILLI, "Simmer the chilli", True),
    ],
)  # fmt: skip
def test_what_time_makes_worse_is_not_kept_longer(component: str, name: str, may: bool) -> None:
    """Nothing is offered to stand that gets worse by standing, nor what is to be cooled next."""
    plan = plan_of(component)
    assert may_stand_longer(plan, step_of(plan, name)) is may


def test_no_change_keeps_garlic_oil_longer_than_is_published() -> None:
    """4 days in all (National Center for Home Food Preservation, from memory), whoever works it out."""
    plan = plan_of(part("Garlic oil", "name: Steep garlic in oil, unattended: 1 d, at: 4 C, keeps: 3 d"))
    within = Change(ChangeKind.LASTS, step=0, shortest=600, longest=1440)
    assert within.apply(plan, at_the_start(plan))[0].steps[0].range.shortest == 600 * MINUTE
    with pytest.raises(ValueError, match="for so long"):
        Change(ChangeKind.LASTS, step=0, shortest=600, longest=1441).apply(plan, at_the_start(plan))
