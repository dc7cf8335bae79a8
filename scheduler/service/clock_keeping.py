"""What becomes of a clock of food: started, stopped, measured, put off; kept in a plan's marks or in the outbox."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from typing import Any

from scheduler.commands import Understood
from scheduler.domain import clocks
from scheduler.domain.clocks import STANDS_OUT, Act, OfClock
from scheduler.domain.kitchen.holding import Clock, Kind
from scheduler.domain.marks import Mark, MarkKind
from scheduler.domain.nudges import Policy
from scheduler.domain.plan import MINUTE
from scheduler.domain.progress import still_to_do
from scheduler.domain.timetable import next_mark
from scheduler.ports import UnitOfWork
from scheduler.records import PlanStatus
from scheduler.service import loose_clocks
from scheduler.service.answers import Answer, Refused
from scheduler.service.clock_answers import ClockIs, ClockTold
from scheduler.service.clock_search import Known, every_one, known, lines_of, loose, meant
from scheduler.service.letters import replace_nudges, take_buttons_off_message, take_clock_buttons_off
from scheduler.service.loose_clocks import LooseClock
from scheduler.service.scene import Scene
from scheduler.service.turn import Turn
from scheduler.service.view import View, view_of

UNDONE = "loose clock"
"""What is open to be taken back after something was said of a clock that is no plan's."""


