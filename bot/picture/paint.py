"""Shapes onto paper: the only part of the picture that knows matplotlib."""

from __future__ import annotations

import io
from functools import lru_cache
from html import escape
from typing import Any

import matplotlib as mpl
from matplotlib.artist import Artist
from matplotlib.figure import Figure
from matplotlib.font_manager import FontProperties, findfont, fontManager, get_font
from matplotlib.lines import Line2D
from matplotlib.patches import Patch as MplPatch
from matplotlib.patches import Polygon, Rectangle
from matplotlib.patheffects import withStroke
from matplotlib.text import Text
from matplotlib.textpath import text_to_path

from bot.picture.facts import Scene
from bot.picture.shapes import PAPER, WIDTH, Box, Face, Patch, Shape, Sheet, Stroke, Words
from bot.picture.words import clean
from scheduler.words import day_and_clock

DPI = 72  # so that a point is a pixel

FALLBACKS = (
    "Noto Sans CJK JP",
    "Noto Sans CJK SC",
    "Noto Sans Devanagari",
    "Noto Sans Tamil",
    "Noto Sans Bengali",
    "Noto Sans Thai",
    "Noto Sans Symbols2",
)
"""Faces asked for what the first one lacks, where they are installed."""

STYLE: dict[Any, Any] = {
    "svg.hashsalt": "crockbell",
    "svg.fonttype": "path",
    "hatch.linewidth": 1.6,
    "text.usetex": False,
}


@lru_cache(maxsize=32)
def font(face: Face) -> FontProperties:
    """The font of a face. DejaVu comes with matplotlib, so the first family is always there."""
    installed = set(fontManager.get_font_names())
    first = "DejaVu Serif" if face.serif else "DejaVu Sans"
    families = [first, "DejaVu Sans", *(name for name in FALLBACKS if name in installed)]
    return FontProperties(
        family=list(dict.fromkeys(families)), size=face.size, weight="bold" if face.bold else "normal"
    )


@lru_cache(maxsize=32)
def _characters(face: Face) -> frozenset[int]:
    properties = font(face)
    found: set[int] = set()
    for family in properties.get_family():
        one = properties.copy()
        one.set_family(family)
        found |= get_font(findfont(one)).get_charmap().keys()
    return frozenset(found)


def legible(text: str, face: Face) -> str:
    """The text with an empty box for every character that no installed font of ours has."""
    known = _characters(face)
    return "".join(c if ord(c) in known else "□" for c in text)


@lru_cache(maxsize=4096)
def measure(text: str, face: Face) -> float:
    """The width of a line of text in pixels."""
    width, _, _ = text_to_path.get_text_width_height_descent(legible(text, face), font(face), False)
    return float(width)


def figure(sheet: Sheet) -> Figure:
    """The sheet as a figure without a canvas, its coordinates in pixels from the top left."""
    fig = Figure(figsize=(WIDTH / DPI, round(sheet.height) / DPI), dpi=DPI, facecolor=PAPER)
    axes = fig.add_axes((0, 0, 1, 1))
    axes.set_axis_off()
    axes.set_xlim(0, WIDTH)
    axes.set_ylim(round(sheet.height), 0)
    for order, shape in enumerate(sheet.all):
        artist = _artist(shape)
        artist.set_zorder(order)
        axes.add_artist(artist)
    return fig


def _artist(shape: Shape) -> Artist:
    match shape:
        case Words():
            return _text(shape)
        case Box():
            wide, tall = shape.x1 - shape.x0, shape.y1 - shape.y0
            return _coloured(Rectangle((shape.x0, shape.y0), wide, tall, hatch=shape.hatch), shape)
        case Patch():
            return _coloured(Polygon(shape.corners, closed=True), shape)
        case Stroke():
            line = Line2D((shape.x0, shape.x1), (shape.y0, shape.y1), color=shape.colour, lw=shape.width)
            if shape.dash:
                line.set_linestyle((0, tuple(mark / shape.width for mark in shape.dash)))
            line.set_dash_capstyle("butt")
            return line


def _coloured(patch: MplPatch, shape: Box | Patch) -> MplPatch:
    patch.set_facecolor(shape.fill)
    patch.set_edgecolor(shape.edge or "none")
    patch.set_linewidth(1.6 if shape.edge else 0)
    return patch


def _text(words: Words) -> Text:
    text = Text(
        words.x,
        words.y,
        legible(words.text, words.face),
        color=words.colour,
        fontproperties=font(words.face),
        ha=words.align,
        va="baseline",
        parse_math=False,
        usetex=False,
    )
    if words.halo:
        text.set_path_effects([withStroke(linewidth=6, foreground=PAPER)])
    return text


def painted(sheet: Sheet, scene: Scene, form: str) -> bytes:
    """The picture's bytes, without a date in them."""
    out = io.BytesIO()
    facts = {"Software": "Crockbell"} if form == "png" else {"Date": None, "Creator": "Crockbell"}
    with mpl.rc_context():
        mpl.rcdefaults()  # whatever style the machine's owner has set for other work
        mpl.rcParams.update(STYLE)
        figure(sheet).savefig(out, format=form, dpi=DPI, facecolor=PAPER, metadata=facts)
    if form == "png":
        return out.getvalue()
    return _described(out.getvalue().decode("utf-8"), scene).encode("utf-8")


def _described(svg: str, scene: Scene) -> str:
    """The picture with its title and every step in words, for those who hear it."""
    said = [
        f"{day_and_clock(slot.start, scene.zone)}: {clean(scene.step(slot).name)}, {scene.lasting(slot)}."
        for slot in scene.timetable.slots
    ]
    title, told = escape(clean(scene.plan.title)), escape("\n".join(said))
    start = svg.index(">", svg.index("<svg"))
    words = f'<title id="title">{title}</title><desc id="desc">{told}</desc>'
    return f'{svg[:start]} role="img" aria-labelledby="title desc">{words}{svg[start + 1 :]}'
