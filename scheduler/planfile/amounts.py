"""Amounts of a plan file, with what each percentage comes to in grams."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from graphlib import CycleError, TopologicalSorter

from scheduler.domain.kitchen.amounts import Amount, plain
from scheduler.planfile.figures import Quantity
from scheduler.planfile.kitchen import refuse_twins
from scheduler.planfile.outline import Entry
from scheduler.planfile.problems import quoted
from scheduler.planfile.sheet import Sheet
from scheduler.planfile.text import key
from scheduler.planfile.yaml import Path

MOST_GRAMS = 10_000_000


@dataclass
class _Larder:
    """Amounts met so far, by what their names have in common: in this component and in the plan."""

    of_component: dict[str, Amount] = field(default_factory=dict)
    of_plan: dict[str, Amount] = field(default_factory=dict)
    component: int = -1
    all_read: bool = True

    def open(self, component: int) -> None:
        if component != self.component:
            self.component, self.of_component = component, {}

    def add(self, amounts: dict[str, Amount]) -> None:
        self.of_component |= amounts
        self.of_plan |= amounts


def worked_amounts(sheet: Sheet, outline: Sequence[Entry]) -> list[tuple[Amount, ...]]:
    """The amounts of every step, in the order they are written.

    A percentage refers to amounts of its own step, else of the steps before it in its component (the
    latest first), else of any step before it.
    """
    larder, worked = _Larder(), []
    for entry in outline:
        path = (*entry.path, "amounts")
        larder.open(entry.component_number)
        larder.all_read &= sheet.sound(path)
        own = _Weighing(sheet, path, entry.draft.amounts, larder).all()
        larder.add(own)
        worked.append(tuple(own.values()))
    return worked


class _Weighing:
    def __init__(self, sheet: Sheet, path: Path, written: dict[str, Quantity], larder: _Larder) -> None:
        self.sheet = sheet
        self.path = path
        self.written = {key(name): (name, quantity) for name, quantity in written.items()}
        self.all_read = larder.all_read
        self.known = {**larder.of_plan, **larder.of_component}
        refuse_twins(sheet, path, written, "amounts")

    def all(self) -> dict[str, Amount]:
        for name in self._in_order():
            self.known[name] = self._weighed(*self.written[name])
        return {name: self.known[name] for name in self.written if name in self.known}

    def _in_order(self) -> Iterable[str]:
        """Names so that each comes after all of this step's that it refers to."""
        needs = {
            name: [key(other) for other in quantity.of if key(other) in self.written]
            for name, (_, quantity) in self.written.items()
        }
        try:
            return tuple(TopologicalSorter(needs).static_order())
        except CycleError as error:
            ring = [self.written[name][0] for name in dict.fromkeys(error.args[1])]
            expected = "percentages that lead back to a weight"
            shares = "shares of one another" if len(ring) > 1 else "a share of itself"
            found = f"{' and '.join(quoted(name) for name in ring)} as {shares}"
            self.sheet.refuse((*self.path, ring[0]), expected, found)
            return ()

    def _weighed(self, name: str, quantity: Quantity) -> Amount:
        if quantity.unit != "%":
            return Amount(name, quantity.number, quantity.unit)
        path = (*self.path, name)
        others = [self._referred(path, other) for other in quantity.of]
        grams = (
            sum((other.grams or Decimal(0) for other in others if other), Decimal(0)) * quantity.number / 100
        )
        if grams > MOST_GRAMS:
            self.sheet.refuse(
                path, f"at most {MOST_GRAMS // 1000} kg", f"{quoted(name)}, {plain(grams)} g of it"
            )
        of = tuple(other.name for other in others if other)
        return Amount(name, quantity.number, "%", of, grams if self.sheet.sound(path) else None)

    def _referred(self, path: Path, name: str) -> Amount | None:
        other = self.known.get(key(name))
        if other is None and self.all_read:
            names = [known.name for known in self.known.values()]
            self.sheet.refuse_name(path, name, names, "an amount of this step or an earlier one")
        elif other is not None and other.grams is None and other.unit != "%":
            given = quoted(f"{plain(other.quantity)} {other.unit}".strip())
            expected = f"{quoted(other.name)} given by weight, such as 900 g"
            self.sheet.refuse(path, expected, f"a share of {quoted(other.name)}, given as {given}")
        return other
