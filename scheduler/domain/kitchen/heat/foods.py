"""Which food a piece is, from the words of a plan or of a cook: it decides which reductions are asked for.

Nothing is taken for a food of the milder kinds, fish or plants, where any word says that there may be meat beside
it, nor for meat where another animal is spoken of. Where the words say nothing, the answer is None, and the
strictest is asked for.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from scheduler.domain.kitchen.core import Food


def _any(*words: str) -> re.Pattern[str]:
    return re.compile(rf"\b(?:{'|'.join(' '.join(words).split())})\b", re.IGNORECASE)


_POULTRY = _any(
    "chickens? hens? cockerels? capons? poussins? turkeys? ducks? ducklings? goose geese guinea quails? pheasants?",
    "partridges? pigeons? squabs? grouse poultry fowls? fowl drumsticks? ostrich",
)
_RED = _any("beef veal pork hogs? lambs? mutton venison deer boars? bison")
"""What the published tables call meat."""

_ANIMAL = _any(
    "beef veal pork hogs? hams? bacon pancetta lambs? mutton goats? kid venison deer boars? rabbits? hares? meats?",
    "bison livers? kidneys hearts? chorizo salami eggs? custards? milk cream prawns? shrimps? scallops? lobsters?",
    "crabs? mussels? clams? oysters? squids? octopus cuttlefish langoustines? crayfish snails? frogs?",
)
_CUT = _any(
    r"steaks? (?<=\w\s)roasts? roast\swith briskets? ribs? ribeye sirloin rump chuck shanks? shoulders? loins?",
    "tenderloins? fillets? chops? cutlets? bellies belly cheeks? tongues? legs?",
)
"""Of fish as of meat."""

_STEAK = _any("steaks?")

_CHOPPED = _any("minced ground chopped")
_MINCE = _any("mince burgers? patty patties meatballs? meatloaf forcemeat terrines? sausages? kofta")
_FISH = _any(
    "fish salmon trout cod haddock hake halibut turbot sole plaice bass bream mackerel tuna swordfish monkfish",
    "pollock sturgeon snapper tilapia herrings? sardines? eels? ling zander pike carp perch skate",
)
_PLANT = _any(
    "beans? lentils? chickpeas? peas potato potatoes beetroots? beets? carrots? parsnips? turnips? celeriac swedes?",
    "squash squashes pumpkins? cauliflowers? cabbages? leeks? onions? fennel asparagus artichokes? kohlrabi yams?",
    "aubergines? courgettes? apples? pears? quinces? rhubarb vegetables? tofu mushrooms?",
)
_SEASONING = re.compile(r"\b\w+ (?:sauce|stock|oil|paste|powder|seeds?|salt|broth|fat)\b", re.IGNORECASE)
"""What carries the name of a food and is none: fish sauce, goose fat, fennel seed."""


def food_in(names: Iterable[str], amounts: Iterable[str] = ()) -> Food | None:
    """The food that the names of a component and its steps speak of, and else the first of the amounts.

    Poultry and chopped meat are found anywhere; anything of the milder kinds only where nothing else is spoken of.
    """
    named, *listed = (_SEASONING.sub(" ", text) for text in (" ; ".join(names), *amounts))
    every = " ; ".join([named, *listed])
    if _POULTRY.search(every):
        return Food.POULTRY
    if _MINCE.search(every) or any(
        _CHOPPED.search(each) and _ANIMAL.search(each) for each in (named, *listed)
    ):
        return Food.GROUND
    if _ANIMAL.search(every):
        other = _ANIMAL.search(_RED.sub(" ", every)) or _FISH.search(every)
        return None if other else Food.MEAT
    if _STEAK.search(every) and not _FISH.search(every) and not _PLANT.search(every):
        return Food.MEAT
    return _mild(" ; ".join([named, *listed[:1]]), every)


def _mild(spoken: str, every: str) -> Food | None:
    """Fish or plants where that is spoken of; neither where fish is only beside it, or a cut that is no fish's."""
    if _FISH.search(every):
        return Food.FISH if _FISH.search(spoken) else None
    return Food.PLANT if _PLANT.search(spoken) and not _CUT.search(every) else None
