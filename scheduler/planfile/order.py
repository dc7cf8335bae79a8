"""Which step follows which: the order within components, and the names under `after:`."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from graphlib import CycleError, TopologicalSorter
from itertools import pairwise

from scheduler.planfile.outline import Entry
from scheduler.planfile.problems import one_of, quoted
from scheduler.planfile.sheet import Sheet
from scheduler.planfile.text import key, written
from scheduler.planfile.yaml import Path

MOST_RINGS = 20
"""Rings reported at most; the others come to light when these are put right."""

Follows = list[dict[int, Path | None]]
"""For every step the numbers of those it follows, each with where that is written: None where only the
order of the steps says so."""


def follows_of(sheet: Sheet, outline: Sequence[Entry]) -> Follows:
    """What every step comes after, with unknown names, rings and impossible waits noted on the sheet."""
    names = _Names(
        sheet, outline
    )  # before names are refused for standing twice: they are readable all the same
    _check_names(sheet, outline)
    follows: Follows = []
    for entry in outline:
        before: dict[int, Path | None] = {entry.number - 1: None} if entry.place else {}
        for place, word in enumerate(entry.draft.after):
            path = (*entry.path, "after", place)
            if (number := names.step(path, word)) is not None:
                before.setdefault(number, path)
        follows.append(before)
    _check_rings(sheet, outline, follows)
    _check_waits(sheet, outline, follows)
    return follows


def _check_names(sheet: Sheet, outline: Sequence[Entry]) -> None:
    """Component names are used once in a plan, step names once in a component."""
    lines: dict[tuple[object, ...], int] = {}
    for entry in outline:
        component = ("components", entry.component_number, "name")
        if entry.place == 0:
            _check_name(sheet, component, (key(entry.component.name),), "component", lines)
        step = (entry.component_number, key(entry.draft.name))
        _check_name(sheet, (*entry.path, "name"), step, "step", lines)


def _check_name(
    sheet: Sheet, path: Path, name: tuple[object, ...], kind: str, lines: dict[tuple[object, ...], int]
) -> None:
    if name in lines and sheet.sound(path):
        expected = f"a name of its own for every {kind} (this one is used on line {lines[name]})"
        sheet.refuse(path, expected)
    lines.setdefault(name, sheet.line(path))


def _spelt(name: str) -> str:
    return key(re.sub(r"\s*/\s*", " / ", name))


class _Names:
    """What each name under `after:` can stand for."""

    def __init__(self, sheet: Sheet, outline: Sequence[Entry]) -> None:
        self.sheet = sheet
        self.outline = outline
        self.all_read = all(sheet.sound((*entry.path, "name")) for entry in outline)
        self.known: dict[str, set[int]] = {}
        self.choices: list[str] = []
        for entry in outline:
            last = entry.number + len(entry.component.steps) - 1 - entry.place
            self._add(entry.component.name, last)
            self._add(entry.draft.name, entry.number)
            self.known.setdefault(_spelt(entry.label), {entry.number})

    def _add(self, name: str, number: int) -> None:
        self.known.setdefault(_spelt(name), set()).add(number)
        self.choices.append(name)

    def step(self, path: Path, word: str) -> int | None:
        """The number of the step meant by `word`."""
        numbers = sorted(self.known.get(_spelt(word), ()))
        if not numbers and self.all_read:
            self.sheet.refuse_name(path, word, self.choices, "the name of a step or component")
        elif len(numbers) > 1:
            labels = [quoted(self.outline[number].label) for number in numbers]
            self.sheet.refuse(path, one_of(labels), f"{quoted(word)}, the name of {len(numbers)} things")
        return numbers[0] if len(numbers) == 1 else None


def _check_rings(sheet: Sheet, outline: Sequence[Entry], follows: Follows) -> None:
    graph = {number: set(before) for number, before in enumerate(follows)}
    for _ in range(MOST_RINGS):
        try:
            TopologicalSorter(graph).prepare()
        except CycleError as error:
            ring = [int(number) for number in error.args[1]]
        else:
            return
        before, after, path = next(_written_links(ring, follows))
        names = ", ".join(quoted(outline[number].draft.name) for number in dict.fromkeys(ring))
        sheet.refuse(path, f"an order in which no step waits for itself (these do: {names})")
        graph[after].discard(before)


def _written_links(ring: list[int], follows: Follows) -> Iterator[tuple[int, int, Path]]:
    for before, after in pairwise(ring):
        if (path := follows[after].get(before)) is not None:
            yield before, after, path


def _check_waits(sheet: Sheet, outline: Sequence[Entry], follows: Follows) -> None:
    for entry, before in zip(outline, follows, strict=True):
        path = (*entry.path, "wait")
        if entry.draft.wait is None:
            continue
        if not before and sheet.sound((*entry.path, "after")):
            sheet.refuse_key(
                path,
                "something for the step to follow, or no 'wait'",
                "'wait' on a step that follows nothing",
            )
        for number in before:
            earlier = outline[number].draft
            if earlier.keeps is not None and entry.draft.wait[0] > earlier.keeps:
                keeps = f"{quoted(earlier.name)} keeps {written(earlier.keeps)}"
                sheet.refuse(path, f"a wait of at most {written(earlier.keeps)} ({keeps})")
