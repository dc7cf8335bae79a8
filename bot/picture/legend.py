"""What the signs in a picture mean, in words; only the signs that are in it."""

from __future__ import annotations

from bot.picture.pen import Pen
from bot.picture.shapes import (
    MARGIN,
    NIGHT,
    RIGHT,
    RULE,
    SMALL,
    Box,
    Shape,
    Stroke,
    Words,
    away,
    bar,
    kept,
    now_line,
    touch,
)
from scheduler.domain.plan import Attention

SIGN = 44
LINE = 38
HEIGHT = 24

MEANINGS = {
    Attention.HANDS_ON: "hands-on: takes a cook",
    Attention.NEARBY: "nearby: someone awake and at home",
    Attention.UNATTENDED: "unattended: looks after itself",
}


def legend(pen: Pen) -> None:
    """Signs and their words in lines across the width."""
    pen.down(24)
    pen.add(Stroke(MARGIN, pen.y, RIGHT, pen.y, RULE, 2))
    x, y = float(MARGIN), pen.down(LINE)
    for sign, meaning in _entries(pen):
        width = SIGN + 12 + pen.measure(meaning, SMALL)
        if x > MARGIN and x + width > RIGHT:
            x, y = float(MARGIN), pen.down(LINE)
        pen.add(*_sign(sign, x, y - 8), Words(x + SIGN + 12, y, meaning, SMALL))
        x += width + 34


def _entries(pen: Pen) -> list[tuple[str, str]]:
    scene = pen.scene
    used = {scene.attention(slot) for slot in scene.timetable.slots}
    entries = [(str(attention), MEANINGS[attention]) for attention in Attention if attention in used]
    if scene.timetable.touches:
        entries.append(("touch", "a short touch during a wait"))
    if any(scene.used(slot) for slot in scene.earlier):
        entries.append(("kept", "ready, keeps until it is used"))
    cooks = scene.plan.kitchen.cooks
    if scene.asleep(cooks, scene.split):
        entries.append(("night", "everyone asleep"))
    if scene.out(cooks, scene.split):
        entries.append(("away", "nobody at home"))
    if scene.now is not None and scene.begins <= scene.now <= scene.until:
        entries.append(("now", "now"))
    return entries


def _sign(sign: str, x: float, middle: float) -> tuple[Shape, ...]:
    x1, top, bottom = x + SIGN, middle - HEIGHT / 2, middle + HEIGHT / 2
    match sign:
        case "touch":
            return touch(x + SIGN / 2, middle, 30)
        case "kept":
            return (kept(x, x1, middle),)
        case "night":
            return (Box(x, top, x1, bottom, NIGHT),)
        case "away":
            return (away(x, top, x1, bottom),)
        case "now":
            return (now_line(x + SIGN / 2, top - 4, bottom + 4),)
        case _:
            return (bar(Attention(sign), x, x1, middle, HEIGHT),)
