"""A whole picture: title, the days before, the hours of the last day, and what the signs mean."""

from __future__ import annotations

from bot.picture.days import days_panel
from bot.picture.facts import Scene
from bot.picture.legend import legend
from bot.picture.pen import Pen
from bot.picture.rows import hours_panel
from bot.picture.shapes import MARGIN, QUIET, TALLEST, Density, Face, Measure, Sheet
from bot.picture.words import clean, long_day
from scheduler.words import clock, day_and_clock, length

TITLE = Face(46, bold=True, serif=True)
UNDER_TITLE = Face(27, bold=True)
REMARK = Face(24)

DENSITIES = (
    Density(text=26, line=39, lane=30, gap=18, wraps=2),
    Density(text=24, line=34, lane=26, gap=14, wraps=2),
    Density(text=22, line=31, lane=24, gap=10),
    Density(text=22, line=28, lane=22, gap=7, packed=True),
    Density(text=22, line=28, lane=20, gap=6, packed=True, brief=True),
)
"""From roomy to tight; the first that keeps a picture within its greatest height is used."""


def lay_out(scene: Scene, measure: Measure) -> Sheet:
    """The shapes of the picture. Taller than TALLEST only where the tightest way to draw it still is: no
    step of the last day is ever left out.
    """
    for density in DENSITIES:
        sheet = drawn(scene, density, measure)
        if sheet.height <= TALLEST:
            break
    return sheet


def drawn(scene: Scene, density: Density, measure: Measure) -> Sheet:
    pen = Pen(Sheet(), scene, density, measure)
    _title(pen)
    if scene.timetable.slots:
        days_panel(pen)
        hours_panel(pen)
        legend(pen)
    else:
        pen.paragraph("Nothing is left to do for this meal.", REMARK, 60, 1)
    pen.down(MARGIN)
    return pen.sheet


def _title(pen: Pen) -> None:
    scene = pen.scene
    pen.down(26)
    pen.paragraph(clean(scene.plan.title), TITLE, 56, 2)
    year = scene.date_of(scene.serve).year
    served = f"{long_day(scene.date_of(scene.serve))} {year}, {clock(scene.serve, scene.zone)}"
    people = f", for {scene.plan.serves}" if scene.plan.serves else ""
    pen.paragraph(f"At the table {served}{people}", UNDER_TITLE, 46, 2)
    pen.paragraph(_remarks(scene), REMARK, 36, 3, QUIET)


def _remarks(scene: Scene) -> str:
    said = [f"All times are local to {scene.zone}."]
    for day, shift in scene.clock_changes():
        way = "forward" if shift > 0 * shift else "back"
        said.append(f"The clocks go {way} {length(abs(shift))} on {long_day(day)}.")
    if scene.now is not None:
        said.append(f"As of {day_and_clock(scene.now, scene.zone)}.")
    return " ".join(said)
