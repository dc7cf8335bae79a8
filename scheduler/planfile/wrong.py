"""What YAML's own parser complains about, in plain words."""

from __future__ import annotations

from typing import Protocol

import yaml

from scheduler.planfile.problems import Problem, quoted

_IN_QUOTES = "text with ': ' in it in quotes, and lines that belong together equally far in"

# A part of PyYAML's message; whether the complaint is about where the whole thing began; what was found;
# what was expected, with % for the line on which the whole thing began.
_MEANINGS = (
    ("could not find expected ':'", True, "a line without ': '", "a key, ': ' and its value"),
    ("sequence entries are not allowed", False, "'-'", "list items on lines of their own, under their key"),
    ("mapping values are not allowed", False, "':' where no key can be", _IN_QUOTES),
    ("mapping keys are not allowed", False, "'?'", "text that begins with '?' in quotes"),
    ("unexpected end of stream", True, "an opening quotation mark", "a closing one"),
    ("unexpected document separator", True, "an opening quotation mark", "a closing one"),
    ("escape", False, "an escape after '\\'", "single quotes around text with '\\' in it"),
    ("<block end>", False, "a line that does not line up", "lines that belong together equally far in"),
    ("',' or ']'", False, "something else inside '[ ]'", "',' or ']' (its '[' is on line %)"),
    ("',' or '}'", False, "something else inside '{ }'", "',' or '}' (its '{' is on line %)"),
    ("<document start>", False, "text after the end of the plan", "one plan in a file"),
    ("tag handle", False, "a tag ('!')", "no tag; text that begins with '!' goes in quotes"),
    ("URI", False, "a tag ('!')", "no tag; text that begins with '!' goes in quotes"),
    ("indentation indicator", True, "'|' or '>'", "text that begins with '|' or '>' in quotes"),
    ("comment or a line break", True, "'|' or '>'", "text that begins with '|' or '>' in quotes"),
    ("alphabetic or numeric", True, "'&' or '*'", "text that begins with '&' or '*' in quotes"),
)


class _Mark(Protocol):
    line: int
    column: int


def explained(error: yaml.YAMLError) -> Problem:
    """The problem a YAML error stands for, at its line and column."""
    if not isinstance(error, yaml.MarkedYAMLError):
        return _at(None, "something that is not YAML", "a plan written in YAML")
    said, mark, began = str(error.problem), error.problem_mark, error.context_mark
    for part, from_start, found, expected in _MEANINGS:
        if part in said:
            line = str(began.line + 1) if began is not None else "1"
            return _at(began if from_start else mark, found, expected.replace("%", line))
    if "cannot start any token" not in said or mark is None or mark.buffer is None:
        return _at(mark, "something that is not YAML", f"YAML (its parser says: {said})")
    sign = mark.buffer[mark.pointer : mark.pointer + 1]
    if sign == "\t":
        return _at(mark, "a tab", "spaces")
    return _at(mark, quoted(sign), f"text that begins with {quoted(sign)} in quotes")


def _at(mark: _Mark | None, found: str, expected: str) -> Problem:
    line, column = (mark.line + 1, mark.column + 1) if mark is not None else (1, 1)
    return Problem(line, column, found, expected)
