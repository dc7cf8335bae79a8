"""What the tests of sending share: an evening before the first step of a plan, and a transport that fails."""

from __future__ import annotations

from datetime import timedelta

from scheduler.ports import SendError
from tests.journey_kit import Journey

MINUTE, SECOND = timedelta(minutes=1), timedelta(seconds=1)
NOON, EVENING, SALTING = "2026-03-15 12:00", "2026-03-15 22:00", "2026-03-16 07:15"
"""When the plan is used, when most tests begin, and when its first step is due."""

NOW_SALT = "Mon 16 07:15 Salt and jar the radishes"


def fail(journey: Journey, *errors: SendError) -> list[SendError]:
    """The next sends come to these errors, one each; the list shrinks as they do."""
    left = list(errors)
    journey.messenger.trouble = lambda address, letter: left.pop(0) if left else None
    return left
