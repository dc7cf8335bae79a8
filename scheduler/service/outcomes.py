"""What becomes of a letter once it was tried: sent, put back, uncertain, given up.

`attempts` counts the times a letter may have been delivered. What surely was not is taken back, so that a
night without a network does not use up the tries of a letter, and one that may have arrived stays marked.
"""

from __future__ import annotations

import logging
from dataclasses import replace
from datetime import datetime, timedelta

from scheduler.records import Kind, Letter, LetterState

log = logging.getLogger(__name__)

REPEAT = "(repeat) "
REPEAT_AFTER = tuple(timedelta(seconds=s) for s in (30, 120, 600))
"""When to send again what nobody can say has arrived: being told twice does less harm than not being told."""

MOST_ATTEMPTS = len(REPEAT_AFTER) + 1


def is_repeat(letter: Letter) -> bool:
    """Whether a claimed letter may have been delivered before."""
    return letter.attempts > 1


def is_spent(letter: Letter) -> bool:
    """Whether a claimed letter was tried as often as it is going to be: it never goes on for ever."""
    return letter.attempts > MOST_ATTEMPTS


def sent(letter: Letter, at: datetime, receipt: str) -> Letter:
    return replace(letter, state=LetterState.SENT, sent=at, receipt=receipt)


def put_back(letter: Letter, until: datetime | None, why: str | None) -> Letter:
    """As it was before it was claimed, but not before `until`: this time nothing was delivered."""
    before = letter.attempts - 1
    state = LetterState.UNCERTAIN if before else LetterState.PENDING
    return replace(letter, state=state, attempts=before, not_before=until, error=why)


def uncertain(letter: Letter, now: datetime, why: str) -> Letter:
    """Once more, marked as a repeat, and a few times more at growing distances; then no more."""
    if letter.attempts >= MOST_ATTEMPTS:
        return given_up(letter, why)
    again = now + REPEAT_AFTER[letter.attempts - 1]
    return replace(letter, state=LetterState.UNCERTAIN, not_before=again, error=why)


def given_up(letter: Letter, why: str) -> Letter:
    log.error("letter %s is given up: nobody can say whether it arrived", letter.key)
    return dead(letter, f"uncertain to the end: {why}")


def dead(letter: Letter, why: str) -> Letter:
    """Never to be sent again, whatever happens."""
    return replace(letter, state=LetterState.DEAD, error=why)


def not_now(letter: Letter, why: str) -> Letter:
    """Not to be sent, but a nudge comes back to life if it is owed again."""
    return (
        replace(letter, state=LetterState.OBSOLETE, error=why)
        if letter.kind is Kind.NUDGE
        else dead(letter, why)
    )
