"""After a gap: what was held up is judged by its use, and what is left of it becomes one message a chat."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from scheduler.domain.stages import About, Nudge, Stage
from scheduler.records import Chat, Kind, Letter
from scheduler.service.letters import nudge_of, owed_since
from scheduler.service.quiet import quiet_until
from scheduler.service.view import View

GAP = timedelta(minutes=20)
"""A nudge this late was held up; on an ordinary day none is."""

PRESSING = (Stage.MISSED, Stage.CLOSING, Stage.NOW, Stage.WAITING, Stage.HEADS_UP)
ANNOUNCED = (About.DAY, About.EARLY)


@dataclass(frozen=True, slots=True)
class Owed:
    """A claimed letter, and the plan it is about (None for what concerns no plan)."""

    letter: Letter
    view: View | None = None


def together(letters: Iterable[Letter], now: datetime) -> list[list[Letter]]:
    """Due letters as they are to go out: the nudges of a chat that was held up in one, all others alone.

    In the order given; those that go together where the first of them stands.
    """
    due = list(letters)
    held_up = {letter.chat for letter in due if is_plan_nudge(letter) and is_late(letter, now)}
    groups: list[list[Letter]] = []
    of_chat: dict[int, list[Letter]] = {}
    for letter in due:
        if letter.chat not in held_up or not is_plan_nudge(letter):
            groups.append([letter])
        elif letter.chat in of_chat:
            of_chat[letter.chat].append(letter)
        else:
            of_chat[letter.chat] = [letter]
            groups.append(of_chat[letter.chat])
    return groups


def is_plan_nudge(letter: Letter) -> bool:
    return letter.kind is Kind.NUDGE and letter.about is not About.TIMER


def is_late(letter: Letter, now: datetime) -> bool:
    return letter.due + GAP < now


def in_short(owed: Sequence[Owed]) -> list[Owed]:
    """What of several nudges is worth saying at once, the most pressing first; never nothing.

    Of several about one thing only the last word; cards and announcements only where there is nothing else.
    """
    last: dict[tuple[object, ...], Owed] = {}
    for each in sorted(owed, key=lambda one: one.letter.due):
        last[_what(each.letter)] = each
    worth = [each for each in last.values() if not _announces(nudge_of(each.letter))]
    return sorted(worth or [*last.values()][-1:], key=_pressing)


def _what(letter: Letter) -> tuple[object, ...]:
    """What a letter is about; of one food's several clocks, which."""
    which = letter.occurrence if letter.about is About.CLOCK else None
    return letter.plan, letter.step, letter.about, which


def _announces(nudge: Nudge) -> bool:
    return nudge.about in ANNOUNCED or (nudge.stage is Stage.HEADS_UP and nudge.about is About.START)


def _pressing(owed: Owed) -> tuple[int, datetime]:
    nudge = nudge_of(owed.letter)
    return PRESSING.index(nudge.stage), nudge.subject


def held_since(letters: Iterable[Letter], chat: Chat, now: datetime) -> datetime | None:
    """Since when we failed to say what was due; None when nothing but the cook's own doing held it up.

    A plan put into use late has nudges that were overdue from the first, and quiet is what the cook asked
    for.
    """
    held = [letter.due for letter in letters if _meant_for(letter, chat) + GAP < now]
    return min(held, default=None)


def _meant_for(letter: Letter, chat: Chat) -> datetime:
    """When it would have gone out if we could have sent it."""
    return max(letter.due, owed_since(letter), quiet_until(chat, letter) or letter.due)


def was_overtaken(letter: Letter, sent: Iterable[Letter]) -> bool:
    """Whether a later word about the same thing was sent while this one waited."""
    what = letter.plan, letter.step, letter.about, letter.subject
    return any(
        other.kind is Kind.NUDGE
        and (other.plan, other.step, other.about, other.subject) == what
        and other.due > letter.due
        for other in sent
    )
