"""What a whole sentence asks for: a table of named patterns, tried in order; the first that fits counts.

Patterns see plain words (`plainwords`) with times set apart (`timewords`). What the cook reports as done, begun
or not yet is read clause by clause in `reports`, after everything here has been ruled out.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from bot.understanding import company
from bot.understanding import questions as q
from bot.understanding import wishes as w
from scheduler.commands import Command


@dataclass(frozen=True, slots=True)
class Intent:
    """`unless` rules out what only looks like it; `asking` None fits questions and statements alike.

    A `raw` pattern sees the words with their figures still in place.
    """

    name: str
    command: Command
    pattern: re.Pattern[str]
    unless: re.Pattern[str] | None = None
    asking: bool | None = None
    raw: bool = False

    def fits(self, text: str, raw: str, asking: bool) -> bool:
        if self.asking not in (None, asking):
            return False
        words = raw if self.raw else text
        return bool(self.pattern.search(words)) and not (self.unless and self.unless.search(words))


REMIND_ME = "remind me"
NEEDS_LONGER = "needs longer"
SO_LONG_FOR = "so long for something"
BOUGHT = "it was bought"

INTENTS = (
    Intent("is it safe", Command.SAFETY, q.SAFE, q.NOT_SAFE),
    Intent("keeps for days", Command.SAFETY, q.KEEPS, raw=True),
    Intent("take it back", Command.UNDO, w.UNDO),
    Intent("how many at the table", Command.SERVES, company.NUMBER, asking=False, raw=True),
    Intent("stop a timer", Command.CANCEL_TIMER, w.CANCEL_TIMER, w.NOT_CANCEL_TIMER),
    Intent("time left on a timer", Command.WHEN, q.TIMER_LEFT, q.SETS_A_TIMER, asking=True),
    Intent("a timer rang", Command.ACK, w.TIMER_RANG),
    Intent("set a timer", Command.TIMER, w.TIMER, w.NOT_TIMER),
    Intent(BOUGHT, Command.NOTE, w.BOUGHT, asking=False),
    Intent("what to buy", Command.SHOP, q.SHOPPING),
    Intent("when, how long", Command.WHEN, q.WHEN, q.NOT_WHEN),
    Intent("how much of it", Command.AMOUNT, q.HOW_MUCH, q.NOT_HOW_MUCH),
    Intent("why", Command.WHY, q.WHY, q.NOT_WHY),
    Intent("be quiet", Command.QUIET, w.QUIET, w.NOT_QUIET),
    Intent("end the plan", Command.STOP, w.STOP, w.NOT_STOP),
    Intent("asks about the meal", Command.WHEN, q.ABOUT_THE_MEAL, q.NOT_ABOUT_THE_MEAL, asking=True),
    Intent("another serving hour", Command.SERVE, w.SERVE, w.NOT_SERVE),
    Intent("running late", Command.LATE, w.LATE, w.NOT_LATE),
    Intent("what is next", Command.NEXT, q.NEXT, q.NOT_NEXT),
    Intent("what a day holds", Command.DAY, q.DAY, q.NOT_DAY),
    Intent("the whole plan", Command.PLAN, q.PLAN, q.NOT_PLAN),
    Intent("help", Command.HELP, q.HELP_ALONE),
    Intent("how to use it", Command.HELP, q.HELP),
    Intent("a reading", Command.NOTE, w.READING, w.NOT_READING, asking=False, raw=True),
    Intent("write it down", Command.NOTE, w.WRITE_DOWN, asking=False),
    Intent("gone wrong", Command.RUINED, w.RUINED, w.NOT_RUINED),
    Intent("left out", Command.SKIP, w.SKIP, w.NOT_SKIP),
    Intent(REMIND_ME, Command.LATER, w.REMIND, w.NOT_REMIND),
    Intent(NEEDS_LONGER, Command.LATER, w.LONGER, w.NOT_LONGER, asking=False),
    Intent(SO_LONG_FOR, Command.TIMER, w.SO_LONG_FOR, w.NOT_SO_LONG_FOR, asking=False),
)
