"""How many there are at the table, in a cook's words: "we are ten now", "2 more are coming"."""

from __future__ import annotations

import re

PEOPLE = r"(?:people|guests?|persons?|eaters|diners|friends|visitors|mouths|adults|of us|of them|at (?:the )?table)"
SOON = (
    r"(?:now|then|today|tonight|tomorrow|instead(?: of \d+)?|in all|in total|altogether|after all|for (?:dinner|supper"
    r"|lunch|brunch|breakfast|the meal)|coming|eating|at (?:the )?table|on (?:mon|tues|wednes|thurs|fri|satur|sun)day)"
)
LEADING = r"(?:(?:so|ok|and|now|it turns out|turns out|looks like|actually|oh)[ ,]+)*"
ONE = r"(?P<by>\d{1,4}|an?|one|another)"
IS = r"(?:is|are|will be|has|have)"

SO_MANY = tuple(
    re.compile(rf"{LEADING}{pattern}(?: {SOON})*")
    for pattern in (
        rf"we (?:are|will be|are going to be) (?:{SOON} )?(?:only |just )?(?P<all>\d{{1,5}})(?: {PEOPLE})?",
        rf"there (?:are|will be|are going to be) (?:{SOON} )?(?:only |just )?(?P<all>\d{{1,5}}) {PEOPLE}",
        rf"(?:it|that|dinner|supper|lunch) (?:is|will be) (?:now )?(?:for )?(?P<all>\d{{1,5}}) {PEOPLE}",
        rf"(?P<all>\d{{1,5}}) (?:people|guests|of us)(?: {IS})?(?: coming| eating)?",
        r"(?:we|i) (?:are cooking|am cooking|have to cook|need to cook|cook|must cook)"
        rf" for (?P<all>\d{{1,5}})(?: {PEOPLE})?",
        rf"(?:cook|cooking|make enough|enough) for (?P<all>\d{{1,5}})(?: {PEOPLE})?",
        rf"(?:make (?:it|that|everything)|plan|dinner|supper|lunch|brunch|meal) for (?P<all>\d{{1,5}}) {PEOPLE}",
        rf"make (?:it|that) (?P<all>\d{{1,5}})(?: {PEOPLE})",
        r"(?:scale|change|set|adjust) (?:it|that|everything|the (?:plan|meal|amounts|recipe|supper|dinner)|all)"
        rf" (?:up |down )?(?:to|for)(?: serve)? (?P<all>\d{{1,5}})(?: {PEOPLE})?",
        r"scale (?:it|that|everything|the (?:plan|meal|amounts|recipe|supper|dinner)|all)"
        rf" (?:up |down )?from \d{{1,5}} to (?P<all>\d{{1,5}})(?: {PEOPLE})?",
    )
)
"""How many in all."""

MORE = tuple(
    re.compile(rf"{LEADING}{pattern}(?: {SOON})*")
    for pattern in (
        rf"{ONE} (?:more|extra|additional|other) (?:{PEOPLE} )?(?:is|are|will be) (?:coming|joining(?: us)?|eating)",
        rf"(?:we have|we have got|there (?:is|are|will be)|expect|i invited|we invited)"
        rf" {ONE} (?:more|extra|additional) {PEOPLE}",
        rf"{ONE} (?:more|extra|additional) {PEOPLE}",
        rf"{ONE} {PEOPLE} more",
        rf"{ONE} {PEOPLE} (?:is|are|will be) (?:coming|joining(?: us)?) (?:too|as well|also)",
        r"(?P<by>another)(?: (?P<two>\d{1,4}))?"
        rf"(?: {PEOPLE}| (?:{PEOPLE} )?(?:is|are|will be) (?:coming|joining(?: us)?)(?: too| as well)?)",
    )
)
"""So many more."""

CANCELLED = (
    r"(?:(?:has|have|just) )*(?:cancel+ed|dropped out|pulled out|bailed|backed out|called off|declined)"
    r"|(?:is|are|will) not (?:be )?(?:coming|joining|make it|come|join us|able to (?:come|make it))"
    r"|can not (?:come|make it|join us|be there)|do not come"
)
FEWER = tuple(
    re.compile(rf"{LEADING}{pattern}(?: {SOON})*")
    for pattern in (
        rf"{ONE} (?:of (?:the|our|my) )?(?:{PEOPLE} )?(?:{CANCELLED})",
        rf"(?:there (?:is|are|will be) |we (?:are|will be) |we have )?{ONE} (?:fewer|less) {PEOPLE}",
        rf"(?:there (?:is|are|will be) |we (?:are|will be) |we have )?{ONE} {PEOPLE} (?:fewer|less)",
        rf"{ONE} (?:fewer|less) (?:{PEOPLE} )?(?:is|are|will be) (?:coming|eating)",
    )
)
"""So many fewer."""


NUMBER = re.compile(r"\d|\b(?:an?|one|another)\b")
"""What is in any of these words; whether it is about people `so_many` says."""


def so_many(words: str) -> str:
    """ "10" at the table, "+2" or "-1" more or fewer than before; "" where nothing of the kind is said.

    `words` are plain words with their figures in them.
    """
    said = words.replace(",", " ").replace(".", " ")
    said = " ".join(said.split())
    for pattern in SO_MANY:
        if found := pattern.fullmatch(said):
            return str(int(found["all"]))
    for sign, patterns in (("+", MORE), ("-", FEWER)):
        for pattern in patterns:
            if found := pattern.fullmatch(said):
                return f"{sign}{_number(found)}"
    return ""


def _number(found: re.Match[str]) -> int:
    """ "another 2" is two, "another" one."""
    said = found.groupdict().get("two") or found["by"]
    return int(said) if said.isdigit() else 1
