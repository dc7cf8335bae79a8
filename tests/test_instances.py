"""Published formats of project scheduling are read, and the benchmark prints what it promises."""

from __future__ import annotations

import time
from pathlib import Path

import pytest

from scheduler.solver.projects import Activity, Lag, solve_project
from tests.bench.instances import UnreadableInstance, parse_patterson, parse_progen_max, read_instance
from tests.bench.project_scheduling import main

PATTERSON = """
5 2
3 1

0 0 0 2 2 3
4 2 0 1 5
3 2 1 1 4
2 1 1 1 5
0 0 0 0
"""

PROGEN = """2 1 0 0
0 1 2 1 2 [0] [0]
1 1 2 2 3 [3] [4]
2 1 2 1 3 [-5] [2]
3 1 0
0 1 0 0
1 1 4 1
2 1 2 1
3 1 0 0
1
"""


# ------------------------------------------------------------ published formats


def test_a_patterson_file_is_read() -> None:
    """Proves capacities, lengths, demands and followers are where the format puts them."""
    project = parse_patterson(PATTERSON)
    assert project.capacities == (3, 1)
    assert project.activities[2] == Activity(3, (2, 1))
    assert project.lags == (Lag(0, 1, 0), Lag(0, 2, 0), Lag(1, 4, 4), Lag(2, 3, 3), Lag(3, 4, 2))
    assert solve_project(project, 20, time.perf_counter).makespan == 7


def test_a_progen_max_file_is_read() -> None:
    """Proves lags in both directions, and that the project opens with its first activity."""
    project = parse_progen_max(PROGEN)
    assert project.capacities == (1,)
    assert project.activities[1] == Activity(4, (1,))
    assert {Lag(1, 2, 3), Lag(2, 1, -5), Lag(0, 3, 0)} <= set(project.lags)
    assert solve_project(project, 20, time.perf_counter).starts == (0, 0, 4, 6)


@pytest.mark.parametrize(
    "text", ["", "5", "2 1\n1\n0 0 1 2\n0 0", "one 2", "1 1\n1\n0 0 0\n7", "1 0\n\n1 1 3"]
)
def test_a_damaged_patterson_file_is_refused(text: str) -> None:
    """Proves that too few, too many or other things than whole numbers are a ValueError."""
    with pytest.raises(ValueError):
        parse_patterson(text)


@pytest.mark.parametrize(
    ("found", "instead"),
    [
        ("2 1 0 0", "2 1 1 0"),
        ("2 1 0 0", "3 1 0 0"),
        ("2 1 0 0", "2 1"),
        ("[-5]", "-5"),
        ("1 1 2 2 3", "1 2 2 2 3"),
        ("1 1 4 1", "1 1 4"),
        ("1 1 2 2 3", "1 1 2 2 9"),
    ],
)
def test_a_damaged_progen_max_file_is_refused(found: str, instead: str) -> None:
    """Proves that other modes, other resources, wrong counts and unknown followers are a ValueError."""
    with pytest.raises(ValueError):
        parse_progen_max(PROGEN.replace(found, instead, 1))


def test_the_ending_chooses_the_format(tmp_path: Path) -> None:
    """Proves that `.SCH` is read as ProGen/max, other endings as Patterson, and errors name the file."""
    (tmp_path / "a.SCH").write_text(PROGEN + "\x1a")
    (tmp_path / "a.txt").write_text(PATTERSON)
    assert len(read_instance(tmp_path / "a.SCH").activities) == 4
    assert len(read_instance(tmp_path / "a.txt").activities) == 5
    (tmp_path / "b.txt").write_text(PROGEN)
    for name in ("b.txt", "none.sch"):
        with pytest.raises(UnreadableInstance, match=name):
            read_instance(tmp_path / name)


def test_the_benchmark_prints_one_line_for_each_file(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Proves the header, the file's name as given, the four numbers, and empty cells where there are none."""
    good, never = tmp_path / "good.txt", tmp_path / "never.sch"
    good.write_text(PATTERSON)
    never.write_text(PROGEN.replace("[-5]", "[-3]"))
    assert main(["--limit", "5", str(good), str(never)]) == 0
    header, *lines = capsys.readouterr().out.splitlines()
    assert header == "file,status,makespan,bound,seconds"
    assert lines[0].startswith(f"{good},OPTIMAL,7,7,")
    assert lines[1].startswith(f"{never},INFEASIBLE,,,")
    assert len(lines) == 2


def test_the_benchmark_says_the_mean_gap_to_a_reference(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Proves that with a reference the gap goes to stderr and leaves the table alone."""
    instance, reference = tmp_path / "J1_1.txt", tmp_path / "best.csv"
    instance.write_text(PATTERSON)
    reference.write_text("set,J1_1.txt,5\n")
    assert main(["--reference", str(reference), str(instance)]) == 0
    printed = capsys.readouterr()
    assert len(printed.out.splitlines()) == 2
    assert "40.00 %" in printed.err


def test_the_benchmark_refuses_what_it_cannot_read(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Proves exit 2 and a message that names the file, before anything is printed."""
    wrong = tmp_path / "wrong.txt"
    wrong.write_text("not a project")
    assert main([str(wrong)]) == 2
    printed = capsys.readouterr()
    assert printed.out == ""
    assert "wrong.txt" in printed.err
