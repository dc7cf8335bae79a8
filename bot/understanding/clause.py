"""One clause of what a cook reports, being read, and what it comes to."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from bot.understanding.choosing import Choice, Chooser
from bot.understanding.moods import Mood
from bot.understanding.saidtime import Said
from bot.understanding.stepmatch import Match, Word
from scheduler.commands import Command

ADJECTIVE = re.compile(
    r"\b(?:the|my|our|some|a) (?P<kind>\w+) \w+ "
    r"(?:is|are|was|were|has|have|in|on|out|looks?|smells?|tastes?|needs?)\b"
    r"|^(?P<first>\w+) \w+ (?:is|are|was|were|has|have|looks?|smells?|tastes?|needs?)\b"
)
""" "The salted duck is in the fridge" tells of the fridge."""

MOVED = re.compile(r"\bset (?:the|it|them|my|our|both|all)\b")


@dataclass(frozen=True, slots=True)
class Finding:
    """What one clause comes to: a command about a choice of steps. Not `named`: about whatever was asked."""

    command: Command
    choice: Choice
    said: Said
    mood: Mood = Mood.FACT
    named: bool = True


@dataclass(frozen=True)
class Clause:
    """A clause being read: `main` is its text up to any aside, `words` and `content` those of `main`."""

    said: Said
    main: str
    chooser: Chooser
    words: list[Word]
    content: list[Word]

    def finding(self, command: Command, choice: Choice, mood: Mood = Mood.FACT) -> Finding:
        return Finding(command, choice, self.said, mood, named=bool(self.content))

    def without(self, words: frozenset[str]) -> Clause:
        """The same clause with these words counting for nothing."""
        kept = [word for word in self.words if word.said not in words]
        return replace(self, words=kept, content=self.chooser.index.content(kept))

    def matches(self) -> list[Match]:
        return self.chooser.index.matches(self.content)

    def planned(self) -> Finding:
        """It will be so at the time that was said."""
        steps = self.chooser.likeliest(self.words)[:1]
        return self.finding(Command.LATER, Choice(steps, sure=bool(steps)), Mood.COMING)

    @property
    def has_later_time(self) -> bool:
        """Whether a time makes what is said to be going on a plan for later: "soaking them at nine"."""
        day = self.said.day
        other_day = day is not None and day.ahead != 0 and not self.said.gone_by
        return bool(self.said.clock or self.said.part or self.said.ahead or other_day or "VAGUE" in self.main)

    def tells(self, words: list[Word]) -> bool:
        """Whether any of these words names an act of one of the plan's steps."""
        return any(match.acts for match in self.chooser.index.matches(words))

    @property
    def past(self) -> list[Word]:
        """The words that tell an act in the past; to "set the cream down" is only to put it."""
        return [word for word in self.words if word.past and not self.beside_the_point(word)]

    def beside_the_point(self, word: Word) -> bool:
        """An act that only describes a thing, or only puts it somewhere."""
        adjective = ADJECTIVE.search(self.main)
        describes = adjective is not None and word.past and word.said in adjective.groups()
        return describes or (word.said == "set" and MOVED.search(self.main) is not None)
