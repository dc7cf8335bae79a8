"""The executor against ten thousand random and a thousand adversarial draws, on whole plans."""

from __future__ import annotations

from dataclasses import dataclass

import pytest

from scheduler.domain.plan import MINUTE, Plan
from scheduler.domain.promise import Bet, promise, survivor
from tests.plans_for_tests import at, component, cook, plan, step, tend
from tests.promise_kit import adversarial_draws, bet_on, breaches, bundled, random_draws, timed

RANDOM, ADVERSARIAL, JUDGED_TWICE = 10_000, 1_000, 40


@dataclass(frozen=True)
class Meal:
    """A plan with the hours it is timed for, and the answer expected."""

    made: Plan
    now: str
    serve: str
    kept: bool

    def bet(self) -> Bet:
        now, serve = at(self.now, self.made.zone), at(self.serve, self.made.zone)
        return bet_on(self.made, timed(self.made, serve, now), now)


def long_ferment(keeps: str) -> Plan:
    """A pickle that may be ready any day of a week, a loaf from a starter, and one cook who goes to work."""
    return plan(
        component(
            "Pickle",
            step("Salt the roots", hands_on="25 min"),
            step(
                "Roots ferment",
                unattended="5 d to 9 d",
                until="sour",
                keeps=keeps,
                tend=tend("Vent", "1 d"),
            ),
            step("Jar the roots", hands_on="20 min", keeps="30 d"),
        ),
        component(
            "Loaf",
            step("Feed the starter", hands_on="10 min"),
            step("Starter ripens", unattended="6 h to 9 h", until="domed", keeps=keeps),
            step("Mix the dough", hands_on="20 min", gear=["mixer"]),
            step("Dough rises", nearby="1 h 30 min to 2 h 30 min", until="doubled", keeps="30 min"),
            step("Bake the loaf", nearby="50 min", oven=230, keeps="1 d"),
        ),
        component(
            "Roast",
            step("Roast the roots", nearby="50 min to 1 h 20 min", until="brown", oven=200, keeps="40 min"),
        ),
        component(
            "Table",
            step("Serve", hands_on="20 min", after=["Pickle", "Loaf", "Roast"], keeps="10 min"),
        ),
        cooks=[cook("Ada", ["07:00-22:30"], ["mon-fri 08:30-17:45"])],
        gear={"mixer": 1, "oven": 1},
    )


TWO_COOKS = plan(
    component(
        "Stew",
        step("Brown the meat", hands_on="30 min", gear=["burner", "burner"]),
        step("Stew", nearby="2 h to 3 h 30 min", until="it falls apart", gear=["burner"], keeps="2 h"),
    ),
    component(
        "Dumplings",
        step("Mix the dumplings", hands_on="20 min", cook="Noor"),
        step("Dumplings rest", unattended="30 min to 1 h 30 min", until="they spring back", keeps="1 h"),
        step("Steam the dumplings", nearby="20 min", gear=["burner"], keeps="30 min"),
    ),
    component(
        "Beans", step("Boil the beans", nearby="40 min to 1 h", until="soft", gear=["burner"], keeps="1 h")
    ),
    component(
        "Table", step("Serve", hands_on="15 min", after=["Stew", "Dumplings", "Beans"], keeps="10 min")
    ),
    cooks=[cook("Ada"), cook("Noor", ["08:00-23:00"], ["sat 09:00-12:00"])],
    gear={"burner": 3},
)

MEALS = {
    "terrace lunch": Meal(bundled("terrace-lunch.yaml"), "2027-06-01 09:00", "2027-06-20 13:30", True),
    "rye and beet supper": Meal(
        bundled("rye-and-beet-supper.yaml"), "2027-02-01 09:00", "2027-02-20 19:00", False
    ),
    "pickle that keeps": Meal(long_ferment("12 h"), "2026-11-27 09:00", "2026-12-12 19:30", True),
    "pickle that does not": Meal(long_ferment("1 h"), "2026-11-27 09:00", "2026-12-12 19:30", False),
    "two cooks": Meal(TWO_COOKS, "2026-12-11 09:00", "2026-12-12 19:30", True),
}


@pytest.mark.slow
@pytest.mark.parametrize("name", MEALS)
def test_never_late_where_the_answer_is_yes_and_late_at_the_named_draw_where_it_is_no(name: str) -> None:
    """10,000 random and 1,000 adversarial draws: none is late after a yes; after a no the draw that is named is."""
    meal = MEALS[name]
    bet = meal.bet()
    found = promise(bet.plan, bet.timetable, bet.now)
    assert found.kept is meal.kept
    if found.kept:
        executor = bet.executor()
        assert executor is not None
        draws = [*random_draws(bet, RANDOM, 1), *adversarial_draws(bet, ADVERSARIAL, 2)]
        late = [draw for draw in draws if bet.rules.broken(executor.run(draw)) is not None]
        assert late == []
        assert [text for draw in draws[:JUDGED_TWICE] for text in breaches(bet, executor.run(draw))] == []
        return
    for lost in found.breaks:
        named = {one.step: one.lasts // MINUTE for one in lost.draw}
        executor = survivor(bet, named)
        assert executor is not None
        assert bet.rules.broken(executor.run({**bet.planned, **named})) == lost.trouble
        assert bet.rules.broken(executor.run(bet.planned)) is None
