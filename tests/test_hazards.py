"""Cautions: the published figures they quote, and that they never promise anything."""

from __future__ import annotations

import re
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.domain.kitchen.hazards import (
    DEFERRAL,
    HAZARDS,
    caution,
    hazard,
    hazards_in,
)
from scheduler.domain.kitchen.readings import ACID_ENOUGH, METER_ERROR, acidity

WORDS = (
    "mould",
    "cooling",
    "sprouts",
    "kidney beans",
    "garlic in oil",
    "cured meat",
    "rice",
    "water bath",
    "hot oil",
    "blending hot liquid",
    "swelling jar",
    "pressure",
)


@pytest.mark.parametrize("word", WORDS)
def test_every_word_of_the_table_is_one_sentence_with_its_source(word: str) -> None:
    """A plan's word becomes a single sentence, its source in brackets, short enough for a phone."""
    found = hazard(f"  {word.upper()} ")
    assert found is not None
    assert re.fullmatch(r"[A-Z][^.!?]*(?:[.][^.!? ][^.!?]*|E\. coli[^.!?]*)*\.", found.says), found.says
    assert found.source and len(found.says) <= 140
    assert caution(word) == f"{found.says.rstrip('.')} ({found.source})."


def test_no_word_means_two_hazards() -> None:
    """Each word of the table, and each other word for it, leads to one hazard only."""
    every = [word for each in HAZARDS for word in (each.word, *each.also)]
    assert len(every) == len(set(every))
    assert all(word == word.casefold() for word in every)


def test_nothing_is_called_safe() -> None:
    """No caution and no reading of the pH uses the word, and each ends in full."""
    said = [str(each) for each in HAZARDS] + [DEFERRAL, acidity(Decimal(4)), acidity(Decimal(5))]
    assert not any(re.search(r"safe", text, re.IGNORECASE) for text in said)
    assert all(text.endswith(".") and "!" not in text for text in said)


@pytest.mark.parametrize(
    ("word", "figures"),
    [
        # FDA Food Code 3-501.14(A): 57 to 21 C within 2 h, 57 to 5 C within 6 h in all.
        ("cooling", {"57", "21", "2", "5", "6"}),
        # FDA Food Code 3-501.16(A) and 3-501.19(B): 57 C, 5 C, at most 4 h.
        # 2 h at home: FSIS advice, from memory.
        ("holding", {"57", "5", "4", "2"}),
        # FDA Food Code 3-403.11(A) and (D): 74 C for 15 s, within 2 h.
        ("reheating", {"74", "15", "2"}),
        # FDA Bad Bug Book, 2nd ed., 2012: soak at least 5 h, boil at least 30 min in fresh water.
        ("kidney beans", {"5", "30"}),
        # UC ANR Master Food Preserver, ferments; 21 CFR 114.3(a): pH 4.6 or below.
        ("mould", {"4.6"}),
        # No figure of nitrite at all: the maker's tested recipe, or a licensed professional.
        ("cured meat", set()),
        # Common practice: neither gives a figure.
        ("pressure", set()),
        ("swelling jar", set()),
        # FDA Food Code 3-401.11(B): the table for whole roasts begins at 54.4 C (130 F).
        ("water bath", {"54.4"}),
        # FDA Food Code 3-501.16(A) and 3-501.14(A).
        ("rice", {"57", "5", "6"}),
        # 3-501.16(A) for 5 C; 4 days: National Center for Home Food Preservation, from memory.
        ("garlic in oil", {"5", "4"}),
    ],
)
def test_the_figures_are_the_published_ones(word: str, figures: set[str]) -> None:
    """Every figure in a caution is one its source gives, and none is missing."""
    found = hazard(word)
    assert found is not None
    assert set(re.findall(r"\d+(?:\.\d+)?", found.says)) == figures


def test_a_free_caution_is_shown_as_it_is() -> None:
    """What a cook wrote in their own words is not touched."""
    assert hazard("mind the dog") is None
    assert caution("Mind the dog, it likes duck") == "Mind the dog, it likes duck"


def test_a_question_finds_what_it_is_about() -> None:
    """Hazards are found in a sentence by whole words, several at a time."""
    assert [each.word for each in hazards_in("The stock sat out and has mould on it")] == ["holding", "mould"]
    assert hazards_in("the price of riced coolant") == ()


@pytest.mark.parametrize(
    ("reading", "meets"),
    [("3.9", True), ("4.5", True), ("4.51", None), ("4.6", None), ("4.61", False), ("7", False)],
)
def test_a_reading_is_held_against_the_published_limit(reading: str, meets: bool | None) -> None:
    """4.6 itself meets 21 CFR 114.3 (read), but not by more than a meter may be off."""
    said = acidity(Decimal(reading))
    assert f"{ACID_ENOUGH} or below (21 CFR 114.3)" in said
    expected = {True: "That meets", None: "That just meets", False: "That does not meet"}[meets]
    assert said.startswith(expected)
    assert Decimal("0.1") == METER_ERROR


@given(st.text())
@settings(max_examples=60)
def test_any_text_is_a_caution(text: str) -> None:
    """Whatever stands in a plan, there is something to show and nothing breaks."""
    assert caution(text) == text or hazard(text) is not None
    assert len(hazards_in(text)) <= len(HAZARDS)
