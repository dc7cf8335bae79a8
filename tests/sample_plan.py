"""A plan of several days, written by hand, for tests of what cooks say: a Sunday lunch in London."""

from __future__ import annotations

from datetime import datetime, time, timedelta
from decimal import Decimal

from scheduler.commands import Context, Target, Understood
from scheduler.domain.hours import Weekly, instant
from scheduler.domain.kitchen.amounts import Amount
from scheduler.domain.plan import Attention, Component, Cook, Kitchen, Plan, Range, Step, Tend
from scheduler.domain.progress import Progress
from scheduler.domain.stages import About
from scheduler.domain.timetable import Timetable

ZONE = "Europe/London"
SERVE = instant(datetime(2027, 3, 14, 13, 30), ZONE)
"""A Sunday."""

MIN, HOUR, DAY = timedelta(minutes=1), timedelta(hours=1), timedelta(days=1)
HANDS, NEAR, ALONE = Attention.HANDS_ON, Attention.NEARBY, Attention.UNATTENDED
AWAKE = (Weekly(frozenset(range(7)), time(6, 30), time(22, 30)),)


def _grams(**amounts: int) -> tuple[Amount, ...]:
    return tuple(Amount(name.replace("_", " "), Decimal(grams), "g") for name, grams in amounts.items())


def _salted(percent: str, of: str) -> Amount:
    return Amount("salt", Decimal(percent), "%", (of,))


class _Draft:
    """A step before it is numbered."""

    def __init__(
        self,
        name: str,
        attention: Attention,
        range_: Range,
        *,
        amounts: tuple[Amount, ...] = (),
        tend: Tend | None = None,
        gear: tuple[str, ...] = (),
        oven: int | None = None,
        at: float | None = None,
        after: tuple[str, ...] = (),
    ) -> None:
        self.name, self.attention, self.range, self.amounts, self.tend = (
            name,
            attention,
            range_,
            amounts,
            tend,
        )
        self.gear, self.oven, self.at, self.after = gear, oven, at, after


def _hands(name: str, minutes: int, *amounts: Amount, after: tuple[str, ...] = ()) -> _Draft:
    length = minutes * MIN
    return _Draft(name, HANDS, Range(length, length), amounts=amounts, after=after)


EVERYTHING = ("Sauerkraut", "Pork belly", "Chickpeas", "Rye bread", "Labneh", "Lemon custard")

