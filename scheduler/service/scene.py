"""What is known when a turn begins."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime

from scheduler.commands import Target
from scheduler.ports import Planner
from scheduler.records import Chat, Incoming, Letter
from scheduler.service.acting import Said
from scheduler.service.view import View


@dataclass(frozen=True)
class Scene:
    """`views` are the plans under way, the one meant first; `asked` is what the cook was last nudged about.

    `shown` is the message replied to, or else the last one that has buttons. `draft` is a plan that could be
    taken into use, where none is under way.
    """

    chat: Chat
    incoming: Incoming
    now: datetime
    batch: str
    views: tuple[View, ...]
    planner: Planner
    asked: Target | None = None
    asked_letter: Letter | None = None
    shown: Letter | None = None
    draft: View | None = None

    @property
    def view(self) -> View | None:
        return self.views[0] if self.views else None

    @property
    def zone(self) -> str:
        """The clock to speak by where no plan is meant: the plan's in hand, or else the cook's own."""
        return self.view.zone if self.view is not None else self.chat.zone or "UTC"

    @property
    def said(self) -> Said:
        return Said(self.batch, self.incoming.sender)

    @property
    def words(self) -> str:
        """What was said, for comparing: no capitals, no spaces or full stops around it."""
        return " ".join(self.incoming.text.split()).strip(" .,!?").casefold()

    def led_by(self, view: View | None) -> Scene:
        """The same with another plan meant first."""
        if view is None or view is self.view:
            return self
        return replace(self, views=(view, *(other for other in self.views if other.id != view.id)))
