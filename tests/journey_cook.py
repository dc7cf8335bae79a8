"""A cook who answers by button, what they heard, and a worker whose passes can be waited for."""

from __future__ import annotations

import threading
from collections.abc import Mapping
from datetime import datetime, timedelta

from scheduler.domain.stages import About, Stage
from scheduler.domain.timetable import Slot
from scheduler.records import Kind, Letter
from scheduler.worker import Worker
from tests.journey_kit import Journey
from tests.journey_messages import Message, button_of

EVENING = ("2026-03-21 12:00", "2026-03-21 20:59")
"""The day of the overnight plan, used at noon, shortly before mixing is asked for at nine."""

MINUTE, NO_TIME = timedelta(minutes=1), timedelta(0)
PATIENCE = 20.0
"""Seconds of real time a test waits for a pass: so much more than it takes that only one lost fails it."""


class Cook:
    """Answers what is asked by its button, each thing once: when the work is done, or so much later.

    `late` gives by step name how long after its time a thing is done; None means never.
    """

    def __init__(self, journey: Journey, late: Mapping[str, timedelta | None] | None = None) -> None:
        self.journey, self.late = journey, dict(late or {})
        self._answered: set[tuple[object, ...]] = set()
        journey.messenger.listeners.append(self.hear)

    def hear(self, message: Message) -> None:
        letter = message.letter
        if letter.plan is None or letter.step is None or not message.labels:
            return
        label = self._label(message, letter)
        thing = letter.plan, letter.step, letter.about, letter.occurrence if letter.about == "tend" else label
        wait = self.late.get(self._name(letter), NO_TIME)
        if label is None or wait is None or thing in self._answered:
            return
        self._answered.add(thing)
        wait += (
            self._slot(letter).end - self._slot(letter).start
            if letter.about == "start" and label == "Done"
            else NO_TIME
        )
        self.journey.later(wait, lambda: self._press(message, label))

    def _label(self, message: Message, letter: Letter) -> str | None:
        """The button to press; what nature ends is ready at its planned end."""
        if "Ready" in message.labels and self._slot(letter).end > self.journey.clock.now() + MINUTE:
            return None
        return next((each for each in ("Done", "Started", "Ready") if each in message.labels), None)

    def _press(self, message: Message, label: str) -> None:
        data = button_of(message, label).data
        self.journey.give(message.address, data=data, reply_to=message.receipt)

    def _name(self, letter: Letter) -> str:
        return self.journey.view(letter.plan or 0).step(letter.step or 0).name

    def _slot(self, letter: Letter) -> Slot:
        found = self.journey.view(letter.plan or 0).timetable.slot(letter.step or 0)
        assert found is not None
        return found


class Watched(Worker):
    """A worker whose passes can be waited for, also while time is frozen: threading's own clock is not."""

    def __init__(self, worker: Worker) -> None:
        self.worker = worker
        self.passes = 0
        self.due: datetime | None = None
        self._changed = threading.Condition()

    def tick(self) -> datetime | None:
        try:
            self.due = self.worker.tick()
        finally:
            with self._changed:
                self.passes += 1
                self._changed.notify_all()
        return self.due

    def came_to(self, passes: int) -> bool:
        with self._changed:
            return self._changed.wait_for(lambda: self.passes >= passes, PATIENCE)


def nudges(messages: list[Message]) -> list[Message]:
    return [message for message in messages if message.letter.kind is Kind.NUDGE]


def stages(messages: list[Message], journey: Journey, step: str) -> list[Stage | None]:
    """The stages in which beginning that step was spoken of."""
    number = journey.step(step)
    return [
        message.letter.stage
        for message in nudges(messages)
        if message.letter.about is About.START and message.letter.step == number
    ]
