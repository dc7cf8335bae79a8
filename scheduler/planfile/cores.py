"""The core of a plan file: what is to be hot right through, and the shortest time that takes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import timedelta

from scheduler import heat_words
from scheduler.domain.heats import heat_of, heated, medium
from scheduler.domain.kitchen.core import Core
from scheduler.domain.kitchen.heat.foods import food_in
from scheduler.domain.kitchen.heat.heating import Heated, NeverHot, TooCold
from scheduler.domain.kitchen.heat.reductions import asked
from scheduler.domain.kitchen.written import degrees
from scheduler.domain.plan import Attention, Step
from scheduler.planfile.outline import Entry
from scheduler.planfile.sheet import Sheet
from scheduler.planfile.text import key, written

BATHS = ("water bath", "waterbath", "bath")
_HEATED_BY = "a water bath or an oven to heat it: 'gear: [water bath]', 'at: 60 C' or 'oven: 150 C'"
_STEAMS_C = 100
"""No oven brings a middle beyond the boiling point of water."""
Span = tuple[timedelta, timedelta | None]


@dataclass(frozen=True, slots=True)
class Heating:
    """What a step says of its middle, and how long that takes; `heat` None when it is wrong, which is noted."""

    core: Core
    heat: Heated | None

    @property
    def floor(self) -> timedelta | None:
        """The published limit below which nothing takes the step; reaching a temperature alone is none."""
        return self.heat.shortest if self.heat is not None and self.heat.pasteurised else None


def heating_of(sheet: Sheet, entry: Entry, attention: Attention | None) -> Heating | None:
    """The core of a step against the rest of it; None where it has none."""
    core = _core(entry)
    if core is None:
        return None
    check = _Check(sheet, entry, core)
    return Heating(core, check.heat() if check.makes_sense(attention) else None)


def _core(entry: Entry) -> Core | None:
    """What the step says, with the food it speaks of where that is not said."""
    draft = entry.draft.core
    if draft is None:
        return None
    so_far = entry.component.steps[: entry.place + 1]
    names = (entry.component.name, *(step.name for step in so_far))
    food = draft.food or food_in(names, (name for step in so_far for name in step.amounts))
    return Core(draft.shape, draft.thickness, draft.at, draft.start, food)


@dataclass(frozen=True, slots=True)
class _Check:
    sheet: Sheet
    entry: Entry
    core: Core

    def _refuse(self, name: str, expected: str) -> None:
        self.sheet.refuse((*self.entry.path, "core", name), expected)

    def makes_sense(self, attention: Attention | None) -> bool:
        """Whether a step of this kind can heat anything, and the food is colder than it is to be."""
        path, draft = (*self.entry.path, "core"), self.entry.draft
        if attention is Attention.HANDS_ON:
            self.sheet.refuse_key(
                path, "a 'nearby' or 'unattended' step to heat in", "'core' on a hands-on step"
            )
        elif draft.ferment is not None:
            self.sheet.refuse_key(path, "one of 'core' and 'ferment'", "'core' beside 'ferment'")
        elif draft.oven is None and draft.at is None and not any(key(each) in BATHS for each in draft.gear):
            self.sheet.refuse_key(path, _HEATED_BY, "'core' without either")
        elif self.core.start_c >= self.core.at_c:
            hot = degrees(self.core.at_c)
            self._refuse("start", f"less than {hot}, what the middle is to reach")
        else:
            return all(self.sheet.sound((*self.entry.path, name)) for name in ("core", "oven", "at"))
        return False

    def heat(self) -> Heated | None:
        """How long it takes; None when it never gets there, which is noted where the plan says so."""
        by = medium(self.core, self.entry.draft.oven, self.entry.draft.at)
        try:
            return heated(self.core, by)
        except TooCold as error:
            self._refuse("at", f"a temperature for which a time is published: {error}")
        except NeverHot as error:
            hottest = min(by.at_c, _STEAMS_C)
            wrong = "at" if hottest < self.core.at_c else "start" if self.core.start_c < 0 else "thickness"
            self._refuse(wrong, f"what this can heat: {error}")
        return None


def lengthened(
    sheet: Sheet, entry: Entry, attention: Attention, span: Span | None, heating: Heating
) -> Span | None:
    """How long a step with a core lasts: as long as it says, never shorter than the sum; None when that is wrong."""
    heat = heating.heat
    if heat is None:
        return None
    shortest, longest = span or (heat.shortest, None)
    if longest is not None and longest < heat.shortest:
        wanted = heat_words.ruled_by(heating.core, heat, asked(heating.core.food))
        sheet.refuse((*entry.path, attention.value), f"at least {written(heat.shortest)}, for {wanted}")
        return None
    return max(shortest, heat.shortest), longest


def remarks_on(outline: Iterable[Entry], steps: Iterable[Step]) -> Iterator[str]:
    """What deserves a word of the steps with a core: those made longer than written, and what to beware of."""
    for entry, step in zip(outline, steps, strict=True):
        heat = heat_of(step)
        if heat is None:
            continue
        draft = entry.draft
        span = draft.nearby or draft.unattended
        if span is not None and span[0] < heat.shortest:
            longer = f"{written(heat.shortest)}, not {written(span[0])}"
            yield f"“{step.name}” lasts at least {longer}, for {heat_words.wanted_for(step)}."
        if step.core is not None and step.core.food is None:
            yield f"“{step.name}”: {heat_words.UNSAID}"
        yield from (f"“{step.name}”: {warning}" for warning in heat.warnings)
