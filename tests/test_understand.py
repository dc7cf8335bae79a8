"""Replies are understood: a table of phrases, what must never mark a step, and any text at all."""

from __future__ import annotations

import re
from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from phrases_never import NEVER
from phrases_own import PHRASES
from sample_plan import NOW, ZONE, context, labels

from bot.understand import MARKS, to_json, understand
from scheduler.commands import Command, Context, Understood
from scheduler.domain.hours import local

Row = tuple[str, str, str, str, str]


def as_meant(row: Row, found: Understood) -> bool:
    """Whether command, step and detail are those of the row."""
    _, _, commands, steps, detail = row
    step = to_json(found, context())["step"] or ""
    right_step = step in steps.split("|") or found.command not in MARKS | {
        Command.LATER,
        Command.WHEN,
        Command.WHY,
    }
    return found.command in commands.split("|") and right_step and (not detail or detailed(detail, found))


def detailed(detail: str, found: Understood) -> bool:
    """Whether the detail of a row holds: a time, a length, a word."""
    if detail == found.detail:
        return True
    if matched := re.fullmatch(r"(at|until) ([+-]?)(\d+)(?::(\d\d))?", detail):
        at = found.at if matched[1] == "at" else found.until
        if at is None:
            return False
        if matched[2]:
            return at == NOW + timedelta(minutes=int(matched[2] + matched[3]))
        return f"{local(at, ZONE):%H:%M}" == f"{matched[3]}:{matched[4]}"
    if matched := re.fullmatch(r"([\d.]+)(?: ([a-z]+))?", detail):
        right = found.length == timedelta(minutes=float(matched[1]))
        return right and (matched[2] is None or found.detail == matched[2])
    if detail.startswith("and "):
        return found.sure and labels(found)[1:] == [detail[4:]]
    return {"confirm": found.confirm, "unsure": not found.sure}.get(detail, False)


def marks_wrongly(row: Row, found: Understood) -> bool:
    """Whether it counts as done, begun, skipped or ruined, and should not or not that step."""
    _, _, commands, steps, detail = row
    meant = {*steps.split("|"), detail.removeprefix("and ")}
    right = found.command in commands.split("|") and bool(found.steps) and set(labels(found)) <= meant
    return found.command in MARKS and found.sure and not right


# ---------------------------------------------------------------- the tables


def test_most_phrases_are_understood() -> None:
    """At least nine in ten of the phrases come out with the command, the step and the detail meant."""
    missed = [row for row in PHRASES if not as_meant(row, understand(row[1], context(row[0])))]
    assert len(PHRASES) >= 250
    assert len(missed) <= len(PHRASES) // 10, missed


def test_no_phrase_marks_a_wrong_step() -> None:
    """Not one of the phrases counts as done, begun, skipped or ruined where it should not."""
    assert [row for row in PHRASES if marks_wrongly(row, understand(row[1], context(row[0])))] == []


@pytest.mark.parametrize("asked", ["", "Strain and rinse the chickpeas", "Bake the rye"])
def test_what_must_never_mark(asked: str) -> None:
    """Plans, wishes, denials, questions and talk of other things mark nothing, whatever was asked."""
    marking = []
    for text in NEVER:
        found = understand(text, context(asked))
        if found.command in MARKS and found.sure and not found.confirm:
            marking.append((text, found.command, labels(found)))
    assert marking == []


@given(
    st.sampled_from([row for row in PHRASES if "?" not in row[1]]),
    st.sampled_from(["?", " ?", "??", "? thanks"]),
)
@settings(max_examples=60, deadline=None)
def test_no_question_marks_anything(row: Row, ending: str) -> None:
    """Any phrase with a question mark at its end asks; it marks nothing for certain."""
    found = understand(row[1] + ending, context(row[0]))
    assert not (found.command in MARKS and found.sure and not found.confirm)


OTHER_WORDS = (
    "sofa window bicycle garden jumper letter violin holiday cinema neighbour station homework football umbrella "
    "pillow carpet lorry mountain beach kitten trousers newspaper engine bottle purple seven against perhaps"
)


@given(st.lists(st.sampled_from(OTHER_WORDS.split(" ")), min_size=1, max_size=8).map(" ".join))
@settings(max_examples=60, deadline=None)
def test_words_of_other_things_never_mark(text: str) -> None:
    """Words that have nothing to do with the plan mark nothing, even after a step was asked about."""
    found = understand(text, context("Rub the pork"))
    assert found.command not in MARKS


# ---------------------------------------------------------------- any text


ODD = st.one_of(
    st.text(max_size=600),
    st.text(st.sampled_from("done ?!.,'’✅👍\u202e\u0000\u200f٣½°\n\t-:1289ampx"), max_size=80),
    st.lists(st.sampled_from([row[1] for row in PHRASES]), min_size=1, max_size=4).map(", ".join),
)


@given(ODD, st.sampled_from(["", "Rub the pork", "Press the cabbage down"]), st.booleans())
@settings(max_examples=150, deadline=None)
def test_any_text_is_answered(text: str, asked: str, with_plan: bool) -> None:
    """Whatever is typed, with a plan or without, comes to a command whose times are aware and in JSON."""
    at = context(asked) if with_plan else Context(NOW, ZONE)
    found = understand(text, at)
    assert all(moment is None or moment.utcoffset() is not None for moment in (found.at, found.until))
    assert to_json(found, at)["command"] in set(Command)
    assert with_plan or found.steps == ()


LONG = [
    *(unit * 4096 for unit in "x1'?"),
    "a1" * 2048,
    "in the " * 600,
    "done " * 800,
    "it is " * 90 + "x",
    "thank you so much " * 25 + "x",
    "not yet " * 60 + "x",
    "stop" + " it all" * 60 + " x",
    "20 min and " * 200,
]


@pytest.mark.parametrize("text", LONG)
def test_very_long_texts_are_cut(text: str) -> None:
    """Texts as long as a chat allows are answered from their first five hundred characters."""
    assert understand(text, context()) == understand(text[:500], context())


@given(st.text(max_size=200))
@settings(max_examples=40, deadline=None)
def test_the_same_words_mean_the_same(text: str) -> None:
    """Understanding keeps nothing between replies."""
    assert understand(text, context("Rub the pork")) == understand(text, context("Rub the pork"))
