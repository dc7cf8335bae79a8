"""Commands that begin with a stroke, as chat programs offer them in a menu; words of greeting and for ways out."""

from __future__ import annotations

from scheduler.commands import Command, Understood

COMMANDS = {
    "start": Understood(Command.HELP),
    "help": Understood(Command.HELP),
    "next": Understood(Command.NEXT),
    "today": Understood(Command.DAY, detail="today"),
    "tomorrow": Understood(Command.DAY, detail="tomorrow"),
    "plan": Understood(Command.PLAN),
    "undo": Understood(Command.UNDO),
    "stop": Understood(Command.STOP, confirm=True),
    "shop": Understood(Command.SHOP),
    "timers": Understood(Command.TIMER),
    "quiet": Understood(Command.QUIET),
}

GREETINGS = frozenset({"hello", "hi", "hey", "good morning", "good evening", "good afternoon", "hello there"})

WAYS_OUT = frozenset(
    {"other ways", "another way", "other way", "more ways", "any other way", "any other ways", "other options",
     "more options", "what other ways are there", "are there other ways", "are there any other ways",
     "is there another way", "is there any other way", "what would fit", "what would help",
     "show me other ways", "show other ways", "show the other ways", "ways out", "is there a way out"}
)  # fmt: skip
"""Asks what would make a meal fit."""

WHAT_ELSE = frozenset(
    {"what else", "what else could i do", "what else can i do", "what else could we do", "what else can we do",
     "what could i do", "what can i do", "what could we do", "what can we do", "what are my options",
     "what are the options", "options", "alternatives", "any alternatives", "any other ideas",
     "what can i change", "what could i change", "how can it fit", "how could it fit", "anything else"}
)  # fmt: skip
"""Asks the same where it was just said that a meal does not fit, and may mean anything elsewhere."""


def command_in(text: str) -> Understood | None:
    """What "/next" or "/next@name" asks for; None for anything else, and for a command there is not."""
    first, *rest = text.strip().casefold().split(maxsplit=1) or [""]
    if not first.startswith("/") or rest:
        return None
    return COMMANDS.get(first[1:].partition("@")[0])


def is_command(text: str, name: str) -> bool:
    """Whether the text is that command, with or without its stroke."""
    return text.strip().casefold().removeprefix("/").partition("@")[0].strip(" .!?") == name
