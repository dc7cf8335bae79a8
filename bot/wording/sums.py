"""A one-off question of the trade, answered in the chat."""

from __future__ import annotations

from bot.sums import Here, by_words
from bot.wording.lines import message
from bot.wording.talk import unclear
from scheduler.service.answers import Said, SumIs, Unclear


def sum_is(answer: SumIs) -> Said:
    """The same answer as on the command line; nothing that needs scrolling."""
    here = None if answer.now is None else Here(answer.now, answer.zone, answer.rules)
    told = by_words(answer.name, answer.said, answer.view.plan if answer.view else None, here)
    if told is None:
        return unclear(Unclear(answer.said))
    return message(told.heading, *(told.lines if told.brief is None else told.brief))
