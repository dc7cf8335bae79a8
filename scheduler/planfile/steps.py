"""The steps of a plan file: each one's own values made sense of together, and with the kitchen."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from datetime import timedelta
from itertools import chain

from scheduler.domain.kitchen.amounts import Amount
from scheduler.domain.kitchen.starter import Ripens
from scheduler.domain.plan import Attention, Kitchen, Range, Step, Tend
from scheduler.planfile.cores import Heating, heating_of, lengthened
from scheduler.planfile.outline import Entry
from scheduler.planfile.problems import quoted
from scheduler.planfile.ripening import ripened
from scheduler.planfile.sheet import Sheet
from scheduler.planfile.text import LONGEST_NAME, key, written

OVEN = "oven"
_TIME = "one of hands-on, nearby, unattended, and how long"
_SUMS = ("core", "ripens")
"""What says how long in its place."""


@dataclass(frozen=True, slots=True)
class StepCheck:
    """One step against itself and the kitchen; what is wrong is noted on the sheet."""

    sheet: Sheet
    entry: Entry
    kitchen: Kitchen

    def step(self, follows: tuple[int, ...], amounts: tuple[Amount, ...]) -> Step | None:
        """The step, or None when it is wrong."""
        draft = self.entry.draft
        attention = self._attention()
        heating = heating_of(self.sheet, self.entry, attention)
        lasts = self._range(attention, heating)
        tend = self._tend(attention, lasts)
        gear, cook = self._gear(), self._cook()
        if attention is None or lasts is None or not self.sheet.sound(self.entry.path):
            return None
        return Step(
            number=self.entry.number,
            component=self.entry.component.name,
            name=draft.name,
            attention=attention,
            range=lasts,
            follows=follows,
            keeps=draft.keeps,
            wait=draft.wait,
            gear=gear,
            oven=draft.oven,
            at=draft.ripens.at if draft.ripens is not None else draft.at,
            cook=cook,
            optional=draft.optional,
            between=tuple(chain.from_iterable(draft.between)),
            on=tuple(dict.fromkeys(chain.from_iterable(draft.on))),
            tend=tend,
            amounts=amounts,
            buy=draft.buy,
            caution=draft.caution,
            core=None if heating is None else heating.core,
            floor=None if heating is None else heating.floor,
            ripens=None if draft.ripens is None else Ripens(draft.ripens.ratio, draft.ripens.at),
            ferment=draft.ferment,
            line=self.sheet.line(self.entry.path),
        )

    def _refuse(self, name: str, expected: str, found: str | None = None) -> None:
        self.sheet.refuse((*self.entry.path, *name.split(".")), expected, found)

    def _refuse_key(self, name: str, expected: str, found: str | None = None) -> None:
        self.sheet.refuse_key((*self.entry.path, *name.split(".")), expected, found)

    def _has(self, name: str) -> bool:
        return self.sheet.has((*self.entry.path, name))

    # ------------------------------------------------------------ how long, and who for

    def _attention(self) -> Attention | None:
        there = [kind for kind in Attention if self._lasting(kind) is not None]
        for other in there[1:]:
            self._refuse_key(
                other, "only one of hands-on, nearby, unattended", f"{quoted(other)} beside '{there[0]}'"
            )
        if not there and self._by_a_sum() is not None:
            return self._by_a_sum()
        if not there and all(self.sheet.sound((*self.entry.path, kind)) for kind in (*Attention, *_SUMS)):
            self._refuse("hands-on", _TIME, "a step without any of them")
        return there[0] if there else None

    def _by_a_sum(self) -> Attention | None:
        """What a step asks of people that only says what its length is worked out from."""
        draft = self.entry.draft
        if draft.core is not None and draft.oven is not None:
            return Attention.NEARBY
        return Attention.UNATTENDED if draft.core or draft.ripens else None

    def _lasting(self, kind: Attention) -> tuple[timedelta, timedelta | None] | None:
        draft = self.entry.draft
        return {
            Attention.HANDS_ON: draft.hands_on,
            Attention.NEARBY: draft.nearby,
            Attention.UNATTENDED: draft.unattended,
        }[kind]

    def _range(self, attention: Attention | None, heating: Heating | None) -> Range | None:
        span = None if attention is None else self._lasting(attention)
        if attention is not None and heating is not None:
            span = lengthened(self.sheet, self.entry, attention, span, heating)
        span, until, usually = ripened(self.sheet, self.entry, attention, span)
        if span is None or not self.sheet.sound((*self.entry.path, "usually")):
            return None
        shortest, longest = span
        sound = self._until_makes_sense(longest) and self._usually_makes_sense(shortest, longest)
        return Range(shortest, longest, until, usually) if sound else None

    def _until_makes_sense(self, longest: timedelta | None) -> bool:
        draft = self.entry.draft
        if draft.usually is not None and not self._has("until"):
            self._refuse_key("usually", "'until' and the sign it ends by beside it")
            return False
        endless = draft.until is not None and longest is None and draft.usually is None
        if endless:
            self._refuse_key(
                "until",
                "'usually' and how long it takes as a rule, or a longest time",
                "'until' without either",
            )
        return not endless

    def _usually_makes_sense(self, shortest: timedelta, longest: timedelta | None) -> bool:
        usually = self.entry.draft.usually
        if usually is None or (shortest <= usually and (longest is None or usually <= longest)):
            return True
        limit = (
            f"at least {written(shortest)}"
            if longest is None
            else f"{written(shortest)} to {written(longest)}"
        )
        core = "" if self.entry.draft.core is None else ", for its core"
        self._refuse("usually", f"a time within {limit}{core}")
        return False

    def _tend(self, attention: Attention | None, lasts: Range | None) -> Tend | None:
        draft = self.entry.draft.tend
        if draft is None:
            return None
        if attention is Attention.HANDS_ON:
            self._refuse_key(
                "tend", "a 'nearby' or 'unattended' step to tend to", "'tend' on a hands-on step"
            )
        longest = lasts and (lasts.longest or lasts.usually)
        if longest and draft.every > longest:
            self._refuse("tend.every", f"at most {written(longest)}, as long as the step lasts")
        if longest and draft.for_ is not None and draft.for_ > longest:
            self._refuse("tend.for", f"at most {written(longest)}, as long as the step lasts")
        if draft.for_ is not None and draft.for_ < draft.every:
            self._refuse("tend.for", f"at least {written(draft.every)}, as long as from one time to the next")
        if draft.hands_on >= draft.every:
            self._refuse("tend.hands-on", f"less than {written(draft.every)}, the time from one to the next")
        name = draft.name or f"Tend: {self.entry.draft.name}"[:LONGEST_NAME]
        return Tend(name, draft.every, draft.for_, draft.hands_on)

    # ------------------------------------------------------------ with what, and by whom

    def _gear(self) -> tuple[str, ...]:
        taken = tuple(key(piece) for piece in self.entry.draft.gear)
        if self.sheet.sound(("kitchen", "gear")):
            self._check_gear(taken)
            if self.entry.draft.oven is not None and not self.kitchen.ovens:
                self._refuse_key(
                    "oven",
                    "an oven in the kitchen's gear, such as {oven: 1}",
                    "'oven', and the kitchen has none",
                )
        return taken

    def _check_gear(self, taken: tuple[str, ...]) -> None:
        so_far: Counter[str] = Counter()
        for place, piece in enumerate(taken):
            path, there = (*self.entry.path, "gear", place), self.kitchen.gear.get(piece, 0)
            so_far[piece] += 1
            if piece == OVEN:
                self.sheet.refuse(path, "the oven on a line of its own with its heat, such as 'oven: 180 C'")
            elif not there:
                known = [name for name in self.kitchen.gear if name != OVEN]
                self.sheet.refuse_name(path, piece, known, "gear the kitchen has")
            elif so_far[piece] == there + 1:
                found = f"{taken.count(piece)} of {quoted(piece)}"
                self.sheet.refuse(path, f"at most {there}, all the kitchen has", found)

    def _cook(self) -> str | None:
        named = self.entry.draft.cook
        if named is None or not self.sheet.sound(("kitchen", "cooks")):
            return named
        cooks = {key(cook.name): cook.name for cook in self.kitchen.cooks}
        if key(named) not in cooks:
            self.sheet.refuse_name(
                (*self.entry.path, "cook"), named, cooks.values(), "a cook of this kitchen"
            )
        return cooks.get(key(named))
