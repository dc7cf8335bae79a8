"""Replies of a word or two: yes, no, wait, thanks. What they are about is what was asked."""

from __future__ import annotations

import re

from bot.understanding.instants import past
from bot.understanding.patterns import either, run_of
from bot.understanding.saidtime import Said
from scheduler.commands import Command, Context, Target, Understood

YES_WORDS = (
    "yes, yep, yeah, yup, ya, yea, yah, ye, aye, y, yas, si, oui, correct, affirmative, indeed, absolutely, definitely"
    ", of course, it is, they are, i did, i have, we did, we have, has been, it has, they have, i am, that is right"
    ", sure did, sure have, confirm, confirmed"
)
YES = re.compile(
    rf"^(?={either(YES_WORDS)}\b){run_of(YES_WORDS + ', all, it, that, chef, sir, now, already, just, boss, is')}$"
)
YES_AT = re.compile(
    rf"^{either(YES_WORDS)}[ ,.]+{run_of('at, about, around, just, since, already, CLOCK, AGO, DAY')}$"
)
YES_PLEASE = re.compile(r"(?:yes|yeah|yep|ok) please(?: do)?")
LEADING_YES = re.compile(r"^(?:yes|yep|yeah|yup|yea|aye|y|ya|correct|sure)[ ,.]+(?=\S)")
NO_WORDS = (
    "no, nope, nah, na, n, negative, not yet, not really, not quite, not now, noo, no way, nay, never, it is not"
    ", they are not, i did not, i have not, i am not, we did not, we have not, it has not, they have not, nothing yet"
    ", not at all, not DAY, sorry no, not just yet, no can do, can not, no chance"
)
MORE_NO = ", not, yet, really, sorry, chef, thanks, just, quite, now, right now"
NO = re.compile(rf"^(?={either(NO_WORDS)}\b){run_of(NO_WORDS + MORE_NO)}$")
WAITING = (
    "wait, hang on, hold on, hold it, hold your horses, not so fast, bear with me, just wait, wait up, patience, busy"
    ", i am busy, in a meeting, VAGUE, one moment, stand by, give me time, give me a (?:break|chance)"
)
WAIT = re.compile(
    rf"^(?={either(WAITING)}\b){run_of(WAITING + ', please, on, right now, now, there, here')}$"
)
WELL_DONE = re.compile(r"^(?:very )?well done\b(?! [a-z]+ing)")
ACK_WORDS = (
    "ok, okay, k, kk, okey, okey dokey, thanks, thank you, thank you so much, thanks a lot, thanks a million"
    ", many thanks, cheers, ta, great, good, cool, nice, nice one, perfect, lovely, got it, gotcha, got you, understood"
    ", noted, will do, roger, roger that, copy, copy that, sure, sure thing, fine, alright, all right, right, righto"
    ", brilliant, excellent, super, amazing, awesome, wonderful, fab, sounds (?:good|great), good job, all good"
    ", that is (?:great|fine|good|perfect|ok|helpful|cool|lovely|brilliant|amazing|awesome|excellent)"
    ", no problem, no worries, no prob, np"
    ", much appreciated, appreciated, you are (?:the best|a star|a lifesaver|great), very (?:good|much|helpful)"
    ", so much, for that, for the (?:reminder|heads up|help|nudge), then, mate, chef, yes chef, hello, hi, hey"
    ", morning, good morning, good evening, good afternoon, evening, well, oh, ah, aha, haha, hahaha, lol, yay, woo"
    ", woohoo, phew, wow, bravo, good to know, makes sense, fair enough, never mind, ok then, on it, i will"
    ", i will do(?: (?:it|that))?, yes will do, we will(?: do)?, i know, bye, see you(?: later| DAY)?, later"
    ", understand, i see, i understand, message received, received, right on, you too, same to you"
)
ACK = re.compile(rf"^{run_of(ACK_WORDS)}$")


def short_reply(
    raw: str, said: Said, asking: bool, asked: Target | None, context: Context
) -> Understood | None:
    """What a short reply means, or None for anything longer. `raw` are the plain words as they were said."""
    text = said.text.rstrip(" ,.")
    if asking:
        return None
    if text == "later":
        return _not_now(asked) or Understood(Command.LATER, detail="ask", sure=False)
    if YES_PLEASE.fullmatch(raw):
        return Understood(Command.YES)
    if WAIT.match(text):
        return _not_now(asked) or Understood(Command.ACK)
    if NO.match(text):
        return _not_now(asked) or Understood(Command.NO)
    if YES.match(text) or (YES_AT.match(text) and not said.to_come):
        at = past(said, context.now, context.zone)
        return Understood(Command.DONE, (asked,), at=at) if asked else Understood(Command.YES)
    return Understood(Command.ACK) if WELL_DONE.match(raw) or ACK.match(text) else None


def _not_now(asked: Target | None) -> Understood | None:
    return Understood(Command.LATER, (asked,), detail="ask") if asked else None
