"""Amounts of a plan file, with what each percentage comes to in grams, and what deserves a word about them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal
from graphlib import CycleError, TopologicalSorter

from scheduler.domain.kitchen.amounts import Amount, as_measured, as_weighed, plain, unit_named
from scheduler.domain.kitchen.crystals import is_salt
from scheduler.domain.kitchen.densities import nearly
from scheduler.domain.kitchen.weighing import salt_told, span_told, unweighed, weighed_by, weight_of
from scheduler.planfile.figures import Quantity
from scheduler.planfile.kitchen import refuse_twins
from scheduler.planfile.outline import Entry
from scheduler.planfile.problems import quoted
from scheduler.planfile.sheet import Sheet
from scheduler.planfile.text import key
from scheduler.planfile.yaml import Path

MOST_GRAMS = 10_000_000
MOST_NAMED = 4


@dataclass(frozen=True, slots=True)
class Worked:
    """The amounts of every step, in the order they are written; `remarks` says by what a volume was weighed."""

    of_steps: list[tuple[Amount, ...]]
    remarks: tuple[str, ...]


@dataclass
class _Larder:
    """Amounts met so far, by what their names have in common: in this component and in the plan."""

    of_component: dict[str, Amount] = field(default_factory=dict)
    of_plan: dict[str, Amount] = field(default_factory=dict)
    component: int = -1
    all_read: bool = True
    remarks: dict[str, None] = field(default_factory=dict)

    def open(self, component: int) -> None:
        if component != self.component:
            self.component, self.of_component = component, {}

    def add(self, amounts: dict[str, Amount]) -> None:
        self.of_component |= amounts
        self.of_plan |= amounts

    def remark(self, text: str) -> None:
        self.remarks.setdefault(text)


def worked_amounts(sheet: Sheet, outline: Sequence[Entry]) -> Worked:
    """The amounts of every step.

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
    return Worked(worked, tuple(larder.remarks))


class _Weighing:
    def __init__(self, sheet: Sheet, path: Path, written: dict[str, Quantity], larder: _Larder) -> None:
        self.sheet = sheet
        self.path = path
        self.written = {key(name): (name, quantity) for name, quantity in written.items()}
        self.larder = larder
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
            return self._as_given(name, quantity)
        path = (*self.path, name)
        others = [self._referred(path, name, other) for other in quantity.of]
        weights = (weight_of(other) or Decimal(0) for other in others if other)
        grams = sum(weights, Decimal(0)) * quantity.number / 100
        if grams > MOST_GRAMS:
            self.sheet.refuse(
                path, f"at most {MOST_GRAMS // 1000} kg", f"{quoted(name)}, {plain(grams)} g of it"
            )
        of = tuple(other.name for other in others if other)
        return Amount(name, quantity.number, "%", of, grams if self.sheet.sound(path) else None)

    def _as_given(self, name: str, quantity: Quantity) -> Amount:
        amount = Amount(name, quantity.number, quantity.unit)
        if quantity.written:
            amount = replace(amount, as_written=Decimal(quantity.written.split()[0]))
            here = f"{plain(as_measured(amount.quantity, amount.unit))} {amount.unit}"
            measures = " (United States measures)" if amount.unit == "ml" else ""
            self.larder.remark(f"“{name}”, {quantity.written}, is read as {here}{measures}.")
        weighs, source = salt_told(amount)
        if weighs:
            given = f"{plain(quantity.number)} {unit_named(quantity.number, quantity.unit)}"
            told = f"“{name}”, {given}, weighs {weighs} ({source}): weigh it."
            self.larder.remark(told)
        return amount

    def _referred(self, path: Path, share: str, name: str) -> Amount | None:
        other = self.known.get(key(name))
        if other is None and self.all_read:
            names = [known.name for known in self.known.values()]
            self.sheet.refuse_name(path, name, names, "an amount of this step or an earlier one")
        elif other is not None and other.grams is None and other.unit != "%":
            self._by_volume(path, share, other)
        return other

    def _by_volume(self, path: Path, share: str, other: Amount) -> None:
        """A share of a volume, through its density; refused where none is known."""
        density, grams = weighed_by(other), weight_of(other)
        shown = other.quantity if other.as_written is None else as_measured(other.quantity, other.unit)
        given = f"{plain(shown)} {unit_named(shown, other.unit)}".strip()
        if density is None or grams is None:
            found = f"a share of {quoted(other.name)}, given as {quoted(given)}"
            self.sheet.refuse(path, f"{quoted(other.name)} given by weight, such as 900 g{_or(other)}", found)
            return
        weight = f"{plain(as_weighed(grams))} g"
        self.larder.remark(
            f"“{share}” is a share of “{other.name}”, {given}, taken as {weight}: {density}. Weighing it is surer."
        )


def _or(amount: Amount) -> str:
    """What else would do for a volume: more said of what it is."""
    if amount.millilitres is None:
        return ""
    if is_salt(amount.name):
        span = unweighed(amount)
        return "" if span is None else f": this weighs {span_told(span)} by its crystals"
    names = nearly(amount.name)[:MOST_NAMED]
    return f", or named in full, such as {' or '.join(quoted(name) for name in names)}" if names else ""
