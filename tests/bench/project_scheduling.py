"""Solve published projects within a limit and print a table: one line of CSV for each file.

    python tests/bench/project_scheduling.py --limit 5 FILES...

Patterson files (PSPLIB, single mode) and, by the ending `.sch`, ProGen/max files (RCPSP/max). Every schedule
is put through the verifier before its line is printed. `--reference best_known.csv` (set,file,makespan) writes
each set's mean gap to stderr. `--compare` solves each file with PyJobShop as well, where that is installed.
"""

from __future__ import annotations

import argparse
import csv
import sys
import time
from collections import defaultdict
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from statistics import mean

if __package__ in (None, ""):
    sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from scheduler.solver.projects import Project, ProjectAnswer, Status, faults, solve_project
from tests.bench.instances import UnreadableInstance, read_instance

MARGIN = 0.05
"""Seconds of the limit kept for what follows the search."""


@dataclass(frozen=True)
class Line:
    """One file's result, as printed; seconds of wall time from opening the file to a verified answer."""

    file: str
    answer: ProjectAnswer
    seconds: float

    def cells(self) -> list[str]:
        numbers = ["" if n is None else str(n) for n in (self.answer.makespan, self.answer.bound)]
        return [self.file, self.answer.status.value, *numbers, f"{self.seconds:.2f}"]


Solve = Callable[[Project, float], ProjectAnswer]


def _own(project: Project, limit: float) -> ProjectAnswer:
    return solve_project(project, limit, time.perf_counter)


def _peer(project: Project, limit: float) -> ProjectAnswer:
    """The same project through PyJobShop, one worker; its status words are ours with other letters."""
    from pyjobshop import Model

    model = Model()
    resources = [model.add_renewable(capacity=capacity) for capacity in project.capacities]
    tasks = [model.add_task() for _ in project.activities]
    for task, activity in zip(tasks, project.activities, strict=True):
        model.add_mode(task, resources, duration=activity.duration, demands=list(activity.demands))
    for lag in project.lags:
        model.add_start_before_start(tasks[lag.before], tasks[lag.after], delay=lag.least)
    result = model.solve(time_limit=limit, num_workers=1, display=False)
    words = {"Optimal": Status.OPTIMAL, "Feasible": Status.FEASIBLE, "Infeasible": Status.INFEASIBLE}
    status = words.get(result.status.value, Status.NONE)
    if status not in (Status.OPTIMAL, Status.FEASIBLE):
        return ProjectAnswer(status)
    starts = tuple(task.start for task in result.best.tasks)
    return ProjectAnswer(status, starts, round(result.objective), round(result.lower_bound))


def measured(file: str, limit: float, solve: Solve) -> Line:
    """Read, solve and verify one file. Raises UnreadableInstance, or RuntimeError for a wrong schedule."""
    begun = time.perf_counter()
    project = read_instance(Path(file))
    answer = solve(project, limit - MARGIN - (time.perf_counter() - begun))
    if answer.starts is not None and answer.makespan is not None:
        wrong = faults(project, answer.starts, answer.makespan)
        if wrong:
            raise RuntimeError(f"{file}: a wrong schedule: {'; '.join(wrong)}")
    return Line(file, answer, time.perf_counter() - begun)


def _reference(path: Path | None) -> dict[str, int]:
    if path is None:
        return {}
    with path.open(encoding="utf-8", newline="") as handle:
        return {row[1]: int(row[2]) for row in csv.reader(handle)}


def _set_of(file: str) -> str:
    path = Path(file)
    return path.parent.name if path.suffix.lower() == ".sch" else path.stem.split("_")[0]


def summary(lines: Sequence[Line], best: dict[str, int]) -> list[str]:
    """For each set of files: how many were proven and refuted, and the mean gap to the best known."""
    sets = defaultdict(list)
    for line in lines:
        sets[_set_of(line.file)].append(line)
    table = [
        f"{'set':12}{'files':>6}{'OPTIMAL':>9}{'INFEASIBLE':>12}{'FEASIBLE':>10}{'NONE':>6}{'mean gap':>10}"
    ]
    for name, members in sets.items():
        counts = [sum(line.answer.status is status for line in members) for status in _SHOWN]
        gaps = [
            100 * (line.answer.makespan / best[Path(line.file).name] - 1)
            for line in members
            if line.answer.makespan is not None and Path(line.file).name in best
        ]
        gap = f"{mean(gaps):.2f} %" if gaps else "-"
        table.append("{:12}{:>6}{:>9}{:>12}{:>10}{:>6}{:>10}".format(name, len(members), *counts, gap))
    return table


_SHOWN = (Status.OPTIMAL, Status.INFEASIBLE, Status.FEASIBLE, Status.NONE)


def _options(arguments: Sequence[str] | None) -> argparse.Namespace:
    parser = argparse.ArgumentParser(description="Solve published projects; one line of CSV for each file.")
    parser.add_argument("files", nargs="+", metavar="FILE")
    parser.add_argument("--limit", type=float, default=5.0, help="seconds for each file (default 5)")
    parser.add_argument("--reference", type=Path, metavar="CSV", help="best known: set,file,makespan")
    parser.add_argument("--compare", action="store_true", help="solve with PyJobShop too, if it is installed")
    options = parser.parse_args(arguments)
    if options.limit <= 0:
        parser.error("--limit must be more than 0 seconds")
    return options


def main(arguments: Sequence[str] | None = None) -> int:
    """0: every file was solved or tried; 2: a file can't be read or the command is wrong."""
    options = _options(arguments)
    try:
        best = _reference(options.reference)
        for file in options.files:
            read_instance(Path(file))
    except (UnreadableInstance, OSError, ValueError, IndexError) as error:
        print(error, file=sys.stderr)
        return 2
    own, peer = [], []
    writer = csv.writer(sys.stdout, lineterminator="\n")
    writer.writerow(["file", "status", "makespan", "bound", "seconds"])
    for file in options.files:
        own.append(measured(file, options.limit, _own))
        writer.writerow(own[-1].cells())
        sys.stdout.flush()
        if options.compare:
            peer.append(measured(file, options.limit, _peer))
            print("PyJobShop:", ",".join(peer[-1].cells()), file=sys.stderr)
    for name, lines in (("Crockbell", own), ("PyJobShop", peer)):
        if lines and (options.reference or options.compare):
            print(name, *summary(lines, best), sep="\n", file=sys.stderr)
    return 0


if __name__ == "__main__":
    sys.exit(main())
