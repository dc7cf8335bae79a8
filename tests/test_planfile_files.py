"""Files that are no plan: not text, not YAML, or more of it than a plan may use."""

from __future__ import annotations

import pytest

from scheduler.planfile import read
from scheduler.planfile.problems import MOST_PROBLEMS
from scheduler.planfile.source import LARGEST_FILE
from tests.refusals import HEAD, problems, the_problem
from tests.samples import SMALL


@pytest.mark.parametrize(
    ("text", "line", "column", "said"),
    [
        ("", 1, 1, "found an empty file"),
        ("# nothing yet\n", 1, 1, "found an empty file"),
        ("- a\n", 1, 1, "expected keys with their values"),
        (HEAD + "a: &x 1\n", 3, 4, "found '&x', expected no anchor"),
        (HEAD + "a: *x\n", 3, 4, "found '*x', expected the text itself"),
        (HEAD + "<<: {a: 1}\n", 3, 1, "no merging of keys"),
        (HEAD + "a: !!str 1\n", 3, 4, "a tag"),
        (HEAD + "a: !secret!x 1\n", 3, 4, "a tag"),
        (HEAD + "title: again\n", 3, 1, "found 'title' again, expected it once (it is on line 2 already)"),
        (HEAD + "? [a]\n: b\n", 3, 3, "found a list or mapping as a key"),
        (HEAD + "---\na: b\n", 3, 1, "found a second document"),
        ("%YAML 1.1\n---\n" + HEAD, 1, 1, "no line that begins with '%'"),
        (HEAD + "kitchen:\n\tawake: 1\n", 4, 1, "found a tab, expected spaces"),
        (HEAD + "a:\tb\n", 3, 3, "found a tab, expected spaces"),
        (HEAD + "a: \x07b\n", 3, 4, "the character U+0007"),
        (HEAD + "a: \u2028b\n", 3, 4, "the character U+2028"),
        (HEAD + "a: b: c\n", 3, 5, "text with ': ' in it in quotes"),
        (HEAD + "a: [1, 2\nb: c\n", 4, 2, "',' or ']' (its '[' is on line 3)"),
        (HEAD + "a: {b: c\n", 4, 1, "',' or '}' (its '{' is on line 3)"),
        (HEAD + "a: 'b\n", 3, 4, "an opening quotation mark, expected a closing one"),
        (HEAD + "a: @b\n", 3, 4, "text that begins with '@' in quotes"),
        (HEAD + "a\n", 3, 1, "found a line without ': '"),
        (HEAD + 'a: "\\UFFFFFFFF"\n', 3, 2, "an escape that is no character"),
        (HEAD + 'a: "\\q"\n', 3, 6, "an escape after '\\'"),
        (HEAD + "a: " + "[" * 5000, 3, 23, "nested more than 20 deep"),
        (HEAD + "".join(" " * depth + "a:\n" for depth in range(200)), 23, 21, "nested more than 20 deep"),
    ],
)
def test_what_is_not_a_plan_at_all(text: str, line: int, column: int, said: str) -> None:
    """YAML that can't be read, or is more than a plan may use, is explained where it happens."""
    found = problems(text)
    assert any((p.line, p.column) == (line, column) and said in str(p) for p in found), found


@pytest.mark.parametrize(
    ("source", "line", "column", "byte"),
    [
        (b"crockbell: 1\ntitle: Caf\xe9\n", 2, 11, "0xE9"),
        ("\ufeffé: \n".encode() + b"ab\xff", 2, 3, "0xFF"),
        ("crockbell: 1".encode("utf-16"), 1, 1, "0xFF"),
    ],
)
def test_bytes_that_are_not_utf_8(source: bytes, line: int, column: int, byte: str) -> None:
    """The first byte that is no UTF-8 is named, with its place in characters."""
    problem = the_problem(source)
    assert (problem.line, problem.column) == (line, column)
    assert byte in problem.found


def test_a_file_may_be_256_kib_and_no_more() -> None:
    """Comments can fill a plan up to the limit; one byte beyond it is refused."""
    padding = LARGEST_FILE - len(SMALL.encode()) - 2
    full = SMALL + "#" + "x" * padding + "\n"
    assert len(full) == LARGEST_FILE
    assert read(full, zone="UTC").steps
    assert "at most 262144 bytes" in str(the_problem(full + "\n"))


def test_a_file_full_of_nonsense_is_given_up_on() -> None:
    """Reading stops at a hundred problems."""
    assert len(problems(HEAD + "".join(f"k{number}: 1\n" for number in range(5000)))) == MOST_PROBLEMS


def test_what_is_quoted_is_short_and_printable() -> None:
    """A problem stays one short line whatever the file holds."""
    long = the_problem(SMALL.replace("keeps: 60 d", "keeps: " + "long " * 70))
    assert len(str(long)) < 200
    assert "\u202e" not in str(the_problem(SMALL.replace("keeps: 60 d", "keeps: 6\u202e d")))
