"""Food out of temperature control: what starts a clock, what stops it, what is asked and measured of one.

Words with "clock" in them can mean nothing else. Others ("the duck is out", "it is cold") do only where a clock runs
for that food, or was just spoken of, or where they would not be understood otherwise: what marks a step comes first.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from bot.understanding import instants, measures
from bot.understanding.moods import Mood, mood_of
from bot.understanding.patterns import either, listed
from bot.understanding.reply import Reply
from bot.understanding.wordforms import singular
from scheduler.commands import Command, Target, Understood
from scheduler.domain import clocks
from scheduler.domain.stages import About

THE = r"(?:the |my |our |some |all the |all )?"
NO_NAME = either(
    "until, when, once, if, before, after, while, as, by, till, unless, because, so, where, make sure"
)
NAME = rf"(?!{NO_NAME} )(?P<name>[a-z]+(?: [a-z]+){{0,3}}?)"
IS = r"(?:is|are|has been|have been|was|were|went|has|have)"
TIME = r"(?: (?:since|from|at|for|about|CLOCK|AGO|DAY|PART|LEN|now|already|just|again))*"
FRIDGE = either("fridge, refrigerator, freezer, larder, cold room, cold, cool box, ice")
HEAT = either("heat, stove, hob, burner, fire, flame, cooker")

FOOD = r"(?!i |we |have |has |just |took|taken|take |got |get |brought|put |lifted|pulled)" + NAME

START_CLOCK = re.compile(
    rf"^(?:can you |could you |please )*(?:start|set|begin|run|put)(?: up)? (?:the |a )?"
    rf"(?:clock(?: running)?(?: (?:for|on|of) {THE}{NAME})?|{NAME.replace('name', 'first')} clock){TIME}$"
    rf"|^(?:a |the )?clock (?:for|on) {THE}{NAME.replace('name', 'alone')}{TIME}$"
)
STOP_CLOCK = re.compile(
    rf"^(?:can you |could you |please )*(?:stop|cancel|end|kill|clear|forget|drop|turn off|switch off) {THE}(?:that )?"
    rf"(?:clock(?: (?:for|on|of) {THE}{NAME})?|{NAME.replace('name', 'first')} clock)$"
)
OUT = re.compile(
    rf"^{THE}{FOOD}(?: {IS})?(?: just| now| already)* out(?: of {THE}{FRIDGE}| on {THE}"
    rf"(?:counter|side|worktop|table|bench|buffet))?{TIME}$"
    rf"|^(?:i |we |have |has |just )*(?:took|taken|take|got|get|brought|put) {THE}{NAME.replace('name', 'taken')} "
    rf"out (?:of {THE}{FRIDGE}|on {THE}(?:counter|side|worktop|table|bench|buffet)){TIME}$"
)
COOLING = re.compile(
    rf"^{THE}{FOOD} {IS}(?: just| now| already| been)* (?:cooling(?: down| off)?|off {THE}{HEAT}){TIME}$"
    rf"|^(?:i |we |have |has |just )*(?:took|taken|take|got|lifted|pulled) {THE}{NAME.replace('name', 'taken')} off"
    rf"(?: {THE}{HEAT})?{TIME}$"
)
IN_THE_COLD = re.compile(
    rf"^(?:(?:i |we |have |has |just )*(?:put|got|moved) )?(?:{THE}{NAME} )?(?:{IS} )?(?:now |just |safely )*"
    rf"(?:back )?(?:in|into) {THE}{FRIDGE}(?: again)?{TIME}$"
)
BACK = re.compile(
    rf"^(?:(?:i |we |have |has |just )*(?:put|got|moved) )?(?:{THE}{NAME} )?(?:{IS} )?(?:now |just |safely )*"
    rf"back (?:in|into) {THE}{FRIDGE}(?: again)?{TIME}$"
)
EATEN = re.compile(
    rf"^{THE}(?:{NAME} )?{IS} (?:all |now )*(?:eaten|gone|thrown away|thrown out|in the bin|binned)(?: up)?{TIME}$"
    rf"|^(?:i|we|they|everyone|people|guests) (?:have |has )?(?:eaten|ate|thrown away|threw away|binned) "
    rf"{THE}{NAME.replace('name', 'taken')}(?: up)?{TIME}$|^(?:all )?(?:eaten|gone|thrown away)$"
)
COLD = re.compile(
    rf"^(?:{THE}{NAME} {IS} )?(?:now |already )*(?:cold|chilled|cold enough|cooled(?: down| right down| through)?)"
    rf"(?: now| enough| through)*{TIME}$"
)
IS_COLD = re.compile(rf"^(?:{THE}{NAME} {IS} )?(?:now |already )*cold(?: now| enough| through)*{TIME}$")
WARM = re.compile(
    r"^(?:no|nope|not yet|not cold(?: yet| enough)?|(?:it is |they are )?(?:still|too)(?: too| quite| very)? "
    r"(?:warm|hot|lukewarm|tepid)(?: now)?|not (?:there|met|down) yet)$"
)
RULE = re.compile(
    r"^(?:what|which)(?: is| are|s)? (?:the )?(?:rules?|limits?)(?: (?:for|on|of) (?:that|this|it))?$"
)
LEFT = re.compile(
    rf"^how (?:long|much time|much longer) (?:has|have|is|are|was|were) {THE}{NAME} (?:been )?"
    r"(?:out|cooling|sitting out|standing out|off the heat)\b"
    r"|^how (?:long|much time|much longer) (?:is |have i |do i have |have we |do we have |has it )?(?:got )?"
    r"(?:left|remains?|remaining)(?: (?:to|until|before|for|on|out)\b.*)?$"
    rf"|^how (?:long|much time) (?:has|have|does|do) {THE}{NAME.replace('name', 'second')} (?:got |have )?left$"
    rf"|^how long (?:can|may|could) {THE}{NAME.replace('name', 'taken')} (?:still )?"
    r"(?:stay|be|stand|sit|remain|cool)(?: out| cooling)?\b"
    rf"|^how long (?:is left|left) (?:on|for) (?:the )?(?:clock|{NAME.replace('name', 'first')} clock)\b"
)
MEASURED = re.compile(
    r"^(?:it is |they are |now |at |about |around |still |only |just |down to |the middle (?:is )?)*"
    r"(?P<figure>-?\d{1,3}(?:[.,]\d)?)(?: ?degrees?)?(?: ?(?P<unit>[cf])(?:elsius|ahrenheit)?)?"
    r"(?: now| inside| in the middle| outside)*$"
)
PUT_OFF = re.compile(
    r"^(?:later|snooze|not now|remind|tell|ask|ping|nudge|try|check|give|again|me|it|in|at|please|and|back|wait|ok"
    r"|CLOCK|AHEAD|LEN|VAGUE| |,)+$"
)

NOBODY = frozenset(
    listed(
        "i we he she you they everyone everybody it that this them these those one all now still just not yet no"
    )
)
"""Names that name no food."""

FOODS = frozenset(
    listed(
        "rice soup stock broth stew sauce gravy chicken duck pork beef lamb ham turkey goose meat fish salmon trout"
        " tuna shrimp prawn crab mussel bean beans lentil lentils chickpea pasta potato custard cream milk egg eggs"
        " chili chilli curry casserole lasagne pie quiche pudding paella risotto sausage meatball dal dahl confit"
        " noodle terrine pate buffet leftover leftovers food porridge oatmeal salad mayonnaise tofu stuffing cheese"
    )
)
"""What has to be kept hot or cold, as cooks call it (common usage, no source): known without a plan."""


@dataclass(frozen=True, slots=True)
class Heard:
    """What was said of a clock: `about` in the words of `Understood.detail`, and the name of the food."""

    about: str
    name: str


# ---------------------------------------------------------------- where it is surely a clock


def surely(reply: Reply) -> Understood | None:
    """What can only be about a clock; None for anything else."""
    if heard := _first(reply, ((STOP_CLOCK, "stop"), (START_CLOCK, "start out"))):
        return _meant(reply, heard)
    if reply.context.asked_about is About.CLOCK and (found := _answer(reply)):
        return found
    heard = _first(reply, ((LEFT, "ask"), (IS_COLD, "cold"), (RULE, "rule"), (BACK, "fridge"))) or _measured(
        reply
    )
    return _meant(reply, heard) if heard and _of_one_that_runs(reply, heard) else None


ENDINGS = ((IN_THE_COLD, "fridge"), (EATEN, "eaten"), (COLD, "cold"))
BEGINNINGS = ((COOLING, "start cooling"), (OUT, "start out"))


def _answer(reply: Reply) -> Understood | None:
    """What is said to a message about a clock without naming it."""
    if figure := MEASURED.match(reply.words):
        return Understood(Command.CLOCK, detail=f"reading {_celsius(figure)}")
    if RULE.match(reply.text):
        return Understood(Command.CLOCK, detail="rule")
    if WARM.match(reply.text):
        return Understood(Command.CLOCK, detail="warm")
    if PUT_OFF.match(reply.text):
        until = instants.future(reply.said, reply.context.now, reply.context.plan, reply.context.zone)
        return Understood(Command.CLOCK, until=until, detail="later")
    return None


def _celsius(figure: re.Match[str]) -> float:
    said = float(figure["figure"].replace(",", "."))
    return round((said - 32) / 1.8, 1) if figure["unit"] == "f" else said


def _measured(reply: Reply) -> Heard | None:
    """ "The duck is at 30 degrees": of what a reading is."""
    celsius = None if reply.asking else clocks.celsius_in(measures.reading(reply.words))
    if celsius is None or "LEN" in reply.text or len(measures.DEGREES.findall(reply.words)) > 1:
        return None
    name = " ".join(re.findall(r"[a-z]{3,}", NOT_A_NAME.sub(" ", reply.words)))
    return Heard(f"reading {celsius:g}", name) if name else None


NOT_A_NAME = re.compile(
    r"\b(?:the|is|are|at|now|about|around|degrees?|celsius|fahrenheit|middle|inside|temperature|temp|core|still|only|down|to"
    r"|reads|reading|of|in|just)\b"
)


# ---------------------------------------------------------------- where no step is marked


def where_no_mark(reply: Reply, found: Understood) -> Understood | None:
    """What words that surely mark no step may say of a clock, `found` being what else they could mean.

    They say that a clock is over where one runs; else only where they make no other sense. To start one takes food.
    """
    heard = _first(reply, ENDINGS) if mood_of(reply.text) is Mood.FACT else None
    if heard and not reply.asking and (found.command is Command.UNCLEAR or _of_one_that_runs(reply, heard)):
        return _meant(reply, heard)
    heard = _first(reply, BEGINNINGS) if mood_of(reply.text) is Mood.FACT else None
    if heard and not reply.asking and not found.sure and _is_food(reply, heard):
        return _meant(reply, heard)
    heard = _first(reply, ((LEFT, "ask"),))
    return _meant(reply, heard) if heard and heard.name and not _named(reply, heard.name) else None


def _is_food(reply: Reply, heard: Heard) -> bool:
    known = any(singular(word) in FOODS or word in FOODS for word in heard.name.split())
    return known or bool(heard.name and _named(reply, heard.name))


# ---------------------------------------------------------------- of what


def _first(reply: Reply, patterns: tuple[tuple[re.Pattern[str], str], ...]) -> Heard | None:
    for pattern, about in patterns:
        if found := pattern.match(reply.text):
            said = next((name for name in found.groupdict().values() if name), "")
            words = [word for word in said.split() if word not in NOBODY and word not in ("the", "my")]
            return Heard(about, " ".join(words))
    return None


def _meant(reply: Reply, heard: Heard) -> Understood:
    at = instants.past(reply.said, reply.context.now, reply.context.zone)
    if at is None and reply.said.length is not None:
        at = reply.context.now - reply.said.length
    detail = f"{heard.about} {heard.name}".strip()
    return Understood(Command.CLOCK, _named(reply, heard.name), at=at, detail=detail)


def _named(reply: Reply, name: str) -> tuple[Target, ...]:
    """The step of the plan's food that is named; none where the plan has no such food."""
    chooser = reply.chooser
    words = chooser.index.content(chooser.index.read(name))
    if not words or chooser.strange(words):
        return ()
    return chooser.likeliest(words)[:1]


def _of_one_that_runs(reply: Reply, heard: Heard) -> bool:
    """Whether a clock runs for what is named, or for anything where nothing is."""
    running = list(_running(reply))
    if not heard.name:
        return bool(running)
    plan, steps = reply.context.plan, _named(reply, heard.name)
    parts = {plan.steps[step.step].component for step in steps} if plan else set()
    return any(each.name in parts for each in running)


def _running(reply: Reply) -> Iterator[clocks.FoodClock]:
    context = reply.context
    if context.plan is not None and context.standing is not None:
        yield from clocks.under_way(context.plan, context.standing, context.now)