PARTS: dict[str, tuple[_Draft, ...]] = {
    "Sauerkraut": (
        _hands("Shred and salt the cabbage", 30, *_grams(cabbage=2000, caraway=8), _salted("2", "cabbage")),
        _Draft(
            "Cabbage ferments",
            ALONE,
            Range(14 * DAY, 21 * DAY, until="tangy, bubbling stopped"),
            at=18,
            tend=Tend("Press the cabbage down", DAY, 7 * DAY, 3 * MIN),
        ),
        _Draft("Chill the crock", ALONE, Range(6 * HOUR, None), at=4),
    ),
    "Pork belly": (
        _hands("Rub the pork", 15, *_grams(pork_belly=2500, coarse_salt=50, fennel_seed=10)),
        _Draft("Cure in the fridge", ALONE, Range(24 * HOUR, 48 * HOUR), at=4),
        _hands("Wipe and score the skin", 10),
        _Draft("Roast the pork", NEAR, Range(3 * HOUR, 4 * HOUR, until="crackling blistered"), oven=160),
        _Draft("Rest the pork", NEAR, Range(20 * MIN, 40 * MIN)),
    ),
    "Chickpeas": (
        _Draft("Soak the chickpeas", ALONE, Range(12 * HOUR, 24 * HOUR), amounts=_grams(chickpeas=500)),
        _hands("Strain and rinse the chickpeas", 5),
        _Draft("Boil the chickpeas", NEAR, Range(HOUR, 2 * HOUR, until="creamy"), gear=("burner", "big pot")),
        _hands("Blend the hummus", 15, *_grams(tahini=150, garlic=15)),
    ),
    "Rye bread": (
        _hands("Refresh the levain", 10, *_grams(levain=30, rye_flour=120, water=120)),
        _Draft("Levain peaks", ALONE, Range(8 * HOUR, 12 * HOUR, until="puffed and webbed"), at=24),
        _hands("Mix the rye", 20, *_grams(rye_flour=700, water=600), _salted("2", "rye flour")),
        _Draft("Proof the tin", NEAR, Range(2 * HOUR, 4 * HOUR, until="pinholes showing")),
        _Draft("Heat the oven for rye", NEAR, Range(45 * MIN, 45 * MIN), oven=240),
        _Draft("Bake the rye", NEAR, Range(55 * MIN, 65 * MIN), oven=240),
        _Draft("Wrap the rye", ALONE, Range(24 * HOUR, 72 * HOUR)),
    ),
    "Labneh": (
        _hands("Salt and hang the yoghurt", 10, *_grams(yoghurt=1000), _salted("0.8", "yoghurt")),
        _Draft(
            "Yoghurt drains",
            ALONE,
            Range(24 * HOUR, 36 * HOUR),
            at=5,
            tend=Tend("Squeeze the cloth", 8 * HOUR, None, 2 * MIN),
        ),
        _hands("Roll the labneh balls", 20, Amount("olive oil", Decimal(300), "ml")),
    ),
    "Lemon custard": (
        _Draft("Infuse the milk", NEAR, Range(30 * MIN, 45 * MIN), gear=("burner",), amounts=_grams(milk=600)),
        _hands("Whisk the yolks", 10, Amount("yolks", Decimal(8), "pieces"), *_grams(sugar=120)),
        _Draft("Set the custard in the oven", NEAR, Range(40 * MIN, 60 * MIN, until="a slight wobble"), oven=120),
        _Draft("Chill the custard", ALONE, Range(8 * HOUR, None), at=4),
    ),
    "Table": (
        _hands("Carve the pork, dress the slaw, plate up", 20, after=EVERYTHING),
    ),
}  # fmt: skip


def build() -> Plan:
    """The whole plan, its steps numbered in the order they are written."""
    last: dict[str, int] = {}
    components, number = [], 0
    for name, drafts in PARTS.items():
        steps: list[Step] = []
        for draft in drafts:
            follows = (*((steps[-1].number,) if steps else ()), *(last[other] for other in draft.after))
            steps.append(_step(number, name, draft, follows))
            number += 1
        last[name] = steps[-1].number
        components.append(Component(name, tuple(steps)))
    gear = {"burner": 4, "oven": 1, "big pot": 1}
    kitchen = Kitchen((Cook("Ines", AWAKE), Cook("Tom", AWAKE)), gear)
    return Plan("Sunday lunch", ZONE, kitchen, tuple(components), serve=SERVE, serves=8)


def _step(number: int, component: str, draft: _Draft, follows: tuple[int, ...]) -> Step:
    return Step(
        number,
        component,
        draft.name,
        draft.attention,
        draft.range,
        follows,
        keeps=DAY,
        gear=draft.gear,
        oven=draft.oven,
        at=draft.at,
        tend=draft.tend,
        amounts=draft.amounts,
    )


def target(plan: Plan, name: str) -> Target:
    """The step, tend or component of that name."""
    for step in plan.steps:
        if step.name == name:
            return Target(step.number, name)
        if step.tend is not None and step.tend.name == name:
            return Target(step.number, name, tend=True)
    first = next(component.steps[0] for component in plan.components if component.name == name)
    return Target(first.number, name, whole=True)


PLAN = build()
NOW = instant(datetime(2027, 3, 11, 19, 5), ZONE)
"""A Thursday evening, three days before the meal."""


def context(
    asked: str = "",
    *,
    plan: Plan = PLAN,
    about: About | None = None,
    standing: Progress | None = None,
    timetable: Timetable | None = None,
) -> Context:
    """What a reply is understood against; nothing said yet unless `standing` says otherwise."""
    step = target(plan, asked) if asked else None
    return Context(NOW, ZONE, plan, timetable, standing, step, about)


def labels(found: Understood) -> list[str]:
    return [step.label for step in found.steps]
