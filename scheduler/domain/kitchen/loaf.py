"""What a dough comes to with its starter counted in: water and salt as shares of all the flour there is.

A baker's percentage counts the flour of the bowl alone; a starter brings flour and water of its own. 2 % salt of the
flour in the bowl is less of all the flour, and a dough is wetter or stiffer than its recipe says.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from decimal import Decimal

from scheduler.domain.kitchen.amounts import Amount
from scheduler.domain.kitchen.crystals import is_salt
from scheduler.domain.kitchen.starter import WHOLE_HYDRATION, Feed, flour_and_water
from scheduler.domain.kitchen.weighing import weight_of
from scheduler.domain.plan import Component, Plan, Step

NOTHING = Decimal(0)

USUAL_SALT = Decimal("0.02")
"""Of the flour (common practice, from memory)."""

WATER_IN = {
    "water": Decimal(1),
    "buttermilk": Decimal("0.901"),
    "milk": Decimal("0.881"),
    "yoghurt": Decimal("0.879"),
    "yogurt": Decimal("0.879"),
}
"""Grams of water in a gram (USDA National Nutrient Database: whole milk, low-fat buttermilk, whole yogurt; from
memory). Eggs, butter and honey are not counted, as bakers do not.
"""

_FLOUR = re.compile(r"\b(?:flours?|wholemeal|whole wheat|semolina|rye|spelt|wheat|einkorn|emmer)\b")
_NO_FLOUR = re.compile(
    r"\b(?:bran|germ|flakes|berries|kernels|grains|chops|malt|cracked|bread(?! flours?\b)|breadcrumbs|crumbs|syrup"
    r"|beer|yeast|whisky)\b"
)
_STARTER = re.compile(r"\b(?:starter|levain|leaven|sourdough|poolish|biga|preferment)\b")
_DOUGH = re.compile(r"\b(?:dough|loaf|loaves|bread|breads|flatbreads?|buns|rolls|knead)\b")


@dataclass(frozen=True, slots=True)
class Loaf:
    """The weights of a dough, in grams; `starter_hydration` is water over flour, `assumed` where no plan gives it.

    No salt: there is none, or it is not known how much. `uncounted` names what may bring flour, water or salt but
    whose weight is not known.
    """

    name: str
    flour_g: Decimal
    water_g: Decimal
    salt_g: Decimal
    starter_g: Decimal = Decimal(0)
    starter_hydration: Decimal = WHOLE_HYDRATION
    assumed: bool = False
    uncounted: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if (
            self.flour_g <= 0
            or min(self.water_g, self.salt_g, self.starter_g) < 0
            or self.starter_hydration <= 0
        ):
            raise ValueError("a dough has flour, and nothing of it weighs less than nothing")

    @property
    def all_flour_g(self) -> Decimal:
        return self.flour_g + flour_and_water(self.starter_g, self.starter_hydration)[0]

    @property
    def all_water_g(self) -> Decimal:
        return self.water_g + flour_and_water(self.starter_g, self.starter_hydration)[1]

    @property
    def hydration(self) -> Decimal:
        """All the water over all the flour."""
        return self.all_water_g / self.all_flour_g

    @property
    def salt_share(self) -> Decimal:
        """The salt over all the flour."""
        return self.salt_g / self.all_flour_g

    @property
    def usual_salt_g(self) -> Decimal:
        """What is usual for all the flour."""
        return self.all_flour_g * USUAL_SALT


@dataclass(frozen=True, slots=True)
class Weighed:
    """Grams of flour, of water, of salt and of starter among some amounts, as far as their weight is known."""

    flour_g: Decimal
    water_g: Decimal
    salt_g: Decimal
    starter_g: Decimal


def weighed(amounts: Iterable[Amount]) -> Weighed:
    """By what each is called; milk counts with the water in it."""
    every = tuple(amounts)
    return Weighed(
        _total(filter(is_flour, every)),
        sum((water_in_g(amount) or NOTHING for amount in every), NOTHING),
        _total(filter(_salts, every)),
        _total(filter(is_starter, every)),
    )


def loaves(plan: Plan) -> tuple[Loaf, ...]:
    """Every dough of a plan: flour, water and salt, with a starter or with a dough in its name."""
    return tuple(loaf for part in plan.components for loaf in _loaf(plan, part))


def _loaf(plan: Plan, part: Component) -> Iterator[Loaf]:
    feeds = _feeds(part)
    amounts = [amount for step in part.steps if step not in feeds for amount in step.amounts]
    dough = weighed(amounts)
    raised = any(map(is_starter, amounts)) or _DOUGH.search(_named(part))
    if not dough.flour_g or not dough.water_g or not _has_salt(amounts) or not raised:
        return
    known = _hydration(feeds) or _hydration(_feeds_elsewhere(plan, part))
    yield Loaf(
        part.name,
        dough.flour_g,
        dough.water_g,
        dough.salt_g,
        dough.starter_g,
        known or WHOLE_HYDRATION,
        bool(dough.starter_g) and known is None,
        tuple(amount.name for amount in amounts if _uncounted(amount)),
    )


def _named(part: Component) -> str:
    return " ".join((part.name, *(step.name for step in part.steps))).casefold()


# ---------------------------------------------------------------- the starter's own feeds


def weighed_feed(amounts: Iterable[Amount]) -> Feed | None:
    """The feed that is weighed out; None where starter, flour or water is missing, or salt is there: a dough."""
    every = tuple(amounts)
    found = weighed(every)
    if _has_salt(every) or not (found.starter_g and found.flour_g and found.water_g):
        return None
    return Feed(found.starter_g, found.flour_g, found.water_g)


def _feeds(part: Component) -> tuple[Step, ...]:
    """The steps of a component that feed a starter which a later step of it takes, or in which one ripens."""
    last = max((place for place, step in enumerate(part.steps) if _takes_starter(step)), default=0)
    return tuple(
        step
        for place, step in enumerate(part.steps)
        if step.ripens is not None or (place < last and _feeds_one(step))
    )


def _takes_starter(step: Step) -> bool:
    return any(map(is_starter, step.amounts))


def _feeds_one(step: Step) -> bool:
    return _takes_starter(step) and any(map(is_flour, step.amounts)) and not _has_salt(step.amounts)


def _feeds_elsewhere(plan: Plan, part: Component) -> Iterator[Step]:
    """The steps of the other components that feed a starter: one that is made on its own."""
    for other in plan.components:
        if other is not part:
            yield from (step for step in other.steps if step.ripens is not None or _feeds_one(step))


def _hydration(feeds: Iterable[Step]) -> Decimal | None:
    """That of the starter after the last feed, the one put in counted with the hydration it had."""
    found: Decimal | None = None
    for step in feeds:
        fed = weighed(step.amounts)
        if fed.flour_g and fed.water_g:
            flour, water = flour_and_water(fed.starter_g, found or WHOLE_HYDRATION)
            found = (fed.water_g + water) / (fed.flour_g + flour)
        elif step.ripens is not None and found is None:
            found = step.ripens.feed.hydration
    return found


# ---------------------------------------------------------------- what an ingredient is


def is_flour(amount: Amount) -> bool:
    name = amount.name.casefold()
    return bool(_FLOUR.search(name)) and not _NO_FLOUR.search(name) and not is_starter(amount)


def is_starter(amount: Amount) -> bool:
    name = amount.name.casefold()
    return bool(_STARTER.search(name)) and "bread" not in name


def water_in_g(amount: Amount) -> Decimal | None:
    """Grams of water in it; None where it holds none that is known of, or its weight is not known."""
    liquid = _liquid(amount)
    if liquid is None:
        return None
    grams = weight_of(amount) or weight_of(replace(amount, name=liquid))
    return None if grams is None else grams * WATER_IN[liquid]


def _liquid(amount: Amount) -> str | None:
    """Which of WATER_IN it is."""
    name = amount.name.casefold()
    if "powder" in name or is_flour(amount) or is_starter(amount):
        return None
    return next((kind for kind in WATER_IN if re.search(rf"\b{kind}\b", name)), None)


def _salts(amount: Amount) -> bool:
    return is_salt(amount.name) or amount.name.casefold().endswith(" salt")


def _has_salt(amounts: Iterable[Amount]) -> bool:
    return any(map(_salts, amounts))


def _uncounted(amount: Amount) -> bool:
    """Whether it may bring flour, water or salt, and it is not known how much."""
    if _liquid(amount) is not None:
        return water_in_g(amount) is None
    counts = is_flour(amount) or is_starter(amount) or _salts(amount)
    return counts and weight_of(amount) is None


def _total(amounts: Iterable[Amount]) -> Decimal:
    return sum((weight_of(amount) or NOTHING for amount in amounts), NOTHING)
