"""What a planner's child process is asked in tests: functions that it finds by their names."""

from __future__ import annotations

import os
import sys
import threading
from collections.abc import Callable

from scheduler.domain.check import Breach
from scheduler.planning import Unsound

ASLEEP = Breach("hands-on", (0,), "everyone is asleep")


def pid() -> int:
    """Which process answers."""
    return os.getpid()


def loaded(name: str) -> bool:
    """Whether the process that answers has imported a module."""
    return name in sys.modules


def never() -> int:
    """A question that is never answered."""
    threading.Event().wait()
    return 0


def told(first: int, second: int, tell: Callable[[int], object]) -> int:
    """A question with two answers so far, of which the second is better, over which the process then dies."""
    tell(first)
    tell(second)
    return gone()


def told_and_answered(tell: Callable[[int], object]) -> int:
    """A question with an answer so far, and then a better one."""
    tell(1)
    return 2


def gone() -> int:
    """A question over which the process dies."""
    os._exit(1)


def refused() -> int:
    raise Unsound((ASLEEP,))
