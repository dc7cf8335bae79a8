"""What arrives as a plan file, down to text that may be YAML: size, encoding, stray characters."""

from __future__ import annotations

import re

from scheduler.planfile.problems import BadPlan, Findings, Problem, quoted

LARGEST_FILE = 256 * 1024
"""Bytes."""

_NOT_TEXT = re.compile("[^\t\n\x20-\x7e\xa0-\u2027\u202a-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
"""What YAML 1.1 calls not printable (section 5.1), and its line breaks that no cook means as such."""

_TAB = re.compile("^ *(\t)", re.MULTILINE)
_DIRECTIVE = re.compile("^%.*", re.MULTILINE)


def text_of(source: str | bytes) -> str:
    """The text of a plan file, without a byte order mark; raises BadPlan."""
    raw = source.encode("utf-8", "surrogatepass") if isinstance(source, str) else source
    if len(raw) > LARGEST_FILE:
        raise BadPlan([Problem(1, 1, f"{len(raw)} bytes", f"at most {LARGEST_FILE} bytes (256 KiB)")])
    text = source if isinstance(source, str) else _decoded(source)
    text = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
    if stray := _NOT_TEXT.search(text):
        found = f"the character U+{ord(stray[0]):04X}"
        raise BadPlan([_at(text, stray.start(), found, "text without control characters")])
    findings = Findings()
    for tab in _TAB.finditer(text):
        findings.add(_at(text, tab.start(1), "a tab", "spaces before the text"))
    for directive in _DIRECTIVE.finditer(text):
        found = quoted(directive[0])
        findings.add(_at(text, directive.start(), found, "no line that begins with '%'"))
    if findings.problems:
        raise BadPlan(findings.problems)
    return text


def _decoded(source: bytes) -> str:
    try:
        return source.decode("utf-8")
    except UnicodeDecodeError as error:
        before = source[: error.start].decode("utf-8").removeprefix("\ufeff").replace("\r\n", "\n")
        found = f"the byte 0x{source[error.start]:02X}, which is not UTF-8"
        raise BadPlan([_at(before, len(before), found, "a file saved as UTF-8")]) from None


def _at(text: str, index: int, found: str, expected: str) -> Problem:
    before = text[:index]
    return Problem(before.count("\n") + 1, len(before) - before.rfind("\n"), found, expected)
