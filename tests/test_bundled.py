"""The plans that come with Crockbell: they read without a remark, pass the schema, fit, and take long."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import jsonschema
import pytest
import yaml

from scheduler.domain.check import check
from scheduler.domain.timetable import Timetable
from scheduler.planfile import read, schema
from scheduler.planning import time_out
from scheduler.service.intake import warnings

BUNDLED = sorted((Path(__file__).parents[1] / "bot" / "plans").glob("*.yaml"))


def test_there_are_two() -> None:
    """Two plans are bundled."""
    assert len(BUNDLED) == 2


@pytest.mark.parametrize("path", BUNDLED, ids=lambda path: path.stem)
def test_a_bundled_plan_reads_and_passes_the_schema(path: Path) -> None:
    """The reader has nothing to remark, and an editor that checks the file has nothing to underline."""
    assert read(path.read_bytes(), zone="UTC").remarks == ()
    jsonschema.validate(yaml.load(path.read_text(), yaml.BaseLoader), schema())


@pytest.mark.parametrize("path", BUNDLED, ids=lambda path: path.stem)
def test_a_bundled_plan_fits_without_warnings(path: Path) -> None:
    """A month ahead it fits, proven, the verifier agrees, and there is nothing to warn of."""
    plan = read(path.read_bytes(), zone="UTC")
    assert plan.serve is not None
    now = plan.serve - timedelta(days=30)
    timetable = time_out(plan, plan.serve, now)
    assert isinstance(timetable, Timetable)
    assert timetable.proven
    assert check(plan, timetable, now) == ()
    assert warnings(plan, timetable) == ()
    assert timetable.serve - timetable.slots[0].start > timedelta(days=6)
