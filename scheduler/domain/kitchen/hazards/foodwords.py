"""Kinds of food, by the words a plan has for them."""

from __future__ import annotations

from functools import lru_cache

from scheduler.domain.kitchen.hazards.stepwords import Parts, part_of, plain, said, words
from scheduler.domain.plan import Step

BREAD = words(
    "loaf", "loaves", "bread", "flatbread", "dough", "batter", "starter", "levain", "poolish", "sponge", "cake", "bun",
    "roll", "biscuit", "cookie", "pastry", "meringue", "cracker", "pie crust", "shell", "granola",
)  # fmt: skip
SWEET = words("syrup", "jam", "jelly", "marmalade", "caramel", "toffee", "sorbet")
DRY_GOODS = words(
    "brine", "pickling liquid", "spice", "nut", "seed", "butter", "tea", "coffee", "oil", "wine", "plate"
)
CULTURED = words(
    "yoghurt", "yogurt", "kefir", "culture", "cultured", "curd", "cheese", "koji", "tempeh", "blood heat"
)
MEAT = words(
    "meat", "pork", "ham", "bacon", "belly", "beef", "brisket", "veal", "lamb", "mutton", "venison", "duck", "goose",
    "chicken", "turkey", "fish", "salmon", "trout", "cod", "mackerel", "sausage", "salami", "leg", "rib", "shoulder",
)  # fmt: skip
FERMENTS = words("ferment", "fermenting", "fermentation", "lacto-ferment")
PICKLED = words("pickle", "pickled", "kraut", "sauerkraut", "kimchi", "brine", "brined", "jar")
ACID = words("vinegar")


def all_words(step: Step, parts: Parts) -> str:
    return _whole(part_of(parts, step))


@lru_cache(maxsize=256)
def _whole(steps: tuple[Step, ...]) -> str:
    return " . ".join((plain(steps[0].component), *(said(each) for each in steps)))


def here(step: Step) -> str:
    return f"{plain(step.component)} . {said(step)}"
