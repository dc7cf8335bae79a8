"""How fast messages may go out: overall, to one chat, to one group, and after a transport asked us to wait.

The figures are the messaging service's published guidance (Telegram Bots FAQ, "My bot is hitting limits"):
about 30 messages a second overall, one a second to a chat, 20 a minute to a group.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import cached_property

from scheduler.ports import Outbox
from scheduler.records import Chat

SECOND = timedelta(seconds=1)
MINUTE = timedelta(minutes=1)
LONGEST_BACKOFF = timedelta(minutes=10)


@dataclass(frozen=True, slots=True)
class Pace:
    """At most `count` messages within any stretch of `within`."""

    count: int
    within: timedelta

    def free_at(self, sent: Sequence[datetime], now: datetime) -> datetime:
        """When the next message may go, given when earlier ones went, in order."""
        recent = [at for at in sent if at > now - self.within]
        return now if len(recent) < self.count else recent[-self.count] + self.within


OVERALL = Pace(30, SECOND)
ONE_CHAT = Pace(1, SECOND)
ONE_GROUP = Pace(20, MINUTE)


class Holds:
    """Until when each chat is held back because a transport said so, and how often in a row it did.

    What holds for one letter holds for all of a chat: the others would only be refused as well. Each letter
    that was refused keeps its own `not_before` besides, which outlasts the process.
    """

    def __init__(self) -> None:
        self._held: dict[int, tuple[int, datetime]] = {}

    def put_off(self, chat: int, now: datetime, asked: timedelta) -> datetime:
        """Hold a chat for what was asked, or for longer each time in a row; until when."""
        times = self._held[chat][0] + 1 if chat in self._held else 1
        until = now + max(asked, min((1 << min(times, 10)) * SECOND, LONGEST_BACKOFF))
        self._held[chat] = times, until
        return until

    def lift(self, chat: int) -> None:
        """A message went through."""
        self._held.pop(chat, None)

    def until(self, chat: int, now: datetime) -> datetime:
        """When a chat is free of its hold; `now` when it is not held."""
        return max(now, self._held[chat][1]) if chat in self._held else now


class Paces:
    """When each chat is free at one moment; what was sent lately is read once."""

    def __init__(self, outbox: Outbox, holds: Holds, now: datetime) -> None:
        self._outbox, self._holds, self._now = outbox, holds, now
        self._chats: dict[int, datetime] = {}

    def free_at(self, chat: Chat) -> datetime:
        """When the next message may go to that chat, which must be stored."""
        if chat.id is None:
            raise ValueError("the chat was never stored")
        if chat.id not in self._chats:
            free = [OVERALL.free_at(self._lately, self._now), self._holds.until(chat.id, self._now)]
            self._chats[chat.id] = max([*free, *self._of_chat(chat.id, chat.group)])
        return self._chats[chat.id]

    @cached_property
    def _lately(self) -> list[datetime]:
        """What was sent to anyone within the shortest stretch."""
        return self._outbox.sent_since(self._now - SECOND)

    def _of_chat(self, chat: int, group: bool) -> list[datetime]:
        """When each pace of a chat lets the next message go; most often nobody was written to just now."""
        if not self._lately and not group:
            return []
        paces = (ONE_CHAT, ONE_GROUP) if group else (ONE_CHAT,)
        sent = self._outbox.sent_since(self._now - max(pace.within for pace in paces), chat)
        return [pace.free_at(sent, self._now) for pace in paces]
