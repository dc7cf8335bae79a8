"""What each command takes from the words of a reply, once the table of intents has said which it is."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import datetime

from bot.understanding import company, instants, measures
from bot.understanding.intents import BOUGHT, NEEDS_LONGER, REMIND_ME, SO_LONG_FOR, Intent
from bot.understanding.patterns import spoken
from bot.understanding.reply import Reply
from bot.understanding.reports import UNCLEAR, report
from bot.understanding.stepmatch import Match, Word
from bot.understanding.wishes import BURNT, LEAVING_OUT
from scheduler.commands import Command, Context, Target, Understood

Meaning = Callable[[Reply, Intent], Understood | None]

AT_TABLE = re.compile(r"\b(?:eat|dinner|supper|lunch|serve|serving|table)\b")
OF_A_MEAL = re.compile(r"\b(?:eat|dinner|supper|lunch|serv|meal|brunch|food|DAY|instead)")
GOING_IN = re.compile(r"\b(?:in|on)\b(?! the| \w+ing)")
BED = re.compile(r"bed|sleep|night|nap|crash|sack|hay")
WHAT = spoken("what|whats|which|anything|something|nothing|show|list|plan")
BARE_DAY = re.compile(r"(?:DAY|PART| |on|in|the|for)+")
READ_WHERE = spoken("kitchen|room|oven|fridge|cellar|larder|freezer|temperature|degrees|[cf]")
ANOTHER_MATTER = re.compile(r"\b(?:to|about) (?!CLOCK|DAY)\w")
ERRAND = re.compile(r"\bto (?:go )?(\w+)")
BREAKING = frozenset(("break", "split", "drop", "crack", "smash", "burn", "char", "separate", "knock"))
"""What goes wrong with food, and what some steps ask for: "broke the crust"."""


def _only(command: Command) -> Meaning:
    return lambda reply, intent: Understood(command)


# ---------------------------------------------------------------- questions


def _when(reply: Reply, intent: Intent) -> Understood | None:
    if AT_TABLE.search(reply.text):
        return Understood(Command.WHEN, detail="serve")
    going = GOING_IN.search(reply.text)
    place = "heat" if going and going[0] == "on" else "oven"
    steps = reply.chooser.going_in(reply.read(), place) if going else ()
    return Understood(Command.WHEN, (steps or reply.questioned() or reply.chooser.what_was_asked().steps)[:1])


def _why(reply: Reply, intent: Intent) -> Understood | None:
    return Understood(Command.WHY, (reply.named() or reply.chooser.what_was_asked().steps)[:1])


def _day(reply: Reply, intent: Intent) -> Understood | None:
    if reply.asked and not reply.asking and BARE_DAY.fullmatch(reply.text):
        return None
    if reply.asking and not WHAT.search(reply.text) and reply.names_an_act():
        return None
    day = reply.said.day
    at = instants.day_of(reply.said, reply.context.now, reply.context.zone)
    return Understood(Command.DAY, at=at, detail=day.name if day else reply.said.part or "today")


def _shop(reply: Reply, intent: Intent) -> Understood | None:
    at = instants.day_of(reply.said, reply.context.now, reply.context.zone)
    return Understood(Command.SHOP, at=at, detail=reply.said.day.name if reply.said.day else "")


def _amount(reply: Reply, intent: Intent) -> Understood | None:
    plan = reply.context.plan
    steps, answer = measures.how_much(reply.words, plan.steps if plan else ())
    return Understood(
        Command.AMOUNT, tuple(Target(step.number, step.name) for step in steps[:4]), detail=answer
    )


# ---------------------------------------------------------------- the whole meal, and quiet


def serving_hour(context: Context) -> datetime | None:
    """The hour in force: the timetable's, or else the one the plan was written with."""
    if context.timetable is not None:
        return context.timetable.serve
    return context.plan.serve if context.plan else None


def _serve(reply: Reply, intent: Intent) -> Understood | None:
    context = reply.context
    at = instants.serving(reply.said, serving_hour(context), context.now, context.zone)
    if (at is None and reply.said.times) or (reply.asked and not OF_A_MEAL.search(reply.text)):
        return None
    return Understood(Command.SERVE, at=at, length=reply.said.length)


def _serves(reply: Reply, intent: Intent) -> Understood | None:
    said = company.so_many(reply.words)
    return Understood(Command.SERVES, detail=said) if said else None


def _late(reply: Reply, intent: Intent) -> Understood | None:
    return Understood(Command.LATE, length=reply.said.length or reply.said.ahead)


def _quiet(reply: Reply, intent: Intent) -> Understood | None:
    context = reply.context
    if "unmute" in reply.text:
        return Understood(Command.QUIET, until=context.now)
    until = instants.future(reply.said, context.now, context.plan, context.zone)
    if until is not None:
        return Understood(Command.QUIET, until=until)
    waking = instants.next_waking(context.plan, context.now, context.zone)
    return Understood(Command.QUIET, until=waking, detail="awake" if BED.search(reply.text) else "")


def _stop(reply: Reply, intent: Intent) -> Understood | None:
    return Understood(Command.STOP, confirm=True)


# ---------------------------------------------------------------- timers, notes


