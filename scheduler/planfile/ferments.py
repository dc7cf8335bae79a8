"""The vegetable ferments of a plan file: too little salt refuses it, what is unusual deserves a remark."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import ROUND_DOWN, Decimal

from scheduler.domain.fermenting import Batch, batch_of
from scheduler.domain.kitchen.amounts import plain
from scheduler.domain.kitchen.readings import too_warm
from scheduler.domain.kitchen.salt import Judged, Verdict, minimum_told, percent_told
from scheduler.domain.kitchen.shares import to_weigh
from scheduler.domain.plan import Step
from scheduler.planfile.outline import Entry
from scheduler.planfile.problems import quoted
from scheduler.planfile.sheet import Sheet


def checked_ferments(sheet: Sheet, outline: Sequence[Entry], steps: Sequence[Step | None]) -> list[str]:
    """A remark for each thing worth a word; a ferment below its published minimum is noted on the sheet.

    `steps` are those of the outline, None where one is wrong; a ferment after one of those is left for later.
    """
    remarks: list[str] = []
    for entry in outline:
        before = steps[entry.number - entry.place : entry.number + 1]
        sound = [step for step in before if step is not None]
        batch = batch_of(sound) if sound and len(sound) == len(before) else None
        if batch is not None:
            remarks += _checked(sheet, outline, batch, sound[-1])
    return remarks


def _checked(sheet: Sheet, outline: Sequence[Entry], batch: Batch, step: Step) -> Iterator[str]:
    judged = batch.judged
    if batch.unknown:
        yield f"{step.name}: its percent of salt is not known, because {batch.unknown}. Weigh salt and produce."
    elif judged is None:
        yield f"{step.name}: {batch.kind} are salted by their brine, and no water is given for it."
    elif judged[1].verdict is Verdict.BELOW_MINIMUM:
        _refuse(sheet, outline, batch, judged[1])
    elif batch.by_volume:
        yield f"{step.name}: {_between(*judged)}. Weigh the salt."
    elif judged[0].verdict is not Verdict.USUAL:
        yield f"{step.name}: {judged[0]}"
    if batch.at_c is not None and (warm := too_warm(batch.kind, Decimal(str(batch.at_c)))):
        yield f"{step.name}, at {batch.at_c:g} C: {warm[:1].lower()}{warm[1:]}"


def _between(least: Judged, most: Judged) -> str:
    """ "by volume its salt is 1.1 % to 2.6 % of the produce's weight, where at least 2 % ..."."""
    told = f"by volume its salt is {percent_told(least.percent)} % to {percent_told(most.percent)} % of {least.way}"
    if least.verdict is Verdict.BELOW_MINIMUM and least.minimum is not None:
        return f"{told}, and it needs {minimum_told(least.kind, least.minimum)}"
    return f"{told}; usual is {least.kind.usual} ({least.kind.usual.source})"


def _refuse(sheet: Sheet, outline: Sequence[Entry], batch: Batch, judged: Judged) -> None:
    """At the last of its salt: more of it there puts it right."""
    number, salt = batch.salted[-1]
    least = None if batch.packed is None else batch.kind.least_g(batch.packed)
    if least is None or judged.minimum is None or batch.salt_g is None:
        raise ValueError("a ferment below its minimum has one")
    found = plain(batch.salt_g[1].quantize(Decimal("0.01"), rounding=ROUND_DOWN))
    share = f"{percent_told(judged.percent, judged.verdict)} % of {judged.way}"
    sheet.forbid(
        (*outline[number].path, "amounts", salt.name),
        f"at least {plain(to_weigh(least, least))} g: {minimum_told(batch.kind, judged.minimum)}",
        f"{quoted(salt.name)}, {'at most ' if batch.by_volume else ''}{found} g or {share}",
    )
