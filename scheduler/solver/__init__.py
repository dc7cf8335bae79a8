"""The only package that imports OR-Tools: plan, fixed past and serving hour -> slots, or a verdict.

Importing it costs nothing; OR-Tools is loaded by the first search.
"""

from datetime import datetime

from scheduler.solver.search import Answer, Bound, Task, Verdict, fits, placed, solve

__all__ = ["Answer", "Bound", "Task", "Verdict", "fits", "placed", "solve", "solve_again"]


def solve_again(task: Task, now: datetime) -> Answer:
    """The timetable that disturbs `task.previous` least, in the order that `solver.steady` gives.

    `task.now` may be earlier than `now`: then what was to start between them may stay where it is, and
    everything else that has not begun needs bounds that keep it from starting before `now`. FEASIBLE where less
    was not ruled out in time. ValueError without a previous timetable.
    """
    from scheduler.solver.again import least_moved

    return least_moved(task, now)
