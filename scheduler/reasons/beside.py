"""What has the hands, the gear or the oven just before a step and just after it, as the timetable stands."""

from __future__ import annotations

from scheduler.domain.plan import MINUTE, Attention
from scheduler.domain.slack.room import Place, minute
from scheduler.domain.slack.shared import Shared
from scheduler.domain.timetable import Slot, Timetable
from scheduler.reasons.network import Network
from scheduler.reasons.records import Because, Reason


class Beside:
    """Asked about one slot; a reason only where the step could not run there beside what is under way."""

    def __init__(self, net: Network, timetable: Timetable, slot: Slot) -> None:
        self.net, self.timetable, self.slot = net, timetable, slot
        self.step = net.plan.steps[slot.step]
        self.mark = self.step.grain // MINUTE
        place = Place(net.plan, slot, self.mark, net.presence)
        self.blocked = Shared(net.plan, timetable.slots, net.progress).blocked(place, ())

    def before(self) -> list[Reason]:
        """What keeps it from being begun a mark earlier."""
        start = minute(self.slot.start)
        ends = [end for _, end in self.blocked if start - self.mark < end <= start]
        return self._reasons([slot for slot in self.timetable.slots if minute(slot.end) in ends])

    def after(self) -> list[Reason]:
        """What keeps it from lasting a mark longer."""
        end = minute(self.slot.end)
        starts = [start for start, _ in self.blocked if end <= start < end + self.mark]
        return self._reasons([slot for slot in self.timetable.slots if minute(slot.start) in starts])

    def _reasons(self, others: list[Slot]) -> list[Reason]:
        found = (self._with(other) for other in others if not self._bound_to(other))
        return [reason for reason in found if reason is not None][:1]

    def _bound_to(self, other: Slot) -> bool:
        """Whether it is the step itself, or one that comes before or after it anyway."""
        pair = {self.slot.step, other.step}
        return len(pair) == 1 or any({link.before, link.after} == pair for link in self.net.links)

    def _with(self, other: Slot) -> Reason | None:
        """The other step as a user of what this one uses too."""
        theirs = self.net.plan.steps[other.step]
        hands = self.step.attention is theirs.attention is Attention.HANDS_ON
        if hands and self.slot.cook == other.cook:
            return self._reason(Because.COOK, other, self.slot.cook)
        if self.step.oven is not None and theirs.oven not in (None, self.step.oven):
            return self._reason(Because.GEAR, other, "oven")
        shared = next((name for name in self.step.gear if name in theirs.gear), None)
        return None if shared is None else self._reason(Because.GEAR, other, shared)

    @staticmethod
    def _reason(because: Because, other: Slot, name: str | None) -> Reason:
        return Reason(because, step=other.step, name=name, since=other.start, until=other.end)
