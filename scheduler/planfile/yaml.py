"""YAML down to plain texts, lists and mappings, and where in the file each of them stands.

No type is ever resolved: "on" stays a word and 18:30 a text. Only what a plan needs of YAML is taken:
anchors, aliases, merge keys, tags and repeated keys are refused. Nesting is followed without recursion and
never deeper than a plan can be.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Protocol
from unicodedata import normalize

import yaml

from scheduler.planfile.problems import BadPlan, Findings, Problem, quoted
from scheduler.planfile.wrong import explained

DEEPEST = 20
"""A plan itself nests seven deep."""

Path = tuple[str | int, ...]
Spot = tuple[int, int]
"""A line and a column, counted from 1."""


@dataclass
class Tree:
    """`root` is made of dict, list, str, and None where nothing is written or what is cannot be used.

    `values` and `keys` give the spot of every value and every key by its path from the root. `spoilt`
    holds the paths of what could not be used; `findings` say why.
    """

    root: object = None
    values: dict[Path, Spot] = field(default_factory=dict)
    keys: dict[Path, Spot] = field(default_factory=dict)
    spoilt: set[Path] = field(default_factory=set)
    findings: Findings = field(default_factory=Findings)


def compose(text: str) -> Tree:
    """Read YAML; raises BadPlan where the text is not one YAML document that could be a plan."""
    composing = _Composing()
    try:
        for event in _events(text):
            composing.take(event)
    except BadPlan as fatal:
        raise BadPlan([*composing.tree.findings.problems, *fatal.problems]) from None
    if not isinstance(composing.tree.root, dict):
        found = "an empty file" if composing.tree.root is None else "something other than keys"
        composing.complain((1, 1), found, "keys with their values, the first being 'crockbell: 1'")
        raise BadPlan(composing.tree.findings.problems)
    return composing.tree


def _events(text: str) -> Iterator[yaml.Event]:
    last = (1, 1)
    try:
        for event in yaml.parse(text, Loader=yaml.SafeLoader):
            last = _spot(event.end_mark)
            yield event
    except yaml.YAMLError as error:
        raise BadPlan([explained(error)]) from None
    except (ValueError, OverflowError):
        # What PyYAML lets out for an escape beyond Unicode, such as "\UFFFFFFFF".
        raise BadPlan(
            [Problem(*last, "text with an escape that is no character", "the text itself")]
        ) from None


class _Mark(Protocol):
    line: int
    column: int


def _spot(mark: _Mark | None) -> Spot:
    return (1, 1) if mark is None else (mark.line + 1, mark.column + 1)


@dataclass
class _Open:
    """A list or mapping whose end has not come yet. `key` is the mapping's key waiting for its value."""

    holds: dict[str, object] | list[object]
    path: Path
    key: str | None = None
    discard: bool = False

    def next_path(self) -> Path:
        if isinstance(self.holds, list):
            return (*self.path, len(self.holds))
        return (*self.path, self.key or "") if not self.discard else (*self.path, -1)


class _Composing:
    def __init__(self) -> None:
        self.tree = Tree()
        self.open: list[_Open] = []
        self.documents = 0

    def complain(self, spot: Spot, found: str, expected: str) -> None:
        self.tree.findings.add(Problem(*spot, found, expected))

    def fail(self, spot: Spot, found: str, expected: str) -> None:
        raise BadPlan([Problem(*spot, found, expected)])

    def take(self, event: yaml.Event) -> None:
        spot = _spot(event.start_mark)
        if isinstance(event, yaml.DocumentStartEvent):
            self.documents += 1
            if self.documents > 1:
                self.fail(spot, "a second document", "one plan in a file")
        elif isinstance(event, yaml.AliasEvent):
            self._alias(spot, str(event.anchor))
        elif isinstance(event, yaml.NodeEvent):
            self._node(event, spot)
        elif isinstance(event, yaml.CollectionEndEvent):
            self.open.pop()

    def _alias(self, spot: Spot, anchor: str) -> None:
        self.complain(spot, quoted("*" + anchor), "the text itself, not a reference to it")
        if self._awaits_key():
            self._key(None, spot)
        else:
            self.tree.spoilt.add(self._store(None, spot))

    def _node(self, event: yaml.NodeEvent, spot: Spot) -> None:
        if event.anchor is not None:
            self.complain(spot, quoted("&" + event.anchor), "no anchor")
        if getattr(event, "tag", None) is not None:
            self.complain(spot, "a tag ('!')", "no tag; text that begins with '!' goes in quotes")
        if isinstance(event, yaml.ScalarEvent):
            self._scalar(event, spot)
        else:
            self._collection([] if isinstance(event, yaml.SequenceStartEvent) else {}, spot)

    def _scalar(self, event: yaml.ScalarEvent, spot: Spot) -> None:
        plain = event.style is None
        if self._awaits_key():
            merges = plain and event.value == "<<"
            if merges:
                self.complain(spot, "'<<'", "no merging of keys")
            self._key(None if merges else normalize("NFC", " ".join(event.value.split())), spot)
        else:
            self._store(None if plain and event.value in ("", "~", "null") else event.value, spot)

    def _collection(self, holds: dict[str, object] | list[object], spot: Spot) -> None:
        if self._awaits_key():
            self.fail(spot, "a list or mapping as a key", "a name as a key")
        if len(self.open) >= DEEPEST:
            self.fail(spot, f"lists or mappings nested more than {DEEPEST} deep", "a plan")
        self.open.append(_Open(holds, self._store(holds, spot)))

    def _awaits_key(self) -> bool:
        return bool(self.open) and isinstance(self.open[-1].holds, dict) and self.open[-1].key is None

    def _key(self, key: str | None, spot: Spot) -> None:
        """A key of None, or one written before, is not kept, and neither is its value."""
        top = self.open[-1]
        top.discard = key is None or key in top.holds
        if key is not None and top.discard:
            line = self.tree.keys[(*top.path, key)][0]
            self.complain(spot, f"{quoted(key)} again", f"it once (it is on line {line} already)")
        top.key = key or ""
        if not top.discard:
            self.tree.keys[(*top.path, top.key)] = spot

    def _store(self, value: object, spot: Spot) -> Path:
        if not self.open:
            self.tree.root = value
            self.tree.values[()] = spot
            return ()
        top = self.open[-1]
        path = top.next_path()
        if isinstance(top.holds, list):
            top.holds.append(value)
        elif not top.discard:
            top.holds[top.key or ""] = value
        top.key = None
        self.tree.values[path] = spot
        return path
