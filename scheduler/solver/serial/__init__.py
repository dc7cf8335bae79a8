"""Our own way to a timetable, without OR-Tools: a first answer for plans of any size, and a bound on the best.

Without shared cooks and gear a plan is a small network whose best timetable dynamic programming finds exactly
(`tree`); that is the bound. `build` puts one block after another where it costs least beside the others,
`improve` lets blocks change places, `shrink` leaves out moments that nothing as good can use.
"""

from scheduler.solver.serial.first import First, first_answer

__all__ = ["First", "first_answer"]
