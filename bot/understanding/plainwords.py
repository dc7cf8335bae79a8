"""What was typed or dictated, as plain lower-case words: short forms in full, numbers in figures."""

from __future__ import annotations

import re
import unicodedata

from bot.understanding.lexicon import CLOSERS, OPENERS, SHORT_FORMS, TENS_IN_WORDS, UNITS_IN_WORDS

LONGEST = 500
"""Characters that are read; nobody says more with wet hands, and time to read stays bounded."""

SIGNS = {
    "’": "'", "‘": "'", "`": "'", "´": "'", "ʼ": "'", "–": ", ", "—": ", ", "…": ", ", "&": " and ",
    "@": " at ", "✅": " done ", "✔": " done ", "☑": " done ", "✓": " done ", "👍": " ok ", "👌": " ok ",
    "🙏": " thanks ", "°": " degrees ", "º": " degrees ", "℃": " degrees c ", "℉": " degrees f ",
    "½": " 1/2 ", "¼": " 1/4 ", "¾": " 3/4 ", "!": ".", "(": ", ", ")": ", ", "\n": ". ", "~": " about ",
}  # fmt: skip

REWRITES = tuple(
    (re.compile(pattern), becomes)
    for pattern, becomes in (
        (r"(\d)\s?([ap])\.?\s?m\b\.?", r"\1 \2m"),
        (r"\b(\d{1,2})(?:st|nd|rd|th)\b", r"\1"),
        (r"\bo'\s?clock|\bo clock", "oclock"),
        (r"\blet's\b", "let us"),
        (r"\bcan't\b|\bcan not\b", "can not"),
        (r"\bwon't\b", "will not"),
        (r"\bshan't\b", "shall not"),
        (r"n't\b", " not"),
        (r"\b'em\b", " them"),
        (r"(\w+)in'(?=\s|$)", r"\1ing"),
        (r"'s\b", " is"),
        (r"'re\b", " are"),
        (r"'ve\b", " have"),
        (r"'ll\b", " will"),
        (r"'d\b", " had"),
        (r"'m\b", " am"),
        (r"\bw/o\b", "without"),
        (r"\bw/", "with "),
        (r"\bpre[- ](?=heat|bake|soak|shap)", "pre"),
        (r"(?<=[a-z])[-_](?=[a-z0-9])|(?<=\d)-(?=[a-z])", " "),
        (r"'", ""),
        (r"([a-z])\1{2,}", r"\1"),
        (r"[^\w\s.,:;?/%+-]|_", " "),
        (r"\s+", " "),
        (r"(?<=[a-z])(?=\d)|(?<=\d)(?=ish\b)", " "),
    )
)

COUNTS = tuple(
    (re.compile(pattern), becomes)
    for pattern, becomes in (
        (r"\b(?:a )?couple(?: of)?\b(?= (?:more )?(?:hour|min|day|sec))", "2"),
        (r"\b(?:a )?dozen\b", "12"),
        (r"\b(\d+) and a half\b", r"\1.5"),
        (r"\b(\d+) 1/2\b", r"\1.5"),
        (r"\b1/2\b", "half"),
    )
)

_UNIT = {word: number for number, word in enumerate(UNITS_IN_WORDS)}
_NUMBER = re.compile(
    rf"\b(?:({'|'.join(TENS_IN_WORDS)})(?: ({'|'.join(UNITS_IN_WORDS[1:10])}))?"
    rf"|({'|'.join(word for word in reversed(UNITS_IN_WORDS) if word != 'one')}))\b"
)
_ONE = re.compile(
    r"\bone(?= (?:hour|min|day|week|oclock|am|pm|thirty|fifteen|forty|more (?:hour|min)|and a half|or so)\b)"
    r"|(?<=\bat )one\b|(?<=\buntil )one\b|(?<=\bby )one\b|(?<=\bpast )one\b|(?<=\bto )one$|(?<=\bhalf )one\b"
)
"""Where "one" is a number rather than "this one"."""


def plain(text: str) -> str:
    """`text` in plain words: lower case, no apostrophes, "20:15" and "3.9" kept, "." "," "?" left in."""
    said = text[:LONGEST]
    for sign, words in SIGNS.items():
        said = said.replace(sign, words)
    said = unicodedata.normalize("NFKC", said).lower()[: 2 * LONGEST]
    for pattern, becomes in REWRITES:
        said = pattern.sub(becomes, said)
    said = re.sub(r"[a-z0-9]+", lambda found: SHORT_FORMS.get(found[0], found[0]), said)
    return re.sub(r"\s+", " ", _in_figures(said)).strip(" .,;:")


def _in_figures(said: str) -> str:
    said = _ONE.sub("1", _NUMBER.sub(_figure, said))
    for pattern, becomes in COUNTS:
        said = pattern.sub(becomes, said)
    return said


def _figure(found: re.Match[str]) -> str:
    tens, unit, alone = found.groups()
    if alone is not None:
        return str(_UNIT[alone])
    return str(TENS_IN_WORDS[tens] + (_UNIT[unit] if unit else 0))


_OPENER = re.compile(
    rf"^(?:(?:{'|'.join(OPENERS)}|by the way|guess what|just so you know|good news|bad news|heads up"
    r"|just to (?:say|let you know)|(?:can|could) you tell me|i was wondering|quick question|now then)\b"
    r"[ ,.:;]+)+(?=\S)"
)
_NOD = re.compile(r"^(?:great|good|cool|nice|perfect|lovely|thanks|thank you|cheers|now|and|but|then)[,.] ")
_CLOSER = re.compile(rf"[ ,.]+(?:{'|'.join(CLOSERS)}|thank you|for now)(?=[ ,.?]*$)")


def bare(said: str) -> str:
    """Plain words without what is said only to begin or to be polite; as they are if nothing is left."""
    for pattern in (_OPENER, _NOD, _OPENER, _CLOSER, _CLOSER):
        said = pattern.sub("", said).strip(" .,;:") or said
    return re.sub(r"\bplease ", "", said)
