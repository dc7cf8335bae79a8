"""Which steps of a plan are vegetable ferments, and what went into each: vegetables, water, salt, heat.

A step is one where the plan says so (`ferment:`). Without that it has to be a wait without an oven that nobody
stays with and that may last a day or longer, and either

- its name or caution speaks of fermenting, kraut or kimchi, and salt or a vegetable goes in; or
- its name speaks of brine, and a vegetable goes in;

and neither its name, nor its component's where the name says no kind, nor the thing there is most of speaks of bread,
grain, milk, meat, fish or drink.

So a dry cure of pork, a dough, a batter, a starter and limes in salt are none. What goes in is read from the
amounts of its component's steps up to it.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import timedelta
from decimal import Decimal

from scheduler.domain.kitchen.amounts import Amount
from scheduler.domain.kitchen.brine import water_g
from scheduler.domain.kitchen.crystals import is_salt
from scheduler.domain.kitchen.salt import ANY, KINDS, Judged, Kind, Packed, judged, kind_named_in
from scheduler.domain.kitchen.weighing import unweighed, weight_of
from scheduler.domain.plan import Attention, Plan, Step

A_DAY = timedelta(days=1)

NOTHING = Decimal(0)

A_FLAVOURING = Decimal("0.1")
"""What weighs less than this share of the heaviest is no produce, unless salt is a share of it (our choice)."""

FERMENTING = re.compile(r"\b(?:ferment\w*|(?:sauer)?kraut\w*|kim ?chi\w*)\b")
BRINED = re.compile(r"\bbrin(?:e[sd]?|ing)\b")
RINSED = re.compile(r"\b(?:rins|wash|desalt|drain)\w*\b")
WATER = re.compile(r"\b(?:water|ice)$")
OTHER_BASE = re.compile(
    r"\b(?:flours?|dough\w*|batters?|breads?|loa(?:f|ves)|starters?|levain|sponge|poolish|biga|rye|oats?|grains?|rice"
    r"|idlis?|dosas?|dal|urad|lentils?|soy\w*|miso|koji|tempeh|natto|cocoa|milk|cream|yogh?urt|kefir|buttermilk"
    r"|cheeses?|curds?|whey|butter|pork|beef|lamb|mutton|goat|duck|goose|chicken|turkey|game|venison|meat|ham|bacon"
    r"|sausages?|salami|fish|trout|salmon|herrings?|anchov\w+|mackerel|shrimps?|prawns?|eggs?|tea|kombucha|beer|ale"
    r"|wine|cider|mead|soda|honey|must)\b"
)
VEGETABLES = re.compile(
    r"\b(?:turnips?|radish(?:es)?|daikon|beet(?:root)?s?|carrots?|parsnips?|swedes?|kohlrabi|celer(?:y|iac)|fennel"
    r"|cauliflowers?|broccoli|beans?|peppers?|tomato(?:es)?|onions?|garlic|leeks?|asparagus|roots?|vegetables?"
    r"|marrows?|courgettes?|squash|pumpkins?|aubergines?|okra|peas?|greens|chard|kale|sprouts)\b"
)


Salted = tuple[tuple[int, Amount], ...]
"""Where salt is given: the numbers of steps, each with an amount of it."""


@dataclass(frozen=True, slots=True)
class Batch:
    """A vegetable ferment: `step` is its number, `at_c` how warm it stands, in degrees Celsius.

    `salt_g` is the least and the most salt there may be, in grams: two numbers only where it is given by volume.
    It and `packed` are None where they cannot be worked out; then `unknown` says why, as a clause.
    """

    kind: Kind
    step: int
    salted: Salted
    at_c: float | None
    packed: Packed | None = None
    salt_g: tuple[Decimal, Decimal] | None = None
    unknown: str = ""

    @property
    def by_volume(self) -> bool:
        return any(amount.millilitres is not None for _, amount in self.salted)

    @property
    def judged(self) -> tuple[Judged, Judged] | None:
        """How its least and its most salt stand to what is published; None where that cannot be worked out."""
        if self.packed is None or self.salt_g is None:
            return None
        least, most = (judged(self.kind, grams, self.packed) for grams in self.salt_g)
        return None if least is None or most is None else (least, most)


def batch_of(steps: Sequence[Step]) -> Batch | None:
    """The ferment that the last of the steps is; they are those of one component, up to it. None: it is none."""
    step = steps[-1]
    if step.ferment is None and not _is_one(steps):
        return None
    kind = KINDS[step.ferment] if step.ferment else _kind(steps)
    amounts = [(each.number, amount) for each in steps for amount in each.amounts]
    salted = tuple((number, amount) for number, amount in amounts if is_salt(amount.name))
    batch = Batch(kind, step.number, salted, step.at)
    if unknown := _unknown(steps, salted):
        return replace(batch, unknown=unknown)
    packed = _packed([amount for _, amount in amounts], salted)
    if isinstance(packed, str):
        return replace(batch, unknown=packed)
    return replace(batch, packed=packed, salt_g=_salt_g(salted))


def batches(plan: Plan) -> tuple[Batch, ...]:
    """The vegetable ferments of a plan, one for each such step."""
    found = (
        batch_of(part.steps[: place + 1]) for part in plan.components for place in range(len(part.steps))
    )
    return tuple(batch for batch in found if batch is not None)


def batch_with(plan: Plan, number: int) -> Batch | None:
    """The ferment of the component that a step belongs to: its own, or else the first."""
    component = plan.steps[number].component
    mine = [batch for batch in batches(plan) if plan.steps[batch.step].component == component]
    return next((batch for batch in mine if batch.step == number), mine[0] if mine else None)


# ---------------------------------------------------------------- which steps


def _is_one(steps: Sequence[Step]) -> bool:
    step = steps[-1]
    longest = step.range.longest
    if step.attention is not Attention.UNATTENDED or step.oven is not None or step.core or step.ripens:
        return False
    if longest is not None and longest < A_DAY:
        return False
    name, mostly = step.name.casefold(), _mostly(steps)
    part = "" if kind_named_in(name) else step.component.casefold()
    if OTHER_BASE.search(f"{name} {part} {mostly}"):
        return False
    vegetable = _names_a_vegetable(f"{name} {step.component.casefold()} {mostly}")
    if FERMENTING.search(f"{name} {(step.caution or '').casefold()}"):
        return vegetable or any(is_salt(amount.name) for each in steps for amount in each.amounts)
    return vegetable and bool(BRINED.search(name))


def _names_a_vegetable(text: str) -> bool:
    return bool(VEGETABLES.search(text)) or kind_named_in(text) is not None


def _kind(steps: Sequence[Step]) -> Kind:
    """By the names of the step and its component, or else by what there is most of."""
    step = steps[-1]
    return kind_named_in(step.name) or kind_named_in(step.component) or kind_named_in(_mostly(steps)) or ANY


def _mostly(steps: Sequence[Step]) -> str:
    """The name of what weighs most, or every name where nothing is weighed; neither salt nor water."""
    things = [
        each for step in steps for each in step.amounts if not is_salt(each.name) and not _is_water(each)
    ]
    weighed = [(grams, amount.name) for amount in things if (grams := weight_of(amount)) is not None]
    names = [amount.name for amount in things] if not weighed else [max(weighed)[1]]
    return " ".join(names).casefold()


# ---------------------------------------------------------------- what went in


def _is_water(amount: Amount) -> bool:
    return bool(WATER.search(amount.name.casefold().strip()))


def _unknown(steps: Sequence[Step], salted: Salted) -> str:
    if not salted:
        return "no salt is given for it"
    if any(amount.grams is None and amount.millilitres is None for _, amount in salted):
        return "its salt is not given by weight"
    first = min(number for number, _ in salted)
    if any(RINSED.search(step.name.casefold()) for step in steps if step.number > first):
        return "salt is washed off again"
    return ""


def _salt_g(salted: Salted) -> tuple[Decimal, Decimal]:
    """The least and the most grams of salt; a spoon of it weighs more or less by its crystals."""
    spans = [unweighed(amount) or (amount.grams or NOTHING, amount.grams or NOTHING) for _, amount in salted]
    return sum((low for low, _ in spans), NOTHING), sum((high for _, high in spans), NOTHING)


def _packed(amounts: list[Amount], salted: Salted) -> Packed | str:
    """Grams of produce and of water; or why they are not known."""
    shared = {name.casefold() for _, amount in salted for name in amount.of}
    things = [amount for amount in amounts if not is_salt(amount.name) and not _is_water(amount)]
    unweighable = [amount for amount in things if weight_of(amount) is None and _may_matter(amount, things)]
    if unweighable and not shared:
        return f"“{unweighable[0].name}” is not given by weight"
    weighed = [
        (amount.name.casefold(), grams) for amount in things if (grams := weight_of(amount)) is not None
    ]
    heaviest = max((grams for _, grams in weighed), default=NOTHING)
    counted = [grams for name, grams in weighed if name in shared or grams >= heaviest * A_FLAVOURING]
    water = sum((_water_g(amount) for amount in amounts if _is_water(amount)), NOTHING)
    return Packed(sum(counted, NOTHING), water) if counted else "no weight of vegetables is given for it"


def _may_matter(amount: Amount, things: list[Amount]) -> bool:
    """Whether something given by count or volume may be what the jar is mostly filled with."""
    return len(things) == 1 or _names_a_vegetable(amount.name.casefold())


def _water_g(amount: Amount) -> Decimal:
    volume = amount.millilitres
    return amount.grams or NOTHING if volume is None else water_g(volume)