def _timer(reply: Reply, intent: Intent) -> Understood | None:
    if intent.name == SO_LONG_FOR and reply.asked in reply.named():
        return None
    context, said = reply.context, reply.said
    until = instants.future(said, context.now, context.plan, context.zone)
    length = said.length or said.ahead or (until - context.now if until else None)
    return Understood(
        Command.TIMER, until=until, length=length, detail=measures.label(said.text, context.plan)
    )


def _cancel_timer(reply: Reply, intent: Intent) -> Understood | None:
    return Understood(Command.CANCEL_TIMER, detail=measures.label(reply.text, reply.context.plan))


def _note(reply: Reply, intent: Intent) -> Understood | None:
    if intent.name == BOUGHT:
        return Understood(Command.NOTE, detail=reply.raw)
    index = reply.chooser.index
    words = index.content(index.read(READ_WHERE.sub(" ", reply.text)))
    steps = reply.chooser.likeliest(words)[:1] if words else ()
    if not intent.raw:
        return Understood(Command.NOTE, steps, detail=re.sub(r"^\w+ ?(?:that|this|down)?\W*", "", reply.raw))
    measured = measures.reading(reply.words)
    return Understood(Command.NOTE, steps, detail=measured) if measured else None


# ---------------------------------------------------------------- left out, gone wrong


def _skip(reply: Reply, intent: Intent) -> Understood | None:
    chooser = reply.chooser
    words = chooser.index.content(chooser.index.read(LEAVING_OUT.sub(" ", reply.text)))
    if not words:
        asked = chooser.what_was_asked()
        return Understood(Command.SKIP, asked.steps, sure=asked.sure)
    if reply.chooser.strange(words):
        told = next((c for c in re.split(r"[,.;]", reply.text) if intent.pattern.search(c)), reply.text)
        words = chooser.index.content(chooser.index.read(LEAVING_OUT.sub(" ", told))) or words
    whole = chooser.index.matches(words, chooser.index.components)
    steps = chooser.index.matches(words)
    if whole and whole[0].covers(words) and not _acted(words, steps[:1]):
        return Understood(Command.SKIP, (whole[0].target,), confirm=True)
    choice = chooser.certain(words, Command.SKIP, steps)
    return UNCLEAR if choice.vague else Understood(Command.SKIP, choice.steps, sure=choice.sure)


def _acted(words: list[Word], matches: list[Match]) -> bool:
    """Whether an act of the best match is named as the plan names it."""
    return any(word.verbs & frozenset(match.entry.acts) for match in matches for word in words)


def _ruined(reply: Reply, intent: Intent) -> Understood | None:
    chooser = reply.chooser
    words = chooser.index.content(reply.read())
    matches = chooser.index.matches(words)
    if any(match.acts & BREAKING and (match.thing or match.target == chooser.asked) for match in matches[:1]):
        told = report(reply.said, chooser)
        return told if told.command is Command.DONE and told.sure else None
    things = [word for word in words if any(match.thing for match in chooser.index.matches([word]))]
    if chooser.strange(words) and not things:
        return None
    steps = chooser.ending(things or words, BURNT.search(reply.text) is not None)
    if not matches and not chooser.strange(words):
        steps = chooser.what_was_asked().steps
    return Understood(Command.RUINED, steps[:1], confirm=True) if steps else None


# ---------------------------------------------------------------- put off


def _later(reply: Reply, intent: Intent) -> Understood | None:
    context, said = reply.context, reply.said
    steps = reply.chooser.ending(reply.read()) if intent.name == NEEDS_LONGER else reply.named()
    if not steps and reply.asked and not ANOTHER_MATTER.search(said.text):
        steps = (reply.asked,)
    until = instants.future(said, context.now, context.plan, context.zone)
    if intent.name == REMIND_ME and (not steps or _another_errand(reply)):
        length = until - context.now if until else None
        return Understood(
            Command.TIMER, until=until, length=length, detail=measures.label(said.text, context.plan)
        )
    length = said.length or said.ahead
    return Understood(Command.LATER, steps[:1], until=until, length=length, sure=bool(steps))


def _another_errand(reply: Reply) -> bool:
    """ "Remind me to check the oven": an act that is no step's, so a timer is wanted."""
    found = ERRAND.search(reply.text)
    if found is None or found[1] in ("do", "CLOCK", "DAY", "start", "finish"):
        return False
    return not any(match.acts for match in reply.chooser.index.matches(reply.chooser.index.read(found[1])))


MEANINGS: dict[Command, Meaning] = {
    Command.SAFETY: lambda reply, intent: Understood(Command.SAFETY, reply.named()[:1]),
    Command.UNDO: _only(Command.UNDO),
    Command.CANCEL_TIMER: _cancel_timer,
    Command.TIMER: _timer,
    Command.ACK: _only(Command.ACK),
    Command.SHOP: _shop,
    Command.WHEN: _when,
    Command.AMOUNT: _amount,
    Command.WHY: _why,
    Command.QUIET: _quiet,
    Command.STOP: _stop,
    Command.SERVE: _serve,
    Command.SERVES: _serves,
    Command.LATE: _late,
    Command.NEXT: _only(Command.NEXT),
    Command.DAY: _day,
    Command.PLAN: _only(Command.PLAN),
    Command.HELP: _only(Command.HELP),
    Command.NOTE: _note,
    Command.RUINED: _ruined,
    Command.SKIP: _skip,
    Command.LATER: _later,
}
