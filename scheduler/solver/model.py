"""The CP-SAT model of a plan: one integer variable for each chain of steps that moves as one."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING, Any

from ortools.sat.python import cp_model

from scheduler.domain.plan import MINUTE, Attention, Link, Step
from scheduler.domain.progress import State, latest_after
from scheduler.facts import SERVE, FactKind
from scheduler.solver import gear, preferences
from scheduler.solver.places import Place, Places
from scheduler.solver.ranges import DAY, Ranges, in_units, outside

if TYPE_CHECKING:
    from collections.abc import Iterator

    from scheduler.solver.search import Task, Values


class Model(Places):
    """Built once for a task; then aimed at one objective after another."""

    def __init__(self, task: Task) -> None:
        super().__init__(task)
        self.cp = cp_model.CpModel()
        self.by_cook: dict[tuple[int, str], Any] = {}
        self.sizes: dict[int, Any] = {}
        if not self.impossible:
            self._make_variables()
            self._constrain()

    def at(self, place: Place) -> Any:
        """The linear expression of a place."""
        if place.head is None:
            return place.offset
        head = self.heads[place.head]
        return head.unit * head.var + place.offset

    def _make_variables(self) -> None:
        for index, head in enumerate(self.heads):
            domain = cp_model.Domain.from_intervals(in_units(head.allowed, head.unit))
            head.var = self.cp.new_int_var_from_domain(domain, f"h{index}")
        self.serve_var: Any = self.serve
        if self.latest_serve > self.serve:
            quarters = self.cp.new_int_var(-(-self.serve // 15), self.latest_serve // 15, "serve")
            self.serve_var = 15 * quarters

    # ------------------------------------------------------------ constraints

    def _constrain(self) -> None:
        for step in self.waiting():
            self._limit_length(step)
            self._stay_in_hours(step)
        for link in self.links:
            self._link(link)
        gear.share_cooks(self)
        gear.share_gear(self)
        gear.share_ovens(self)

    def _limit_length(self, step: Step) -> None:
        least, most = self.lengths(step)
        if least == most:
            return
        length = self.at(self.ends[step.number]) - self.at(self.starts[step.number])
        self.cp.add(length >= least)
        if most is not None:
            self.cp.add(length <= most)

    def _stay_in_hours(self, step: Step) -> None:
        """Where the length is chosen, the end has to be kept inside the hours too."""
        least, most = self.lengths(step)
        dropped = self.without(FactKind.HOURS, step=step.number)
        if step.attention is Attention.UNATTENDED:
            if not step.fresh_for and not dropped:
                self._end_with_someone(step)
        elif least != most:
            allowed = (
                [] if dropped or step.attention is Attention.HANDS_ON else [self.stretches.someone(step)]
            )
            if step.attention is Attention.HANDS_ON and not self.without(FactKind.ONLY, step=step.number):
                allowed += self.stretches.only(step)
            for stretches in allowed:
                self.avoid(step, outside(stretches, self.first - DAY, self.last + DAY))

    def avoid(self, step: Step, gaps: Ranges, when: Any = None) -> None:
        """Keep a step of chosen length clear of fixed gaps, if `when` holds."""
        intervals = [self.cp.new_fixed_size_interval_var(a, b - a, f"gap{a}") for a, b in gaps]
        self.cp.add_no_overlap([self.interval(step.number, when), *intervals])

    def _end_with_someone(self, step: Step) -> None:
        end = self.ends[step.number]
        closed = cp_model.Domain.from_intervals([list(pair) for pair in self.stretches.someone(step)])
        self.cp.add_linear_expression_in_domain(self.at(end), closed)

    def _link(self, link: Link) -> None:
        ended = self.at(self.ends[link.before])
        least = int(link.shortest / MINUTE)
        most = None if link.longest is None else int(link.longest / MINUTE)
        if link.after is None:
            if SERVE not in self.task.dropped and self.state(link.before) is not State.DONE:
                self.cp.add(self.serve_var - ended >= least)
                self.cp.add(self.serve_var - ended <= (most or 0))
            return
        if self.state(link.after) is not State.WAITING or self.starts[link.after] == self.ends[link.before]:
            return
        started = self.at(self.starts[link.after])
        self.cp.add(started - ended >= least)
        if most is not None and not self.without(FactKind.KEEPS, step=link.before, other=link.after):
            self._no_later(link, started, ended + most)

    def _no_later(self, link: Link, started: Any, limit: Any) -> None:
        if self.state(link.before) is State.DONE:
            really = self.task.progress.of(link.before).ended
            latest = latest_after(link, really, self.task.now) if really else None
            if latest is None:
                return
            limit = self.minute(latest)
        self.cp.add(started <= limit)

    def interval(self, number: int, when: Any = None) -> Any:
        """The stretch of a step from now on; only there if `when` holds."""
        start, end = self.at(self.starts[number]), self.at(self.ends[number])
        if self.state(number) is State.RUNNING:
            start = self.now
        name = f"i{number}" if when is None else f"i{number}?{when}"
        size = self._size(number, start, end)
        if when is None:
            return self.cp.new_interval_var(start, size, end, name)
        return self.cp.new_optional_interval_var(start, size, end, when, name)

    def _size(self, number: int, start: Any, end: Any) -> Any:
        """How long a step lasts: a constant, or one variable; an interval takes nothing more."""
        places = {self.starts[number].head, self.ends[number].head}
        if len(places) == 1 or None in places:
            return end - start
        if number not in self.sizes:
            self.sizes[number] = self.cp.new_int_var(0, self.last - self.first + DAY, f"s{number}")
        return self.sizes[number]

    # ------------------------------------------------------------ aims and answers

    def first_preferences(self) -> Any:
        return preferences.first(self)

    def last_preferences(self) -> Any:
        return preferences.last(self)

    def hold(self, objective: Any, values: Values) -> None:
        """Let nothing that follows cost this objective anything."""
        self.cp.add(objective <= values.of(objective))

    def aim(self, objective: Any, hint: Values | None) -> None:
        self.cp.clear_objective()
        self.cp.clear_hints()
        if objective is not None:
            self.cp.minimize(objective)
        if hint is not None:
            for head in self.heads:
                self.cp.add_hint(head.var, hint.of(head.var))

    def read(self, values: Values) -> Iterator[tuple[int, datetime, datetime, str | None]]:
        for step in self.task.plan.steps:
            if self.state(step.number) is State.DROPPED:
                continue
            start = values.of(self.at(self.starts[step.number]))
            end = values.of(self.at(self.ends[step.number]))
            cook = next(
                (name for (n, name), there in self.by_cook.items() if n == step.number and values.of(there)),
                None,
            )
            yield step.number, self.moment(start), self.moment(end), cook
