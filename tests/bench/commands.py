"""How long whole commands take, and the search inside them: `python tests/bench/commands.py [RUNS]`.

Prints one line for each: the median and the slowest of RUNS (5) runs, in seconds.
"""

from __future__ import annotations

import statistics
import subprocess
import sys
import time
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from scheduler.domain.hours import instant
from scheduler.domain.progress import at_the_start
from scheduler.planfile import read
from scheduler.solver import Task, solve

PLANS = {"rye-and-beet-supper": "2027-02-01 09:00", "terrace-lunch": "2027-06-01 09:00"}


def command(*words: str) -> Callable[[], object]:
    line = [sys.executable, "-m", "bot.main", *words]
    return lambda: subprocess.run(line, cwd=ROOT, stdout=subprocess.DEVNULL, check=True)


def search(name: str, now: str) -> Callable[[], object]:
    plan = read((ROOT / "bot" / "plans" / f"{name}.yaml").read_bytes(), zone="UTC")
    if plan.serve is None:
        raise ValueError(f"{name} has no serving hour")
    task = Task(plan, at_the_start(plan), instant(datetime.fromisoformat(now), plan.zone), plan.serve)
    return lambda: solve(task)


def row(name: str, work: Callable[[], object], runs: int) -> str:
    work()
    took = []
    for _ in range(runs):
        start = time.perf_counter()
        work()
        took.append(time.perf_counter() - start)
    return f"{name:40} {statistics.median(took):8.3f} {max(took):8.3f}"


def main() -> None:
    runs = int(sys.argv[1]) if len(sys.argv) > 1 else 5
    print(f"{'':40} {'median':>8} {'slowest':>8}")
    print(row("--help", command("--help"), runs))
    for name, now in PLANS.items():
        print(row(f"check {name}", command("check", name, "--now", now), runs))
        print(row("  of which the search", search(name, now), runs))
        print(row(f"rehearse {name}", command("rehearse", name), runs))


if __name__ == "__main__":
    main()
