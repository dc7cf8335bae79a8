"""The whole project as a CP-SAT model: a shorter schedule than the best known, or proof that none exists."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from scheduler.solver.engine import solved
from scheduler.solver.projects.closure import NEVER
from scheduler.solver.projects.engine import new_solver
from scheduler.solver.projects.network import Network
from scheduler.solver.task import Verdict

Cliques = Sequence[Sequence[int]]
"""Sets of activities of which no two can overlap."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """`starts`: a schedule, if one was found; `finished`: nothing better exists; `bound`: on the makespan."""

    starts: list[int] | None
    finished: bool
    bound: int


def shortest(
    network: Network, upper: int, seconds: float, hint: Sequence[int] | None, cliques: Cliques
) -> Outcome:
    """Look for the shortest schedule that ends by `upper`. Cliques hasten proof and slow down finding."""
    return _run(Model(network, upper, cliques), seconds, hint, aim=True)


def any_within(network: Network, upper: int, seconds: float, hint: Sequence[int] | None) -> Outcome:
    """Look for any schedule that ends by `upper`, or proof that none does (then `bound` is above `upper`)."""
    return _run(Model(network, upper, []), seconds, hint, aim=False)


def _run(model: Model, seconds: float, hint: Sequence[int] | None, aim: bool) -> Outcome:
    if model.refuted:
        return Outcome(None, True, model.upper + 1)
    if aim:
        model.cp.minimize(model.makespan)
    if hint is not None:
        model.hint(hint)
    solver = new_solver(seconds)
    verdict = solved(solver, model.cp)
    if verdict is Verdict.INFEASIBLE:
        return Outcome(None, True, model.upper + 1)
    if verdict is Verdict.UNKNOWN:
        return Outcome(None, False, _bound(model, solver) if aim else model.low)
    starts = [int(solver.value(start)) for start in model.starts]
    bound = _bound(model, solver) if aim else model.low
    return Outcome(starts, aim and verdict is Verdict.OPTIMAL, bound)


def _bound(model: Model, solver: Any) -> int:
    """Stopped before it began, the solver may know no bound at all."""
    bound: float = solver.best_objective_bound
    return round(min(max(model.low, bound), model.upper))


class Model:
    """Starts within their windows, every implied lag, the order of pairs that can't overlap, and resources.

    `low` and `upper` are what is known of the makespan; `refuted`: it can't end by `upper`, and the rest of the
    model isn't there.
    """

    def __init__(self, network: Network, upper: int, cliques: Cliques) -> None:
        from ortools.sat.python import cp_model

        self.upper = upper
        lags = network.within(upper)
        self.refuted = lags is None
        if lags is None:
            return
        self.low = int(lags[network.origin, network.end])
        self.cp = cp_model.CpModel()
        self._network, self._lags = network, lags
        self._lengths: list[int] = network.durations.tolist()
        earliest, latest = network.windows(lags)
        self.starts = [
            self.cp.new_int_var(int(first), int(last), f"s{number}")
            for number, (first, last) in enumerate(zip(earliest, latest, strict=True))
        ]
        self.makespan = self.cp.new_int_var(self.low, upper, "makespan")
        self._keep_lags(earliest, latest)
        self._order_pairs()
        intervals = self._intervals()
        for clique in cliques:
            self.cp.add_no_overlap([intervals[number] for number in clique])
        share_resources(self.cp, network, intervals)

    def hint(self, starts: Sequence[int]) -> None:
        for variable, start in zip(self.starts, starts, strict=True):
            self.cp.add_hint(variable, start)

    def _keep_lags(self, earliest: Any, latest: Any) -> None:
        """Every implied lag that the windows don't already keep: the redundant ones help (measured)."""
        count = self._network.count
        inner = self._lags[:count, :count]
        needed = (inner > NEVER) & (earliest[None, :] - latest[:, None] < inner)
        np.fill_diagonal(needed, False)
        for before, after in np.argwhere(needed):
            self.cp.add(self.starts[after] - self.starts[before] >= int(inner[before, after]))
        for start, length in zip(self.starts, self._lengths, strict=True):
            self.cp.add(self.makespan >= start + length)

    def _order_pairs(self) -> None:
        for one, other in self._network.undecided(self._lags):
            first = self.cp.new_bool_var(f"{one}<{other}")
            start, other_start = self.starts[one], self.starts[other]
            self.cp.add(other_start >= start + self._lengths[one]).only_enforce_if(first)
            self.cp.add(start >= other_start + self._lengths[other]).only_enforce_if(~first)

    def _intervals(self) -> list[Any]:
        return [
            self.cp.new_fixed_size_interval_var(start, length, f"i{number}")
            for number, (start, length) in enumerate(zip(self.starts, self._lengths, strict=True))
        ]


def share_resources(cp: Any, network: Network, intervals: Sequence[Any]) -> None:
    """Never more of a resource in use than there is."""
    for resource, capacity in enumerate(network.capacities.tolist()):
        demands = network.demands[:, resource].tolist()
        users = [number for number, demand in enumerate(demands) if demand]
        if sum(demands) > capacity:
            cp.add_cumulative(
                [intervals[number] for number in users], [demands[number] for number in users], capacity
            )
