"""The first panel: the days before, a lane for each component over the dates, and what begins when."""

from __future__ import annotations

from bot.picture.dates import Dates
from bot.picture.pen import Pen
from bot.picture.shapes import MARGIN, PANEL, QUIET, RIGHT, SMALL, Words, bar, kept, label_face, touch
from bot.picture.words import clean
from scheduler.domain.plan import Attention
from scheduler.domain.timetable import Slot, Touch
from scheduler.words import clock, counted, day, day_and_clock, listed

NAMED = 2
"""Up to so many touches of one wait are written out."""


def days_panel(pen: Pen) -> None:
    """Add the panel; nothing where the whole meal fits on the hours of one day."""
    if not pen.scene.earlier:
        return
    pen.heading("The days before", PANEL, 66)
    dates = Dates(pen)
    dates.axis()
    top = pen.y
    for component in pen.scene.plan.components:
        numbers = {step.number for step in component.steps}
        if slots := [slot for slot in pen.scene.earlier if slot.step in numbers]:
            _component(pen, dates, clean(component.name), slots)
    dates.grounds(top)


def _component(pen: Pen, dates: Dates, name: str, slots: list[Slot]) -> None:
    pen.down(pen.density.gap)
    if pen.density.brief:
        _gist(pen, name, slots)
        _lane(pen, dates, slots, pen.down(8))
    else:
        first = min(dates.scale.x(slot.start) for slot in slots)
        _lane(pen, dates, slots, pen.named_lane(name, pen.density.name, first))
        _list(pen, slots)


def _gist(pen: Pen, name: str, slots: list[Slot]) -> None:
    """The component and what it begins with, on one line."""
    first, face = pen.scene.step(slots[0]), pen.density.name
    y = pen.down(pen.density.line)
    name = pen.fitted(name, (RIGHT - MARGIN) / 3, face)
    when = day_and_clock(slots[0].start, pen.scene.zone)
    more = f", and {counted(len(slots) - 1, 'step')} more" if len(slots) > 1 else ""
    room = RIGHT - MARGIN - pen.measure(name, face) - pen.measure(f"{when} {more}", SMALL) - 30
    text = f"{when} {pen.fitted(clean(first.name), room, SMALL)}{more}"
    pen.add(Words(MARGIN, y, name, face), Words(RIGHT, y, text, SMALL, align="right"))


def _lane(pen: Pen, dates: Dates, slots: list[Slot], top: float) -> None:
    """Everything a component does before the last day, on one line."""
    middle, lane, x = top + pen.density.lane / 2, pen.density.lane, dates.scale.x
    dates.rules(top - 4, top + lane + 4)
    for slot in slots:
        if used := pen.scene.used(slot):
            pen.add(kept(x(slot.end), x(used), middle))
    for slot in sorted(slots, key=lambda slot: pen.scene.attention(slot) is Attention.HANDS_ON):
        pen.add(bar(pen.scene.attention(slot), x(slot.start), x(slot.end), middle, lane))
    for slot in slots:
        for tend in pen.scene.touches(slot):
            pen.add(*touch(x(tend.at), middle, lane))
    pen.down(lane + 4)


def _list(pen: Pen, slots: list[Slot]) -> None:
    """One line for each step: its attention, date, hour, name and length."""
    hours_at = MARGIN + 56 + pen.room_for("Wed 28 Nov", "Mon 28 Mar", face=pen.density.plain)
    written = ""
    for slot in slots:
        date = day(slot.start, pen.scene.zone)
        if date != written:
            pen.add(Words(MARGIN + 40, pen.y + pen.density.line, date, pen.density.plain))
        written = date
        _row(pen, slot, hours_at)


def _row(pen: Pen, slot: Slot, x: float) -> None:
    density, step, y = pen.density, pen.scene.step(slot), pen.down(pen.density.line)
    face, lasting = label_face(step.attention, density), pen.scene.lasting(slot)
    name_at = x + pen.measure("00:00", density.strong) + 16
    room = RIGHT - name_at - pen.measure(lasting, density.plain) - 20
    pen.add(
        bar(step.attention, MARGIN, MARGIN + 26, y - density.text * 0.36, density.text),
        Words(x, y, clock(slot.start, pen.scene.zone), face),
        Words(RIGHT, y, lasting, density.plain, QUIET, "right"),
    )
    touches, name = pen.scene.touches(slot), clean(step.name)
    if touches and step.tend and density.packed:
        name = f"{name} · {clean(step.tend.name)} {counted(len(touches), 'time')}"
    for n, piece in enumerate(pen.wrapped(name, room, face, density.wraps)):
        pen.add(Words(name_at, pen.down(density.line) if n else y, piece, face))
    if touches and step.tend and not density.packed:
        _tended(pen, clean(step.tend.name), touches, name_at)


def _tended(pen: Pen, name: str, touches: tuple[Touch, ...], x: float) -> None:
    """The moment of each of a few touches; how many, and the first, of many."""
    moments = [day_and_clock(touch.at, pen.scene.zone) for touch in touches]
    when = listed(moments) if len(moments) <= NAMED else f"{len(moments)} times from {moments[0]}"
    y, room = pen.down(pen.density.line), RIGHT - x - 26 - pen.measure(f": {when}", SMALL)
    text = f"{pen.fitted(name, room, SMALL)}: {when}"
    pen.add(*touch(x + 8, y - 8, 26), Words(x + 26, y, text, SMALL, QUIET))
