"""The command line: what each command takes. The doing is in `bot.commands`, imported when it is needed."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from bot.sums import SUMS, sum_named

if TYPE_CHECKING:
    from bot.wiring import Wiring

FITS, MISFIT, WRONG = 0, 1, 2


def parser() -> argparse.ArgumentParser:
    top = argparse.ArgumentParser(
        prog="crockbell",
        description="A kitchen timer for meals that take days: works a plan back from the serving hour, "
        "and says what to do when the moment comes.",
    )
    commands = top.add_subparsers(dest="command", required=True, metavar="COMMAND")
    for name, text in PLAN_COMMANDS.items():
        _with_plan(commands.add_parser(name, help=text, description=text.capitalize() + "."), name)
    for name, text in CHAT_COMMANDS.items():
        sub = commands.add_parser(name, help=text, description=text.capitalize() + ".")
        sub.add_argument("--db", metavar="FILE", help="where to keep everything (SQLite)")
    for name, text in SUMS.items():
        sub = commands.add_parser(name, help=text, description=text.capitalize() + ".")
        sum_named(name).arguments(sub)
        sub.add_argument("--json", action="store_true", help="print JSON")
    text = "print the JSON Schema of plan files, for editors"
    commands.add_parser("schema", help=text, description=text.capitalize() + ".")
    _understand(commands)
    return top


PLAN_COMMANDS = {
    "check": "say whether a plan fits, and when each step is",
    "why": "say why a step is when it is",
    "rehearse": "live through a plan in simulated time and print the chat",
    "draw": "draw the timetable as a picture",
    "calendar": "write the timetable as an iCalendar file",
    "shop": "list what to buy, by day",
}

CHAT_COMMANDS = {
    "chat": "talk to Crockbell here in the terminal",
    "serve": "talk on Telegram (token in CROCKBELL_TOKEN)",
}


def _with_plan(sub: argparse.ArgumentParser, name: str) -> None:
    sub.add_argument("plan", metavar="PLAN", help="a plan file, or the name of a bundled plan")
    if name == "why":
        sub.add_argument("step", metavar="STEP", help="the step, by its name or the beginning of it")
    sub.add_argument("--serves", metavar="N", help="scale every amount for so many at the table")
    _moments(sub)
    _wishes(sub)
    if name in ("check", "why", "rehearse", "shop"):
        sub.add_argument("--json", action="store_true", help="print JSON")
    if name == "rehearse":
        sub.add_argument("--cook", choices=["on-time", "late", "silent"], default="on-time")
    if name in ("draw", "calendar"):
        sub.add_argument("-o", "--output", metavar="FILE", required=True, help="the file to write")


def _moments(sub: argparse.ArgumentParser) -> None:
    sub.add_argument("--serve", metavar="WHEN", help='the serving hour, such as "2026-12-12 19:30"')
    sub.add_argument("--now", metavar="WHEN", help="take this as the present, in the plan's zone")
    sub.add_argument("--zone", help="your time zone, where the plan names none")
    sub.add_argument("--awake", default="07:00-22:30", help="your waking hours, where the plan names none")


def _wishes(sub: argparse.ArgumentParser) -> None:
    sub.add_argument(
        "--when",
        metavar="HOURS",
        help='take the first serving hour in these that fits, such as "sat or sun, 12:00-14:00 or 18:00-21:00"; '
        "days may be sat, mon-fri, weekdays, weekend, 2026-12-12 or 2026-12-24 to 2026-12-26; days alone mean "
        "any hour from 06:00 to midnight at which someone is awake and at home, hours alone mean every day",
    )
    sub.add_argument(
        "--comfortable",
        action="store_true",
        help="take the most comfortable of the hours that fit in two weeks from the first, not the first; "
        "where no hours are named, of 11:00-14:00 and 18:00-21:00",
    )


def _understand(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    text = "say what a reply would be taken to mean"
    sub = commands.add_parser("understand", help=text, description=text.capitalize() + ".")
    sub.add_argument("text", metavar="TEXT", help="the reply")
    sub.add_argument("--plan", metavar="PLAN", help="the plan it is said about")
    sub.add_argument("--asked", metavar="STEP", help="the step last asked about")
    _moments(sub)
    sub.add_argument("--json", action="store_true", help="print JSON")


def run(argv: Sequence[str] | None, wiring: Callable[[], Wiring]) -> int:
    """Run one command on what `wiring` puts together.

    The exit code: 0 it fits, 1 no timetable fits, 2 the file or the command is wrong.
    """
    options = parser().parse_args(argv)
    from bot import commands
    from bot.config import BadSettings
    from bot.sums.told import WrongFigure

    try:
        return commands.COMMANDS[options.command](options, wiring())
    except (commands.WrongUse, BadSettings, WrongFigure) as error:
        print(error, file=sys.stderr)
        return WRONG
