"""The CP-SAT model of a plan: one integer variable for each chain of steps that moves as one."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING, Any

from ortools.sat.python import cp_model

from scheduler.domain.plan import MINUTE, NO_TIME, Attention, Link, Step
from scheduler.domain.progress import State
from scheduler.facts import SERVE, FactKind
from scheduler.solver import gear, preferences
from scheduler.solver.network import FAR, tighten
from scheduler.solver.places import Place, Places
from scheduler.solver.ranges import DAY, Ranges, both, in_units, outside

if TYPE_CHECKING:
    from collections.abc import Iterator

    from scheduler.solver.network import Edge
    from scheduler.solver.search import Task, Values
    from scheduler.solver.serial import First


class Model(Places):
    """Built once for a task; then aimed at one objective after another."""

    def __init__(self, task: Task, within: list[Ranges] | None = None) -> None:
        """`within`: only these moments of each head, where something better than what is known can be."""
        super().__init__(task)
        if within is not None and not self.impossible:
            for head, allowed in zip(self.heads, within, strict=True):
                head.allowed = both(head.allowed, allowed)
            tighten(self, self.edges)
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
        for edge in self.edges:
            self._keep_apart(edge)
        for step in self.waiting():
            self._stay_in_hours(step)
        for link in self.links:
            self._seek_hour(link)
        gear.share_cooks(self)
        gear.share_gear(self)
        gear.share_ovens(self)

    def _keep_apart(self, edge: Edge) -> None:
        one, other = self.heads[edge.earlier], self.heads[edge.later]
        apart = other.unit * other.var - one.unit * one.var
        reach = other.allowed[-1][1] - one.allowed[0][0], other.allowed[0][0] - one.allowed[-1][1]
        self.cp.add_linear_constraint(apart, max(edge.low, reach[1]), min(edge.high, reach[0]))

    def _stay_in_hours(self, step: Step) -> None:
        """Where the length is chosen, no gap between hours may lie inside the step."""
        least, most = self.lengths(step)
        if step.attention is Attention.UNATTENDED or least == most:
            return
        inside = []
        if step.attention is Attention.NEARBY and not self.without(FactKind.HOURS, step=step.number):
            inside = [self.stretches.someone(step)]
        if step.attention is Attention.HANDS_ON and not self.without(FactKind.ONLY, step=step.number):
            inside = self.stretches.wholly(step)
        for stretches in inside:
            gaps = outside(stretches, self.first - DAY, self.last + DAY)
            self.avoid(step, [(a, b) for a, b in gaps if b - a < (most or FAR)])

    def avoid(self, step: Step, gaps: Ranges, when: Any = None) -> None:
        """Keep a step of chosen length clear of those fixed gaps it could lie over, if `when` holds."""
        most = self.lengths(step)[1] or FAR
        starts = self.moments(self.starts[step.number])
        near = [(a, b) for a, b in gaps if both(starts, [(a - most + 1, b - 1)])]
        intervals = [self.cp.new_fixed_size_interval_var(a, b - a, f"gap{a}") for a, b in near]
        if intervals:
            self.cp.add_no_overlap([self.interval(step.number, when), *intervals])

    def _seek_hour(self, link: Link) -> None:
        """Where the serving hour is sought, what goes to the table keeps to it."""
        sought = link.after is None and self.latest_serve > self.serve and SERVE not in self.task.dropped
        if sought and self.state(link.before) is not State.DONE:
            least, most = int(link.shortest / MINUTE), int((link.longest or NO_TIME) / MINUTE)
            if self.without(FactKind.KEEPS, step=link.before, other=None):
                most = FAR
            self.cp.add_linear_constraint(self.serve_var - self.at(self.ends[link.before]), least, most)

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

    def hint_at(self, first: First) -> None:
        """Start the search from a placement."""
        for index, head in enumerate(self.heads):
            self.cp.add_hint(head.var, first.at[index] // head.unit)
        for (number, name), there in self.by_cook.items():
            if not isinstance(there, int):
                self.cp.add_hint(there, first.cook(number) == name)

    def placed(self, values: Values) -> tuple[dict[int, int], dict[int, str | None]]:
        """Where each head is, and who does each step that takes a cook."""
        at = {index: head.unit * values.of(head.var) for index, head in enumerate(self.heads)}
        return at, {number: name for (number, name), there in self.by_cook.items() if values.of(there)}

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
