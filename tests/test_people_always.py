"""Small kitchens of any make: planning finds a timetable exactly where trying out all of them finds one."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime, timedelta
from itertools import product

from hypothesis import HealthCheck, event, given, settings
from hypothesis import strategies as st

from scheduler.domain.check import misplaced
from scheduler.domain.check.facts import Facts
from scheduler.domain.check.steps import to_come
from scheduler.domain.plan import Attention, Plan, Step
from scheduler.domain.progress import at_the_start
from scheduler.domain.timetable import Slot, Timetable, in_order
from scheduler.planning import time_out
from tests.plans_for_tests import Draft, Part, at, component, cook, plan, step

HALF = timedelta(minutes=30)
AHEAD = timedelta(hours=4)
"""From the present to the meal. Every length and hour is a multiple of half an hour, and so there is a timetable
of half hours wherever there is one at all.
"""

MORNING, BACK, ON = ("2026-12-12", 9), ("2026-10-25", 0), ("2027-03-28", 0)
"""The day and the hour of the present in Paris: a Saturday, and the nights on which the clocks go back and on."""

When = tuple[str, int]


def clock(when: When, half_hours: int) -> str:
    return f"{when[1] + half_hours // 2:02}:{half_hours % 2 * 30:02}"


@st.composite
def stretches(draw: st.DrawFn, when: When) -> str:
    """From one half hour of the clock to a later one."""
    first, last = sorted(draw(st.sets(st.integers(0, 8), min_size=2, max_size=2)))
    return f"{clock(when, first)}-{clock(when, last)}"


def aways(when: When) -> st.SearchStrategy[list[str]]:
    return st.lists(stretches(when).map(lambda hours: f"{when[0]} {hours}"), max_size=1)


@st.composite
def drafts(draw: st.DrawFn, name: str, when: When) -> Draft:
    """A step of half an hour to one and a half, which may name its cook, its hours, its day and what it needs."""
    length = draw(st.sampled_from(["30 min", "1 h", "30 min to 1 h 30 min"]))
    hands, nearby, alone = draw(
        st.sampled_from([(length, None, None)] * 2 + [(None, length, None), (None, None, length)])
    )
    return step(
        name,
        hands_on=hands,
        nearby=nearby,
        unattended=alone,
        keeps=draw(st.sampled_from([None, "30 min", "1 h", "2 h"])),
        cook=draw(st.sampled_from([None, None, "Ada", "Noor"])),
        between=draw(st.one_of(st.just([]), st.just([]), stretches(when).map(lambda hours: [hours]))),
        gear=draw(st.sampled_from([[], ["burner"], ["burner", "burner"]])),
        oven=draw(st.sampled_from([None, None, 160, 200])) if hands is None else None,
    )


@st.composite
def kitchens(draw: st.DrawFn) -> tuple[Plan, datetime]:
    """Two cooks with hours of their own, a step or two in each of two components, and the present."""
    when = draw(st.sampled_from([MORNING, BACK, ON]))
    awake = [f"{clock(when, first)}-{clock(when, last)}" for first, last in ((0, 9), (2, 9), (0, 6))]
    cooks = [cook(name, [draw(st.sampled_from(awake))], draw(aways(when))) for name in ("Ada", "Noor")]
    parts: list[Part] = []
    for name in "AB":
        count = draw(st.integers(1, 2))
        parts.append(component(name, *(draw(drafts(f"{name}{n}", when)) for n in range(count))))
    return plan(*parts, cooks=cooks, gear={"burner": 2, "oven": 1}), at(f"{when[0]} {clock(when, 0)}")


# ---------------------------------------------------------------- trying out all


def tried_out(made: Plan, now: datetime) -> Timetable | None:
    """The first timetable of half hours that breaks no rule, if there is one."""
    facts, serve = Facts(made, now, at_the_start(made)), now + AHEAD
    facts.learn_hours(Timetable(serve, ()))
    choices = [[slot for slot in _slots(each, now) if not any(to_come(facts, slot))] for each in made.steps]
    return _extended(facts, Timetable(serve, ()), choices)


def _extended(facts: Facts, table: Timetable, choices: list[list[Slot]]) -> Timetable | None:
    """A timetable of the first few steps, with a slot for each step that is left."""
    if any(misplaced(facts, table)):
        return None
    if len(table.slots) == len(choices):
        return table
    for slot in choices[len(table.slots)]:
        longer = replace(table, slots=in_order([*table.slots, slot]))
        if (found := _extended(facts, longer, choices)) is not None:
            return found
    return None


def _slots(each: Step, now: datetime) -> Iterator[Slot]:
    """Every slot of half hours that a step can have, by whichever cook."""
    shortest, longest = each.range.planned()
    lengths = [shortest + n * HALF for n in range(((longest or shortest) - shortest) // HALF + 1)]
    starts = [now + n * HALF for n in range(AHEAD // HALF)]
    cooks = ["Ada", "Noor"] if each.attention is Attention.HANDS_ON else [None]
    for start, length, by in product(starts, lengths, cooks):
        yield Slot(each.number, start, start + length, start, start, start, by)


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(kitchens())
def test_a_timetable_is_found_where_there_is_one(case: tuple[Plan, datetime]) -> None:
    """With cooks' own hours, trips, named cooks, hours of a step, burners and an oven, on nights of every length:
    never in vain, and never a misfit that is none. What is found the verifier accepts, else planning raises.
    """
    made, now = case
    there_is = tried_out(made, now) is not None
    event("fits" if there_is else "does not fit")
    assert isinstance(time_out(made, now + AHEAD, now), Timetable) is there_is
