"""What the reader finds wrong with a text, for tests."""

from __future__ import annotations

import pytest

from scheduler.planfile import BadPlan, Problem, read

HEAD = "crockbell: 1\ntitle: Supper\n"


def problems(source: str | bytes) -> tuple[Problem, ...]:
    """Every problem of a file that must be refused."""
    with pytest.raises(BadPlan) as refused:
        read(source, zone="Europe/Paris")
    return refused.value.problems


def the_problem(source: str | bytes) -> Problem:
    """The one problem there is."""
    (only,) = problems(source)
    return only
