"""The hours of the last day: the clock across the top, the hands it takes, and what lies under the rows."""

from __future__ import annotations

from datetime import datetime, timedelta

from bot.picture.pen import Pen
from bot.picture.shapes import (
    ACCENT,
    AWAY,
    GRID,
    INK,
    MARGIN,
    NIGHT,
    PANEL,
    RIGHT,
    RULE,
    SMALL,
    SMALL_STRONG,
    Box,
    Scale,
    Stroke,
    Words,
    away,
    bar,
    now_line,
)
from bot.picture.words import clean, long_day
from scheduler.domain.hours import local
from scheduler.domain.plan import FIVE_MINUTES, NO_TIME, Attention, Cook
from scheduler.domain.timetable import Slot
from scheduler.words import clock, day, length

SPACINGS = (5, 10, 15, 20, 30, 60, 120, 180, 240, 360)
"""Minutes between the hours written on the clock, finest first."""

FEW = 6


class Hours:
    """From the beginning of the last day to the serving hour, in elapsed time."""

    def __init__(self, pen: Pen) -> None:
        self.pen, self.scene = pen, pen.scene
        self.scale = Scale(self.scene.split, self.scene.until)

    def heading(self) -> None:
        first, last = (day(at, self.scene.zone) for at in (self.scene.split, self.scene.until))
        text = long_day(self.scene.date_of(self.scene.until)) if first == last else f"{first} to {last}"
        self.pen.heading(f"The last day: {text}" if self.scene.earlier else text, PANEL, 60)

    def axis(self) -> None:
        """The serving hour on a line of its own, the clock on the next."""
        y = self.pen.down(40)
        at_table = f"{clock(self.scene.serve, self.scene.zone)} at the table"
        width = self.pen.measure(at_table, SMALL_STRONG)
        right = max(MARGIN + width, self.scale.x(self.scene.serve))
        self.pen.add(Words(right, y, at_table, SMALL_STRONG, ACCENT, "right"))
        self._now(y, right - width)
        y, room = self.pen.down(30), self._room()
        free = -room
        for at in self.marks(room):
            x = self.scale.x(at)
            if x - free >= room and abs(x - self.scale.x(self.scene.serve)) >= room / 2:
                self.pen.add(self._mark(at, x, y))
                free = x
        self.pen.down(12)

    def _mark(self, at: datetime, x: float, y: float) -> Words:
        """The local time, or the weekday and date where a day begins."""
        if self._minute(at):
            return Words(x, y, clock(at, self.scene.zone), SMALL, INK, "center")
        return Words(x, y, " ".join(day(at, self.scene.zone).split()[:2]), SMALL_STRONG, INK, "center")

    def _room(self) -> float:
        """What one of them takes up."""
        days = (
            ("Wed 30", "Mon 30")
            if self.scene.date_of(self.scale.since) < self.scene.date_of(self.scale.until)
            else ()
        )
        return max(self.pen.measure("00:00", SMALL), self.pen.room_for(*days, face=SMALL_STRONG)) + 12

    def _now(self, y: float, before: float) -> None:
        """The word, where there is room for it to the left of the serving hour."""
        if self.scene.now is None or not self.scale.holds(self.scene.now):
            return
        width = self.pen.measure("now", SMALL)
        left = max(MARGIN, min(self.scale.x(self.scene.now) - width / 2, before - width - 16))
        self.pen.add(Words(left, y, "now", SMALL, ACCENT))

    def marks(self, room: float) -> list[datetime]:
        """The moments written on the clock: as many as have `room` pixels each."""
        span, wide = self.scale.until - self.scale.since, self.scale.right - self.scale.left
        fitting = [n for n in SPACINGS if timedelta(minutes=n) / span * wide >= room]
        minutes = fitting[0] if fitting else SPACINGS[-1]
        moments = [self.scale.since + n * FIVE_MINUTES for n in range(span // FIVE_MINUTES + 1)]
        return [at for at in moments if self._minute(at) % minutes == 0]

    def _minute(self, at: datetime) -> int:
        wall = local(at, self.scene.zone)
        return wall.hour * 60 + wall.minute

    # ------------------------------------------------------------ hands

    def hands(self) -> None:
        """A lane for each cook with work to do: when their hands are taken. One cook with little to do
        sees that without it.
        """
        cooks = self.scene.plan.kitchen.cooks
        if len(cooks) == 1 and len(self.scene.last_day) <= FEW:
            return
        for cook in cooks:
            if slots := self.scene.hands(cook, self.scale.since):
                self._hands_of(cook, slots, alone=len(cooks) == 1)

    def _hands_of(self, cook: Cook, slots: tuple[Slot, ...], alone: bool) -> None:
        lane = self.pen.density.lane
        work = sum((slot.end - max(slot.start, self.scale.since) for slot in slots), NO_TIME)
        name = self.pen.fitted(clean(cook.name), (RIGHT - MARGIN) / 2, SMALL)
        text = f"Hands-on work, {length(work)}" if alone else f"{name}, {length(work)} hands-on"
        top = self.pen.named_lane(text, SMALL, self.scale.x(slots[0].start))
        if not alone:
            self.shade((cook,), top, top + lane)
        self.pen.add(Stroke(MARGIN, top + lane, RIGHT, top + lane, RULE, 1))
        for slot in slots:
            x0, x1 = self.scale.x(slot.start), self.scale.x(slot.end)
            self.pen.add(bar(Attention.HANDS_ON, x0, x1, top + lane / 2, lane))
        self.pen.down(lane + 6)

    # ------------------------------------------------------------ grounds

    def shade(self, cooks: tuple[Cook, ...], top: float, bottom: float) -> None:
        """Nights and hours with nobody at home."""
        for start, end in self.scene.asleep(cooks, self.scale.since):
            self.pen.beneath(Box(self.scale.x(start), top, self.scale.x(end), bottom, NIGHT))
        for start, end in self.scene.out(cooks, self.scale.since):
            self.pen.beneath(away(self.scale.x(start), top, self.scale.x(end), bottom))

    def grounds(self, top: float, bottom: float) -> None:
        for at in self.marks(self._room()):
            wide = 1 if self._minute(at) else 3
            self.pen.beneath(Stroke(self.scale.x(at), top, self.scale.x(at), bottom, GRID, wide))
        if self.scene.now is not None and self.scale.holds(self.scene.now):
            self.pen.beneath(now_line(self.scale.x(self.scene.now), top - 10, bottom))
        x = self.scale.x(self.scene.serve)
        self.pen.beneath(Stroke(x, top - 40, x, bottom, ACCENT, 5), Stroke(MARGIN, top, RIGHT, top, AWAY, 1))
