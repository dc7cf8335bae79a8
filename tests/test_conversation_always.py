"""Whatever a cook says, presses and when: nothing breaks, and every timetable stored can be trusted."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from scheduler.domain.check import check
from scheduler.explain import Misfit
from scheduler.planning import time_out
from scheduler.records import PlanStatus, ReceivedState
from tests.talk_kit import Talk, on, with_supper

SAID = st.sampled_from(
    [
        "done", "started", "not yet", "later", "in 10 min", "yes", "no", "undo", "undo that", "what's next",
        "salted the radishes", "radishes are sour", "vented the jar", "skip the vent", "soak the beans later",
        "started soaking", "beans are soaking since an hour ago", "drained the beans", "simmering since 5 min",
        "beans are done", "done an hour ago", "started half an hour ago", "whisked the flan", "flan is in the oven",
        "flan is ruined", "leave out the flan", "skip whisking", "half an hour late", "40 min late",
        "dinner at 20:30", "dinner an hour later", "plated up", "all done", "today", "when do I drain the beans",
        "why", "ph 4.0", "timer 5 min", "stop", "2", "1", "20:15", "make it again", "put it back", "ok",
    ]
)  # fmt: skip
LONG = st.sampled_from([0, 1, 5, 11, 25, 60, 180, 12 * 60, 26 * 60]).map(
    lambda minutes: timedelta(minutes=minutes)
)
PRESSED = st.integers(0, 3)
Turn = tuple[timedelta, str | int]
"""So long a wait, and then words, or a button of the last message."""

DEEDS = st.lists(st.tuples(LONG, st.one_of(SAID, PRESSED)), min_size=1, max_size=12)


@pytest.mark.slow
@settings(max_examples=10, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(start=st.sampled_from([on(5, "20:00"), on(6, "06:30")]), deeds=DEEDS)
def test_whatever_is_said_the_plan_stays_sound(start: datetime, deeds: list[Turn]) -> None:
    """Nothing fails, marks fold, and a timetable that breaks a rule is one that was told not to fit."""
    talk = with_supper(start)
    for wait, deed in deeds:
        talk.wait_until(talk.now + wait)
        before = revisions(talk)
        if isinstance(deed, str):
            talk.say(deed)
        elif len(talk.last.buttons) > deed:
            talk.press(talk.last.buttons[deed].label, talk.last)
        check_sound(talk, before)


def revisions(talk: Talk) -> dict[int | None, int]:
    return {row.id: row.revision for row in talk.plans()}


def check_sound(talk: Talk, before: dict[int | None, int]) -> None:
    """Every update was handled, and every timetable stored since keeps to the rules or was told not to fit.

    A step that is due and not spoken of yet keeps its time: it is looked at as it was when it fell due.
    """
    assert all(row.state is ReceivedState.DONE for row in talk.store.world.updates.values())
    for row in talk.plans(PlanStatus.ACTIVE):
        view = talk.view(row.id)
        due = [slot.start for slot in view.upcoming() if slot.start < talk.now]
        if row.revision == before.get(row.id) or not check(
            view.plan, view.timetable, min([talk.now, *due]), view.progress
        ):
            continue
        timing = time_out(view.plan, view.serve, talk.now, view.progress, view.timetable)
        assert isinstance(timing, Misfit)
