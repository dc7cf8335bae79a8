"""What one clause tells of things in and out of places: "loaf's in the oven", "beans are on"."""

from __future__ import annotations

import re
from dataclasses import replace

from bot.understanding.choosing import CLEAR, Choice, Chooser
from bot.understanding.clause import Clause, Finding
from bot.understanding.kitchenwords import PLACES
from bot.understanding.patterns import either
from bot.understanding.planwords import Entry
from bot.understanding.stepmatch import Word
from scheduler.commands import Command
from scheduler.domain.progress import State

COLD = frozenset(("fridge", "freezer"))
PLACE = rf"(?:the |a |my |our )?(?P<place>{'|'.join(sorted(PLACES, key=len, reverse=True))})\b"
INTO = re.compile(rf"\b(?:in|into|inside|onto|on|to|back in|back into) {PLACE}")
OUT_OF = re.compile(rf"\b(?:out of|off of|off|from|out from|out) {PLACE}")
IN_SOMETHING = re.compile(r"\b(?:in|into|on|onto) (?P<rest>.+)")

STANDS = r"(?=$| (?:now|already|at|just|since|for|AGO|CLOCK|there|to|as|about|and)\b)"
GOING = r"(?!.*\b(?:goes?|going|comes?|coming)\b)"
PUT_IN = either(
    "is, are, am, gone, went, got, put, popped, pop, stuck, slid, chucked, shoved, threw, set, switched, turned"
    ", flicked, just, now, has been, have been, bunged, tucked, straight, back, it, they, them, all"
)
TAKEN_OUT = either(
    "is, are, came, come, has come, have come, has been taken, took, taken, pulled, got, gotten, brought, lifted, just"
    ", now, it, they, them, all, fished, gone"
)
IN = re.compile(
    rf"\b{PUT_IN}(?: \w+){{0,4}}? (?:in|on){STANDS}"
    rf"|^(?:in|on)(?: (?:it|they|she|he) (?:goes|go|went))?(?: now| already)?{STANDS}"
    rf"|^{GOING}(?:\w+ ){{1,3}}(?:in|on)(?: now| already| at CLOCK| AGO)*$"
)
OUT = re.compile(
    rf"\b{TAKEN_OUT}(?: \w+){{0,4}}? (?:out|off){STANDS}"
    rf"|^(?:out|off)(?: now| already)?{STANDS}"
    r"|^(?:\w+ ){1,3}(?:out|off)(?: now| already| at CLOCK| AGO)*$"
)
ON_ITS_WAY = re.compile(r"\b(?:going|coming)\b")
SWITCHING = frozenset(("turned", "switched", "flicked", "turn", "switch"))
ON_OR_OFF = re.compile(r"\bo(?:n|ff)\b")


def placed(clause: Clause) -> Finding | None:
    """ "Loaf's in the oven", "the duck is out of the fridge"."""
    out = OUT_OF.search(clause.main)
    found = out or INTO.search(clause.main)
    if found is None or clause.tells(clause.past):
        return None
    command = Command.DONE if out else Command.STARTED
    index = clause.chooser.index
    rest = index.content(index.read(f"{clause.main[: found.start()]} {clause.main[found.end() :]}"))
    rest = [word for word in rest if word.said not in SWITCHING and not clause.beside_the_point(word)]
    choice = _in_place(clause.chooser, PLACES[found["place"]], rest, command)
    if out and _never_went_in(choice, PLACES[found["place"]], clause.chooser):
        return None
    return Finding(command, choice, clause.said, named=bool(rest))


def _never_went_in(choice: Choice, place: str, chooser: Chooser) -> bool:
    """Whether what is out of the fridge has yet to go there: then its being out neither begins nor ends a step."""
    standing = chooser.context.standing
    if place not in COLD or not choice.sure or standing is None:
        return False
    return all(standing.state(target.step) is State.WAITING for target in choice.steps)


