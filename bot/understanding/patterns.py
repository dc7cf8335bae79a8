"""Small helpers with which patterns of everyday talk are written down."""

from __future__ import annotations

import re


def listed(words: str) -> tuple[str, ...]:
    """The words of a text, for tables that are easier to read without their quotation marks."""
    return tuple(words.split())


def either(phrases: str) -> str:
    """One of the phrases, which are set apart by commas: "done, all done" -> (?:done|all done)."""
    return "(?:" + "|".join(phrase.strip() for phrase in phrases.split(",")) + ")"


def run_of(phrases: str) -> str:
    """Any number of the phrases, one at least, set apart by spaces, commas and stops.

    The longest that fits is taken and never given back, so that reading time grows only with the text.
    """
    longest_first = sorted((phrase.strip() for phrase in phrases.split(",")), key=len, reverse=True)
    return rf"(?:(?>{'|'.join(longest_first)})(?:[ ,.]+|$))++"


def spoken(*alternatives: str) -> re.Pattern[str]:
    """Any of the alternatives, as whole words, anywhere in the text."""
    return re.compile(r"\b(?:" + "|".join(alternatives) + r")\b")


def whole(*alternatives: str) -> re.Pattern[str]:
    """The whole text is one of the alternatives."""
    return re.compile(r"^(?:" + "|".join(alternatives) + r")$")


BODY = "my " + either(
    "hands?, fingers?, thumbs?, arms?, tongue, lips?, foot, feet, toes?, back, heart, head, eyes?, hair, face, neck"
    ", glasses, phone"
)
"""What cooks burn, dry and strain besides their food."""

MEAL = either(
    "eat, eating, dine, serve, serving, dinner, supper, lunch, brunch, meal, breakfast, feast, food"
)
"""Words for eating together, by which the serving hour is meant."""
