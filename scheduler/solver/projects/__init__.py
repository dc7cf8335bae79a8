"""Resource-constrained projects with generalised precedence: the shortest schedule, or proof of none."""

from scheduler.solver.projects.project import Activity, Lag, Project, ProjectAnswer, Status
from scheduler.solver.projects.search import solve_project
from scheduler.solver.projects.verifier import faults

__all__ = ["Activity", "Lag", "Project", "ProjectAnswer", "Status", "faults", "solve_project"]
