"""How a clause stands to the facts. Only what is told as a fact may mark a step."""

from __future__ import annotations

import re
from enum import StrEnum

from bot.understanding.patterns import either, spoken


class Mood(StrEnum):
    """Told as a fact, denied, not finished, still to come, or only thought."""

    FACT = "fact"
    NOT = "not"
    UNFINISHED = "unfinished"
    COMING = "coming"
    THOUGHT = "thought"


MOODS = (
    (
        Mood.NOT,
        spoken(
            r"not|never|nobody|no one|noone|unable|yet to|forgot|forgotten|fail(?:ed|s)?|neither|nor|hardly|barely",
            r"refuses?|too (?:busy|tired|early)|none|nowhere near|nothing",
            r"no(?! (?:problem|problems|worries|bother|wonder|matter|bad)\b)",
        ),
    ),
    (
        Mood.UNFINISHED,
        spoken(
            r"almost|nearly|still|not quite|just about|more or less|in progress|ongoing|slightly|a bit|kind of|sort of",
            r"half ?way|part way|half (?!as\b|an?\b|hour\b|past\b)|partly|partially|mostly|(?:most|some|one) of",
            r"getting (?!it|them|the)|to go|only|except|apart from|under ?done|too (?=\w)",
        ),
    ),
    (
        Mood.COMING,
        spoken(
            r"will|shall|going to|about to|plan(?:ning)? (?:to|on)|want to|wanted to|wants?|needs?|needed|next",
            r"(?:have|has|had|got|able|due|try|tried|meant|supposed|time|off|remember) to|to be|due|had better|better",
            r"must|should|would|could|might|may|can|ought|ready (?:to|for|when)|let (?:me|us)|try|trying|hope|hoping",
            r"intend|wish|expect\w*|aim\w*|fancy|looking forward|thinking (?:of|about)|on my way|get|remind|asked",
            r"please|do i|time for|waiting|wait|tomorrow|later|as soon as",
        ),
    ),
    (
        Mood.THOUGHT,
        spoken(
            r"think|thought|guess|maybe|perhaps|probably|possibly|(?:pretty|fairly|quite|not) sure|reckon|believe",
            r"looks?|seems?|seemed|appears?|apparently|supposedly|hopefully|as if|like|assume|suppose|suspect|imagine",
            r"says?|said|told|know|hear|heard|dream\w*|recipe|pretend\w*|joking|kidding|wondering",
            r"last (?:week|month|year|time)|usually|normally|always|often|every (?:day|time|week)|used to",
            r"her|his|their|your|everything|both|the lot",
        ),
    ),
)
"""The first that fits counts."""

ASIDE = re.compile(
    r"\b" + either(
        "when, once, after, before, if, unless, as soon as, until, while, because, since, so that, in case"
        ", whenever, instead of, rather than, than, as long as, provided"
    ) + r"\b(?! (?:about |around )?(?:CLOCK|DAY|PART|LEN|AHEAD|AGO))"
)  # fmt: skip
"""From here on a clause speaks of something else than what it reports."""


def mood_of(text: str) -> Mood:
    return next((mood for mood, pattern in MOODS if pattern.search(text)), Mood.FACT)
