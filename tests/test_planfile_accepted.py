"""Plans that came before a limit was checked: they go on, with a word about it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from scheduler.planfile import BadPlan, read
from scheduler.records import PlanStatus
from tests.talk_kit import SUPPER, on, with_supper

WEAK = SUPPER.replace("salt: 2 % of radishes", "salt: 1 % of radishes")
SHORT = SUPPER.replace("amounts: {beans: 400 g}", "amounts: {red kidney beans: 400 g}").replace(
    "nearby: 1 h to 1 h 30 min", "nearby: 10 min to 20 min"
)


@pytest.mark.parametrize(("text", "told"), [(WEAK, "2 %"), (SHORT, "30 min")])
def test_what_arrives_is_refused_and_what_is_in_use_is_remarked_on(text: str, told: str) -> None:
    """Too little salt, too short a boil: a problem at its line, or else a remark that names line and limit."""
    with pytest.raises(BadPlan) as refused:
        read(text, zone="Europe/Lisbon")
    (problem,) = refused.value.problems
    remark = read(text, zone="Europe/Lisbon", accepted=True).remarks[-1]
    assert remark.startswith(f"Line {problem.line}: ") and told in remark


@pytest.mark.parametrize("text", [WEAK, SHORT])
def test_a_meal_under_way_goes_on_after_an_upgrade(text: str) -> None:
    """Stored before there was such a limit, it is still read, nudged about and marked."""
    talk = with_supper(on(5, "20:00"))
    (row,) = talk.plans()
    with talk.store() as uow:
        uow.plans.save(replace(row, source=text), row.revision)
        uow.commit()
    talk.wait_until(on(6, "12:00"))
    assert talk.say("salted the radishes").startswith("Done: Salt the radishes")
    assert talk.plans()[0].status is PlanStatus.ACTIVE


@pytest.mark.parametrize("text", ["crockbell: 2", WEAK.replace("zone: Europe/Lisbon", "zone: Nowhere")])
def test_everything_else_is_refused_all_the_same(text: str) -> None:
    """What makes no sense cannot be in use."""
    with pytest.raises(BadPlan):
        read(text, zone="Europe/Lisbon", accepted=True)
