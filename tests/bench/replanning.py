"""How long planning again after a reply takes: `python tests/bench/replanning.py [PLANS] [STEPS...]`.

For each size (40 steps) PLANS (10) plans from `kitchens`, each lived through by a cook who is early, late and
puts things off, as a seed has it. Prints for each size the replies by how they were answered (kept: the timetable in
force still holds; repaired: it is enough to move what cannot stay; searched: something else has to make way),
how many were not proven best, and seconds of the processor. Replies that nothing fits after are a row of their
own: most of their time goes into saying why.
"""

from __future__ import annotations

import statistics
import sys
import time
from collections import defaultdict
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path
from unittest.mock import patch

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from scheduler.domain.plan import Plan
from scheduler.domain.progress import Progress
from scheduler.domain.timetable import Timetable
from scheduler.explain import Misfit
from scheduler.planning import time_out
from scheduler.solver.again import Again
from tests.bench.kitchens import begins, kitchen
from tests.drift_kit import DriftingCook

KEPT, REPAIRED, SEARCHED, MISFIT = "kept", "repaired", "searched", "no fit"
ENOUGH = Again.only_what_must


class Watch:
    """Times every planning again, by how it was answered."""

    def __init__(self) -> None:
        self.took: dict[str, list[float]] = defaultdict(list)
        self.unproven = 0
        self.how = KEPT

    def time_out(
        self, plan: Plan, serve: datetime, now: datetime, progress: Progress, previous: Timetable
    ) -> Timetable | Misfit:
        self.how = KEPT
        since = time.process_time()
        timing = time_out(plan, serve, now, progress, previous)
        took = time.process_time() - since
        self.took[MISFIT if isinstance(timing, Misfit) else self.how].append(took)
        self.unproven += isinstance(timing, Timetable) and self.how is SEARCHED and not timing.proven
        return timing

    def only_what_must(self, again: Again) -> bool:
        enough = ENOUGH(again)
        self.how = REPAIRED if enough else SEARCHED
        return enough


def live(steps: int, plans: int) -> Watch:
    watch = Watch()
    for seed in range(1, plans + 1):
        plan = kitchen(steps, seed)
        if plan.serve is None:
            raise ValueError("a generated plan has a serving hour")
        table = time_out(plan, plan.serve, begins(plan))
        if isinstance(table, Timetable):
            with patch.object(Again, "only_what_must", lambda again: watch.only_what_must(again)):
                for _ in DriftingCook(plan, table, begins(plan), seed, watch.time_out).live():
                    pass
    return watch


def rows(steps: int, watch: Watch) -> Iterator[str]:
    fitted = [took for how in (KEPT, REPAIRED, SEARCHED) for took in watch.took[how]]
    yield row(steps, "all that fit", fitted) + f"{watch.unproven:>10}"
    for how in (KEPT, REPAIRED, SEARCHED, MISFIT):
        yield row(steps, how, watch.took[how])
    yield row(steps, "all", fitted + watch.took[MISFIT])


def row(steps: int, name: str, took: list[float]) -> str:
    head = f"{steps:>6}  {name:<14}{len(took):>8}"
    if not took:
        return head
    ordered = sorted(took)
    figures = (
        statistics.median(ordered),
        ordered[min(len(ordered) - 1, int(0.95 * len(ordered)))],
        ordered[-1],
    )
    return head + "".join(f"{figure:>9.3f}" for figure in figures)


def main() -> None:
    plans, *sizes = (int(word) for word in sys.argv[1:] or ["10"])
    print(f"{'steps':>6}  {'':14}{'replies':>8}{'median':>9}{'95 %':>9}{'most':>9}{'unproven':>10}")
    for steps in sizes or [40]:
        print("\n".join(rows(steps, live(steps, plans))), flush=True)


if __name__ == "__main__":
    main()
