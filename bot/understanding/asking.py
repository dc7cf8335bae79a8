"""Whether plain words ask something. What asks never marks anything."""

from __future__ import annotations

import re

from bot.understanding.kitchenwords import ACTIONS
from bot.understanding.patterns import either, spoken

BEGINS = r"^(?:(?:and|but|so|also|ok) )*"

WHO_WHAT = re.compile(
    BEGINS
    + either("what, when, why, how, who, where, which, whose, any, anything, anyone, is there, are there")
    + r"\b(?! (?:i|we) (?:get|got|am|finish|come|came|was)\b)"
)  # fmt: skip

TOLD_AFTER_IS = either(
    r"done, finished, ready, in\b, out\b, on\b, off\b, now, just, already, not\b, all (?:done|in|out), being"
    r", going, also, (?!(?:any|every|some|no)thing|morning|evening)\w+ing\b, \w+ed\b, fed, put, set, cut, ground"
)
TOLD_AFTER_HAVE = either(
    r"to\b, done, been, just, already, now, finished, started, put, fed, begun, not\b, \w+ed\b, got\b, gone"
    r", taken, set, cut, ground, skipped"
)
TOLD_AFTER_DID = either(
    r"it\b, that\b, the\b, this\b, them\b, those\b, these\b, all\b, both\b, my\b, our\b, an?\b, some\b"
    r", another\b, (?!(?:any|every|some|no)thing|morning|evening)\w+ing\b, not\b, everything\b, two\b, \d, [A-Z]"
)
"""What follows the verb where the cook has only left out "I": "did the beans", "have fed it", "is done"."""

AN_ACT = f"(?:{'|'.join(ACTIONS)})s?\\b"

INVERTED = re.compile(
    BEGINS + "(?:"
    + "|".join((
        rf"(?:is|are|was|were|am) (?!{TOLD_AFTER_IS})\w",
        r"(?:is|are) (?:not )?(?:it|they|that|this)\b",
        rf"did (?!{TOLD_AFTER_DID}|{AN_ACT})\w+ \w",
        r"did (?:it|that|the (?!first|second|third|last|final|next|morning|evening)[a-z]+(?: [a-z]+)?) "
        r"[a-z]+(?<!now)(?<!already)(?<!too)(?<!both)$",
        rf"(?:have|has|had) (?!{TOLD_AFTER_HAVE})\w",
        r"do (?:i|we|you|they|the|these|those)\b|does\b",
        r"(?:can|could|should|shall|would|may|might) (?!not\b|to\b|do\b|be\b|have\b)\w|should\b",
        r"(?:will|would) (?:i|we|you|he|she|it|they|the|this|that|there|my|dinner|supper|lunch)\b",
    ))
    + ")"
)  # fmt: skip

NEGATED = re.compile(
    r"^(?:do|did|does|is|are|was|were|have|has|should|could|can|would|will) not "
    r"(?:i|we|you|it|they|the|that|this)\b"
)

WITHIN = spoken(
    "i wonder|wondering|do you know|let me know (?:if|when|whether)",
    "(?:tell|remind) me (?:if|when(?! i\\b)|what|how|whether|why|where)",
    r"(?:not sure|unsure|do not (?:know|remember)|can not remember|no idea|forget) (?:if|whether|when|how)",
    r"any idea|want to know|need to know|curious|asking",
)
"""A question inside a statement."""

TAG = re.compile(
    r"[ ,]+" + either(
        "right, correct, or not, or what, yeah, yes, no, innit, huh, eh, is it, is it not, are they"
        ", are they not, did i, did i not, have i, have i not, has it, do you think"
    ) + "$"
)  # fmt: skip

YET = re.compile(r"^(?!.*\b(?:not|never|no|nobody|nothing)\b).+ yet$")

CONDITION = re.compile(
    r"^when (?:i|we|it is|they are|that is|this is|it has|they have)\b"
    r"|^when (?:the|it|they|that|this|my|our|\w+ (?:is|are|has)\b).*"
    r"(?:,|\b(?:i|we) (?:will|am|are|can)\b|\bthen\b)"
)
""" "When it's risen I'll shape it" asks nothing."""


def is_question(words: str, text: str) -> bool:
    """`words` are plain words with their question mark, `text` the same with times set apart."""
    if "?" in words:
        return True
    if CONDITION.search(text):
        return False
    if any(pattern.search(text) for pattern in (WHO_WHAT, INVERTED, NEGATED, WITHIN)):
        return True
    if TAG.search(text):
        return True
    return bool(YET.search(text))