class Keeper:
    """One turn about clocks, inside the transaction that stores it."""

    def __init__(self, uow: UnitOfWork, turn: Turn, scene: Scene, policy: Policy) -> None:
        self.uow, self.turn, self.scene, self.policy = uow, turn, scene, policy

    @property
    def now(self) -> datetime:
        return self.scene.now

    def moment(self, at: datetime | None) -> datetime:
        """A moment in whole minutes; the present where none was named."""
        return min(at or self.now, self.now).replace(second=0, microsecond=0)

    # ------------------------------------------------------------ what becomes of a clock

    def start(self, understood: Understood, kind: Kind, name: str) -> Answer:
        at, view, steps = self.moment(understood.at), self.scene.view, understood.steps
        asked = (self.scene.asked,) if self.scene.asked is not None else ()
        steps = steps or (asked if not name else ())
        if not steps and not name:
            return Refused("Which food is out? Say for instance: start the clock for the rice.")
        if same := meant(self._with_limits_to_come(), self.scene, name, steps):
            return self.told(ClockTold.RUNS, same[0])
        if steps and view is not None:
            return self._start_in_plan(view, steps[0].step, kind, at)
        clock = LooseClock(self.scene.batch, name, Clock(kind, at), self.now)
        loose_clocks.owe(self.uow, self.turn.chat_id, clock, self.policy)
        self._can_be_undone(clock, began=True)
        return self.told(ClockTold.STARTED, loose(clock, self.scene))

    def _with_limits_to_come(self) -> list[Known]:
        every, rules = every_one(self.uow, self.scene, self.policy.rules), self.policy.rules
        return [each for each in every if lines_of([each], rules, self.now)]

    def _start_in_plan(self, view: View, step: int, kind: Kind, at: datetime) -> Answer:
        number = clocks.number_of_next(self.uow.marks.of(view.id))
        after = self._mark(view.id, step, at, OfClock(Act.START, number, kind))
        started = [
            each
            for each in clocks.clocks(after.plan, after.progress)
            if (each.step, each.number) == (step, number)
        ]
        return self.told(ClockTold.STARTED, known(started[0], after))

    def stop(self, clock: Known, at: datetime, cold: bool) -> Answer:
        """Over: `cold` also says how cold it is by now, where it had to get cold."""
        cools = clock.clock.kind not in STANDS_OUT
        celsius = clocks.coldest(clock.clock, self.policy.rules) if cold and cools else None
        ended = self._after(clock, at, celsius)
        if clock.loose is not None:
            self._end(clock.loose)
            self._can_be_undone(clock.loose)
        else:
            self._mark_of(clock, at, OfClock(Act.STOP, clock.ref.number, celsius=celsius))
        return self.told(ClockTold.STOPPED, ended, at=at, celsius=celsius)

    def measure(self, clock: Known, at: datetime, celsius: float) -> Answer:
        after = self._after(clock, at, celsius)
        if clock.loose is not None:
            self._end(clock.loose)
            measured = clock.loose.with_reading(at, celsius)
            loose_clocks.owe(self.uow, self.turn.chat_id, measured, self.policy)
            self._can_be_undone(clock.loose)
        else:
            self._mark_of(clock, at, OfClock(Act.READING, clock.ref.number, celsius=celsius))
        return self.told(ClockTold.MEASURED, after, celsius=celsius)

    def put_off(self, clock: Known, until: datetime | None) -> Answer:
        """Never past the limit that comes next: told again before it, or at it, as it would be anyway."""
        limit = clocks.next_limit(clock.clock, self.policy.rules, self.now).at
        wished = next_mark(until or limit, MINUTE)
        again = min(wished, (limit - self.policy.clock_least).replace(second=0, microsecond=0))
        if until is None or again <= self.now or clock.ref.plan is None:
            return self.told(ClockTold.LATER, clock)
        self._mark_of(clock, self.moment(None), OfClock(Act.LATER, clock.ref.number), until=again)
        return self.told(ClockTold.LATER, clock, at=again)

    def in_the_cold(self, clock: Known, at: datetime) -> Answer:
        """Food that only stood out is under control again; what cools goes on until it is cold."""
        if clock.clock.kind in STANDS_OUT:
            return self.stop(clock, at, cold=False)
        return self.told(ClockTold.IN_THE_COLD, clock, at=at)

    def ask_how_warm(self, clock: Known) -> Answer:
        ref = clock.ref
        self.turn.ask(kind="clock", plan=ref.plan, step=ref.step, number=ref.number, loose=ref.loose)
        return self.told(ClockTold.WARM, clock)

    # ------------------------------------------------------------ taken back, where no plan's marks hold it

    def _can_be_undone(self, clock: LooseClock, began: bool = False) -> None:
        """The very next thing that is said may take it back; `began`: there was none before."""
        self.turn.ask(kind=UNDONE, began=began, before=loose_clocks.kept(clock))

    def take_back(self, asked: dict[str, Any]) -> Answer:
        """A clock that was started is no more; one that was stopped or measured runs as before."""
        before = loose_clocks.of_kept(asked["before"])
        if asked["began"]:
            self._end(before)
            return self.told(ClockTold.GONE, loose(before, self.scene))
        loose_clocks.owe(self.uow, self.turn.chat_id, before, self.policy)
        return self.told(ClockTold.BACK, loose(before, self.scene))

    # ------------------------------------------------------------ kept

    def told(
        self, about: ClockTold, clock: Known, at: datetime | None = None, celsius: float | None = None
    ) -> ClockIs:
        return ClockIs(
            about, clock.name, clock.clock, clock.ref, self.policy.rules, clock.zone, self.now, at, celsius
        )

    def _after(self, clock: Known, at: datetime, celsius: float | None) -> Known:
        return clock if celsius is None else replace(clock, clock=clocks.measured(clock.clock, at, celsius))

    def _end(self, clock: LooseClock) -> None:
        """Nothing more of it, and no buttons on the message that was answered."""
        loose_clocks.end(self.uow, self.turn.chat_id, clock.id)
        shown = self.scene.shown
        if shown is not None and loose_clocks.clock_of(shown) is not None:
            take_buttons_off_message(self.uow, shown, self.now)

    def _mark_of(self, clock: Known, at: datetime, told: OfClock, until: datetime | None = None) -> None:
        self._mark(clock.ref.plan or 0, clock.ref.step or 0, at, replace(told, kind=clock.clock.kind), until)

    def _mark(self, plan: int, step: int, at: datetime, told: OfClock, until: datetime | None = None) -> View:
        by, batch = self.scene.incoming.sender, self.scene.batch
        mark = Mark(MarkKind.CLOCK, at, self.now, batch, step, until=until, by=by, text=told.as_text())
        self.uow.marks.add(plan, [mark])
        view = owe_again(self.uow, plan, self.now, self.policy)
        take_clock_buttons_off(self.uow, view, step, told.number)
        return view


def owe_after_note(uow: UnitOfWork, view: View, policy: Policy) -> None:
    """A note may be the temperature of food whose clock runs: then something else is owed."""
    if clocks.under_way(view.plan, view.progress, view.now):
        owe_again(uow, view.id, view.now, policy)


def owe_again(uow: UnitOfWork, plan: int, now: datetime, policy: Policy) -> View:
    """Owe what a plan owes after something was said of its clocks; one with nothing else left to do is over."""
    row = uow.plans.get(plan)
    if row is None:
        raise ValueError(f"plan {plan} was never stored")
    view = view_of(uow, row, now)
    clock_runs = clocks.running(view.plan, view.progress, policy.rules, now)
    if row.status is PlanStatus.ACTIVE and not clock_runs and not still_to_do(view.progress):
        row = uow.plans.save(replace(view.row, status=PlanStatus.FINISHED), row.revision)
        view = view_of(uow, row, now)
    replace_nudges(uow, view, policy)
    return view
