"""How the search grows with a plan: `python tests/bench/kitchen_plans.py [PLANS] [STEPS ...]`.

Prints a line for each size (30, 80, 200 and 500 steps unless told): how many of PLANS (12) generated plans fit
and how many are proven best, the time of a search in seconds of processor time, how far what was found may be
from the best, in per cent of what it costs, and the peak memory of a process of its own. Every timetable is
put through the verifier; one that it refuses ends the run.
"""

from __future__ import annotations

import json
import resource
import statistics
import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from scheduler.domain.check import check
from scheduler.domain.plan import Plan
from scheduler.domain.progress import at_the_start
from scheduler.planning import Unsound, complete
from scheduler.solver import Answer, Task, Verdict, solve
from tests.bench.kitchens import begins, kitchen

SIZES = (30, 80, 200, 500)
HEADER = "steps plans  fits proven    median      95th       max   mean gap    max gap    memory"


def measured(steps: int, plans: int) -> dict[str, object]:
    """The figures of one size; run in a process of its own, since peak memory never falls."""
    timed(kitchen(10, 0))
    answers = [timed(kitchen(steps, seed)) for seed in range(plans)]
    took = sorted(seconds for seconds, _ in answers)
    gaps = [gap(answer) for _, answer in answers if answer.fits]
    return {
        "fits": len(gaps),
        "proven": sum(answer.verdict in (Verdict.OPTIMAL, Verdict.INFEASIBLE) for _, answer in answers),
        "median": statistics.median(took),
        "late": took[min(len(took) - 1, round(0.95 * (len(took) - 1)))],
        "max": took[-1],
        "gap": statistics.mean(gaps) if gaps else 0.0,
        "widest": max(gaps, default=0.0),
        "memory": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024,
    }


def timed(plan: Plan) -> tuple[float, Answer]:
    """The seconds a search took, and its answer, verified."""
    if plan.serve is None:
        raise ValueError("a generated plan has a serving hour")
    now, progress = begins(plan), at_the_start(plan)
    start = time.process_time()
    answer = solve(Task(plan, progress, now, plan.serve))
    took = time.process_time() - start
    if answer.fits:
        table = complete(plan, plan.serve, now, progress, answer.slots, answer.verdict is Verdict.OPTIMAL)
        if breaches := check(plan, table, now, progress):
            raise Unsound(breaches)
    return took, answer


def gap(answer: Answer) -> float:
    """How much less the best may cost, in per cent of what the answer costs."""
    if not answer.cost or answer.bound is None:
        return 0.0
    return 100 * (answer.cost - answer.bound) / answer.cost


def line(steps: int, plans: int) -> str:
    command = [sys.executable, __file__, "--one", str(steps), str(plans)]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    found = json.loads(done.stdout)
    times = "".join(f"{found[key]:8.2f} s" for key in ("median", "late", "max"))
    gaps = "".join(f"{found[key]:9.2f} %" for key in ("gap", "widest"))
    return f"{steps:5} {plans:5} {found['fits']:5} {found['proven']:6}{times}{gaps}{found['memory']:7} MB"


def main() -> None:
    if sys.argv[1:2] == ["--one"]:
        print(json.dumps(measured(int(sys.argv[2]), int(sys.argv[3]))))
        return
    plans = int(sys.argv[1]) if len(sys.argv) > 1 else 12
    print(HEADER)
    for steps in [int(word) for word in sys.argv[2:]] or SIZES:
        print(line(steps, plans), flush=True)


if __name__ == "__main__":
    main()
