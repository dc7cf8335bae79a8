"""A plan file laid out for checking: what is written where, and what has been found wrong with it."""

from __future__ import annotations

from collections.abc import Iterable

from scheduler.planfile.problems import Problem, nearest, one_of, quoted
from scheduler.planfile.yaml import Path, Tree


class Sheet:
    """Collects problems against paths in the tree; a path that is not written stands for what holds it.

    `accepted`: the plan is in use already, so that a limit that it crosses is told of in `crossed` and refuses nothing.
    """

    def __init__(self, tree: Tree, accepted: bool = False) -> None:
        self.tree, self.accepted = tree, accepted
        self.crossed: list[str] = []
        self._wrong: set[Path] = set()
        self._above_wrong: set[Path] = set()
        for path in tree.spoilt:
            self._mark(path)

    @property
    def problems(self) -> list[Problem]:
        return self.tree.findings.problems

    def refuse(self, path: Path, expected: str, found: str | None = None, near: str | None = None) -> None:
        """Note that what stands at `path` is not what was expected there."""
        if path in self.tree.spoilt:
            return
        spot = self.tree.values[self.written(path)]
        self.tree.findings.add(Problem(*spot, found or self.describe(path), expected, near))
        self._mark(path)

    def forbid(self, path: Path, expected: str, found: str) -> None:
        """Note that what stands at `path` crosses a published limit."""
        if self.accepted:
            self.crossed.append(f"Line {self.line(path)}: {found}, where this is published: {expected}.")
        else:
            self.refuse(path, expected, found)

    def refuse_key(
        self, path: Path, expected: str, found: str | None = None, near: str | None = None
    ) -> None:
        """Note that the key at the end of `path` should not be there as it is."""
        spot = self.tree.keys.get(path, self.tree.values[self.written(path)])
        self.tree.findings.add(Problem(*spot, found or quoted(str(path[-1])), expected, near))
        self._mark(path)

    def refuse_name(self, path: Path, word: str, known: Iterable[str], kind: str) -> None:
        """Note that `word` is none of the known names of that kind."""
        choices = list(dict.fromkeys(known))
        expected = f"{kind}: {one_of(choices)}" if choices else f"{kind}, and there is none"
        self.refuse(path, expected, quoted(word), nearest(word, choices))

    def doubt(self, path: Path) -> None:
        """Note without a word that nothing can be concluded from what is missing at `path`."""
        self._mark(path)

    def sound(self, path: Path) -> bool:
        """Whether nothing at or under `path`, nor what holds it, has been found wrong or doubtful."""
        return path not in self._above_wrong and not any(
            path[:length] in self._wrong for length in range(len(path) + 1)
        )

    def _mark(self, path: Path) -> None:
        self._wrong.add(path)
        self._above_wrong.update(path[:length] for length in range(len(path)))

    def written(self, path: Path) -> Path:
        """`path` without the parts that do not occur in the file."""
        known: Path = ()
        for part in path:
            if (*known, part) in self.tree.values:
                known = (*known, part)
        return known

    def at(self, path: Path) -> object:
        """What the file says at a path that is written."""
        return inside(self.tree.root, path)

    def describe(self, path: Path) -> str:
        """What stands at `path`, in words."""
        here = self.at(self.written(path))
        if isinstance(here, str):
            return quoted(here) if here.strip() else "nothing"
        if here is None or here == {}:
            return "nothing"
        return "a list" if isinstance(here, list) else "keys with values"

    def line(self, path: Path) -> int:
        return self.tree.values[self.written(path)][0]

    def has(self, path: Path) -> bool:
        return path in self.tree.values


def inside(holds: object, path: Iterable[str | int]) -> object:
    """What lists and mappings hold at a path; None where they don't."""
    for part in path:
        if isinstance(holds, dict):
            holds = holds.get(part)
        elif isinstance(holds, list) and isinstance(part, int):
            holds = holds[part]
    return holds
