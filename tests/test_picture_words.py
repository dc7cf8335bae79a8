"""Words in a picture: fitted, cleaned, and drawn as they are."""

from __future__ import annotations

import io
import itertools
import xml.etree.ElementTree as ET

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from matplotlib.font_manager import FontProperties, findfont
from matplotlib.image import imread
from matplotlib.text import Text

from bot.picture import draw, paint
from bot.picture.layout import lay_out
from bot.picture.shapes import PAPER, WIDTH, Face
from bot.picture.words import clean, shorten, wrap
from tests.picture_kit import PNG, SVG, extents, overlap, scene, sheet
from tests.sample_plans import SAMPLES, small
from tests.sample_timetables import D1, Draft, H, N, U, plan_of, timetable_of

FACE = Face(24)


def ten_each(text: str, face: Face) -> float:
    """Ten pixels a character, so that what fits can be counted."""
    return 10.0 * len(text)


def test_long_words_are_shortened_with_an_ellipsis() -> None:
    """What is too long keeps its beginning; what fits is left alone."""
    assert shorten("Salt the turnips", 160, FACE, ten_each) == "Salt the turnips"
    assert shorten("Salt the turnips", 100, FACE, ten_each) == "Salt the…"
    assert shorten("Salt", 5, FACE, ten_each) == "…"


def test_shortening_leaves_letters_whole() -> None:
    """A letter is never parted from the marks that belong to it."""
    name = "cre\u0301me"
    assert shorten(name, 40, FACE, ten_each) == "cr…"
    assert shorten(name, 50, FACE, ten_each) == "cre\u0301…"


def test_wrapping_breaks_at_spaces_and_inside_endless_words() -> None:
    """Lines end between words, inside a word only where no line could hold it, and the last is shortened."""
    assert wrap("one two three", 80, FACE, ten_each, 3) == ["one two", "three"]
    assert wrap("one two three four", 80, FACE, ten_each, 2) == ["one two", "three f…"]
    assert wrap("abcdefghij", 40, FACE, ten_each, 3) == ["abcd", "efgh", "ij"]
    assert wrap("", 40, FACE, ten_each, 3) == [""]


@given(st.text(max_size=40), st.integers(0, 400), st.integers(1, 3))
def test_wrapped_lines_fit(text: str, width: int, most: int) -> None:
    """Whatever the text, there are no more lines than allowed and none is wider than the room."""
    lines = wrap(clean(text), max(width, 10), FACE, ten_each, most)
    assert 1 <= len(lines) <= most
    assert all(ten_each(line, FACE) <= max(width, 10) for line in lines)


def test_what_has_no_shape_is_left_out() -> None:
    """Line breaks, controls and direction overrides go, stray surrogates become a replacement mark."""
    assert clean("a\tb\nc\x00 d\u202e\u200b \ud800") == "a b c d \ufffd"
    assert clean("$x_1^2$ \\alpha <b> & co") == "$x_1^2$ \\alpha <b> & co"


def test_words_from_right_to_left_are_set_apart() -> None:
    """Hebrew between times gets left-to-right marks on both sides (Unicode Standard Annex 9; from memory)."""
    assert clean("מרק") == "\u200eמרק\u200e"


def test_signs_of_formulas_are_drawn_as_they_are() -> None:
    """Dollar signs, backslashes, carets and brackets reach the painter as text, with formulas turned off."""
    figure = paint.figure(sheet("other_scripts"))
    texts = {artist.get_text(): artist for artist in figure.axes[0].findobj(Text)}
    assert any("Déjeuner $x^2$ & <b>soupe</b>" in text for text in texts)
    assert any("$a_b^c$ \\textbf{bold}" in text for text in texts)
    assert not any(artist.get_parse_math() for text, artist in texts.items() if text)


@pytest.mark.filterwarnings("error")
def test_letters_no_font_has_become_boxes() -> None:
    """A private-use sign that no font draws is a box, without a warning from the painter."""
    assert paint.legible("a\U000f1234", FACE) == "a□"
    assert findfont(FontProperties(family="DejaVu Sans")).endswith("DejaVuSans.ttf")
    assert draw(SAMPLES["other_scripts"](), timetable_of(SAMPLES["other_scripts"]())).startswith(PNG)


@settings(max_examples=6, deadline=None)
@given(st.text(max_size=60), st.text(max_size=60), st.text(max_size=90))
def test_no_name_breaks_a_picture(title: str, component: str, name: str) -> None:
    """Whatever a plan calls things, the picture is drawn, and its words stay inside and apart."""
    drafts = [Draft(name, H, 10), Draft(name, U, 2 * D1), Draft(name, N, 45), Draft(name, H, 20)]
    plan = plan_of(title, "2026-12-12 13:00", "Europe/Paris", {component: drafts})
    laid_out = lay_out(scene(plan), paint.measure)
    boxes = list(extents(laid_out))
    assert all(box.x0 >= 0 and box.x1 <= WIDTH for _, box in boxes)
    assert not any(overlap(a[1], b[1]) for a, b in itertools.combinations(boxes, 2))


@settings(max_examples=5, deadline=None)
@given(st.text(max_size=80))
def test_no_name_breaks_the_xml(name: str) -> None:
    """Whatever a plan says, the SVG is well-formed XML and gives back the words."""
    plan = plan_of(name, "2026-12-12 13:00", "Europe/Paris", {"Part": [Draft(name, H, 10)]})
    root = ET.fromstring(draw(plan, timetable_of(plan), form="svg"))
    assert (root.findtext(f"{SVG}title") or "") == clean(name)


def test_paper_is_paper() -> None:
    """The first pixel of a picture is the ground that contrast is measured against."""
    pixel = imread(io.BytesIO(draw(small(), timetable_of(small()))))[0, 0]
    assert "#" + "".join(f"{round(float(channel) * 255):02x}" for channel in pixel[:3]) == PAPER
