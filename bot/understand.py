"""Understanding replies: a cook's words -> a command. Pure, and never raises whatever the text.

The steps are in `bot.understanding`. Words are made plain (`plainwords`) and times set apart (`timewords`). What
the sentence asks for is looked up in a table (`intents`, `meanings`); failing that, what it reports is read
clause by clause (`reports`, `telling`, `places`). Which step is meant is found by the plan's own words
(`planwords`, `stepmatch`), and it counts only where it is certain (`choosing`).
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime
from typing import Any

from bot import sums
from bot.understanding import foodclocks
from bot.understanding.instants import serving
from bot.understanding.intents import INTENTS
from bot.understanding.meanings import MEANINGS, serving_hour
from bot.understanding.reply import Reply, read
from bot.understanding.reports import UNCLEAR, report
from bot.understanding.shortreplies import LEADING_YES, short_reply
from scheduler.commands import Command, Context, Understood
from scheduler.domain.hours import local
from scheduler.domain.plan import MINUTE

SEVERAL = re.compile(r"[.;!]\s+|,\s*(?:and\s+)?|\s+(?:and|but|also|plus)\s+", re.IGNORECASE)
READING = re.compile(r"pH [\d.]+|-?[\d.]+ [CF]")
MARKS = frozenset({Command.DONE, Command.STARTED, Command.SKIP, Command.RUINED})

OF_A_STEP = MARKS | {Command.LATER, Command.WHEN, Command.WHY, Command.NOTE}
"""Commands that are about one step; whatever else is said may name one, but is not about it."""


def understand(text: str, context: Context) -> Understood:
    """What `text` means against `context`.

    Where the step or the meaning is not certain, `sure` is False: then `steps` are what it may be about, and
    nothing may be done but ask. Several steps in something `sure` are all meant. Every time is an aware UTC
    instant.
    """
    return _and_besides(_understood(text, context), text, context)


def _and_besides(found: Understood, text: str, context: Context) -> Understood:
    """A mark, with what was said beside it of readings and company: one thing is done at a time.

    A mark counts before a reading; the words left out are kept, for the cook to say by themselves.
    """
    parts = [part for part in SEVERAL.split(text) if part.strip()]
    open_ = MARKS | {Command.UNCLEAR, Command.ASK_WHICH, Command.CLOCK}
    if len(parts) != 2 or not (_is_reading(found) or found.command in open_):
        return found
    heard = [(_understood(part, context), part.strip()) for part in parts]
    first = [each for each, _ in heard if each.sure and _comes_first(each)]
    rest = [
        part for each, part in heard if each.sure and (_is_reading(each) or each.command is Command.SERVES)
    ]
    return replace(first[0], rest=rest[0]) if len(first) == len(rest) == 1 else found


def _is_reading(found: Understood) -> bool:
    return found.command is Command.NOTE and READING.fullmatch(found.detail) is not None


def _comes_first(found: Understood) -> bool:
    """A mark, or what is said of food whose clock runs."""
    return (found.command in MARKS and bool(found.steps)) or found.command is Command.CLOCK


def _understood(text: str, context: Context) -> Understood:
    reply = read(text, context)
    if not re.search(r"[^\W_]", reply.words):
        return Understood(Command.HELP) if "?" in text else UNCLEAR
    clock = foodclocks.surely(reply)
    if clock is not None:
        return clock
    short = short_reply(reply.raw, reply.said, reply.asking, reply.asked, context)
    if short is not None:
        return short
    sum_asked = sums.asked_in(text, context)
    if sum_asked is not None:
        return Understood(Command.SUM, detail=sum_asked)
    found = _otherwise(reply)
    clock = None if found.sure and found.command in MARKS else foodclocks.where_no_mark(reply, found)
    return found if clock is None else clock


def _otherwise(reply: Reply) -> Understood:
    """What it means by the table of intents, else by what it reports."""
    found = _asked_for(reply)
    if found is not None:
        return replace(found, sure=False) if reply.asking and found.command in MARKS else found
    return _question(reply) if reply.asking else _reported(reply)


def _asked_for(reply: Reply) -> Understood | None:
    """What the first fitting intent comes to that has an answer to it."""
    for intent in INTENTS:
        if intent.fits(reply.text, reply.words, reply.asking):
            found = MEANINGS[intent.command](reply, intent)
            if found is not None:
                return found
    return None


def _question(reply: Reply) -> Understood:
    """A question about a step is answered with where it stands; it never marks anything."""
    steps = reply.questioned()
    return Understood(Command.WHEN, steps[:1]) if steps else UNCLEAR


def _reported(reply: Reply) -> Understood:
    yes = LEADING_YES.match(reply.text)
    said = replace(reply.said, text=reply.text[yes.end() :]) if yes else reply.said
    found = report(said, reply.chooser)
    if found.command is Command.LATER and not found.steps and serving_hour(reply.context) is None:
        at = serving(said, None, reply.context.now, reply.context.zone)
        return Understood(Command.SERVE, at=at) if at else found
    return found


def to_json(understood: Understood, context: Context) -> dict[str, Any]:
    """The answer of `crockbell understand --json`: instants ISO 8601 with the zone's offset, or None.

    `step` is the plan's own name of the step, tend or component, where it is certain which or only one can be
    meant. `minutes` is the length that was named.
    """
    steps = understood.steps
    named = understood.command in OF_A_STEP and bool(steps) and (understood.sure or len(steps) == 1)
    return {
        "command": understood.command.value,
        "step": steps[0].label if named else None,
        "at": _iso(understood.at, context),
        "until": _iso(understood.until, context),
        "sure": understood.sure,
        "minutes": None if understood.length is None else understood.length / MINUTE,
        "detail": understood.detail,
        "confirm": understood.confirm,
    }


def _iso(at: datetime | None, context: Context) -> str | None:
    return None if at is None else local(at, context.zone).isoformat()
