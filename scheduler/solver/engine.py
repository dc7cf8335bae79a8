"""One place for how CP-SAT is run: one worker and a fixed seed, so that the same input has the same answer."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from scheduler.solver.task import Verdict

if TYPE_CHECKING:
    from ortools.sat.python import cp_model


def new_solver() -> Any:
    """A CpSolver of one worker that leaves signals to the process it runs in; its limits are the caller's to set."""
    from ortools.sat.python import cp_model

    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    solver.parameters.catch_sigint_signal = False
    return solver


def solved(solver: Any, model: cp_model.CpModel) -> Verdict:
    """Run it; RuntimeError where the model is not one."""
    from ortools.sat.python import cp_model

    verdicts = {
        cp_model.OPTIMAL: Verdict.OPTIMAL,
        cp_model.FEASIBLE: Verdict.FEASIBLE,
        cp_model.INFEASIBLE: Verdict.INFEASIBLE,
        cp_model.UNKNOWN: Verdict.UNKNOWN,
    }
    status = solver.solve(model)
    if status not in verdicts:
        raise RuntimeError(f"the solver refused its model: {model.validate()}")
    return verdicts[status]
