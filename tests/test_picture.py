"""The picture of a timetable: a file that is legible and the same every time."""

from __future__ import annotations

import itertools
import os
import subprocess
import sys
import xml.etree.ElementTree as ET
from datetime import UTC, datetime
from pathlib import Path
from typing import cast

import matplotlib as mpl
import pytest
from matplotlib.transforms import Bbox

from bot.picture import Form, draw
from bot.picture.shapes import (
    COMPANY,
    GROUNDS,
    INK,
    LOOKS,
    SMALLEST_TEXT,
    TALLEST,
    TEXT_COLOURS,
    WAIT,
    WAIT_EDGE,
    WIDTH,
    WORK,
    Box,
    bar,
)
from scheduler.domain.plan import Attention
from tests.picture_kit import PNG, SVG, contrast, measured, overlap, said, scene, sheet, size, words
from tests.sample_plans import SAMPLES, sixty, small, two_weeks
from tests.sample_timetables import H, N, U, timetable_of

ROOT = Path(__file__).parent.parent


def test_a_png_is_as_wide_as_a_phone_and_no_taller_than_it_need_be() -> None:
    """A plan of thirty-one steps over two weeks is a PNG 1080 pixels wide and at most 2400 tall."""
    png = draw(two_weeks(), timetable_of(two_weeks()), form="png")
    assert png.startswith(PNG)
    width, height = size(png)
    assert width == WIDTH == 1080
    assert height == round(sheet("two_weeks").height) <= TALLEST == 2400


@pytest.mark.parametrize("name", sorted(set(SAMPLES) - {"sixty"}))
def test_pictures_stay_within_the_height_of_a_few_screens(name: str) -> None:
    """Every sample but the one of sixty steps is at most 2400 pixels tall."""
    assert sheet(name).height <= TALLEST


def test_a_crowd_of_steps_makes_a_taller_picture_and_loses_none() -> None:
    """Sixty steps, fifty of them on the last day, take more height rather than leaving a step out."""
    laid_out, plan = sheet("sixty"), sixty()
    assert TALLEST < laid_out.height < 3000
    for slot in scene(plan).last_day:
        assert plan.steps[slot.step].name in said(laid_out)


def test_an_svg_is_xml_and_names_every_step() -> None:
    """The SVG parses, has the picture's size, and carries title and steps as its accessible name and
    description (SVG 2, section 5.8, title and desc elements; from memory).
    """
    plan = two_weeks()
    root = ET.fromstring(draw(plan, timetable_of(plan), form="svg"))
    assert root.tag == f"{SVG}svg"
    assert root.attrib["viewBox"].split()[2:] == ["1080", str(round(sheet("two_weeks").height))]
    assert root.findtext(f"{SVG}title") == plan.title
    told = root.findtext(f"{SVG}desc") or ""
    assert all(step.name in told for step in plan.steps)
    assert "Sat 12 Dec 13:50: Drain the beans, 5 min." in told.split("\n")


@pytest.mark.parametrize("form", ["png", "svg"])
def test_the_same_timetable_gives_the_same_bytes(form: Form) -> None:
    """Pictures carry no date and no chance: drawn again, under another style, they are the same."""
    plan, timetable = small(), timetable_of(small())
    first = draw(plan, timetable, form=form)
    with mpl.rc_context({"font.size": 40, "savefig.dpi": 300, "axes.facecolor": "red"}):
        assert draw(plan, timetable, form=form) == first


@pytest.mark.slow
def test_another_process_draws_the_same_bytes() -> None:
    """The order of sets and the salt of hashes leave no trace in an SVG."""
    program = (
        "import sys; from bot.picture import draw; from tests.sample_plans import small;"
        "from tests.sample_timetables import timetable_of;"
        "sys.stdout.buffer.write(draw(small(), timetable_of(small()), form='svg'))"
    )
    environment = {**os.environ, "PYTHONHASHSEED": "77"}
    ran = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, check=True, env=environment, cwd=ROOT
    )
    assert ran.stdout == draw(small(), timetable_of(small()), form="svg")


def test_a_naive_moment_and_another_form_are_refused() -> None:
    """A moment without an offset names no instant, and there are two forms of picture."""
    plan, timetable = small(), timetable_of(small())
    naive = datetime(2026, 12, 12, 12, tzinfo=UTC).replace(tzinfo=None)
    with pytest.raises(ValueError, match="offset"):
        draw(plan, timetable, now=naive)
    with pytest.raises(ValueError, match="'gif'"):
        draw(plan, timetable, form=cast(Form, "gif"))


@pytest.mark.parametrize("name", SAMPLES)
def test_no_text_touches_another_or_the_edge(name: str) -> None:
    """Measured by the painter itself, no two texts overlap and all lie wholly inside the picture."""
    boxes = measured(name)
    assert len(boxes) > 10
    for (one, box), (other, beside) in itertools.combinations(boxes, 2):
        assert not overlap(box, beside), (one, other)
    for text, box in boxes:
        assert box.x0 >= 4, text
        assert box.x1 <= WIDTH - 4, text
        assert box.y0 >= 0, text
        assert box.y1 <= sheet(name).height, text


@pytest.mark.parametrize("name", SAMPLES)
def test_no_text_lies_on_a_bar(name: str) -> None:
    """Names stand beside or above the bars of steps, never across them."""
    height = round(sheet(name).height)
    bars = [
        Bbox([[shape.x0, height - shape.y1], [shape.x1, height - shape.y0]])
        for shape in sheet(name).shapes
        if isinstance(shape, Box) and shape.fill in (WORK, COMPANY, WAIT)
    ]
    assert bars
    for text, box in measured(name):
        assert not any(overlap(box, other) for other in bars), text


@pytest.mark.parametrize("name", SAMPLES)
def test_text_is_large_enough(name: str) -> None:
    """Nothing is smaller than 22 pixels on a picture 1080 pixels wide (chosen for a phone, no source)."""
    assert min(shape.face.size for shape in words(sheet(name))) >= SMALLEST_TEXT == 22


def test_text_has_contrast() -> None:
    """Every text colour on every ground: 4.5 to 1 at least (WCAG 2.2, success criterion 1.4.3, level AA)."""
    used = {shape.colour for name in SAMPLES for shape in words(sheet(name))}
    assert used <= set(TEXT_COLOURS)
    for colour, ground in itertools.product(TEXT_COLOURS, GROUNDS):
        assert contrast(colour, ground) >= 4.5, (colour, ground)


def test_bars_have_contrast() -> None:
    """The outline of every bar stands out from every ground by 3 to 1 (WCAG 2.2, criterion 1.4.11)."""
    for look, ground in itertools.product(LOOKS.values(), GROUNDS):
        assert contrast(look.edge, ground) >= 3, (look, ground)


def test_attention_shows_without_colour() -> None:
    """The three kinds of attention differ in height, in hatching or outline, and in lightness, so that
    colour is not the only means of telling them apart (WCAG 2.2, success criterion 1.4.1).
    """
    heights = [bar(attention, 0, 100, 50, 30).y1 - 50 for attention in Attention]
    assert all(taller >= lower * 1.3 for taller, lower in itertools.pairwise(heights))
    assert [look.hatch is not None for look in LOOKS.values()] == [False, True, False]
    fills = [LOOKS[attention].fill for attention in Attention]
    assert all(contrast(one, other) >= 1.5 for one, other in itertools.combinations(fills, 2))
    assert (LOOKS[H].edge, LOOKS[N].edge, LOOKS[U].edge) == (WORK, INK, WAIT_EDGE)
