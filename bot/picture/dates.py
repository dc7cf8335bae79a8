"""The dates across the top of the first panel, and what lies under its lanes."""

from __future__ import annotations

from datetime import date, datetime

from bot.picture.pen import Pen
from bot.picture.shapes import (
    ACCENT,
    AWAY,
    INK,
    MARGIN,
    QUIET,
    RIGHT,
    RULE,
    SMALL,
    SMALL_STRONG,
    Box,
    Patch,
    Scale,
    Stroke,
    Words,
    now_line,
)
from scheduler.domain.hours import local
from scheduler.words import DAYS, MONTHS

ZOOM = 46
"""The height of the wedge that leads from the last date to the hours of the last day."""

SATURDAY = 5


class Dates:
    """Whole local days from the first step to the last, in elapsed time."""

    def __init__(self, pen: Pen) -> None:
        self.pen = pen
        self.midnights = pen.scene.midnights()
        self.scale = Scale(self.midnights[0], self.midnights[-1])

    def day(self, at: datetime) -> date:
        return local(at, self.pen.scene.zone).date()

    def axis(self) -> None:
        """Months, weekdays and days of the month, as many of them as there is room for."""
        y = self.pen.down(38)
        self._months(y)
        every, letters = self._spacing((RIGHT - MARGIN) / (len(self.midnights) - 1))
        last = self.day(self.midnights[-2])
        for at, following in zip(self.midnights, self.midnights[1:], strict=False):
            days_left = (last - self.day(at)).days
            if days_left % every == 0:
                x = (self.scale.x(at) + self.scale.x(following)) / 2
                self._date(self.day(at), x, y, letters, last_day=days_left == 0)
        self.pen.down(62)

    def _date(self, day: date, x: float, y: float, letters: int, last_day: bool) -> None:
        face = SMALL_STRONG if last_day or day.weekday() >= SATURDAY else SMALL
        colour = ACCENT if last_day else INK
        self.pen.add(
            Words(x, y + 28, DAYS[day.weekday()][:letters], face, colour, "center"),
            Words(x, y + 55, str(day.day), face, colour, "center"),
        )

    def _spacing(self, wide: float) -> tuple[int, int]:
        """Every how many days a date is written, and with how many letters of the weekday."""
        for letters in (3, 2):
            if self._room(letters) <= wide:
                return 1, letters
        room = self._room(3)
        return next(n for n in (2, 3, *range(7, 7 * len(self.midnights) + 8, 7)) if room <= n * wide), 3

    def _room(self, letters: int) -> float:
        return 8 + self.pen.room_for(*(day[:letters] for day in DAYS), face=SMALL_STRONG)

    def _months(self, y: float) -> None:
        starts = [at for at in self.midnights[:-1] if self.day(at).day == 1 or at == self.midnights[0]]
        for at, following in zip(starts, [*starts[1:], self.midnights[-1]], strict=True):
            name, x = MONTHS[self.day(at).month - 1], self.scale.x(at)
            if self.pen.measure(name, SMALL) + 12 <= self.scale.x(following) - x:
                self.pen.add(Words(x, y, name, SMALL, QUIET))

    def rules(self, top: float, bottom: float) -> None:
        """Midnights and the present moment, across one lane."""
        now = self.pen.scene.now
        for at in self.midnights:
            self.pen.beneath(Stroke(self.scale.x(at), top, self.scale.x(at), bottom, RULE, 1))
        if now is not None and self.scale.holds(now):
            self.pen.beneath(now_line(self.scale.x(now), top, bottom))

    def grounds(self, top: float) -> None:
        """The last day, opening into the panel below."""
        bottom, scene = self.pen.down(14), self.pen.scene
        x0, x1 = self.scale.x(scene.split), self.scale.x(scene.until)
        foot = self.pen.down(ZOOM)
        self.pen.beneath(
            Box(x0, top, x1, bottom, AWAY),
            Patch(((x0, bottom), (x1, bottom), (RIGHT, foot), (MARGIN, foot)), AWAY),
        )
