"""What replies move: `python tests/bench/drift.py [PLANS] [STEPS] [LIVES] [--each]`.

Plans from `kitchens`, each lived through LIVES (2) times by a cook who is early, late and puts things off, as
a seed has it. Prints how many steps a reply moves, how many moves were of less than five minutes, and every start
announced for the next hour that moved; of the last two, whether it had to: whether nothing fits with it kept
where it was. After a misfit the hour that is offered is agreed to; those replies are counted apart.
"""

from __future__ import annotations

import statistics
import sys
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from scheduler.domain.plan import FIVE_MINUTES
from scheduler.domain.timetable import Timetable
from scheduler.planning import time_out
from tests.bench.kitchens import begins, kitchen
from tests.drift_kit import DriftingCook, Moves, Reply, could_move_more, could_stay, moves


def replies(plans: int, steps: int, lives: int) -> Iterator[Reply]:
    for seed in range(1, plans + 1):
        plan = kitchen(steps, seed)
        if plan.serve is None:
            raise ValueError("a generated plan has a serving hour")
        table = time_out(plan, plan.serve, begins(plan))
        if isinstance(table, Timetable):
            for life in range(lives):
                yield from DriftingCook(plan, table, begins(plan), 1000 * seed + life).live()


def percentile(values: list[int], part: float) -> int:
    return sorted(values)[min(len(values) - 1, int(part * len(values)))]


def main() -> None:
    each = "--each" in sys.argv
    words = [word for word in sys.argv[1:] if word != "--each"]
    plans, steps, lives = (int(word) for word in [*words, *("10", "40", "2")[len(words) :]])
    every = list(replies(plans, steps, lives))
    timed = [(reply, moves(reply)) for reply in every if isinstance(reply.after, Timetable)]
    print(
        "\n".join([*counted(timed, len(every) - len(timed)), *little(timed, each), *announced(timed, each)])
    )


Timed = list[tuple[Reply, Moves]]


def counted(timed: Timed, misfits: int) -> Iterator[str]:
    counts = [len(found.every) for _, found in timed]
    yield f"{'replies':44}{len(timed):>8}"
    yield f"{'  and nothing fitted after':44}{misfits:>8}"
    yield f"{'moved nothing':44}{counts.count(0) / len(counts):>8.1%}"
    yield f"{'steps moved: median':44}{statistics.median(counts):>8g}"
    yield f"{'steps moved: 95th percentile':44}{percentile(counts, 0.95):>8}"
    yield f"{'steps moved: most':44}{max(counts):>8}"


def little(timed: Timed, each: bool) -> Iterator[str]:
    found = [
        (reply, step, not could_stay(reply, step) and not could_move_more(reply, step))
        for reply, moved in timed
        for step in moved.little
    ]
    yield from told("moved by less than five minutes", found, each)
    yield f"{'  of them, begin at once':44}{sum(at_once(reply, step) for reply, step, _ in found):>8}"


def at_once(reply: Reply, step: int) -> bool:
    slot = reply.after.slot(step) if isinstance(reply.after, Timetable) else None
    return slot is not None and slot.start - reply.now < FIVE_MINUTES


def announced(timed: Timed, each: bool) -> Iterator[str]:
    stayed = sum(len(moved.stayed) for _, moved in timed)
    found = [(reply, step, not could_stay(reply, step)) for reply, moved in timed for step in moved.announced]
    yield f"{'announced for the next hour, and stayed':44}{stayed:>8}"
    yield from told("announced for the next hour, and moved", found, each)


def told(what: str, found: list[tuple[Reply, int, bool]], each: bool) -> Iterator[str]:
    """How many, how many of them had to, and those that did not (or `each`) by name."""
    yield f"{what:44}{len(found):>8}"
    yield f"{'  of them, had to':44}{sum(had_to for _, _, had_to in found):>8}"
    for reply, step, had_to in found:
        if each or not had_to:
            name = reply.plan.steps[step].name
            yield f"    {'had to' if had_to else 'NOT FORCED':12}{reply.plan.title:16}{name}"


if __name__ == "__main__":
    main()
