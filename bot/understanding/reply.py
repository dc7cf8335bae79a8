"""One reply, read as far as it can be without knowing what it asks for."""

from __future__ import annotations

import re
from dataclasses import dataclass

from bot.understanding.asking import is_question
from bot.understanding.choosing import Chooser
from bot.understanding.plainwords import bare, plain
from bot.understanding.saidtime import Said
from bot.understanding.stepmatch import Word, index
from bot.understanding.timewords import split
from scheduler.commands import Context, Target

ENDING = re.compile(r"\b(?:done|ready|finish|finished|over|left|got|cooked)\b")


@dataclass(frozen=True)
class Reply:
    """`raw` are all its plain words, `words` those that matter, `said` the same with times set apart."""

    raw: str
    words: str
    said: Said
    asking: bool
    chooser: Chooser

    @property
    def text(self) -> str:
        return self.said.text

    @property
    def context(self) -> Context:
        return self.chooser.context

    @property
    def asked(self) -> Target | None:
        return self.chooser.asked

    def read(self) -> list[Word]:
        return self.chooser.index.read(self.text)

    def names_an_act(self) -> bool:
        matches = self.chooser.index.matches(self.chooser.index.content(self.read()))
        return bool(matches) and matches[0].act_exact

    def questioned(self) -> tuple[Target, ...]:
        """The steps a question names: "is the duck done" means what takes long about it."""
        return self.chooser.ending(self.read()) if ENDING.search(self.text) else self.named()

    def named(self) -> tuple[Target, ...]:
        """The steps it names, likeliest first; what was asked about when it names none."""
        return self.chooser.likeliest(self.read())


def read(text: str, context: Context) -> Reply:
    """Read a text; any text at all."""
    raw = plain(text)
    words = bare(raw)
    said = split(words.replace("?", " ").strip(" .,;:"))
    return Reply(raw, words, said, is_question(words, said.text), Chooser(index(context.plan), context))
