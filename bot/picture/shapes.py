"""What a picture is made of: its colours, its sizes, and the few shapes that are drawn.

Positions are in pixels from the top left corner. How a step looks follows its attention by weight as
well as by colour: work is a tall solid block, company a hatched one of middle height, a wait a thin
hollow bar; so the three stay apart in black and white and for every kind of colour vision.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime

from scheduler.domain.plan import Attention

WIDTH = 1080
TALLEST = 2400
MARGIN = 40
RIGHT = WIDTH - MARGIN
SMALLEST_TEXT = 22

PAPER = "#fffdf7"
NIGHT = "#dfe1ea"
AWAY = "#efece0"
INK = "#211d2b"
QUIET = "#4c4857"
ACCENT = "#96172e"
RULE = "#c9c4ba"
GRID = "#dcd7cc"
WORK = "#43203f"
COMPANY = "#e2a63d"
WAIT = "#e4f0ea"
WAIT_EDGE = "#2f6154"

GROUNDS = (PAPER, NIGHT, AWAY)
TEXT_COLOURS = (INK, QUIET, ACCENT)


@dataclass(frozen=True, slots=True)
class Face:
    """A size in pixels and a weight; headings have serifs."""

    size: int
    bold: bool = False
    serif: bool = False


Measure = Callable[[str, Face], float]
"""The width in pixels of a line of text."""


@dataclass(frozen=True, slots=True)
class Words:
    """A line of text; `y` is its baseline, `x` its left end, right end or middle, as `align` says.

    A `halo` of paper keeps it clear of the lines it crosses.
    """

    x: float
    y: float
    text: str
    face: Face
    colour: str = INK
    align: str = "left"
    halo: bool = False


@dataclass(frozen=True, slots=True)
class Box:
    x0: float
    y0: float
    x1: float
    y1: float
    fill: str
    edge: str | None = None
    hatch: str | None = None


@dataclass(frozen=True, slots=True)
class Stroke:
    """A straight line; `dash` holds lengths of marks and gaps in pixels."""

    x0: float
    y0: float
    x1: float
    y1: float
    colour: str = INK
    width: float = 2
    dash: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Patch:
    """A filled outline of any shape."""

    corners: tuple[tuple[float, float], ...]
    fill: str
    edge: str | None = None


Shape = Words | Box | Stroke | Patch


@dataclass
class Sheet:
    """A picture in the making, filled from the top. `grounds` lie beneath `shapes`; each in its order."""

    height: float = 0
    grounds: list[Shape] = field(default_factory=list)
    shapes: list[Shape] = field(default_factory=list)

    @property
    def all(self) -> tuple[Shape, ...]:
        return (*self.grounds, *self.shapes)


@dataclass(frozen=True, slots=True)
class Scale:
    """Elapsed time along a width: `since` lies at `left`, `until` at `right`."""

    since: datetime
    until: datetime
    left: float = MARGIN
    right: float = RIGHT

    def x(self, at: datetime) -> float:
        """Where an instant lies; one outside the scale lies at its nearer end."""
        share = (min(max(at, self.since), self.until) - self.since) / (self.until - self.since)
        return self.left + share * (self.right - self.left)

    def holds(self, at: datetime) -> bool:
        return self.since <= at <= self.until


@dataclass(frozen=True, slots=True)
class Look:
    """How one attention is drawn: its share of the lane's height, its least width in pixels."""

    share: float
    least: float
    fill: str
    edge: str
    hatch: str | None = None


LOOKS = {
    Attention.HANDS_ON: Look(1.0, 6, WORK, WORK),
    Attention.NEARBY: Look(0.72, 6, COMPANY, INK, "//"),
    Attention.UNATTENDED: Look(0.4, 4, WAIT, WAIT_EDGE),
}


def bar(attention: Attention, x0: float, x1: float, middle: float, lane: float) -> Box:
    """The bar of a step in a lane `lane` pixels tall around `middle`."""
    look = LOOKS[attention]
    half = lane * look.share / 2
    return Box(x0, middle - half, max(x1, x0 + look.least), middle + half, look.fill, look.edge, look.hatch)


def touch(x: float, middle: float, lane: float) -> tuple[Shape, ...]:
    """A short touch: a pin through the bar of its wait."""
    head = lane * 0.17
    top = middle - lane * 0.52
    diamond = ((x, top - head), (x + head, top), (x, top + head), (x - head, top))
    return Stroke(x, top, x, middle + lane * 0.3, WORK, 2.5), Patch(diamond, WORK)


def kept(x0: float, x1: float, middle: float) -> Stroke:
    """What a step made, ready and keeping until it is used."""
    return Stroke(x0, middle, x1, middle, WAIT_EDGE, 3, (3, 6))


@dataclass(frozen=True, slots=True)
class Density:
    """How much room is given to things, in pixels; in `wraps` how many lines a long name may take.

    `packed` puts steps of a component that don't meet on one row, `brief` leaves out the names of what
    happens in the days before but for the first.
    """

    text: int
    line: int
    lane: int
    gap: int
    wraps: int = 1
    packed: bool = False
    brief: bool = False

    @property
    def plain(self) -> Face:
        return Face(self.text)

    @property
    def strong(self) -> Face:
        return Face(self.text, bold=True)

    @property
    def name(self) -> Face:
        """Of a component."""
        return Face(self.text, bold=True, serif=True)


SMALL = Face(SMALLEST_TEXT)
SMALL_STRONG = Face(SMALLEST_TEXT, bold=True)
PANEL = Face(34, bold=True, serif=True)


def label_face(attention: Attention, density: Density) -> Face:
    """Work is written in bold."""
    return density.strong if attention is Attention.HANDS_ON else density.plain


def now_line(x: float, top: float, bottom: float) -> Stroke:
    """The present moment."""
    return Stroke(x, top, x, bottom, ACCENT, 3, (3, 4))


def away(x0: float, y0: float, x1: float, y1: float) -> Box:
    """Hours in which nobody is at home: lighter than night, and striped."""
    return Box(x0, y0, x1, y1, AWAY, RULE, "\\")


def continued(begun: Box) -> Patch:
    """A point at the left of a bar that began before the panel does."""
    middle = (begun.y0 + begun.y1) / 2
    return Patch(
        ((begun.x0, begun.y0), (begun.x0 - 14, middle), (begun.x0, begun.y1)), begun.edge or begun.fill
    )
