"""What a cook reports, clause by clause: done, begun, not yet, or about to be.

A clause marks a step only when it tells, as a fact, that something was done or begun. Not, almost, will,
if, once and I think all keep it from counting, and what stands after them too.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from bot.understanding import instants
from bot.understanding.choosing import Choice, Chooser
from bot.understanding.clause import Clause, Finding
from bot.understanding.moods import ASIDE, Mood, mood_of
from bot.understanding.patterns import spoken
from bot.understanding.saidtime import Said
from bot.understanding.stepmatch import Match, Word
from bot.understanding.telling import IDIOM, told
from scheduler.commands import Command, Target, Understood

CLAUSES = re.compile(
    r"[.;:]\s+|,\s*(?:(?:and|but|then|so|also|plus)\s+)*|\s+(?:and then|and|but|then|also|plus|though)\s+"
)
FRESH_START = re.compile(r"^[.;:]|\b(?:but|though)\b")
"""What begins anew, so that an earlier "not" or "will" no longer reaches it."""

BARE_NO = re.compile(r"^(?:no|nope|nah|sorry)$")
AN_INDEFINITE = re.compile(r"\ban? (?:\w+ )?(\w+)")
PUT_OFF_WORDS = spoken("later|after|soon|when|once")
NOT_YET = re.compile(
    r"\b(?:yet|done|ready|can not|did not|have not|has not|still|almost|nearly|half|time|busy|until|VAGUE"
    r"|not (?:now|today|tonight|DAY|really|quite|finished|started|been|there|so))\b|^(?:no|not|nothing)\b"
)
A_MOMENT_RULED_OUT = re.compile(r"\b(?:until|before|by) (?:DAY|PART)")

UNCLEAR = Understood(Command.UNCLEAR, sure=False)


def report(said: Said, chooser: Chooser) -> Understood:
    """A sentence that is no question and asks for nothing, as what it reports."""
    findings: list[Finding] = []
    thread = _Thread(chooser)
    for before, piece in said.pieces(CLAUSES):
        finding = _read(piece, thread.mood(before, piece), chooser)
        thread.go_on(piece, finding)
        findings += [finding] if finding else []
    return _together(findings, chooser)


@dataclass
class _Thread:
    """What a clause hands on to the next: its denial or wish, or that it spoke of a stranger to the plan."""

    chooser: Chooser
    carried: Mood = Mood.FACT
    stranger: bool = False

    def mood(self, before: str, piece: Said) -> Mood:
        own = mood_of(piece.text)
        if own is not Mood.FACT or FRESH_START.search(before):
            return own
        subject_lacks = before.strip() == "and" and not any(match.thing for match in self._matches(piece))
        return Mood.THOUGHT if self.stranger and subject_lacks else self.carried

    def go_on(self, piece: Said, finding: Finding | None) -> None:
        own = mood_of(piece.text)
        passing = own in (Mood.FACT, Mood.UNFINISHED) or BARE_NO.match(piece.text)
        self.carried = Mood.FACT if passing else own
        self.stranger = finding is None and bool(self._content(piece))

    def _content(self, piece: Said) -> list[Word]:
        return self.chooser.index.content(self.chooser.index.read(piece.text))

    def _matches(self, piece: Said) -> list[Match]:
        return self.chooser.index.matches(self._content(piece))


def _read(said: Said, mood: Mood, chooser: Chooser) -> Finding | None:
    aside = ASIDE.search(said.text)
    main = said.text[: aside.start()].strip() if aside else said.text
    if not main:
        return Finding(Command.LATER, Choice(), said, Mood.COMING, named=False)
    words = chooser.index.read(main)
    clause = Clause(said, main, chooser, words, chooser.index.content(words))
    if mood in (Mood.NOT, Mood.UNFINISHED):
        return _put_off(clause, mood)
    if mood is Mood.COMING:
        return _coming(clause)
    if (finding := told(clause)) is None:
        return _time_alone(clause)
    if mood is Mood.FACT and _any_old(clause):
        mood = Mood.THOUGHT
    return finding if mood is Mood.FACT else replace(finding, mood=mood)


def _any_old(clause: Clause) -> bool:
    """ "A loaf" is not the loaf; "a fold" is one all the same."""
    nouns = clause.chooser.index.read(" ".join(AN_INDEFINITE.findall(clause.main)))
    things = {thing for entry in clause.chooser.index.entries for thing in entry.things}
    return any(noun.thing in things and not noun.acts for noun in nouns)


# ---------------------------------------------------------------- what has not happened


def _put_off(clause: Clause, mood: Mood) -> Finding | None:
    steps = _not_done(clause)
    if not steps and (clause.content or not NOT_YET.search(clause.said.text)):
        return None
    return clause.finding(Command.LATER, Choice(steps, sure=bool(steps)), mood)


def _not_done(clause: Clause) -> tuple[Target, ...]:
    chooser, matches = clause.chooser, clause.matches()
    asked = next((match for match in matches if match.target == chooser.asked), None)
    if chooser.asked and ((asked and asked.covers(clause.content)) or not any(m.named for m in matches)):
        return (chooser.asked,)
    return chooser.likeliest(clause.words)[:1]


def _coming(clause: Clause) -> Finding | None:
    steps = clause.chooser.likeliest(clause.words)[:1]
    if clause.content and not steps:
        return None
    later = clause.said.times or PUT_OFF_WORDS.search(clause.said.text)
    return clause.finding(Command.LATER if later else Command.ACK, Choice(steps, sure=True), Mood.COMING)


def _time_alone(clause: Clause) -> Finding | None:
    """ "In 10 minutes", "at nine"; "half an hour ago" and "yesterday" can only be when it was done."""
    said, asked = clause.said, clause.chooser.what_was_asked()
    if IDIOM.search(clause.main):
        away = asked.sure and re.search(r"\buntil (?:CLOCK|DAY|PART)", said.text)
        return Finding(Command.LATER, asked, said, Mood.COMING, named=False) if away else None
    if not said.times or clause.content:
        return None
    command = Command.DONE if said.gone_by and asked.sure else Command.LATER
    return Finding(command, asked, said, named=False)


# ---------------------------------------------------------------- clauses together


def _together(findings: list[Finding], chooser: Chooser) -> Understood:
    marks = [found for found in findings if found.command in (Command.DONE, Command.STARTED)]
    marks = [found for found in marks if not found.choice.vague] or marks
    if marks:
        return _marks(_merged([found for found in marks if found.named] or marks[:1]), findings, chooser)
    if later := [found for found in findings if found.command is Command.LATER]:
        return _later(later, chooser)
    return Understood(Command.ACK, findings[0].choice.steps) if findings else UNCLEAR


def _merged(found: list[Finding]) -> list[Finding]:
    """Clauses about one step are one: "salted and packed the turnips"."""
    kept: list[Finding] = []
    for finding in found:
        for place, other in enumerate(kept):
            shared = tuple(step for step in other.choice.steps if step in finding.choice.steps)
            if shared and other.command is finding.command:
                longer = finding if finding.said.times else other
                kept[place] = replace(longer, choice=Choice(shared, sure=len(shared) == 1))
                break
        else:
            kept.append(finding)
    return kept


def _marks(marks: list[Finding], findings: list[Finding], chooser: Chooser) -> Understood:
    """One mark, or several that agree in what they say and when: then all of their steps are meant."""
    if len(marks) == 1:
        return _mark(marks[0], findings, chooser)
    context = chooser.context
    steps = tuple(dict.fromkeys(found.choice.steps[0] for found in marks if found.choice.steps))
    commands = {found.command for found in marks}
    times = {instants.past(found.said, context.now, context.zone) for found in marks}
    certain = all(found.choice.sure and found.mood is Mood.FACT for found in marks)
    if certain and len(commands) == len(times) == 1:
        return Understood(marks[0].command, steps, at=times.pop())
    if not steps:
        return UNCLEAR
    return Understood(marks[0].command if len(commands) == 1 else Command.ASK_WHICH, steps, sure=False)


def _mark(found: Finding, findings: list[Finding], chooser: Chooser) -> Understood:
    choice = found.choice
    at = instants.past(found.said, chooser.context.now, chooser.context.zone)
    timeless = found.said.clock is not None and at is None
    taken_back = findings[-1].mood is Mood.NOT and not findings[-1].named
    if choice.vague:
        return UNCLEAR
    if choice.sure and found.mood is Mood.FACT and not timeless and not taken_back:
        return Understood(found.command, choice.steps, at=at)
    if found.command is Command.DONE and len(choice.steps) != 1:
        return Understood(Command.ASK_WHICH, choice.steps, at=at, sure=False)
    return Understood(found.command, choice.steps, at=at, sure=False)


def _later(later: list[Finding], chooser: Chooser) -> Understood:
    context = chooser.context
    named = [found.choice.steps for found in later if found.choice.steps and found.named]
    steps = (*named, chooser.what_was_asked().steps, *(found.choice.steps for found in later))
    meant = next((choice for choice in steps if choice), ())
    moments = (
        instants.future(found.said, context.now, context.plan, context.zone)
        for found in later
        if _names_a_moment(found)
    )
    until = next((moment for moment in moments if moment), None)
    length = next((said for found in later if (said := found.said.ahead or found.said.length)), None)
    detail = "" if until else "ask"
    return Understood(Command.LATER, meant, until=until, length=length, detail=detail, sure=bool(meant))


def _names_a_moment(found: Finding) -> bool:
    """ "Can't until 8" names one; "not tonight" only rules one out."""
    said = found.said
    if said.ahead or said.length:
        return True
    if said.clock is not None:
        return not re.search(r"\b(?:since|from)\b", said.text)
    if found.mood is Mood.NOT:
        return bool(A_MOMENT_RULED_OUT.search(said.text))
    return said.day is not None or said.part is not None
