"""Ways out of a misfit: each kind where it is the one that helps, each verified, in order, and none unsafe."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bot.wording.hours import earliest
from scheduler.domain.marks import MarkKind
from scheduler.domain.plan import MINUTE
from scheduler.domain.progress import at_the_start, fold
from scheduler.explain import Misfit, misfit
from scheduler.planning import time_out, ways_out
from scheduler.seeking import made_to
from scheduler.solver import Task, Verdict, fits
from tests.plans_for_tests import at, component, cook, mark, number_of, plan, step
from tests.ways_kit import misfit_of, sound, told

# ---------------------------------------------------------------- one plan for each kind

OUT = cook("Ada", away=["mon-fri 08:30-17:45"])


def test_a_later_bedtime_by_the_least_that_does_it() -> None:
    """Eight hours of proving end at 07:15 for breakfast at 08:05: at 23:15 somebody is still up to begin them."""
    loaf = plan(
        component(
            "Loaf",
            step("Shape the loaf", hands_on="20 min"),
            step("Loaf proves", unattended="8 h"),
            step("Bake the loaf", nearby="50 min"),
        )
    )
    found = told(loaf, "2026-12-12 08:05", "2026-12-11 18:00")
    assert found[0] == "Go to bed 1 h later on Fri 11 Dec, at 23:30"


def test_an_earlier_alarm_by_the_least_that_does_it() -> None:
    """Dough kneaded by 22:00 has risen at 06:00, when nobody is up to put it in the oven."""
    dough = plan(
        component(
            "Loaf",
            step("Knead the dough", hands_on="20 min", between=["18:00-22:00"]),
            step("Dough rises", unattended="8 h", until="doubled"),
            step("Bake the loaf", nearby="50 min", keeps="2 h"),
        )
    )
    found = told(dough, "2026-12-12 08:00", "2026-12-11 18:00")
    assert found[0] == "Get up 1 h earlier on Sat 12 Dec, at 06:00"


def test_an_hour_off_work() -> None:
    """Three hours and forty minutes before supper at nine, and work until 17:45."""
    stew = plan(
        component(
            "Stew", step("Brown the lamb", hands_on="40 min"), step("Simmer it", nearby="3 h", keeps="30 min")
        ),
        cooks=[OUT],
    )
    assert told(stew, "2026-12-10 21:00", "2026-12-10 09:00") == [
        "Serve at Thu 10 Dec 21:30, the next hour that fits",
        "Be back 1 h earlier on Thu 10 Dec, at 16:45",
    ]


def test_what_only_begins_early_is_not_named_for_what_stands_in_the_way() -> None:
    """A loaf that rises for six hours with somebody at home has no weekday: the kraut of eight days is not why."""
    ferment = step("Kraut ferments", unattended="6 d to 8 d", until="sour", keeps="3 d")
    rise, bake = step("Dough rises", nearby="6 h"), step("Bake the loaf", nearby="1 h", keeps="1 d")
    serve = step("Serve it", hands_on="15 min", after=["Kraut", "Loaf"], keeps="5 min")
    meal = plan(
        component("Kraut", step("Pack it", hands_on="30 min"), ferment),
        component("Loaf", step("Mix the dough", hands_on="25 min"), rise, bake),
        component("Table", serve),
        cooks=[cook("Ada", away=["mon-fri 09:00-17:30"])],
    )
    found = time_out(meal, at("2026-12-03 19:30"), at("2026-11-24 09:00"))
    assert isinstance(found, Misfit)
    assert any("Dough rises" in because for because in found.because)
    assert not any("Kraut" in because or "begin earlier" in because for because in found.because)


def test_an_hour_off_in_the_middle_of_the_day() -> None:
    """A dough that was mixed before work has to be folded five hours later at the latest."""
    dough = plan(
        component(
            "Dough",
            step("Mix the dough", hands_on="30 min"),
            step("Fold the dough", hands_on="20 min", wait="4 h to 5 h", keeps="7 h"),
        ),
        cooks=[OUT],
    )
    found = told(dough, "2026-12-10 19:00", "2026-12-10 06:50")
    assert "Take an hour off on Thu 10 Dec, 13:30 to 14:30" in found


def test_a_second_cook_for_an_hour() -> None:
    """Two things by hand that both have to be done last."""
    pasta = plan(
        component("Pasta", step("Roll the pasta", hands_on="45 min", keeps="15 min")),
        component("Sauce", step("Fry the sauce", hands_on="40 min", keeps="10 min")),
    )
    (only,) = told(pasta, "2026-12-12 19:00", "2026-12-11 09:00")
    assert only == "Have a second cook to help on Sat 12 Dec, 18:00 to 19:00"


@pytest.mark.parametrize("gear", ["burner", "steam basket"])
def test_one_more_of_what_is_short(gear: str) -> None:
    """Two pots for one burner, both to be hot at the table; nothing else would help."""
    pots = plan(
        component("Pasta", step("Boil the pasta", nearby="15 min", gear=[gear])),
        component("Sauce", step("Simmer the sauce", nearby="40 min", gear=[gear])),
        gear={gear: 1},
    )
    assert told(pots, "2026-12-12 19:00", "2026-12-11 09:00") == [f"Find one more {gear}, 2 in all"]


def test_leaving_out_what_may_be_left_out() -> None:
    """An ice cream that takes six hours, three hours before lunch; the soup would be ready."""
    lunch = plan(
        component("Soup", step("Simmer the soup", nearby="1 h", keeps="2 h")),
        component("Ice cream", step("Freeze it", unattended="6 h", keeps="1 d"), optional=True),
    )
    assert told(lunch, "2026-12-12 12:00", "2026-12-12 09:00")[0] == "Leave out “Ice cream” altogether"


def test_leaving_out_a_step_that_may_be_left_out() -> None:
    """The glaze has to set for four hours; the cake without it is ready in two."""
    cake = plan(
        component(
            "Cake",
            step("Bake the cake", nearby="1 h", keeps="1 d"),
            step("Glaze sets", unattended="4 h", keeps="1 d"),
        )
    )
    (part,) = cake.components
    glazed = replace(part, steps=(part.steps[0], replace(part.steps[1], optional=True)))
    made = replace(cake, components=(glazed,))
    assert told(made, "2026-12-12 12:00", "2026-12-12 09:00")[0] == "Leave out “Glaze sets”"


def test_the_earliest_hour_and_the_nearest_day_at_the_same_hour() -> None:
    """A ferment of three days, begun the day before: ready at night, or the next day at the hour asked for."""
    pickle = plan(
        component(
            "Pickle", step("Salt it", hands_on="15 min"), step("It ferments", unattended="3 d", keeps="2 d")
        )
    )
    assert told(pickle, "2026-12-12 12:00", "2026-12-11 19:00") == [
        "Serve at Mon 14 Dec 19:15, the earliest hour that fits",
        "Serve at Tue 15 Dec 12:00, the nearest day that fits at 12:00",
    ]


def test_an_hour_sooner_on_the_same_date() -> None:
    """Whoever goes out at six can dish up at a quarter to six, not at half past."""
    out = cook("Ada", away=["2026-12-12 18:00-22:30"])
    dish = plan(component("Tart", step("Dish up the tart", hands_on="15 min", keeps="5 min")), cooks=[out])
    found = told(dish, "2026-12-12 18:30", "2026-12-12 09:00")
    assert "Serve at Sat 12 Dec 18:00, the nearest hour that fits" in found


def test_an_hour_sooner_where_none_later_would_do() -> None:
    """Out from six on for good: there is no later hour, but there is a sooner one."""
    gone = cook("Ada", ["2026-12-12 07:00-18:00"])
    dish = plan(component("Tart", step("Dish up the tart", hands_on="15 min", keeps="5 min")), cooks=[gone])
    assert "Serve at Sat 12 Dec 18:00, the nearest hour that fits" in told(
        dish, "2026-12-12 18:30", "2026-12-12 09:00"
    )


def test_a_meal_under_way_is_helped_by_what_is_still_to_come() -> None:
    """The lamb was browned an hour late: the stew simmers until after the hour, so only the hour can move."""
    stew = plan(
        component("Stew", step("Brown the lamb", hands_on="40 min"), step("Simmer it", nearby="3 h")),
        component("Rice", step("Boil the rice", nearby="20 min"), optional=True),
    )
    now = at("2026-12-12 17:30")
    begun = [mark(MarkKind.STARTED, number_of(stew, "Simmer it"), now)]
    progress = fold(stew, begun, now)
    found = misfit_of(stew, at("2026-12-12 19:30"), now, progress)
    assert [remedy.change for remedy in found.remedies] == [
        "Serve at Sat 12 Dec 20:30, the earliest hour that fits"
    ]
    assert sound(found.remedies[0], stew, now, progress)


def test_nothing_is_offered_where_nothing_single_helps() -> None:
    """Three things by hand at once want two more cooks: no single change is pretended to do."""
    three = plan(
        *(component(name, step(f"Fry {name}", hands_on="40 min", keeps="5 min")) for name in ("A", "B", "C"))
    )
    assert told(three, "2026-12-12 19:00", "2026-12-11 09:00") == []


def test_an_hour_that_is_long_past_can_still_be_moved() -> None:
    """A meal asked for three weeks ago is offered from now on, as any other that does not fit."""
    bread = plan(component("Bread", step("Bake the bread", nearby="50 min", keeps="1 d")))
    assert told(bread, "2026-12-01 13:00", "2026-12-23 20:00") == [
        "Serve at Wed 23 Dec 21:00, the earliest hour that fits",
        "Serve at Thu 24 Dec 13:00, the nearest day that fits at 13:00",
    ]


def test_an_hour_after_a_sooner_one_is_not_called_the_earliest() -> None:
    """What may only be carved in the morning can be on the table at noon, or the next morning."""
    roast = plan(component("Roast", step("Carve", hands_on="15 min", between=["09:00-12:00"], keeps="5 min")))
    assert told(roast, "2026-12-12 13:30", "2026-12-09 09:00") == [
        "Serve at Sat 12 Dec 12:00, the nearest hour that fits",
        "Serve at Sun 13 Dec 09:15, the next hour that fits",
    ]


def test_no_way_is_offered_that_a_limit_about_to_run_out_would_refuse() -> None:
    """Two minutes before the dough has stood its five hours, only what also fits now is offered: in three the
    limit would have run out, and anything would fit.
    """
    loaf = plan(
        component(
            "Loaf", step("Mix", hands_on="20 min", keeps="5 h"), step("Bake", nearby="1 h", keeps="9 h")
        ),
        cooks=[cook("Ada", away=["2026-12-12 13:00-16:00"])],
    )
    now, serve = at("2026-12-12 13:58"), at("2026-12-12 19:00")
    done = mark(MarkKind.DONE, number_of(loaf, "Mix"), at("2026-12-12 09:00"))
    progress = fold(loaf, [done], now)
    found = time_out(loaf, serve, now, progress)
    assert isinstance(found, Misfit)
    for remedy in ways_out(found, loaf, now, progress).remedies:
        assert remedy.what is not None
        changed = made_to(Task(loaf, progress, now, serve), remedy.what)
        assert fits(changed) is not Verdict.INFEASIBLE, remedy.change
    late = Task(loaf, progress, now + 5 * MINUTE, serve)
    assert fits(late) is not Verdict.INFEASIBLE, "the limit runs out meanwhile"


def test_an_hour_is_called_the_earliest_only_where_that_was_proven() -> None:
    """A search that ran out of time offers an hour that fits, and calls it nothing more."""
    made = plan(component("Rice", step("Steam the rice", nearby="1 h", keeps="30 min")))
    task = Task(made, at_the_start(made), at("2026-12-12 18:45"), at("2026-12-12 19:00"))
    (unproven,), (proven,) = (misfit(task, proven=sure).remedies for sure in (False, True))
    assert unproven.change == "Serve at Sat 12 Dec 19:45, an hour that fits"
    assert proven.change == "Serve at Sat 12 Dec 19:45, the earliest hour that fits"
    assert earliest(misfit(task, proven=False), made.zone).startswith("An hour that fits: ")
