"""Windows against the verifier, against the solver, and against published networks."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime, timedelta

import pytest
from hypothesis import assume, given, settings

from scheduler.domain.check import check, misplaced
from scheduler.domain.check.facts import Facts
from scheduler.domain.plan import MINUTE, Plan
from scheduler.domain.presence import Presence
from scheduler.domain.progress import MarkKind, at_the_start, fold
from scheduler.domain.slack import with_windows
from scheduler.domain.slack.room import AS_FAR
from scheduler.domain.tends import touches
from scheduler.domain.timetable import Slot, Timetable
from scheduler.solver import Task, Verdict, fits, solve
from tests.plans_for_tests import NOW, SERVED, component, cook, mark, moved, plan, plans, step, utc
from tests.supper import GOOD, MONDAY, SUPPER

WEEKS = timedelta(days=21)
HOUR = timedelta(hours=1)


def windowed(made: Plan, given_: Timetable, now: datetime) -> Timetable:
    """The timetable with its windows, and the touches that belong to it."""
    progress, presence = at_the_start(made), Presence(made, now - WEEKS, given_.serve + WEEKS)
    slots = with_windows(made, given_.slots, now, given_.serve, progress, presence)
    return replace(given_, slots=slots, touches=touches(made, slots, progress, presence))


def ends(facts: Facts, given_: Timetable, number: int, start: datetime) -> Iterator[datetime]:
    """Every end, to the minute, that a step's length and what comes after it leave it."""
    shortest, longest = facts.plan.steps[number].range.planned()
    first, last = (
        start + shortest,
        datetime.max.replace(tzinfo=start.tzinfo) if longest is None else start + longest,
    )
    for link in facts.links:
        if link.before == number:
            after = given_.slot(link.after) if link.after is not None else None
            until = after.start if after else given_.serve
            last = min(last, until - link.shortest)
            first = first if link.longest is None else max(first, until - link.longest)
    while first <= last:
        yield first
        first += MINUTE


def may_start(facts: Facts, given_: Timetable, number: int, start: datetime) -> bool:
    """Whether the verifier lets one step start then, with some length, all others staying as they are."""
    return any(
        not any(misplaced(facts, moved(given_, number, start, end)))
        for end in ends(facts, given_, number, start)
    )


def agree(facts: Facts, given_: Timetable, each: Slot) -> None:
    """The verifier passes a step at both ends of its window, and not one grain beyond either."""
    grain = MINUTE if each.step in facts.off_mark else facts.plan.steps[each.step].grain
    for edge, beyond in ((each.earliest, -grain), (each.latest, grain)):
        assert may_start(facts, given_, each.step, edge)
        if abs(edge - each.start) < AS_FAR * MINUTE:
            assert not may_start(facts, given_, each.step, edge + beyond)


def test_the_verifier_agrees_with_every_window_of_a_supper() -> None:
    """For a timetable made by hand every window's ends are good and the marks next to them are not."""
    found = windowed(SUPPER, GOOD, MONDAY)
    facts = Facts(SUPPER, MONDAY, at_the_start(SUPPER))
    assert check(SUPPER, found, MONDAY) == ()
    for each in found.slots:
        agree(facts, found, each)


def solved(made: Plan) -> Timetable:
    """A timetable for a random plan, where there is one, that the verifier has passed."""
    answer = solve(Task(made, at_the_start(made), NOW, SERVED))
    assume(answer.fits)
    found = windowed(made, Timetable(SERVED, answer.slots), NOW)
    assert check(made, found, NOW) == ()
    return found


@given(plans())
@settings(max_examples=12, deadline=None)
def test_the_verifier_agrees_with_every_window(made: Plan) -> None:
    """For random plans too, a window is as wide as the verifier allows and no wider."""
    assume(len(made.steps) <= 8)
    found = solved(made)
    facts = Facts(made, NOW, at_the_start(made))
    for each in found.slots:
        agree(facts, found, each)


@given(plans())
@settings(max_examples=12, deadline=None)
def test_at_its_last_call_a_step_can_still_be_served(made: Plan) -> None:
    """With a step put off to its last call the solver still finds a timetable."""
    assume(len(made.steps) <= 8)
    for each in solved(made).slots:
        late = fold(made, [mark(MarkKind.LATER, each.step, NOW, until=each.last_call)], NOW)
        assert each.last_call >= each.latest
        assert fits(Task(made, late, NOW, SERVED)) in (Verdict.OPTIMAL, Verdict.FEASIBLE)


# ---------------------------------------------------------------- published networks

TAYLOR_A = {
    "1-2": (7, "", 0, 2),
    "1-3": (10, "", 0, 0),
    "2-4": (6, "1-2", 7, 2),
    "3-4": (5, "1-3", 10, 0),
    "3-5": (4, "1-3", 10, 4),
    "4-5": (3, "2-4 3-4", 15, 0),
    "5-6": (2, "3-5 4-5", 18, 0),
}
TAYLOR_B = {
    "1-2": (8, "", 0, 1),
    "1-3": (10, "", 0, 0),
    "1-4": (9, "", 0, 6),
    "2-5": (6, "1-2", 8, 1),
    "2-6": (4, "1-2", 8, 8),
    "3-5": (5, "1-3", 10, 0),
    "4-7": (7, "1-4", 9, 11),
    "5-7": (12, "2-5 3-5 1-4", 15, 0),
    "5-8": (15, "2-5 3-5 1-4", 15, 1),
    "6-9": (18, "2-6", 12, 8),
    "7-8": (4, "4-7 5-7", 27, 0),
    "8-9": (7, "5-8 7-8", 31, 0),
}
"""Duration, what it comes after, earliest start and slack.

Source: Taylor, Introduction to Management Science, chapter 8, solutions; its dummy activity 4-5 is written as
"after 1-4".
"""


@pytest.mark.parametrize(("network", "lasts"), [(TAYLOR_A, 20), (TAYLOR_B, 38)])
def test_published_slack_is_found(network: dict[str, tuple[int, str, int, int]], lasts: int) -> None:
    """With nobody asleep and nothing scarce, last calls are the total float and windows the free float.

    Hours stand for the source's time units. Free float is worked out from the published starts.
    """
    drafts = [
        component(name, step(name, unattended=f"{hours} h", keeps="30 d", after=after.split()))
        for name, (hours, after, _, _) in network.items()
    ]
    made = plan(*drafts, cooks=[cook("Ada", ["00:00-00:00"])], zone="UTC")
    zero = utc("2026-12-01 00:00")
    starts = [(zero + start * HOUR, zero + (start + hours) * HOUR) for hours, _, start, _ in network.values()]
    slots = tuple(Slot(n, start, end, start, start, start) for n, (start, end) in enumerate(starts))
    found = windowed(made, Timetable(zero + lasts * HOUR, slots), zero)
    for each, (name, (_, _, _, slack)) in zip(found.slots, network.items(), strict=True):
        follow = [start for _, after, start, _ in network.values() if name in after.split()]
        free = min(follow, default=lasts) - (each.end - zero) // HOUR
        assert each.earliest == each.start
        assert (each.latest - each.start, each.last_call - each.start) == (free * HOUR, slack * HOUR)
