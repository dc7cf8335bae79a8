"""Forms of words: of verbs and nouns, what means the same, and slips of the finger."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache

from rapidfuzz.distance import OSA, Levenshtein

from bot.understanding.kitchenwords import ACTIONS, ALIKE, COMMON, IRREGULAR

VOWELS = "aeiou"


class Form(StrEnum):
    """How a verb stands: "soften", "softens", "softened", "softening".

    SAME is a past that reads like the base ("cut"), STATE what a thing has become ("soft").
    """

    BASE = "base"
    THIRD = "third"
    PAST = "past"
    SAME = "same"
    ING = "ing"
    STATE = "state"


Acts = tuple[tuple[str, Form], ...]
"""The verbs, each with its form, that one written word may be."""


def forms_of(verb: str) -> dict[str, Form]:
    """Every form of a verb, as regular English makes them and as the table of irregular ones says."""
    stems = [verb[:-1]] if verb.endswith("e") else [verb]
    if _doubles(verb):
        stems.append(verb + verb[-1])
    irregular = IRREGULAR.get(verb)
    pasts = irregular.split() if irregular else [_ended(stem, "ed") for stem in stems]
    forms = {_ended(verb, "s"): Form.THIRD, verb: Form.BASE}
    forms |= {past: Form.SAME if past == verb else Form.PAST for past in pasts}
    forms |= {stem + "ing": Form.ING for stem in stems}
    if verb.endswith("en") and len(verb) > 4 and not irregular:
        forms[verb[:-1] if verb == "ripen" else verb[:-2]] = Form.STATE
    return forms


def _doubles(verb: str) -> bool:
    """One vowel before one consonant at the end doubles it: chop, chopped."""
    return len(verb) >= 3 and verb[-1] not in VOWELS + "wxy" and verb[-2] in VOWELS and verb[-3] not in VOWELS


def _ended(verb: str, ending: str) -> str:
    if verb.endswith("y") and verb[-2:-1] not in VOWELS:
        return verb[:-1] + "ie" + ending.removeprefix("e")
    if ending == "s" and verb.endswith(("s", "sh", "ch", "x", "z", "o")):
        return verb + "es"
    return verb + ending


@lru_cache(maxsize=1)
def kitchen_verbs() -> dict[str, Acts]:
    """The kitchen's verbs by every word they are written as."""
    return table_of(dict.fromkeys(ACTIONS), {})


def table_of(verbs: Iterable[str], known: dict[str, Acts]) -> dict[str, Acts]:
    """`known` with the forms of more verbs."""
    table = dict(known)
    for verb in verbs:
        for word, form in forms_of(verb).items():
            if (verb, form) not in table.get(word, ()):
                table[word] = (*table.get(word, ()), (verb, form))
    return table


PLURALS = (("ies", "y"), ("ves", "f"), ("oes", "o"), ("ches", "ch"), ("shes", "sh"), ("xes", "x"), ("s", ""))


def singular(word: str) -> str:
    """A noun without its plural ending: loaves, potatoes, berries, beans."""
    if len(word) < 4 or word.endswith(("ss", "us", "is")):
        return word
    for plural, single in PLURALS:
        if word.endswith(plural) and len(word) > len(plural) + 1:
            return word[: -len(plural)] + single
    return word


def stem(word: str) -> str:
    """What forms of one word share: float, floats, floated, floating; soft, softly."""
    word = singular(word)
    for ending in ("ing", "ed", "ly", "y", "e"):
        if word.endswith(ending) and len(word) - len(ending) >= 3:
            word = word[: -len(ending)]
            break
    return word[:-1] if len(word) > 3 and word[-1] == word[-2] else word


@lru_cache(maxsize=1)
def _alike() -> dict[str, frozenset[str]]:
    table: dict[str, frozenset[str]] = {}
    for line in ALIKE:
        first, *others = line.split()
        for other in others:
            table[first] = table.get(first, frozenset()) | {other}
            table[other] = table.get(other, frozenset()) | {first}
    return table


def alike(word: str) -> frozenset[str]:
    """Words said in place of this one, or that this one is said in place of."""
    return _alike().get(word, frozenset())


# ---------------------------------------------------------------- slips of the finger


@dataclass(frozen=True, slots=True)
class Slip:
    """The word probably meant. Not `plain`: one letter is another, so it may be a different word."""

    word: str
    plain: bool


def slip(word: str, known: Iterable[str]) -> Slip | None:
    """The known word that this is probably a slip of: a letter too many, too few, swapped or another.

    Of several, one with the same last letter: "whiskd" is "whisked" rather than "whisk".
    """
    if len(word) < 4 or word in COMMON or not word.isalpha():
        return None
    found: list[tuple[bool, bool, str]] = []
    for other in known:
        if not _near(word, other):
            continue
        edits = Levenshtein.editops(word, other)
        plain = sorted(word) == sorted(other) or all(edit.tag != "replace" for edit in edits)
        found.append((not plain, other[-1] != word[-1], other))
    best = min(found, default=None)
    return None if best is None else Slip(best[2], plain=not best[0])


def _near(word: str, other: str) -> bool:
    """One edit apart and alike at the beginning; short words only with letters swapped or doubled."""
    if (
        word[0] != other[0]
        or abs(len(word) - len(other)) > 1
        or OSA.distance(word, other, score_cutoff=1) > 1
    ):
        return False
    if min(len(word), len(other)) > 4:
        return True
    return sorted(word) == sorted(other) or _single(word) == _single(other)


def _single(word: str) -> str:
    """Without doubled letters."""
    return re.sub(r"(.)\1", r"\1", word)
