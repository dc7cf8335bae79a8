"""Kitchen plans of any size, from a seed: `kitchen(steps, seed)`. The same two numbers give the same plan.

The plans are made up: ferments, cures, soaks, doughs, things that simmer, a crowded last day, one table. Most
of them can be served at their hour when nothing begins before `begins(plan)`.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta

from scheduler.domain.plan import Cook, Plan
from tests.plans_for_tests import Draft, Part, component, cook, plan, step, tend

NAMES = ("Ada", "Noor", "Tomas", "Ines", "Wim")
EVENINGS = (
    "2026-12-12 19:30",
    "2026-10-25 19:00",
    "2027-03-28 13:30",
    "2026-11-21 20:00",
    "2027-02-06 12:30",
)
"""The second and third are days on which clocks change in Paris."""

LEAD = timedelta(days=28)
OVEN = (110, 150, 160, 180, 200, 240)
Recipe = Callable[[random.Random], list[Draft]]


def begins(made: Plan) -> datetime:
    """When the cooks of a plan start thinking of it: four weeks before the meal."""
    if made.serve is None:
        raise ValueError("a generated plan has a serving hour")
    return made.serve - LEAD


def kitchen(steps: int, seed: int) -> Plan:
    """A plan of exactly so many steps (5 to 500)."""
    rng = random.Random(1000 * seed + steps)
    cooks = _cooks(rng, steps)
    parts = _parts(rng, steps - 1, 2 + 2 * len(cooks))
    used = {name for part in parts for draft in part.drafts for name in draft.after}
    loose = tuple(part.name for part in parts if part.name not in used)
    parts.append(
        component("Table", step("Plate and carry out", hands_on="15 min", keeps="5 min", after=loose))
    )
    busy = 1 + steps // 120
    gear = {
        "burner": 3 + busy,
        "oven": busy,
        "mixer": busy,
        "pot": busy + 1,
        "crock": 2 * busy,
        "jar": 4 * busy,
    }
    serve = EVENINGS[rng.randrange(len(EVENINGS))]
    return plan(*parts, cooks=cooks, gear=gear, serve=serve, title=f"Kitchen {steps}/{seed}")


def _cooks(rng: random.Random, steps: int) -> list[Cook]:
    count = min(len(NAMES), 1 + rng.randint(0, 1) * (steps > 20) + steps // 90)
    awake = [("07:00-22:30",), ("mon-fri 06:30-22:30", "sat-sun 08:00-23:30")]
    away: list[tuple[str, ...]] = [("mon-fri 08:30-17:45",), ("mon-wed 09:00-16:00",), ()]
    return [cook(name, rng.choice(awake), rng.choice(away)) for name in NAMES[:count]]


def _parts(rng: random.Random, steps: int, late: int) -> list[Part]:
    """Components of so many steps in all; at most `late` of them have to be fresh at the table."""
    parts: list[Part] = []
    while steps:
        makes = ANY if late or steps < 2 else [recipe for recipe in ANY if recipe not in FRESH]
        recipe = rng.choice(makes)
        drafts = recipe(rng)
        if len(drafts) > steps:
            drafts, recipe = _condiment(rng)[:steps], _condiment
        late -= recipe in FRESH and late > 0
        parts.append(_joined(rng, parts, drafts))
        steps -= len(drafts)
    return parts


def _joined(rng: random.Random, parts: list[Part], drafts: list[Draft]) -> Part:
    """A component of its own name; now and then it uses what an earlier one made."""
    name = f"Dish {len(parts) + 1}"
    named = [_renamed(draft, f"{draft.step.name} ({len(parts) + 1})") for draft in drafts]
    lasting = [part for part in parts[-4:] if _keeps_for(part) >= timedelta(days=3)]
    if lasting and rng.random() < 0.25:
        named[-1] = Draft(named[-1].step, (rng.choice(lasting).name,))
    return component(name, *named)


def _keeps_for(part: Part) -> timedelta:
    return part.drafts[-1].step.keeps or timedelta(0)


def _renamed(draft: Draft, name: str) -> Draft:
    return Draft(replace(draft.step, name=name), draft.after)


# ---------------------------------------------------------------- what is cooked


def _minutes(rng: random.Random, low: int, high: int) -> str:
    return f"{rng.randrange(low, high + 1, 5)} min"


def _ferment(rng: random.Random) -> list[Draft]:
    days = rng.randint(4, 12)
    vent = tend("Vent the lid", "1 d", "5 d")
    return [
        step("Salt and pack", hands_on=_minutes(rng, 15, 30)),
        step("Ferment", unattended=f"{days} d to {days + 3} d", until="sour", tend=vent, gear=["crock"]),
        step("Chill", unattended="at least 4 h", keeps=f"{rng.randint(10, 30)} d"),
    ]


def _cure(rng: random.Random) -> list[Draft]:
    return [
        step("Rub with salt", hands_on=_minutes(rng, 10, 20)),
        step("Cure", unattended=f"{rng.choice([24, 36])} h to {rng.choice([48, 72])} h"),
        step("Rinse and dry", hands_on=_minutes(rng, 10, 15)),
        step("Cook slowly", nearby="2 h 30 min to 3 h 30 min", until="soft", oven=rng.choice(OVEN[:2])),
        step("Cool", nearby="60 min"),
        step("Rest cold", unattended="at least 12 h", keeps=f"{rng.randint(3, 10)} d"),
    ]


def _beans(rng: random.Random) -> list[Draft]:
    return [
        step("Soak", unattended="12 h to 18 h"),
        step("Drain", hands_on="5 min"),
        step("Simmer", nearby="60 min to 105 min", until="tender", gear=["burner", "pot"], keeps="4 h"),
    ]


def _loaf(rng: random.Random) -> list[Draft]:
    fold = tend("Fold", "45 min", "2 h 15 min", "3 min")
    heat = rng.choice(OVEN[4:])
    return [
        step("Feed the starter", hands_on="10 min"),
        step("Starter ripens", unattended="8 h to 12 h", until="domed", keeps="2 h"),
        step("Mix and knead", hands_on=_minutes(rng, 20, 30), gear=["mixer"]),
        step("First rise", nearby="3 h to 4 h", until="half as big again", tend=fold),
        step("Shape", hands_on=_minutes(rng, 10, 20)),
        step("Cold proof", unattended="10 h to 20 h"),
        step("Heat the oven", nearby="40 min", oven=heat),
        step("Bake", nearby="50 min", oven=heat),
        step("Cool the loaf", unattended="at least 90 min", keeps=f"{rng.choice([18, 30])} h"),
    ]


def _cream(rng: random.Random) -> list[Draft]:
    return [
        step("Stir in the culture", hands_on="5 min"),
        step("Set", unattended="18 h to 24 h", gear=["jar"]),
        step("Chill the cream", unattended="at least 6 h", keeps=f"{rng.randint(4, 7)} d"),
    ]


def _stock(rng: random.Random) -> list[Draft]:
    return [
        step("Chop and brown", hands_on=_minutes(rng, 20, 35), gear=["burner"]),
        step("Simmer the stock", nearby=f"{rng.choice([2, 3])} h to 4 h", gear=["burner", "pot"]),
        step("Strain", hands_on="10 min"),
        step("Cool the stock", unattended="at least 3 h", keeps=f"{rng.choice([2, 3, 4])} d"),
    ]


def _cake(rng: random.Random) -> list[Draft]:
    return [
        step("Beat the batter", hands_on=_minutes(rng, 20, 30), gear=["mixer"]),
        step("Bake the cake", nearby=_minutes(rng, 40, 60), oven=rng.choice(OVEN[2:4])),
        step("Cool the cake", unattended="at least 60 min", keeps="2 d"),
        step("Ice the cake", hands_on=_minutes(rng, 15, 30), keeps="1 d"),
    ]


def _braise(rng: random.Random) -> list[Draft]:
    return [
        step("Brown", hands_on=_minutes(rng, 15, 30), gear=["burner"]),
        step("Braise", nearby="2 h to 3 h", until="soft", oven=rng.choice(OVEN[1:3])),
        step("Rest the braise", unattended="1 h to 12 h", keeps=f"{rng.choice([1, 2])} d"),
    ]


def _pastry(rng: random.Random) -> list[Draft]:
    return [
        step("Rub in the butter", hands_on=_minutes(rng, 15, 25)),
        step("Rest the dough", unattended="1 h to 1 d", keeps="1 d"),
        step("Roll and line", hands_on=_minutes(rng, 10, 20)),
        step("Bake blind", nearby="25 min", oven=rng.choice(OVEN[3:5]), keeps="6 h"),
        step("Fill", hands_on=_minutes(rng, 10, 20)),
        step("Bake the tart", nearby="35 min", oven=rng.choice(OVEN[2:4]), keeps=f"{rng.choice([12, 24])} h"),
    ]


def _condiment(rng: random.Random) -> list[Draft]:
    return [
        step(
            "Stew the fruit",
            hands_on=_minutes(rng, 15, 30),
            gear=["burner"],
            keeps=f"{rng.choice([3, 20])} d",
        ),
        step("Fill the jars", hands_on="10 min", keeps="20 d"),
        step("Let it settle", unattended="at least 1 d", keeps="30 d"),
    ]


def _market(rng: random.Random) -> list[Draft]:
    days = rng.choice([(3, 4, 5), (1, 4), (4, 5), (2, 5)])
    return [
        step(
            "Fetch from the market",
            hands_on=_minutes(rng, 30, 60),
            between=["08:00-13:00"],
            on=days,
            keeps="2 d",
        ),
        step("Trim", hands_on=_minutes(rng, 10, 20)),
        step("Marinate", unattended="6 h to 2 d", keeps="12 h"),
        step("Roast", nearby=_minutes(rng, 35, 60), oven=rng.choice(OVEN[3:5]), keeps="2 h"),
    ]


def _fresh_sauce(rng: random.Random) -> list[Draft]:
    return [step("Whisk the sauce", hands_on=_minutes(rng, 5, 15), gear=["burner"], keeps="90 min")]


def _leaves(rng: random.Random) -> list[Draft]:
    return [
        step("Wash the leaves", hands_on="10 min", keeps="1 d"),
        step("Dress the leaves", hands_on="5 min", keeps="60 min"),
    ]


FRESH: list[Recipe] = [_beans, _fresh_sauce, _leaves, _market]
ANY: list[Recipe] = [
    _ferment, _cure, _loaf, _cream, _stock, _cake, _braise, _pastry, _condiment, *FRESH,
]  # fmt: skip
