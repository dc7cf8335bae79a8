"""What tests of pictures share: sheets laid out once, the boxes of their texts, contrast."""

from __future__ import annotations

import struct
from collections.abc import Iterator
from datetime import datetime
from functools import cache
from typing import Any, cast

from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.text import Text
from matplotlib.transforms import Bbox

from bot.picture import paint
from bot.picture.facts import Scene
from bot.picture.layout import lay_out
from bot.picture.shapes import Sheet, Words
from scheduler.domain.plan import Plan
from tests.sample_plans import SAMPLES
from tests.sample_timetables import timetable_of

PNG = b"\x89PNG\r\n\x1a\n"
SVG = "{http://www.w3.org/2000/svg}"


def scene(plan: Plan, now: datetime | None = None) -> Scene:
    return Scene(plan, timetable_of(plan), now)


@cache
def sheet(name: str) -> Sheet:
    return lay_out(scene(SAMPLES[name]()), paint.measure)


def words(laid_out: Sheet) -> list[Words]:
    return [shape for shape in laid_out.shapes if isinstance(shape, Words)]


def said(laid_out: Sheet) -> str:
    return "\n".join(shape.text for shape in words(laid_out))


def size(png: bytes) -> tuple[int, int]:
    """Width and height from the IHDR chunk, which comes first (PNG Specification 1.1, section 4.1.1)."""
    return cast(tuple[int, int], struct.unpack(">II", png[16:24]))


@cache
def measured(name: str) -> list[tuple[str, Bbox]]:
    return list(extents(sheet(name)))


def extents(laid_out: Sheet) -> Iterator[tuple[str, Bbox]]:
    """Every text with the box it is painted in, as the painter of PNG pictures measures it."""
    figure = paint.figure(laid_out)
    renderer = cast(Any, FigureCanvasAgg(figure)).get_renderer()
    for artist in figure.axes[0].findobj(Text):
        if artist.get_text():
            yield artist.get_text(), artist.get_window_extent(renderer)


def overlap(one: Bbox, other: Bbox, slack: float = 1) -> bool:
    across = min(one.x1, other.x1) - max(one.x0, other.x0)
    down = min(one.y1, other.y1) - max(one.y0, other.y0)
    return bool(across > slack and down > slack)


def luminance(colour: str) -> float:
    """Relative luminance (Web Content Accessibility Guidelines 2.2, glossary; constants from memory)."""
    channels = [int(colour[n : n + 2], 16) / 255 for n in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    lighter, darker = sorted((luminance(one), luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)
