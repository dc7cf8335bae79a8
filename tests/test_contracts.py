"""Who may import what, who may read the clock, and what stays unloaded until it is needed."""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
PACKAGES = ("bot", "scheduler", "storage")
MODULES = sorted(path for package in PACKAGES for path in (ROOT / package).rglob("*.py"))

ONE_IMPORTER = {
    "ortools": "scheduler.solver",
    "apscheduler": "scheduler.worker",
    "telegram": "bot.telegram",
    "pint": "scheduler.units",
}
"""Third parties that exactly one of our modules (or packages) may import."""

HEAVY = (
    "ortools",
    "sqlalchemy",
    "sqlmodel",
    "telegram",
    "matplotlib",
    "pydantic",
    "apscheduler",
    "yaml",
    "pint",
)

CLOCKS = {
    "datetime": {"now", "utcnow", "today", "fromtimestamp"},
    "date": {"today", "fromtimestamp"},
    "time": {"time", "time_ns", "localtime", "gmtime", "monotonic", "perf_counter", "strftime", "ctime"},
}
"""What reads a clock, by the name it is called on."""


def name_of(path: Path) -> str:
    parts = path.relative_to(ROOT).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def tree_of(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"))


def imported(path: Path) -> Iterator[str]:
    for node in ast.walk(tree_of(path)):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
            yield node.module


def clock_readings(tree: ast.AST) -> list[str]:
    """Calls and references that read a clock, as they are written."""
    found = []
    for node in ast.walk(tree):
        if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name | ast.Attribute):
            owner = node.value.id if isinstance(node.value, ast.Name) else node.value.attr
            if node.attr in CLOCKS.get(owner, ()):
                found.append(f"{owner}.{node.attr}")
        elif isinstance(node, ast.ImportFrom) and node.module == "time":
            found += [f"time.{alias.name}" for alias in node.names if alias.name in CLOCKS["time"]]
    return found


def python(script: str) -> str:
    """What a script prints, run from the root of the project in a process of its own."""
    command = [sys.executable, "-c", script]
    run = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False, timeout=120)
    assert run.returncode == 0, run.stdout + run.stderr
    return run.stdout


def test_the_import_contracts_hold() -> None:
    """The domain is pure, the scheduler knows neither bot nor storage, storage does not know the bot.

    In a process of its own: import-linter sets up logging to its own liking.
    """
    shown = python(
        "import sys\nfrom importlinter.cli import lint_imports\nsys.exit(lint_imports(no_cache=True))"
    )
    assert "0 broken" in shown


@pytest.mark.parametrize(("library", "importer"), ONE_IMPORTER.items())
def test_a_library_has_one_importer(library: str, importer: str) -> None:
    """Only there can it be replaced."""
    importers = {
        name_of(path) for path in MODULES if any(each.split(".")[0] == library for each in imported(path))
    }
    assert importers and all(name == importer or name.startswith(f"{importer}.") for name in importers)


def test_one_module_reads_the_clock() -> None:
    """Time is an argument everywhere else."""
    readers = {name_of(path): clock_readings(tree_of(path)) for path in MODULES}
    assert {name: found for name, found in readers.items() if found} == {"bot.main": ["datetime.now"]}


@pytest.mark.parametrize(
    "line",
    ["datetime.now(UTC)", "datetime.datetime.now()", "time.time()", "date.today()", "from time import time"],
)
def test_the_search_for_clocks_finds_them(line: str) -> None:
    """The test above can fail."""
    assert clock_readings(ast.parse(line))


def test_help_loads_nothing_heavy() -> None:
    """A cook who asks what there is does not wait for a solver, a database or a picture to load."""
    script = (
        "import sys\n"
        "from bot.main import main\n"
        "try:\n    main(['--help'])\n"
        "except SystemExit as end:\n    assert end.code == 0\n"
        f"print('loaded:', *[name for name in {HEAVY!r} if name in sys.modules])\n"
    )
    assert python(script).splitlines()[-1] == "loaded:"


def test_only_the_composition_root_knows_all_three() -> None:
    """Whoever imports storage and bot puts them together; nobody else does."""
    both = [
        name_of(path)
        for path in MODULES
        if {"bot", "storage"} <= {each.split(".")[0] for each in imported(path)}
        and name_of(path) != "bot.main"
    ]
    assert both == []
