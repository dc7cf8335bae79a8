"""Plans in which hands and gear are short, and reasons worked out again without the code that found them."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from pathlib import Path

from scheduler.domain.plan import FIVE_MINUTES, MINUTE, NO_TIME, Plan
from scheduler.domain.presence import Presence
from scheduler.domain.progress import Progress, at_the_start, end_bounds, live_links
from scheduler.domain.timetable import Timetable, next_mark
from scheduler.facts import Fact, facts_of
from scheduler.planfile import read
from scheduler.planning import time_out
from scheduler.reasons import Because, Reason, Reasons, reasons
from scheduler.solver import Bound, Task, Verdict, fits
from tests.plans_for_tests import at, component, cook, number_of, plan, step

BUNDLED = {
    path.stem: read(path.read_bytes(), zone="UTC")
    for path in sorted((Path(__file__).parents[1] / "bot" / "plans").glob("*.yaml"))
}
NOW = at("2026-12-10 09:00")
SERVED = "2026-12-12 19:30"

STEW = plan(
    component("Stew", step("Braise the stew", nearby="2 h", gear=["casserole"], keeps="3 h")),
    component("Beans", step("Cook the beans", nearby="1 h 30 min", gear=["casserole"], keeps="1 h")),
    component("Table", step("Plate up", hands_on="15 min", after=["Stew", "Beans"], keeps="5 min")),
    gear={"casserole": 1},
    serve=SERVED,
)
PIE = plan(
    component("Pie", step("Bake the pie", nearby="1 h", oven=180, keeps="2 h")),
    component("Bread", step("Bake the bread", nearby="50 min", oven=240, keeps="20 min")),
    component("Table", step("Plate up", hands_on="15 min", after=["Pie", "Bread"], keeps="5 min")),
    gear={"oven": 1},
    serve=SERVED,
)
SALAD = plan(
    component("Salad", step("Dress the salad", hands_on="15 min", keeps="30 min")),
    component("Fish", step("Fry the fish", hands_on="20 min", keeps="10 min")),
    component("Table", step("Plate up", hands_on="15 min", after=["Salad", "Fish"], keeps="5 min")),
    serve=SERVED,
)
FISH = plan(
    component(
        "Fish", step("Fetch the fish", hands_on="40 min", keeps="1 d", between=["08:00-12:00"], on=[3, 5])
    ),
    component(
        "Table", step("Plate up", hands_on="15 min", after=["Fish"], keeps="5 min", wait="30 min to 8 h")
    ),
    cooks=[cook("Ada", away=["mon-fri 08:30-17:45"]), cook("Noor")],
    serve=SERVED,
)
SHORT = {"stew": STEW, "pie": PIE, "salad": SALAD, "fish": FISH}
"""One casserole for two dishes, one oven for two heats, one cook for two things, a shop with hours."""


@dataclass(frozen=True)
class Case:
    """A plan timed at a moment."""

    plan: Plan
    now: datetime
    timetable: Timetable
    progress: Progress

    def why(self, number: int) -> Reasons:
        return reasons(self.plan, self.timetable, number, self.now, self.progress)

    def named(self, name: str) -> Reasons:
        return self.why(number_of(self.plan, name))


def timed(made: Plan, now: datetime = NOW, serve: datetime | None = None) -> Case | None:
    """The plan timed as nobody has spoken of it yet; None when it does not fit."""
    hour = serve or made.serve
    assert hour is not None
    timing = time_out(made, hour, now)
    return Case(made, now, timing, at_the_start(made)) if isinstance(timing, Timetable) else None


def fitting(made: Plan, now: datetime = NOW) -> Case:
    case = timed(made, now)
    assert case is not None
    return case


def bundled(name: str) -> Case:
    """A bundled plan three weeks ahead of its meal."""
    made = BUNDLED[name]
    assert made.serve is not None
    return fitting(made, made.serve - timedelta(days=21))


# ---------------------------------------------------------------- asked of the solver


def can_start(case: Case, found: Reasons, later: bool, kept: Collection[Fact] | None = None) -> bool:
    """Whether the step can start a mark past its limit, when only the facts `kept` hold (None: all)."""
    mark = case.plan.steps[found.step].grain
    bound = Bound(found.step, not_before=found.latest + mark) if later else None
    return _fits(case, bound or Bound(found.step, not_after=found.earliest - mark), kept)


def reaches(case: Case, found: Reasons, later: bool) -> bool:
    """Whether the step can start at its limit."""
    late, early = Bound(found.step, not_before=found.latest), Bound(found.step, not_after=found.earliest)
    return _fits(case, late if later else early, None)


def _fits(case: Case, bound: Bound, kept: Collection[Fact] | None) -> bool:
    every = frozenset(facts_of(case.plan, case.progress))
    dropped = frozenset() if kept is None else every - set(kept)
    task = Task(case.plan, case.progress, case.now, case.timetable.serve)
    return fits(replace(task, dropped=dropped, bounds=(bound,))) is not Verdict.INFEASIBLE


def assert_minimal(case: Case, found: Reasons, later: bool) -> None:
    """The limit is reached and cannot be passed; its facts alone say so, and with any one fewer it can."""
    facts = found.facts_later if later else found.facts_earlier
    assert reaches(case, found, later)
    assert not can_start(case, found, later)
    assert not can_start(case, found, later, facts)
    for fact in facts:
        assert can_start(case, found, later, set(facts) - {fact}), fact


# ---------------------------------------------------------------- worked out again


def assert_links(case: Case, found: Reasons) -> None:
    """Every number of every reason follows from the plan and the timetable."""
    for later, side in ((True, found.no_later), (False, found.no_earlier)):
        for reason in side:
            LINKS[reason.because](case, reason, later)
            _assert_beside_the_timetable(case, reason, later)
        told = {fact for reason in side for fact in reason.facts}
        assert told == set(found.facts_later if later else found.facts_earlier)


def _assert_beside_the_timetable(case: Case, reason: Reason, later: bool) -> None:
    """A last moment is not before, and a first one not after, what the timetable plans."""
    number = reason.other if reason.because is Because.KEEPS and later else reason.step
    slot = None if number is None else case.timetable.slot(number)
    if slot is not None and reason.by is not None:
        planned = slot.end if reason.end else slot.start
        wait = reason.because in (Because.WAIT, Because.KEEPS)
        assert wait or (planned <= reason.by if later else reason.by <= planned)


def _marked(reason: Reason, exact: datetime, later: bool) -> None:
    """As worked out, or on the mark of the clock next to it."""
    if reason.by is not None:
        off = exact - reason.by if later else reason.by - exact
        assert NO_TIME <= off < FIVE_MINUTES


def _length(case: Case, reason: Reason, later: bool) -> None:
    shortest = case.plan.steps[reason.step or 0].range.planned()[0]
    assert reason.length == shortest
    if reason.at is not None:
        _marked(reason, reason.at - shortest if later else reason.at + shortest, later)


def _longest(case: Case, reason: Reason, later: bool) -> None:
    longest = case.plan.steps[reason.step or 0].range.planned()[1]
    assert reason.length == longest and longest is not None and reason.at is not None
    _marked(reason, reason.at + longest if later else reason.at - longest, later)


def _gap(case: Case, reason: Reason, later: bool) -> None:
    links = live_links(case.plan, case.progress.dropped)
    link = next(each for each in links if (each.before, each.after) == (reason.step, reason.other))
    gap = link.shortest if reason.because is Because.WAIT else link.longest
    assert reason.length == gap and gap is not None
    if reason.at is not None:
        apart = -1 if later == (reason.because is Because.WAIT) else 1
        _marked(reason, reason.at + apart * gap, later)


def _hours(case: Case, reason: Reason, later: bool) -> None:
    """Nobody who may do it is awake and at home in that stretch, and someone is on its other side."""
    assert reason.since is not None and reason.until is not None
    week = timedelta(days=7)
    presence = Presence(case.plan, reason.since - week, reason.until + week)
    home = presence.someone(case.plan.steps[reason.step or 0])
    assert all(end <= reason.since or reason.until <= start for start, end in home)
    if reason.by is not None:
        assert reason.by <= reason.since if later else NO_TIME <= reason.by - reason.until < FIVE_MINUTES


def _only(case: Case, reason: Reason, later: bool) -> None:
    step = case.plan.steps[reason.step or 0]
    assert step.between or step.on


def _moment(case: Case, reason: Reason, later: bool) -> None:
    """The serving hour, or the whole minute it is."""
    serve = reason.because is Because.SERVE
    known = case.timetable.serve if serve else next_mark(case.now, MINUTE)
    assert {reason.at, reason.by} - {None} == {known}


def _shared(case: Case, reason: Reason, later: bool) -> None:
    """The step that has the hands or the gear has them then."""
    slot = case.timetable.slot(reason.step or 0)
    assert slot is not None and (reason.since, reason.until) == (slot.start, slot.end)


def _real(case: Case, reason: Reason, later: bool) -> None:
    """What was said of a step, or when it may end as it goes on, to the minute."""
    standing = case.progress.of(reason.step or 0)
    if standing.ended is not None:
        assert reason.because is Because.OVER and reason.by == standing.ended.replace(second=0)
    else:
        assert reason.because is Because.BEGUN
        assert reason.by in end_bounds(case.plan.steps[reason.step or 0], standing, case.now)


LINKS = {
    Because.BEGUN: _real,
    Because.OVER: _real,
    Because.LENGTH: _length,
    Because.LONGEST: _longest,
    Because.KEEPS: _gap,
    Because.WAIT: _gap,
    Because.HOURS: _hours,
    Because.ONLY: _only,
    Because.SERVE: _moment,
    Because.NOW: _moment,
    Because.GEAR: _shared,
    Because.COOK: _shared,
}
