"""Finding which steps the words speak of, and how much speaks for each."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from bot.understanding.kitchenwords import PLACES
from bot.understanding.lexicon import EVERYDAY, HARMLESS
from bot.understanding.planwords import Entry, components_of, entries_of
from bot.understanding.saidtime import TOKEN
from bot.understanding.wordforms import Acts, Form, alike, kitchen_verbs, singular, slip, stem, table_of
from scheduler.commands import Target
from scheduler.domain.plan import Plan

VERB, NOUN, SIGN, AROUND, MINOR = 4.0, 3.0, 2.5, 1.5, 1.0
"""What a word counts that names an act, a thing, the sign of the end, what stands around, what goes in."""

LIKE = 0.7
"""By what that is multiplied for a word that is only like the plan's own, or one letter off."""


@dataclass(frozen=True, slots=True)
class Word:
    """A word that was said, as what it may be: forms of acts, a thing. `slipped`: one letter was another."""

    said: str
    acts: Acts
    thing: str
    slipped: bool = False

    def is_in(self, *forms: Form) -> bool:
        return any(form in forms for _, form in self.acts)

    @property
    def past(self) -> bool:
        return self.is_in(Form.PAST, Form.SAME)

    @property
    def verbs(self) -> frozenset[str]:
        return frozenset(verb for verb, _ in self.acts)


@dataclass(frozen=True, slots=True)
class Match:
    """A target and what speaks for it.

    `words` that count, `acts` of its own that were named, in which `forms`; whether a `thing` of its name or
    the `sign` of its end was named. `exact`: by the plan's own word at least once, `act_exact` for an act.
    `solid`: not only by words with a letter wrong.
    """

    entry: Entry
    score: float
    words: frozenset[str]
    acts: frozenset[str]
    forms: frozenset[Form]
    thing: bool
    sign: bool
    exact: bool
    act_exact: bool
    solid: bool

    @property
    def target(self) -> Target:
        return self.entry.target

    @property
    def named(self) -> bool:
        """Whether the target itself is named, and not only what is around it."""
        return self.thing or self.act_exact

    @property
    def last_act(self) -> bool:
        """Whether the last thing the step asks for was named; a step of two acts may be half done."""
        return bool(self.entry.acts) and self.entry.acts[-1] in self.acts

    def covers(self, words: Iterable[Word]) -> bool:
        return all(word.thing in self.words for word in words)


@dataclass(frozen=True)
class Index:
    """Everything a plan's words can be about, ready to be searched.

    `verbs` by every form; `nouns` of the plan and words like them; `signs` as stems; `acts` of its steps;
    `cooks` by name.
    """

    entries: tuple[Entry, ...] = ()
    components: tuple[Entry, ...] = ()
    verbs: dict[str, Acts] = field(default_factory=dict)
    nouns: frozenset[str] = frozenset()
    signs: frozenset[str] = frozenset()
    acts: frozenset[str] = frozenset()
    cooks: frozenset[str] = frozenset()

    def read(self, text: str) -> list[Word]:
        """The words of a text, times and punctuation left out."""
        return [self._word(said) for said in re.findall(r"[^\W\d_]+|\d+", TOKEN.sub(" ", text))]

    def _word(self, said: str) -> Word:
        acts, thing = self.verbs.get(said, ()), singular(said)
        if acts or thing in self.nouns or stem(said) in self.signs or said in HARMLESS or said in self.cooks:
            return Word(said, acts, thing)
        meant = slip(said, (*self.verbs, *self.nouns, *(f"{noun}s" for noun in self.nouns)))
        if meant is None:
            return Word(said, acts, thing)
        return Word(said, self.verbs.get(meant.word, ()), singular(meant.word), slipped=not meant.plain)

    def content(self, words: Iterable[Word]) -> list[Word]:
        """The words that may say which step is meant."""
        return [word for word in words if self._carries(word)]

    def _carries(self, word: Word) -> bool:
        if word.verbs & self.acts and word.said not in EVERYDAY:
            return True
        return word.said not in HARMLESS and word.said not in self.cooks and not word.said.isdigit()

    def entry(self, target: Target | None) -> Entry | None:
        return next((entry for entry in (*self.entries, *self.components) if entry.target == target), None)

    def matches(self, words: list[Word], entries: Iterable[Entry] | None = None) -> list[Match]:
        """Every target that anything speaks for, best first."""
        found = (_match(entry, words) for entry in (self.entries if entries is None else entries))
        return sorted((match for match in found if match.score > 0), key=lambda match: -match.score)


