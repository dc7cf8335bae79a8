"""Choosing among the steps that words may be about, and whether the choice is certain enough to act on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bot.understanding.kitchenwords import PLACES
from bot.understanding.planwords import Entry
from bot.understanding.stepmatch import LIKE, NOUN, Index, Match, Word, in_place
from scheduler.commands import Command, Context, Target
from scheduler.domain.plan import Attention
from scheduler.domain.progress import State
from scheduler.domain.stages import About

CLEAR = 1.0
"""By how much the best match has to lead; twice that when only an act was named."""

ENOUGH = NOUN * LIKE
"""The least evidence on which a step may be taken as meant."""

ASK_AT_MOST = 4
"""Candidates offered as buttons."""

NOT_ABOUT_THE_STEP = (About.BUY, About.EARLY, About.DAY, About.TIMER, About.CLOCK)
"""Nudges whose "done" says nothing about the step they name."""


@dataclass(frozen=True, slots=True)
class Choice:
    """Candidates, best first. Not `sure`: ask. `vague`: too little speaks for any of them even to ask."""

    steps: tuple[Target, ...] = ()
    sure: bool = False
    vague: bool = False


@dataclass(frozen=True)
class Chooser:
    """Chooses against one plan, what was last asked, and where the steps stand."""

    index: Index
    context: Context

    @property
    def asked(self) -> Target | None:
        """What a bare "done" is about."""
        return None if self.context.asked_about in NOT_ABOUT_THE_STEP else self.context.asked

    @property
    def asked_entry(self) -> Entry | None:
        return self.index.entry(self.asked)

    def what_was_asked(self) -> Choice:
        return Choice((self.asked,), sure=True) if self.asked else Choice()

    # -------------------------------------------------------- for marks: certain, or ask

    def certain(
        self, words: list[Word], command: Command, matches: list[Match], told: bool = False
    ) -> Choice:
        """The one step meant, or those it may be, out of `matches` (best first).

        `told`: an act was told, so that other words may stand beside it: "fed the starter with rye".
        """
        content = self.index.content(words)
        if not content:
            return self.what_was_asked() if self.asked else Choice(self.likely(command))
        if not matches:
            return Choice(vague=True)
        group = self.closest(matches, command)
        steps = tuple(match.target for match in group[:ASK_AT_MOST])
        best = group[0]
        if self._unknown(content, best) and not (
            told and best.acts and best.thing and self._touching(words, best)
        ):
            return Choice(steps, vague=not (best.acts and best.thing))
        return Choice(steps, sure=len(group) == 1 and self._enough(best))

    def _unknown(self, content: list[Word], best: Match) -> list[Word]:
        """Words that have nothing to do with the match."""
        acts = frozenset(best.entry.acts)
        return [word for word in content if word.thing not in best.words and not word.verbs & acts]

    def _enough(self, best: Match) -> bool:
        weak = best.score < ENOUGH or not (best.exact or best.thing or best.sign)
        over = self.plausible(best.entry, Command.DONE) < 0
        return best.solid and not over and (not weak or best.target == self.asked)

    def _touching(self, words: list[Word], match: Match) -> bool:
        """Whether the word next to an act is the thing the step is about: "fed the starter", not "the cat"."""
        for place, word in enumerate(words):
            if word.past and word.verbs & (match.acts | frozenset(match.entry.acts)):
                after, before = self.index.content(words[place + 1 :]), self.index.content(words[:place])
                nearest = (after or before[-1:] or [word])[0]
                if nearest.thing not in match.words:
                    return False
        return True

    def closest(self, matches: list[Match], command: Command) -> list[Match]:
        """The best match: alone if nothing comes near it, or if what was asked or what runs tells them apart."""
        best = matches[0]
        group = _same_step_once(
            [match for match in matches if best.score - match.score < _margin(best, match)]
        )
        if len(group) < 2:
            return group
        if asked := [match for match in group if match.target == self.asked]:
            return asked
        ranked = sorted(group, key=lambda match: -self.plausible(match.entry, command))
        first, second = (self.plausible(match.entry, command) for match in ranked[:2])
        return ranked[:1] if first > max(second, 0) else ranked

    def only(self, entries: Sequence[Entry], command: Command) -> Choice:
        """One of these and no other, as far as where they stand and what was asked tell them apart."""
        ranked = sorted(entries, key=lambda entry: -self.plausible(entry, command))
        steps = tuple(entry.target for entry in ranked[:ASK_AT_MOST])
        standings = [self.plausible(entry, command) for entry in ranked[:2]]
        if len(ranked) == 1:
            return Choice(steps, sure=standings[0] >= 0)
        if len(ranked) > 1 and standings[0] > max(standings[1], 0):
            return Choice(steps[:1], sure=True)
        coming = [entry for entry in ranked if self.asked and self.asked.step in entry.step.follows]
        if len(coming) == 1 and command is Command.STARTED:
            return Choice((coming[0].target,), sure=True)
        return Choice(steps)

    # -------------------------------------------------------- where the steps stand

    def likely(self, command: Command) -> tuple[Target, ...]:
        """What may be meant when nothing is named: what runs or is due."""
        found = [entry for entry in self.index.entries if self.plausible(entry, command) > 0]
        return tuple(entry.target for entry in found[:ASK_AT_MOST])

    def plausible(self, entry: Entry, command: Command) -> int:
        """How well a command fits where the step stands: 2 it runs, 1 it is due, 0 no telling, -1 it is over."""
        standing = self.context.standing
        if standing is None or standing.untouched:
            return 0
        state = standing.state(entry.target.step)
        if state in (State.DONE, State.DROPPED):
            return -1
        if state is State.RUNNING:
            return -1 if command is Command.STARTED and not entry.target.tend else 2
        if entry.target.tend:
            return 0
        over = (State.DONE, State.DROPPED, *((State.RUNNING,) if command is Command.STARTED else ()))
        return 1 if self._due(entry.step.number, entry.step.follows, over) else 0

    def _due(self, step: int, follows: tuple[int, ...], over: tuple[State, ...]) -> bool:
        """Whether its time has come, or all that it follows is over; for a beginning, at least under way."""
        standing, timetable = self.context.standing, self.context.timetable
        slot = timetable.slot(step) if timetable else None
        if slot is not None and slot.start <= self.context.now:
            return True
        return standing is not None and bool(follows) and all(standing.state(n) in over for n in follows)

    def strange(self, words: list[Word]) -> bool:
        """Whether some of the words name what has nothing to do with the plan."""
        return any(not word.past and not self.index.matches([word]) for word in words)

    # -------------------------------------------------------- for questions: the likeliest will do

    def likeliest(self, words: list[Word]) -> tuple[Target, ...]:
        """The steps the words may be about, best first; what was asked when nothing is named."""
        content = self.index.content(words)
        matches = self.index.matches([word for word in content if word.said not in PLACES] or content)
        place = next((PLACES[word.said] for word in content if word.said in PLACES), None)
        matches = sorted((in_place(match, place) for match in matches), key=lambda match: -match.score)
        if not matches:
            return (self.asked,) if self.asked and not content else ()
        close = [match for match in matches if matches[0].score - match.score < CLEAR]
        return tuple(match.target for match in sorted(close, key=self._rank)[:ASK_AT_MOST])

    def going_in(self, words: list[Word], place: str) -> tuple[Target, ...]:
        """Of what is named, what goes into the oven or onto the heat; nothing where an act was named."""
        matches = self.index.matches(self.index.content(words))
        there = [match for match in matches if match.entry.stands_in(place)]
        return () if matches and matches[0].act_exact else tuple(m.target for m in there)

    def ending(self, words: list[Word], burnt: bool = False) -> tuple[Target, ...]:
        """The step whose outcome is spoken of: all that was named belongs to it, and it is what takes long.

        "Duck legs need longer" is about cooking the legs, though only their salting has both in its name.
        """
        matches = self.index.matches(self.index.content(words))
        if not matches or (matches[0].act_exact):
            return self.likeliest(words)
        most = max(len(match.words) for match in matches)
        covering = [match for match in matches if len(match.words) == most]
        hot = [match for match in covering if match.entry.hot] if burnt else []
        hot = [match for match in hot if match.thing] or hot
        waits = [match for match in covering if match.entry.wait and not match.entry.heats_up]
        kept = hot or [m for m in waits if m.thing] or (waits if covering[0].thing else []) or covering
        return tuple(match.target for match in sorted(kept, key=self._rank)[:ASK_AT_MOST])

    def _rank(self, match: Match) -> tuple[object, ...]:
        """Of steps named equally well, first the one a cook would speak of so."""
        entry = match.entry
        return (
            match.target != self.asked,
            entry.heats_up and not match.acts,
            -self.plausible(entry, Command.LATER),
            entry.target.tend and not match.acts,
            not entry.step.range.by_nature,
            not entry.subject or entry.subject not in match.words,
            entry.step.oven is None,
            entry.step.attention is Attention.HANDS_ON,
            -match.score,
        )


def _margin(best: Match, other: Match) -> float:
    if best.thing or (len(best.words) > 1 and not other.exact):
        return CLEAR
    return 2 * CLEAR


def _same_step_once(group: list[Match]) -> list[Match]:
    """A tend and its own step are one thing named twice: the act that was named decides."""
    kept: list[Match] = []
    for match in group:
        rival = next((other for other in kept if other.target.step == match.target.step), None)
        if rival is None:
            kept.append(match)
        elif match.target.tend and match.acts and not (rival.acts and rival.thing):
            kept[kept.index(rival)] = match
    return kept
