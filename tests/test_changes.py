"""Changes as data: what each does to a plan, that it survives being stored, and what it never touches."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.picture.facts import Scene
from scheduler.change_words import made, offer
from scheduler.changes import HELPER, OF_THE_KITCHEN, Change, ChangeKind, changed, on_the_clock
from scheduler.domain.check.facts import Facts
from scheduler.domain.hours import Dated
from scheduler.domain.plan import Plan
from scheduler.domain.presence import Presence
from scheduler.domain.progress import MarkKind, State, at_the_start, fold
from scheduler.solver.stretches import Stretches
from tests.plans_for_tests import NOW, SERVED, at, component, cook, mark, plan, plans, step, timetable

FRIDAY, SATURDAY = "2026-12-11", "2026-12-12"
HOUR = timedelta(hours=1)
MEAL = plan(
    component(
        "Soup", step("Chop", hands_on="20 min", keeps="6 h"), step("Boil", nearby="1 h", gear=["burner"])
    ),
    component(
        "Tart", step("Roll", hands_on="30 min", keeps="1 d"), step("Bake", nearby="40 min"), optional=True
    ),
    cooks=[cook("Ada", away=["mon-fri 08:30-17:45"]), cook("Noor")],
    gear={"burner": 1},
)
FRESH = at_the_start(MEAL)


def change(kind: ChangeKind, start: str, end: str, cook: str | None = None) -> Change:
    """A change between two local times."""
    return Change(kind, cook, at(start), at(end))


LATE = change(ChangeKind.BED, f"{FRIDAY} 22:30", f"{FRIDAY} 23:15", cook="Ada")
EARLY = change(ChangeKind.ALARM, f"{SATURDAY} 06:15", f"{SATURDAY} 07:00", cook="Noor")
OFF = change(ChangeKind.OFF, f"{FRIDAY} 12:00", f"{FRIDAY} 13:00", cook="Ada")
HELP = change(ChangeKind.HELPER, f"{SATURDAY} 17:00", f"{SATURDAY} 18:00")
GEAR = Change(ChangeKind.GEAR, gear="burner")
SKIP = Change(ChangeKind.SKIP, step=2)
LEAVE = Change(ChangeKind.LEAVE_OUT, step=2)
LATER = Change(ChangeKind.HOUR, serve=at(f"{SATURDAY} 20:00"))
EVERY = (LATE, EARLY, OFF, HELP, GEAR, SKIP, LEAVE, LATER)


def home(made: Plan, name: str, moment: str) -> bool:
    """Whether that cook is awake and at home, as the domain, the verifier and the solver each work it out."""
    when = at(moment)
    presence = any(a <= when < b for a, b in Presence(made, when - 48 * HOUR, when + 48 * HOUR).home(name))
    facts = Facts(made, when, at_the_start(made))
    facts.learn_hours(timetable(made, moment))
    verifier = any(a <= when < b for a, b in facts.home[name])
    stretches = Stretches(made, int(when.timestamp() // 60), -2880, 2880)
    who = next(each for each in made.kitchen.cooks if each.name == name)
    solver = any(a <= 0 < b for a, b in stretches.home(who))
    assert presence == verifier == solver
    return presence


@pytest.mark.parametrize(
    ("made_change", "name", "inside", "outside"),
    [
        (LATE, "Ada", f"{FRIDAY} 23:00", f"{FRIDAY} 23:20"),
        (EARLY, "Noor", f"{SATURDAY} 06:30", f"{SATURDAY} 06:10"),
        (OFF, "Ada", f"{FRIDAY} 12:30", f"{FRIDAY} 13:10"),
    ],
)
def test_a_stretch_at_home_wins_over_sleep_and_work(
    made_change: Change, name: str, inside: str, outside: str
) -> None:
    """Domain, verifier and solver agree: there in the stretch, as before outside it and without it."""
    after, progress = made_change.apply(MEAL, FRESH)
    assert home(after, name, inside) and not home(after, name, outside)
    assert not home(MEAL, name, inside) and progress == FRESH
    assert Presence(after, at(f"{FRIDAY} 00:00"), at(f"{SATURDAY} 12:00")).awake(name)


def test_a_picture_shows_the_stretch_at_home() -> None:
    """Neither asleep nor out in it, where the cook would have been."""
    after = changed(MEAL, (LATE, OFF))
    ada = after.kitchen.cooks[:1]
    drawn = Scene(after, timetable(after, f"{SATURDAY} 19:30"))
    since = at(f"{FRIDAY} 00:00")
    assert (at(f"{FRIDAY} 23:15"), at(f"{SATURDAY} 07:00")) in drawn.asleep(ada, since)
    assert drawn.out(ada, since) == (
        (at(f"{FRIDAY} 08:30"), at(f"{FRIDAY} 12:00")),
        (at(f"{FRIDAY} 13:00"), at(f"{FRIDAY} 17:45")),
    )


def test_a_helper_has_nothing_but_the_hours_lent() -> None:
    """One more cook, for that hour; another hour is the same helper's."""
    twice = changed(MEAL, (HELP, replace(HELP, start=at(f"{FRIDAY} 19:00"), end=at(f"{FRIDAY} 20:00"))))
    assert [each.name for each in twice.kitchen.cooks] == ["Ada", "Noor", HELPER]
    assert len(twice.kitchen.cooks[-1].awake) == 2
    assert home(twice, HELPER, f"{SATURDAY} 17:30") and not home(twice, HELPER, f"{SATURDAY} 18:30")


