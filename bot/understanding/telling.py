"""What one clause tells as a fact: something done, something begun, something in or out."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace

from bot.understanding.choosing import Choice, Chooser
from bot.understanding.clause import Clause, Finding
from bot.understanding.patterns import BODY, either, spoken, whole
from bot.understanding.places import in_or_out, packed, placed
from bot.understanding.stepmatch import Match, Word
from bot.understanding.wordforms import Form
from scheduler.commands import Command

DONE = spoken(
    "done|finished|finish|complete|completed|completes|did|over|sorted|ready|ticked|tick|check|handled|nailed",
    "dealt with|taken care|took care|in the bag|wrapped up|through|off the list|as fed|good to go|job done",
)
READY = re.compile(r"\bready\b")
STARTED = spoken(
    "started|starting|start|begun|began|beginning|kicked off|kick off|under ?way|off we go",
    "(?:is|are) going(?! in| on| out| off| to)",
    r"(?:got|set) (?:\w+ ){1,3}going|on the go|set off",
)
ORDER = re.compile(r"^(?:start|begin|beginning|kick off)\b")
PUT_TO = re.compile(r"\b(?:put|set|left|popped|got|went|gone) (?:\w+ ){0,4}to (?P<act>\w+)")
SPOKEN_ABOUT = re.compile(
    r"\b(?:took|takes|was|were|makes|made|went|goes|is (?:hard|fun|boring|a|the|my|so)|love|hate|like|enjoy|tired of"
    r"|fed up|sick of|good at|bad at)\b"
)
""" "Kneading is hard work" tells of no kneading going on."""

SOMEONE_IS = re.compile(
    r"\b(?:i|we|you|he|she|everyone|everybody|kids) "
    r"(?:am|are|is|was|were|feel|felt|been|have been|has been|get|got)(?: \w+){0,2} (?P<state>\w+)$"
)
""" "I'm drained" is about me."""

IDIOM = spoken(
    BODY,
    r"(?:i|we) (?:am|are) (?:\w+ )?(?:in|out|on|off|ready)|so done|fed up|done for|over it|get over|set up|set off for",
    "washing up|washed up",
    "put up with|cut off|split up|turned up|dropped off|brought up|made up|broke down|baked goods|salted caramel",
)
IN_HAND = whole(
    r"(?:i am |we are |am |are )?" + either("on it, doing (?:it|that), at it, on the case, on to it, onto it")
    + "(?: now| right now)?"
)  # fmt: skip

DRY_AND_SUCH = frozenset(("dry", "cool", "crisp", "brown", "warm"))
BECOME = (
    r"\b(?:is|are|gone|went|got|has|have) "
    r"(?:(?:now|all|both|nice and|quite|really|very|already|nicely|perfectly|\w+ and) )?"
)


def told(clause: Clause) -> Finding | None:
    """The first reading that fits."""
    if IN_HAND.search(clause.main):
        return clause.finding(Command.ACK, Choice())
    if IDIOM.search(clause.main):
        return None
    return next((finding for read in READINGS if (finding := read(clause)) is not None), None)


# ---------------------------------------------------------------- begun


def _begun(clause: Clause) -> Finding | None:
    """ "Started the soak", "put the beans to soak"; "starting at nine" is not told but planned."""
    put_to = PUT_TO.search(clause.main)
    set_going = put_to and any(word.is_in(Form.BASE) for word in clause.chooser.index.read(put_to["act"]))
    if not set_going and (not STARTED.search(clause.main) or DONE.search(clause.main)):
        return None
    if "starting" in clause.main and clause.has_later_time:
        return clause.planned()
    if ORDER.search(clause.main):
        return None
    choice = clause.chooser.certain(clause.words, Command.STARTED, clause.matches())
    return clause.finding(Command.STARTED, choice)


def _ongoing(clause: Clause) -> Finding | None:
    """ "Beans are soaking"; not "soaking took ages"."""
    if SPOKEN_ABOUT.search(clause.main) or not any(word.is_in(Form.ING) for word in clause.words):
        return None
    matches = [match for match in clause.matches() if Form.ING in match.forms]
    if not any(match.exact or match.thing or match.target == clause.chooser.asked for match in matches):
        return None
    if clause.has_later_time and not re.search(r"\b(?:since|from)\b", clause.main):
        return clause.planned()
    return clause.finding(Command.STARTED, clause.chooser.certain(clause.words, Command.STARTED, matches))


# ---------------------------------------------------------------- done


def _called_done(clause: Clause) -> Finding | None:
    """ "Beans done", "the starter is ready", "finished kneading"; "done in 10 minutes" is planned."""
    if not DONE.search(clause.main):
        return None
    if clause.said.to_come:
        return clause.planned()
    matches = clause.matches()
    if READY.search(clause.main):
        asked = clause.chooser.asked
        matches = [match for match in matches if match.entry.wait or match.target == asked] or matches
    choice = clause.chooser.certain(clause.words, Command.DONE, matches, told=True)
    if matches and matches[0].acts:
        choice = _all_of_it(choice, matches, clause.chooser)
    return clause.finding(Command.DONE, choice)


def _done_to(clause: Clause) -> Finding | None:
    """An act of a step in the past: "fed the starter", "duck is salted", "limes are soft"."""
    acts = _acts(clause)
    verbs, things = frozenset(verb for word in acts for verb in word.verbs), {word.thing for word in acts}
    every = clause.chooser.index.matches(clause.words) if clause.tells(acts) else []
    matches = [match for match in every if match.acts and (match.acts & verbs or match.words & things)]
    if not matches:
        return None
    choice = clause.chooser.certain(clause.words, Command.DONE, matches, told=True)
    if not choice.sure and not any(word.past for word in acts):
        return None
    if _only_a_word(clause, acts, matches[0]):
        choice = replace(choice, sure=False)
    return clause.finding(Command.DONE, _all_of_it(choice, matches, clause.chooser))


def _acts(clause: Clause) -> list[Word]:
    """The words that tell an act as done to something: none in "I'm drained" or "the salted duck is here"."""
    someone = SOMEONE_IS.search(clause.main)
    if someone and any(word.said == someone["state"] and word.past for word in clause.words):
        return []
    return clause.past + [word for word in clause.words if _has_become(word, clause)]


def _only_a_word(clause: Clause, acts: list[Word], best: Match) -> bool:
    """Whether no thing was named and the act may be something else: "set one for later", "drained after work"."""
    if best.thing or best.target == clause.chooser.asked:
        return False
    aside = clause.main != clause.said.text
    return aside or (not any(word.is_in(Form.PAST) for word in acts) and len(clause.words) > 1)


def _has_become(word: Word, clause: Clause) -> bool:
    """Whether a word says what something is now: "is dry", "limes soft"."""
    if not word.is_in(Form.STATE, Form.BASE) or not word.verbs & clause.chooser.index.acts:
        return False
    alone = rf"|^(?:(?:the |my |our )?\w+ )?(?:all |now |nice and )?{word.said}(?: enough| now| already)*$"
    state = word.is_in(Form.STATE) or word.said in DRY_AND_SUCH
    then = rf"|\b(?:was|were) (?:already )?{word.said} (?:(?:at|by|around|about|from) )*(?:CLOCK|AGO)"
    return bool(re.search(rf"{BECOME}{word.said}\b{alone + then if state else ''}", clause.main))


def _all_of_it(choice: Choice, matches: list[Match], chooser: Chooser) -> Choice:
    """A step of several acts may be half done when only an earlier one of them was told."""
    if not choice.sure or choice.steps[0] == chooser.asked:
        return choice
    match = next((match for match in matches if match.target == choice.steps[0]), None)
    return choice if match is None or match.last_act else replace(choice, sure=False)


def _sign(clause: Clause) -> Finding | None:
    """The sign that the plan gives for a step's end: "the beans are soft"."""
    chooser = clause.chooser
    matches = [match for match in chooser.index.matches(clause.words) if match.sign]
    if not matches:
        return None
    named = [match for match in matches if match.thing or match.target == chooser.asked]
    choice = chooser.certain(clause.content, Command.DONE, named or matches)
    running = [match for match in matches if chooser.plausible(match.entry, Command.DONE) == 2]
    return clause.finding(Command.DONE, choice if named or len(running) == 1 else replace(choice, sure=False))


READINGS: tuple[Callable[[Clause], Finding | None], ...] = (
    placed,
    _begun,
    _called_done,
    _done_to,
    packed,
    _ongoing,
    _sign,
    in_or_out,
)
"""In the order they are tried."""
