"""The second panel: every step of the last day, by component, its words beside its bar."""

from __future__ import annotations

from dataclasses import dataclass

from bot.picture.hours import Hours
from bot.picture.pen import Pen
from bot.picture.shapes import (
    INK,
    LOOKS,
    MARGIN,
    QUIET,
    RIGHT,
    SMALL,
    Face,
    Words,
    bar,
    continued,
    label_face,
    touch,
)
from bot.picture.words import clean
from scheduler.domain.timetable import Slot, Touch
from scheduler.words import clock

BESIDE = 14
"""Pixels between a bar and the words beside it."""

APART = 44
"""Pixels between two steps on one row, so that no words seem to belong to the wrong bar."""

NAMED = 6
"""Up to so many touches of one wait are written out."""


def hours_panel(pen: Pen) -> None:
    """Add the panel, from the beginning of the last day to the serving hour."""
    hours = Hours(pen)
    hours.heading()
    hours.axis()
    top = pen.y
    hours.hands()
    for component in pen.scene.plan.components:
        numbers = {step.number for step in component.steps}
        if slots := [slot for slot in pen.scene.last_day if slot.step in numbers]:
            pen.heading(clean(component.name), pen.density.name, pen.density.gap + pen.density.line)
            rows = _Rows(pen, hours)
            for slot in slots:
                rows.add(slot)
    bottom = pen.down(16)
    hours.shade(pen.scene.plan.kitchen.cooks, top, bottom)
    hours.grounds(top, bottom)


@dataclass(frozen=True, slots=True)
class _Line:
    text: str
    face: Face
    colour: str = INK


@dataclass(frozen=True, slots=True)
class _Side:
    """Words at one end of a bar, and the width the two take up."""

    x: float
    align: str
    span: tuple[float, float]


class _Rows:
    """The rows of one component. `taken` holds, by the top of a row, what is on it already."""

    def __init__(self, pen: Pen, hours: Hours) -> None:
        self.pen, self.hours = pen, hours
        self.taken: dict[float, list[tuple[float, float]]] = {}

    def add(self, slot: Slot) -> None:
        """Words to the right of the bar where they fit, else to its left, else above it."""
        lines = self._lines(slot)
        sides = self._sides(slot, max(self.pen.measure(line.text, line.face) for line in lines))
        if not sides:
            self._above(slot, lines)
            return
        top, side = self._place(sides) if self.pen.density.packed and len(lines) == 1 else (None, sides[0])
        if top is None:
            top = self.pen.y
            self.pen.down(len(lines) * self.pen.density.line)
        self.taken.setdefault(top, []).append(side.span)
        self._write(lines, top, side.x, side.align)
        self._bar(slot, top + self.pen.density.line - self.pen.density.text * 0.36)

    def _sides(self, slot: Slot, width: float) -> list[_Side]:
        x0, x1 = self.hours.scale.x(slot.start), self.hours.scale.x(slot.end)
        x1 = max(x1, x0 + LOOKS[self.pen.scene.attention(slot)].least)
        right = _Side(x1 + BESIDE, "left", (x0, x1 + BESIDE + width))
        left = _Side(x0 - BESIDE, "right", (x0 - BESIDE - width, x1))
        limit = self.hours.scale.x(self.pen.scene.serve) - BESIDE
        return [side for side in (right, left) if side.span[0] >= MARGIN and self._ends(side) <= limit]

    @staticmethod
    def _ends(side: _Side) -> float:
        return side.span[1] if side.align == "left" else side.x

    def _place(self, sides: list[_Side]) -> tuple[float | None, _Side]:
        """A row above with room for it, if there is one."""
        for top, spans in self.taken.items():
            for side in sides:
                start, end = side.span
                if all(end + APART <= x0 or x1 + APART <= start for x0, x1 in spans):
                    return top, side
        return None, sides[0]

    def _above(self, slot: Slot, lines: list[_Line]) -> None:
        width = max(self.pen.measure(line.text, line.face) for line in lines)
        x = max(MARGIN, min(self.hours.scale.x(slot.start), RIGHT - BESIDE - width))
        top = self.pen.y
        self._write(lines, top, x, "left")
        tall = self.pen.density.lane * LOOKS[self.pen.scene.attention(slot)].share
        self._bar(slot, self.pen.down(len(lines) * self.pen.density.line) + 9 + tall / 2)
        self.pen.down(tall + 9)

    def _write(self, lines: list[_Line], top: float, x: float, align: str) -> None:
        for n, line in enumerate(lines, 1):
            y = top + n * self.pen.density.line
            self.pen.add(Words(x, y, line.text, line.face, line.colour, align, halo=True))

    def _bar(self, slot: Slot, middle: float) -> None:
        lane, x = self.pen.density.lane, self.hours.scale.x
        shape = bar(self.pen.scene.attention(slot), x(slot.start), x(slot.end), middle, lane)
        self.pen.add(shape)
        if slot.start < self.hours.scale.since:
            self.pen.add(continued(shape))
        for tend in self._touches(slot):
            self.pen.add(*touch(x(tend.at), middle, lane))

    # ------------------------------------------------------------ words

    def _lines(self, slot: Slot) -> list[_Line]:
        pen, step, room = self.pen, self.pen.scene.step(slot), RIGHT - MARGIN - BESIDE
        face = label_face(step.attention, pen.density)
        tail = f"{'' if pen.density.brief else f' · {pen.scene.lasting(slot)}'}{self._who(slot)}"
        when = clock(slot.start, pen.scene.zone)
        if slot.start < self.hours.scale.since:
            when, tail = f"until {clock(slot.end, pen.scene.zone)}", ""
        *whole, last = pen.wrapped(f"{when} {clean(step.name)}", room, face, pen.density.wraps)
        last = pen.fitted(last, room - pen.measure(tail, face), face) + tail
        lines = [_Line(text, face) for text in (*whole, last)]
        touches = self._touches(slot)
        if touches and step.tend and not pen.density.brief:
            when = self._when(touches)
            name = pen.fitted(clean(step.tend.name), room - pen.measure(f": {when}", SMALL), SMALL)
            lines.append(_Line(f"{name}: {when}", SMALL, QUIET))
        return self._joined(lines, room) if pen.density.packed else lines

    def _joined(self, lines: list[_Line], room: float) -> list[_Line]:
        """All on one line, where that has room for it."""
        one = _Line("  ".join(line.text for line in lines), lines[0].face)
        return [one] if self.pen.measure(one.text, one.face) <= room * 0.8 else lines

    def _who(self, slot: Slot) -> str:
        """The cook of a step, where there are several; shortened to a third of the width."""
        cook = slot.cook or self.pen.scene.step(slot).cook
        if not cook or len(self.pen.scene.plan.kitchen.cooks) == 1:
            return ""
        return f" · {self.pen.fitted(clean(cook), (RIGHT - MARGIN) / 3, self.pen.density.plain)}"

    def _touches(self, slot: Slot) -> tuple[Touch, ...]:
        return tuple(touch for touch in self.pen.scene.touches(slot) if self.hours.scale.holds(touch.at))

    def _when(self, touches: tuple[Touch, ...]) -> str:
        clocks = [clock(touch.at, self.pen.scene.zone) for touch in touches]
        if len(clocks) <= NAMED:
            return ", ".join(clocks)
        return f"{len(clocks)} times, {clocks[0]} to {clocks[-1]}"
