"""Commands that begin with a stroke, as chat programs offer them in a menu, and words of greeting."""

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


def command_in(text: str) -> Understood | None:
    """What "/next" or "/next@name" asks for; None for anything else, and for a command there is not."""
    first, *rest = text.strip().casefold().split(maxsplit=1) or [""]
    if not first.startswith("/") or rest:
        return None
    return COMMANDS.get(first[1:].partition("@")[0])


def is_command(text: str, name: str) -> bool:
    """Whether the text is that command, with or without its stroke."""
    return text.strip().casefold().removeprefix("/").partition("@")[0].strip(" .!?") == name
