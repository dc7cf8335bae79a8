"""Which message goes out next: the most urgent that the pace allows and that is still of use."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from scheduler.domain.nudges import Policy
from scheduler.domain.stages import About
from scheduler.ports import UnitOfWork
from scheduler.records import Chat, Kind, Letter, PlanStatus
from scheduler.service import outcomes
from scheduler.service.catching_up import (
    Owed,
    held_since,
    in_short,
    is_late,
    is_plan_nudge,
    together,
    was_overtaken,
)
from scheduler.service.letters import keys_owed, nudge_of
from scheduler.service.pacing import Paces
from scheduler.service.quiet import asleep_until, quiet_until
from scheduler.service.view import View, view_of

LEASE = timedelta(minutes=2)


@dataclass(frozen=True, slots=True)
class Parcel:
    """One message on its way, and the claimed letters it stands for.

    `told` are those it speaks of, the most pressing first: that one is kept as the message. `besides` are
    those it makes needless. `since` is when we began to fail to say what was due.
    """

    chat: Chat
    told: tuple[Owed, ...]
    besides: tuple[Letter, ...] = ()
    since: datetime | None = None

    @property
    def head(self) -> Letter:
        return self.told[0].letter

    @property
    def others(self) -> tuple[Letter, ...]:
        return (*(each.letter for each in self.told[1:]), *self.besides)

    @property
    def repeat(self) -> bool:
        """Whether any of it may have been delivered before."""
        return any(outcomes.is_repeat(letter) for letter in (self.head, *self.others))


class Choosing:
    """One look at the outbox, within one transaction. `changed` says whether there is something to commit."""

    def __init__(self, uow: UnitOfWork, now: datetime, token: str, policy: Policy, paces: Paces) -> None:
        self.uow, self.now, self.token, self.policy, self.paces = uow, now, token, policy, paces
        self.changed = False
        self._later: list[datetime] = []
        self._chats: dict[int, Chat] = {}
        self._views: dict[int, View | None] = {}
        self._owed: dict[int, frozenset[str]] = {}

    def parcel(self) -> Parcel | None:
        """What goes out now, claimed. What turns out to be of no use any more is settled on the way."""
        for letters in together(self._ready(), self.now):
            owed = [each for letter in letters if (each := self._claim(letter)) is not None]
            if owed:
                return self._packed(owed, letters)
        return None

    def ahead(self) -> datetime | None:
        """When something falls due next, the limits of pace and the cook's quiet included."""
        following = self.uow.outbox.next_due(self.now)
        return min([*self._later, *([] if following is None else [following])], default=None)

    def _ready(self) -> list[Letter]:
        ready = []
        for letter in self.uow.outbox.due(self.now):
            free = self._free_at(letter)
            if free > self.now:
                self._later.append(free)
            else:
                ready.append(letter)
        return ready

    def _free_at(self, letter: Letter) -> datetime:
        chat = self._chat(letter)
        held = (quiet_until(chat, letter), self._asleep_until(letter))
        return max([self.paces.free_at(chat), *(until for until in held if until is not None)])

    def _asleep_until(self, letter: Letter) -> datetime | None:
        """Only of what is late: everything else falls in waking hours of itself."""
        if not (is_plan_nudge(letter) and is_late(letter, self.now)):
            return None
        view = self._view(letter.plan)
        return None if view is None else asleep_until(view.plan, letter, self.now)

    def _claim(self, letter: Letter) -> Owed | None:
        """The letter claimed; None when it is not to be sent, or somebody else has it."""
        claimed = self.uow.outbox.claim(letter.id or 0, self.token, self.now, LEASE)
        if claimed is None:
            return None
        self.changed = True
        settled = self._settled(claimed, self._chat(letter))
        if settled is not None:
            self.uow.outbox.finish(settled)
            return None
        return Owed(claimed, self._view(claimed.plan))

    def _settled(self, letter: Letter, chat: Chat) -> Letter | None:
        """The letter as it is to be stored instead of sent; None when it is to be sent."""
        if outcomes.is_spent(letter):
            return outcomes.given_up(letter, "every try broke off")
        if chat.barred is not None:
            return outcomes.not_now(letter, f"chat is {chat.barred}")
        if letter.kind is not Kind.NUDGE:
            return None
        if letter.about is About.TIMER:
            late = letter.expires is not None and letter.expires <= self.now
            return outcomes.not_now(letter, "too late to be of use") if late else None
        why = self._no_use(letter)
        return None if why is None else outcomes.not_now(letter, why)

    def _no_use(self, letter: Letter) -> str | None:
        view = self._view(letter.plan)
        if letter.expires is not None and letter.expires <= self.now:
            return "too late to be of use"
        if view is None or view.row.status is not PlanStatus.ACTIVE:
            return "its plan is not under way"
        if nudge_of(letter).key not in self._keys_owed(view):
            return "overtaken"
        if is_late(letter, self.now) and was_overtaken(
            letter, self.uow.outbox.history(letter.chat, letter.due)
        ):
            return "a later word was said already"
        return None

    def _packed(self, owed: Sequence[Owed], due: Sequence[Letter]) -> Parcel:
        chat = self._chat(owed[0].letter)
        if len(owed) == 1 or not is_plan_nudge(owed[0].letter):
            return Parcel(chat, tuple(owed))
        told = in_short(owed)
        besides = tuple(each.letter for each in owed if each not in told)
        return Parcel(chat, tuple(told), besides, held_since(due, chat, self.now))

    def _chat(self, letter: Letter) -> Chat:
        if letter.chat not in self._chats:
            self._chats[letter.chat] = self.uow.chats.get(letter.chat)
        return self._chats[letter.chat]

    def _view(self, plan: int | None) -> View | None:
        if plan is None:
            return None
        if plan not in self._views:
            row = self.uow.plans.get(plan)
            timed = row is not None and row.timetable is not None
            self._views[plan] = view_of(self.uow, row, self.now) if row is not None and timed else None
        return self._views[plan]

    def _keys_owed(self, view: View) -> frozenset[str]:
        if view.id not in self._owed:
            self._owed[view.id] = keys_owed(view, self.policy)
        return self._owed[view.id]
