"""A timetable: a start and an end for every step that is still part of the meal."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from functools import cached_property

EPOCH = datetime(1970, 1, 1, tzinfo=UTC)


def next_mark(at: datetime, grain: timedelta) -> datetime:
    """The first moment not before `at` that lies on a mark of the clock, `grain` apart."""
    return EPOCH + -(-(at - EPOCH) // grain) * grain


@dataclass(frozen=True, slots=True)
class Slot:
    """When one step runs; every time an aware UTC instant.

    `earliest` and `latest`: how far its start may move with every other step kept where it is.
    `last_call`: how late it may start when what follows gives way as far as it may.
    """

    step: int
    start: datetime
    end: datetime
    earliest: datetime
    latest: datetime
    last_call: datetime
    cook: str | None = None


@dataclass(frozen=True, slots=True)
class Touch:
    """One tend: the `occurrence`-th (from 1) of its step, due at `due`, planned at `at`.

    `trouble` says why it falls where it should not, when no moment within its tolerance is better.
    """

    step: int
    occurrence: int
    due: datetime
    at: datetime
    trouble: str | None = None


@dataclass(frozen=True)
class Timetable:
    """Slots in order of start. `proven` is False when a better one may exist."""

    serve: datetime
    slots: tuple[Slot, ...]
    touches: tuple[Touch, ...] = ()
    proven: bool = True

    @cached_property
    def _by_step(self) -> dict[int, Slot]:
        return {slot.step: slot for slot in self.slots}

    def slot(self, step: int) -> Slot | None:
        """The slot of a step, or None when the step is no longer part of the meal."""
        return self._by_step.get(step)

    def moved(self, other: Timetable) -> tuple[int, ...]:
        """The steps of this timetable that start at another time in `other`."""
        return tuple(
            slot.step
            for slot in self.slots
            if (theirs := other.slot(slot.step)) is not None and theirs.start != slot.start
        )


def in_order(slots: Iterable[Slot]) -> tuple[Slot, ...]:
    return tuple(sorted(slots, key=lambda slot: (slot.start, slot.end, slot.step)))
