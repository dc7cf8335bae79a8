"""What the services ask of the outside: a clock, a memory, a messenger, words.

These protocols state obligations; `storage` and `bot` implement them. Every instant that crosses a port
is an aware UTC datetime. Implementations refuse naive ones with ValueError.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta
from types import TracebackType
from typing import Any, Protocol, Self

from scheduler.domain.progress import Mark
from scheduler.ports.planner import Planner as Planner
from scheduler.records import Chat, Incoming, Letter, PlanRow, PlanStatus, Received

# ---------------------------------------------------------------- clock and messenger


class Clock(Protocol):
    """Tells the time. The only source of "now" for the services and the worker."""

    def now(self) -> datetime:
        """The present instant, aware, in UTC. Not earlier than the last one told, unless the machine's clock
        was far ahead and has been put right: then the true hour is worth more than the order.
        """
        ...


class SendError(Exception):
    """A message that did not go out as it should; the subclasses say what that means."""


class TryLater(SendError):
    """Nothing was delivered; try again after `wait` (the peer said so, or the network is down)."""

    def __init__(self, wait: timedelta, why: str) -> None:
        super().__init__(why)
        self.wait = wait


class Uncertain(SendError):
    """It may or may not have been delivered."""


class Rejected(SendError):
    """This message will never be accepted; others may be."""


class Barred(SendError):
    """Nothing can be sent to this chat any more: it was left, or we are blocked."""


class Moved(SendError):
    """The chat has a new address; nothing was delivered."""

    def __init__(self, address: str) -> None:
        super().__init__(f"moved to {address}")
        self.address = address


class Unauthorised(SendError):
    """Our credentials are not accepted; nothing can be sent to anyone."""


class Messenger(Protocol):
    """Carries letters out and reads raw updates. Called from one thread at a time."""

    def send(self, address: str, letter: Letter) -> str:
        """Deliver `letter` and return a receipt that names it for good.

        Raises one of the SendError kinds and nothing else; returns only once the peer has accepted it.
        """
        ...

    def read(self, payload: Mapping[str, Any], received: datetime) -> Incoming:
        """Read a raw update. Raises ValueError for one that cannot be read; never waits on a network."""
        ...

    def fetch(self, reference: str) -> bytes:
        """The bytes of a document. Raises TryLater, Rejected or Unauthorised."""
        ...

    def acknowledge(self, press: str) -> None:
        """Tell the peer that a button press was seen. Best effort: raises nothing but Unauthorised."""
        ...


# ---------------------------------------------------------------- memory


class Stale(Exception):
    """The plan has a newer revision than the one the work was based on; read again and repeat."""


class Chats(Protocol):
    def at(self, address: str) -> Chat | None: ...
    def get(self, chat: int) -> Chat: ...
    def save(self, chat: Chat) -> Chat:
        """Insert or update; returns it with its id. Address is unique."""
        ...


class Plans(Protocol):
    def get(self, plan: int) -> PlanRow | None:
        """The row with its timetable in force."""
        ...

    def of_chat(self, chat: int, *statuses: PlanStatus) -> list[PlanRow]:
        """The chat's plans in those statuses (all when none is named), newest first."""
        ...

    def served_before(self, at: datetime) -> list[PlanRow]:
        """The plans under way whose serving hour is earlier."""
        ...

    def add(self, row: PlanRow) -> PlanRow: ...

    def save(self, row: PlanRow, based_on: int) -> PlanRow:
        """Store status, serve, timetable and changes as revision `based_on` + 1 and return it so.

        Raises Stale when the stored revision is not `based_on`. Earlier timetables stay stored.
        """
        ...


class Marks(Protocol):
    def of(self, plan: int) -> list[Mark]:
        """All marks of a plan, in the order they were said."""
        ...

    def add(self, plan: int, marks: Sequence[Mark]) -> None: ...


class Outbox(Protocol):
    """Letters owed. A letter is claimed for a lease, and only the claim's holder may finish it."""

    def put(self, letters: Sequence[Letter]) -> None:
        """Store letters. One whose (chat, key) is stored already is left as it was if it was ever claimed;
        a pending one becomes this one but waits as long as it had to; an obsolete one becomes this one,
        pending again.
        """
        ...

    def pending(self, plan: int) -> list[Letter]:
        """The plan's letters not yet claimed, by due time."""
        ...

    def obsolete(self, plan: int, keep: Sequence[str] = ()) -> int:
        """Make the plan's unclaimed *nudges* obsolete, except those with a key in `keep`; how many."""
        ...

    def due(self, now: datetime) -> list[Letter]:
        """Letters that may be sent at `now`: pending or uncertain ones due and past their not_before, and
        those whose lease ran out while sending (they come back `uncertain`). Most urgent first: by
        priority, then due, then id.
        """
        ...

    def next_due(self, after: datetime) -> datetime | None:
        """The earliest moment after `after` at which a letter falls due, a not_before or lease runs out."""
        ...

    def claim(self, letter: int, token: str, now: datetime, lease: timedelta) -> Letter | None:
        """Take a letter for sending: state `sending`, attempts + 1. None when someone else has it, or it
        is no longer owed.
        """
        ...

    def finish(self, letter: Letter) -> bool:
        """Store how a claimed letter came out (state, sent, receipt, error, not_before). False, and
        nothing stored, when its claim token no longer matches.
        """
        ...

    def sent_since(self, since: datetime, chat: int | None = None) -> list[datetime]:
        """When letters were sent (to one chat, or to all) at or after `since`, in order."""
        ...

    def by_receipt(self, chat: int, receipt: str) -> Letter | None: ...

    def latest_nudge(self, chat: int) -> Letter | None:
        """The nudge about a step that was sent to the chat last (by sent, then id)."""
        ...

    def with_buttons(self, plan: int, step: int) -> list[Letter]:
        """Sent letters about a step that still have buttons."""
        ...

    def history(self, chat: int, since: datetime) -> list[Letter]:
        """Letters sent to the chat at or after `since`, oldest first."""
        ...

    def timers(self, chat: int) -> list[Letter]:
        """The chat's timers still to go off (nudges about TIMER, pending), by due time."""
        ...

    def withdraw(self, letter: Letter) -> bool:
        """Make one pending letter obsolete; False when it is not pending any more."""
        ...

    def forget_buttons(self, chat: int, receipt: str) -> None:
        """The message of that receipt has no buttons any more."""
        ...


class Inbox(Protocol):
    def take(self, rows: Sequence[Received]) -> int:
        """Store raw updates, leaving out those already stored; how many were new."""
        ...

    def new(self, now: datetime, limit: int = 100) -> list[Received]:
        """Updates still to be handled, oldest first, whose not_before has passed."""
        ...

    def save(self, row: Received) -> None:
        """Store an update's state, attempts, not_before and error."""
        ...

    def offset(self, source: str) -> int | None:
        """The highest update number stored for a source."""
        ...


class UnitOfWork(Protocol):
    """One transaction. Nothing is kept unless `commit` is called; leaving without it rolls back.

    Writers are one at a time; a unit of work that cannot start within its timeout raises TimeoutError.
    """

    chats: Chats
    plans: Plans
    marks: Marks
    outbox: Outbox
    inbox: Inbox

    def __enter__(self) -> Self: ...
    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None: ...
    def commit(self) -> None: ...


class Store(Protocol):
    """Opens units of work."""

    def __call__(self) -> UnitOfWork: ...
