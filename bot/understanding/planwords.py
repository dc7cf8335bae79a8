"""The words by which each step, tend and component of a plan is known."""

from __future__ import annotations

import re
from dataclasses import dataclass

from bot.understanding.patterns import listed
from bot.understanding.wordforms import kitchen_verbs, singular, stem
from scheduler.commands import Target
from scheduler.domain.plan import Attention, Plan, Step

COLD = 8.0
"""A step kept at or below this, in degrees Celsius, stands in the fridge."""

JOINING = frozenset(("and", "then", ","))
SMALL = frozenset(
    listed("up over out the a an of in on at to for with under into until from by and or more as it its is")
)
ORDINALS = frozenset(listed("first second third"))
COUNTS = frozenset(listed("one two three four five six")) | ORDINALS
HEATING = frozenset(listed("heat preheat warm"))
CHILLING = frozenset(listed("chill refrigerate freeze"))
HOT = (frozenset({"hot"}), frozenset({stem("temperature")}))
"""The signs of an oven that was being heated; a plan need not spell them out."""


@dataclass(frozen=True)
class Entry:
    """The words a target is known by.

    `acts` in the order of its name ("rinse", "dry"), `things` of its name, `signs` of its end (each a set of
    stems that must all be said), `around` it (its component, its tend, the step it tends), and `minor`: what
    goes into it and the gear it takes. `subject` is the thing its name begins with ("Cream sets").
    """

    target: Target
    step: Step
    acts: tuple[str, ...]
    things: frozenset[str]
    signs: tuple[frozenset[str], ...] = ()
    around: frozenset[str] = frozenset()
    minor: frozenset[str] = frozenset()
    subject: str = ""

    @property
    def wait(self) -> bool:
        return self.step.attention is not Attention.HANDS_ON and not self.target.tend

    @property
    def heats_up(self) -> bool:
        """An oven heated for later, with nothing in it yet."""
        return bool(HEATING & set(self.acts)) and "oven" in self.things

    @property
    def hot(self) -> bool:
        """Whether what it is about can burn."""
        return self.stands_in("oven") or ("burner" in self.step.gear and not self.target.tend)

    def stands_in(self, place: str) -> bool:
        """Whether what the step is about lies in that place (see kitchenwords.PLACES) while it lasts."""
        if self.target.tend or self.target.whole:
            return False
        if place == "oven":
            return self.step.oven is not None and not self.heats_up
        if place == "heat":
            return self.wait and "burner" in self.step.gear
        cold = self.step.at is not None and self.step.at <= COLD
        return cold or place in self.step.name.lower() or bool(CHILLING & set(self.acts))


def entries_of(plan: Plan) -> tuple[Entry, ...]:
    """An entry for every step and every tend."""
    found: list[Entry] = []
    for step in plan.steps:
        found.append(_of_step(step))
        if step.tend is not None:
            acts, things = acts_and_things(step.tend.name)
            around = frozenset((*_nouns(step.name), *_nouns(step.component)))
            target = Target(step.number, step.tend.name, tend=True)
            found.append(Entry(target, step, acts, frozenset(things), around=around))
    return tuple(found)


def components_of(plan: Plan) -> tuple[Entry, ...]:
    """An entry for every component, named after its first step."""
    firsts = ((component.name, component.steps[0]) for component in plan.components)
    return tuple(
        Entry(Target(first.number, name, whole=True), first, (), frozenset(_nouns(name)))
        for name, first in firsts
    )


def _of_step(step: Step) -> Entry:
    acts, things = acts_and_things(step.name)
    tended = acts_and_things(step.tend.name)[1] if step.tend else ()
    minor = (noun for name in (*(a.name for a in step.amounts), *step.gear) for noun in _nouns(name))
    subject = things[0] if things and step.name.lower().startswith(things[0]) else ""
    return Entry(
        Target(step.number, step.name),
        step,
        acts,
        frozenset(things),
        _signs(step),
        frozenset((*_nouns(step.component), *tended)),
        frozenset(minor),
        subject,
    )


def _signs(step: Step) -> tuple[frozenset[str], ...]:
    """What is seen when a step is over; any one of the things its `until` lists."""
    listed = re.split(r",| and | or ", (step.range.until or "").lower())
    signs = [frozenset(stem(w) for w in _content(sign) if not w.endswith("ly")) for sign in listed]
    if step.oven is not None and re.match(r"(?:pre-?)?(?:heat|warm)\b.*\boven\b", step.name.lower()):
        signs += HOT
    return tuple(sign for sign in signs if sign)


def _content(text: str) -> list[str]:
    return [word for word in re.findall(r"[^\W\d_]+", text.lower()) if word not in SMALL]


def _nouns(text: str) -> list[str]:
    return [singular(word) for word in _content(text) if word not in COUNTS]


def acts_and_things(name: str) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """What a name is made of: "Salt and pack the turnips" -> ("salt", "pack"), ("turnip",)."""
    words = re.findall(r"[^\W\d_]+|,", name.lower())
    acts: list[str] = []
    things: list[str] = []
    for place, word in enumerate(words):
        before = words[place - 1] if place else ","
        if act := _act(words, place, before, bool(acts)):
            acts.append(act)
        elif word != "," and word not in SMALL | COUNTS:
            things.append(singular(word))
    return tuple(dict.fromkeys(acts)), tuple(dict.fromkeys(things))


def _act(words: list[str], place: int, before: str, one_already: bool) -> str | None:
    """The verb a word of a name is, if it is one there: "salt the legs", not "the salt", "flaky salt"."""
    word = words[place]
    if before in (SMALL - JOINING - {"to"}) | (COUNTS - ORDINALS):
        return None
    if one_already and before not in JOINING | {"with", "to"}:
        return None
    if known := kitchen_verbs().get(word):
        return known[0][0]
    if len(words) == 2 and place == 1 and word.endswith("s") and not word.endswith("ss"):
        return word[:-1]
    followed = words[place + 1] if place + 1 < len(words) else ""
    return word if place == 0 and followed in ("the", "and") else None
