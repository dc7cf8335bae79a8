"""Planners asked for the first of several hours: the same answer in this process and in one apart."""

from __future__ import annotations

from datetime import timedelta

import pytest

from scheduler.domain.timetable import Timetable
from scheduler.domain.wanted import NoHours
from scheduler.explain import GAVE_UP, Misfit
from scheduler.planfile.wanted import wanted
from scheduler.planners import Apart, Here
from scheduler.planning import TO_AGREE, time_out
from tests.plans_for_tests import at, component, plan, step

SOUP = plan(component("Soup", step("Chop", hands_on="20 min"), step("Simmer", nearby="1 h", keeps="3 h")))
NOON = at("2026-12-12 12:00")
TODAY = wanted("2026-12-12, 13:00-15:00")


def test_the_hour_is_the_first_that_lasts_in_any_process() -> None:
    """Twenty past one would do at noon; the next quarter still does when the cook has read it."""
    here = Here().first_within(SOUP, NOON, TODAY)
    assert isinstance(here, Timetable) and here.serve == at("2026-12-12 13:30")
    assert isinstance(time_out(SOUP, here.serve, NOON + TO_AGREE), Timetable)
    with Apart(timedelta(minutes=2)) as apart:
        assert apart.first_within(SOUP, NOON, TODAY) == here
        with pytest.raises(NoHours):
            apart.first_within(SOUP, NOON, wanted("2026-12-11"))


def test_no_answer_in_time_is_told_as_such() -> None:
    """A misfit of the last hour asked for, without reasons that nobody found."""
    with Apart(timedelta(0)) as apart:
        found = apart.first_within(SOUP, NOON, TODAY)
    assert isinstance(found, Misfit) and not found.proven
    assert (found.serve, found.because) == (at("2026-12-12 15:00"), (GAVE_UP,))
