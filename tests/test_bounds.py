"""When a running step may end, and how long what has ended may wait."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.domain.plan import MINUTE, NO_TIME, Link
from scheduler.domain.progress import MarkKind, Standing, State, end_bounds, fold, latest_after, overdue
from tests.plans_for_tests import NOW, component, mark, plan, span, step, utc

T = utc("2026-12-08 18:00")
HOUR = span("1 h")

# ---------------------------------------------------------------- when a running step may end


def bounds(
    text: str, now: str, until: str | None = None, expected: str | None = None
) -> tuple[str, str | None]:
    """The end bounds of a step begun at 10:00, as clock times."""
    made = plan(component("A", step("Wait", unattended=text, until=until, keeps="1 h")))
    standing = Standing(
        State.RUNNING, utc("2026-12-10 10:00"), expected=utc(f"2026-12-10 {expected}") if expected else None
    )
    first, last = end_bounds(made.steps[0], standing, datetime.fromisoformat(f"2026-12-10T{now}+00:00"))
    return f"{first:%H:%M}", f"{last:%H:%M}" if last else None


@pytest.mark.parametrize(
    ("given_", "expected"),
    [
        (bounds("2 h to 4 h", "10:30:00"), ("12:00", "14:00")),
        (bounds("2 h to 4 h", "13:00:20"), ("13:01", "14:00")),
        (bounds("2 h to 4 h", "14:30:00"), ("14:30", "14:30")),
        (bounds("2 h to 4 h", "14:31:00"), ("14:31", "14:35")),
        (bounds("at least 2 h", "13:00:00"), ("13:00", None)),
        (bounds("2 h to 4 h", "10:30:00", until="soft"), ("14:00", "14:00")),
        (bounds("2 h to 4 h", "14:02:00", until="soft"), ("14:05", "14:05")),
        (bounds("2 h to 4 h", "10:30:00", until="soft", expected="13:12"), ("13:15", "13:15")),
        (bounds("2 h to 4 h", "10:30:00", expected="15:00"), ("15:00", "15:00")),
    ],
)
def test_when_a_running_step_may_end(
    given_: tuple[str, str | None], expected: tuple[str, str | None]
) -> None:
    """Within its range and not before now; on a mark where nature or the cook says when; soon if overrun."""
    assert given_ == expected


def test_what_is_not_running_has_no_end_bounds() -> None:
    """Asking when a step ends that never began is a mistake, and says so."""
    made = plan(component("A", step("Soak", unattended="12 h")))
    with pytest.raises(ValueError, match="not running"):
        end_bounds(made.steps[0], Standing(), NOW)


@given(st.integers(1, 600), st.integers(0, 600), st.integers(-100_000, 100_000), st.booleans())
@settings(max_examples=80)
def test_end_bounds_leave_something_to_choose(shortest: int, more: int, seconds: int, nature: bool) -> None:
    """The first possible end is a whole minute not past, not too soon, and not after the last one."""
    made = plan(
        component(
            "A",
            step(
                "Wait",
                unattended=f"{shortest} min to {shortest + more} min",
                until="soft" if nature else None,
            ),
        )
    )
    begun = Standing(State.RUNNING, NOW - timedelta(seconds=seconds))
    first, last = end_bounds(made.steps[0], begun, NOW)
    assert begun.started is not None and last is not None
    assert first <= last and first >= NOW and first.second == 0
    assert nature or first >= begun.started + shortest * MINUTE


# ---------------------------------------------------------------- limits after a real end


def test_a_limit_holds_until_it_has_passed() -> None:
    """What keeps for an hour has to be used within it, until the next whole minute lies beyond it."""
    link = Link(0, 1, NO_TIME, HOUR)
    assert latest_after(link, T, T) == T + HOUR
    assert latest_after(link, T, T + HOUR) == T + HOUR
    assert latest_after(link, T, T + HOUR + MINUTE) is None
    assert latest_after(link, T + timedelta(seconds=20), T + HOUR + timedelta(seconds=10)) is None
    assert latest_after(replace(link, longest=None), T, T) is None


def test_what_has_kept_too_long_is_overdue() -> None:
    """Drained beans wait an hour at most; then what follows is late, until it is begun."""
    made = plan(component("A", step("Drain", hands_on="5 min", keeps="1 h"), step("Plate", hands_on="5 min")))
    drained = mark(MarkKind.DONE, 0, T)
    progress = fold(made, [drained], T + HOUR)
    assert overdue(made, progress, T + HOUR) == ()
    assert [link.after for link in overdue(made, progress, T + HOUR + MINUTE)] == [1]
    begun = fold(made, [drained, mark(MarkKind.STARTED, 1, T + 2 * HOUR)], T + 3 * HOUR)
    assert overdue(made, begun, T + 3 * HOUR) == ()