def test_a_cook_called_helper_is_not_taken_for_one() -> None:
    """Somebody in the kitchen with that name keeps their own hours."""
    named = replace(MEAL, kitchen=replace(MEAL.kitchen, cooks=(cook("helper"), cook("Helper 2"))))
    assert [each.name for each in changed(named, (HELP,)).kitchen.cooks][-1] == "Helper 3"


def test_one_more_of_a_thing_is_one_more() -> None:
    """Counted up, twice when it is done twice."""
    assert changed(MEAL, (GEAR, GEAR)).kitchen.gear == {"burner": 3}


def test_what_is_left_out_is_left_out_of_the_meal() -> None:
    """One step, or all of its component that is not done."""
    assert SKIP.apply(MEAL, FRESH)[1].dropped == {2}
    assert LEAVE.apply(MEAL, FRESH)[1].dropped == {2, 3}
    done = fold(MEAL, [mark(MarkKind.DONE, 2, NOW)], NOW)
    assert LEAVE.apply(MEAL, done)[1].dropped == {3} and done.state(2) is State.DONE


@pytest.mark.parametrize(
    "wrong",
    [
        replace(LATE, cook="Nobody"),
        replace(GEAR, gear="grill"),
        replace(SKIP, step=9),
        replace(LEAVE, step=None),
        replace(HELP, end=None),
        replace(OFF, end=OFF.start),
    ],
)
def test_a_change_that_the_plan_has_no_room_for_is_refused(wrong: Change) -> None:
    """Another cook, gear or step, or a stretch of nothing: ValueError."""
    with pytest.raises(ValueError):
        wrong.apply(MEAL, FRESH)


@pytest.mark.parametrize("each", EVERY)
def test_every_change_comes_back_from_json(each: Change) -> None:
    """As it was, with only the fields that say something."""
    data = each.as_json()
    assert Change.from_json(data) == each and hash(Change.from_json(data)) == hash(each)
    assert data["kind"] == each.kind and None not in data.values()


@pytest.mark.parametrize(
    "data",
    [
        None,
        [],
        {},
        {"kind": "shorter"},
        {"kind": "gear", "range": "1 h"},
        {"kind": "bed", "start": "2026-12-11T22:30"},
    ],
)
def test_what_is_no_change_is_refused(data: object) -> None:
    """No kind, an unknown one, a field that none has, a time without a zone: ValueError."""
    with pytest.raises(ValueError):
        Change.from_json(data)


