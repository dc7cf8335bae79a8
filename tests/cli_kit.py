"""Running command lines in the tests: real wiring, a fixed clock."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

import pytest

from bot import main as composition
from bot.cli import run
from bot.wiring import Wiring
from tests.fakes import FakeClock

Run = Callable[..., int]
Captured = pytest.CaptureFixture[str]


def command_line(now: datetime) -> Run:
    """Runs a command line at that moment; its exit code, also where it leaves by SystemExit."""
    wiring = Wiring(FakeClock(now), composition.open_store, composition.make_worker, composition.open_planner)

    def run_it(*argv: str) -> int:
        try:
            return run(argv, lambda: wiring)
        except SystemExit as end:
            return int(end.code or 0)

    return run_it
