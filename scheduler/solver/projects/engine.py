"""One place for how CP-SAT is run: one worker, a fixed seed, a hard limit in seconds."""

from __future__ import annotations

from typing import Any


def new_solver(seconds: float) -> Any:
    """A CpSolver of one worker that ends within so many seconds of wall time.

    Measured on projects: the linear relaxation and simplifying between restarts cost more time than they save,
    and counting what stands behind a conflict's reasons as active too saves some.
    """
    from ortools.sat.python import cp_model

    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    solver.parameters.linearization_level = 0
    solver.parameters.inprocessing_dtime_ratio = 0.0
    solver.parameters.also_bump_variables_in_conflict_reasons = True
    solver.parameters.max_time_in_seconds = max(seconds, 0.001)
    return solver