def index(plan: Plan | None) -> Index:
    """The index of a plan; without a plan nothing is known but the kitchen's verbs."""
    if plan is None:
        return Index(verbs=kitchen_verbs())
    entries = entries_of(plan)
    acts = frozenset(act for entry in entries for act in entry.acts)
    nouns = frozenset(word for e in entries for word in e.things | e.around | e.minor) | frozenset(PLACES)
    return Index(
        entries,
        components_of(plan),
        table_of(sorted(acts), kitchen_verbs()),
        nouns | {like for word in nouns for like in alike(word)},
        frozenset(word for entry in entries for sign in entry.signs for word in sign),
        acts,
        frozenset(part.lower() for cook in plan.kitchen.cooks for part in cook.name.split()),
    )


# ---------------------------------------------------------------- evidence


def _match(entry: Entry, words: list[Word]) -> Match:
    found = _Evidence()
    for word in words:
        found.take(entry, word)
    sign = not found.acts and _sign(entry, words)
    if sign:
        found.words |= {word.thing for word in words if _of_sign(entry, word)}
    return Match(
        entry,
        found.score + (SIGN if sign else 0),
        frozenset(found.words),
        frozenset(found.acts),
        frozenset(found.forms),
        found.thing,
        sign,
        found.exact,
        found.act_exact,
        found.solid or sign,
    )


@dataclass
class _Evidence:
    score: float = 0.0
    words: set[str] = field(default_factory=set)
    acts: set[str] = field(default_factory=set)
    forms: set[Form] = field(default_factory=set)
    thing: bool = False
    exact: bool = False
    act_exact: bool = False
    solid: bool = False

    def take(self, entry: Entry, word: Word) -> None:
        act, form, as_act = _act(entry, word)
        as_thing = _thing(entry, word)
        best = max(as_act, as_thing) or _aside(entry, word)
        if as_act > 0 and as_act >= as_thing:
            self.acts.add(act)
            self.forms.add(form)
            self.act_exact = self.act_exact or as_act == VERB
        self.thing = self.thing or as_thing > 0
        if best > 0 and word.thing not in self.words:
            self.words.add(word.thing)
            self.score += best * (LIKE if word.slipped else 1)
            self.solid = self.solid or not word.slipped
            self.exact = self.exact or best in (VERB, NOUN)


def _act(entry: Entry, word: Word) -> tuple[str, Form, float]:
    """The act of the entry that a word names, in which form, and what it counts."""
    for verb, form in word.acts:
        if verb in entry.acts:
            return verb, form, VERB
    for verb, form in word.acts:
        for own in entry.acts:
            if verb in alike(own):
                return own, form, VERB * LIKE
    return "", Form.BASE, 0.0


def _thing(entry: Entry, word: Word) -> float:
    if word.thing in entry.things or word.said in entry.things:
        return NOUN
    return NOUN * LIKE if alike(word.thing) & entry.things else 0.0


def _aside(entry: Entry, word: Word) -> float:
    if word.thing in entry.around:
        return AROUND
    return MINOR if alike(word.thing) & entry.around or word.thing in entry.minor else 0.0


def _sign(entry: Entry, words: list[Word]) -> bool:
    said = {form for word in words for form in _stems(word)} | {stem(v) for word in words for v in word.verbs}
    return any(sign <= said for sign in entry.signs)


def _of_sign(entry: Entry, word: Word) -> bool:
    return any(sign & _stems(word) for sign in entry.signs)


def _stems(word: Word) -> set[str]:
    return {stem(form) for form in (word.said, word.thing, *alike(word.thing), *alike(word.said))}


def in_place(match: Match, place: str | None) -> Match:
    """A place that was named speaks for the steps that stand there."""
    there = place is not None and match.entry.stands_in(place)
    return replace(match, score=match.score + NOUN) if there else match
