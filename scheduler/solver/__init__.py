"""The only package that imports OR-Tools: plan, fixed past and serving hour -> slots, or a verdict.

Importing it costs nothing; OR-Tools is loaded by the first search.
"""

from scheduler.solver.search import Answer, Bound, Task, Verdict, fits, solve

__all__ = ["Answer", "Bound", "Task", "Verdict", "fits", "solve"]
