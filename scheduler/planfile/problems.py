"""What is wrong with a plan file, and where: one problem, many of them, and the words to say so."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

MOST_PROBLEMS = 100
"""Problems collected at most: reading stops there, so that a file full of nonsense costs little."""

SHOWN = 60
"""Characters of the file's own text that a problem quotes at most."""

LIKE_ENOUGH = 65
"""Similarity, out of 100, from which another word is worth suggesting."""


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing to put right. `line` and `column` count from 1, `column` in characters.

    `found` and `expected` are phrases ready to be read, with words of the file in quotes; `nearest` is the
    bare known word that may have been meant, or None.
    """

    line: int
    column: int
    found: str
    expected: str
    nearest: str | None = None

    def __str__(self) -> str:
        said = f"line {self.line}, column {self.column}: found {self.found}, expected {self.expected}"
        return said if self.nearest is None else f"{said}; did you mean '{self.nearest}'?"


class BadPlan(Exception):
    """A plan file that is refused whole. `problems` are all that were found, by line and column; reading
    stops at the hundredth.
    """

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(sorted(dict.fromkeys(problems), key=lambda p: (p.line, p.column)))
        super().__init__("\n".join(str(problem) for problem in self.problems))


class Findings:
    """Collects problems; raises BadPlan with them once there are MOST_PROBLEMS."""

    def __init__(self) -> None:
        self.problems: list[Problem] = []

    def add(self, problem: Problem) -> None:
        self.problems.append(problem)
        if len(self.problems) >= MOST_PROBLEMS:
            raise BadPlan(self.problems)


def quoted(text: str) -> str:
    """The file's own words as a problem shows them: in quotes, printable and not too long."""
    shown = text if len(text) <= SHOWN else text[: SHOWN - 3] + "..."
    return "'" + "".join(sign if sign.isprintable() else f"\\u{ord(sign):04x}" for sign in shown) + "'"


def one_of(words: Iterable[str], most: int = 8) -> str:
    """Reads "one of a, b, c ..." for a list of choices; the word itself when there is only one."""
    choices = list(dict.fromkeys(words))
    if len(choices) == 1:
        return choices[0]
    return "one of " + ", ".join(choices[:most]) + (" ..." if len(choices) > most else "")


def nearest(word: str, choices: Iterable[str], *, in_part: bool = False) -> str | None:
    """The choice most like `word` whatever its case, or None when none is.

    `in_part` also takes a choice that `word` is a part of ("Paris" for "Europe/Paris").
    """
    from rapidfuzz import fuzz, process  # only a file with a problem pays for the import

    scorer = fuzz.WRatio if in_part else fuzz.ratio
    sought = word[:SHOWN].casefold()
    match = process.extractOne(
        sought, list(choices), scorer=scorer, processor=str.casefold, score_cutoff=LIKE_ENOUGH
    )
    return None if match is None else match[0]