@settings(max_examples=25, deadline=None)
@given(plans(), st.data())
def test_no_change_touches_what_a_step_takes_or_keeps(made_plan: Plan, data: st.DataObject) -> None:
    """Whatever is changed about the kitchen, the steps and their order stay as they were written."""
    name = data.draw(st.sampled_from([each.name for each in made_plan.kitchen.cooks]))
    kind = data.draw(st.sampled_from(sorted(OF_THE_KITCHEN)))
    gear = "burner" if kind is ChangeKind.GEAR else None
    one = Change(kind, name, SERVED - 3 * HOUR, SERVED - 2 * HOUR, gear)
    after, progress = one.apply(made_plan, at_the_start(made_plan))
    assert after.components == made_plan.components and after.links == made_plan.links
    assert progress.untouched and after.kitchen != made_plan.kitchen


def test_a_stretch_is_kept_by_the_wall_clock() -> None:
    """In the night of 25 October 2026 the clocks in Paris show 02:30 twice: only the first can be named."""
    first = at("2026-10-25 02:30")
    assert on_the_clock(first, "Europe/Paris") and not on_the_clock(first + HOUR, "Europe/Paris")
    late = Change(ChangeKind.BED, "Ada", at("2026-10-24 22:30"), at("2026-10-24 23:30"))
    (span,) = late.apply(MEAL, FRESH)[0].kitchen.cooks[0].home
    assert isinstance(span, Dated) and (span.start.hour, span.end.hour) == (22, 23)


ALONE = replace(MEAL, kitchen=replace(MEAL.kitchen, cooks=MEAL.kitchen.cooks[:1]))
LEAVING = change(ChangeKind.OFF, f"{FRIDAY} 08:30", f"{FRIDAY} 09:30", cook="Ada")
BACK = change(ChangeKind.OFF, f"{FRIDAY} 16:45", f"{FRIDAY} 17:45", cook="Ada")


@pytest.mark.parametrize(
    ("made_change", "in_plan", "offered", "told"),
    [
        (LATE, ALONE, "Go to bed 45 min later on Fri 11 Dec, at 23:15",
         "going to bed 45 min later on Fri 11 Dec, at 23:15"),
        (EARLY, MEAL, "Noor gets up 45 min earlier on Sat 12 Dec, at 06:15",
         "Noor getting up 45 min earlier on Sat 12 Dec, at 06:15"),
        (OFF, ALONE, "Take an hour off on Fri 11 Dec, 12:00 to 13:00",
         "taking an hour off on Fri 11 Dec, 12:00 to 13:00"),
        (LEAVING, MEAL, "Ada leaves 1 h later on Fri 11 Dec, at 09:30",
         "Ada leaving 1 h later on Fri 11 Dec, at 09:30"),
        (BACK, ALONE, "Be back 1 h earlier on Fri 11 Dec, at 16:45",
         "being back 1 h earlier on Fri 11 Dec, at 16:45"),
        (HELP, ALONE, "Have a second cook to help on Sat 12 Dec, 17:00 to 18:00",
         "a second cook on Sat 12 Dec, 17:00 to 18:00"),
        (GEAR, MEAL, "Find one more burner, 2 in all", "one more burner, 2 in all"),
        (SKIP, MEAL, "Leave out “Roll”", "leave out “Roll”"),
        (LEAVE, MEAL, "Leave out “Tart” altogether", "leave out “Tart” altogether"),
        (LATER, MEAL, "Serve at Sat 12 Dec 20:00", "serve at Sat 12 Dec 20:00"),
    ],
)  # fmt: skip
def test_a_change_in_words(made_change: Change, in_plan: Plan, offered: str, told: str) -> None:
    """As something to do, and as something a plan counts on; with a name only where there are several cooks."""
    assert offer(made_change, in_plan) == offered
    assert made(made_change, in_plan) == told


def test_a_bedtime_past_midnight_is_of_the_day_that_ends_with_it() -> None:
    """Up until half past midnight on Saturday is Friday's late night."""
    late = plan(component("A", step("A0", hands_on="20 min")), cooks=[cook("Ada", ["08:00-00:30"])])
    longer = change(ChangeKind.BED, f"{SATURDAY} 00:30", f"{SATURDAY} 01:00", cook="Ada")
    assert offer(longer, late) == "Go to bed 30 min later on Fri 11 Dec, at 01:00"