def _in_place(chooser: Chooser, place: str, rest: list[Word], command: Command) -> Choice:
    entries = [entry for entry in chooser.index.entries if entry.stands_in(place)]
    asked = next((entry for entry in entries if entry.target == chooser.asked), None)
    if not rest:
        return chooser.what_was_asked() if asked else chooser.only(entries, command)
    matches = chooser.index.matches(rest, entries)
    if not matches:
        return Choice(vague=not chooser.index.matches(rest))
    close = [match.entry for match in matches if matches[0].score - match.score < CLEAR]
    known = all(any(word.thing in match.words for match in matches) for word in rest)
    if asked is not None and asked in close:
        return Choice((asked.target,), sure=known)
    choice = chooser.only(close, command)
    return choice if known else replace(choice, sure=False, vague=True)


def packed(clause: Clause) -> Finding | None:
    """ "The limes are in the jar": putting them there is an act of the step, or where its wait takes place."""
    chooser, found = clause.chooser, IN_SOMETHING.search(clause.main)
    if found is None or not chooser.index.content(chooser.index.read(found["rest"])):
        return None
    matches = [match for match in chooser.index.matches(clause.words) if match.covers(clause.content)]
    acts = [match for match in matches if match.thing and match.last_act and not match.entry.wait]
    if acts:
        return clause.finding(Command.DONE, chooser.certain(clause.words, Command.DONE, acts))
    asked = next((match for match in matches if match.target == chooser.asked), None)
    if asked is None or asked.target.tend:
        return None
    return clause.finding(Command.STARTED if asked.entry.wait else Command.DONE, chooser.what_was_asked())


def in_or_out(clause: Clause) -> Finding | None:
    """ "They're in", "loaf's out", "beans are on"."""
    clause = clause.without(SWITCHING)
    out, into = OUT.search(clause.main), IN.search(clause.main)
    if not out and not into:
        return None
    command = Command.DONE if out else Command.STARTED
    heat = ON_OR_OFF.search(clause.main) is not None
    if ON_ITS_WAY.search(clause.main) and clause.has_later_time:
        return clause.planned()
    if not clause.content:
        return clause.finding(
            command, replace(clause.chooser.what_was_asked(), sure=_fits(clause.chooser.asked_entry, heat))
        )
    if any(word.thing == "oven" for word in clause.content):
        words = [word for word in clause.words if not word.acts]
        heating = [match for match in clause.matches() if match.entry.heats_up]
        choice = clause.chooser.certain(words, command, heating)
        return clause.finding(command, _but_for_another(choice, clause.chooser)) if heating else None
    return clause.finding(command, _named_in_or_out(clause, command, "heat" if heat else "oven"))


def _but_for_another(choice: Choice, chooser: Chooser) -> Choice:
    """The oven that is on may be on for what was asked about, rather than for the step that heats it."""
    entry = chooser.asked_entry
    return replace(choice, sure=False) if entry is not None and entry.stands_in("oven") else choice


def _fits(entry: Entry | None, heat: bool) -> bool:
    """Whether "it's in", or "it's on", can be said of a step."""
    return entry is not None and (entry.stands_in("heat") or entry.heats_up if heat else entry.wait)


def _named_in_or_out(clause: Clause, command: Command, place: str) -> Choice:
    """What is named goes into the oven or onto the heat, unless it was asked about as standing elsewhere."""
    every = clause.matches()
    there = [match for match in every if match.thing and match.entry.stands_in(place)]
    near = [
        match
        for match in every
        if every[0].score - match.score < CLEAR and _fits(match.entry, place == "heat")
    ]
    asked = [match for match in near if match.target == clause.chooser.asked and not match.entry.heats_up]
    if asked and (not there or any(asked[0].entry.stands_in(other) for other in (place, "fridge"))):
        return clause.chooser.certain(clause.words, command, asked)
    if there:
        return clause.chooser.certain(clause.words, command, there)
    return Choice(tuple(match.target for match in every[:4]), vague=not every)
