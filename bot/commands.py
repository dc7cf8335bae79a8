"""What the commands do. Each takes its options and the wiring, and returns its exit code."""

from __future__ import annotations

import argparse
import json
import sys
import zoneinfo
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from importlib import resources
from pathlib import Path

from bot import serving_hour
from bot.cli import FITS, MISFIT
from bot.config import BadSettings
from bot.sums import SUMS, Here, by_options
from bot.sums.scale import for_those_there
from bot.wiring import NoDatabase, Wiring
from scheduler.domain import hours
from scheduler.domain.plan import NO_TIME, Plan
from scheduler.domain.timetable import Timetable
from scheduler.explain import Misfit
from scheduler.planfile import BadPlan, read, schema
from scheduler.planfile import text as plantext
from scheduler.planning import time_out, ways_out


class WrongUse(ValueError):
    """A file or an option that cannot be used; the text is for the person who gave it."""


Options = argparse.Namespace
Command = Callable[[Options, Wiring], int]


# ---------------------------------------------------------------- reading what was given


def source_of(name: str) -> bytes:
    """The bytes of a plan file, or of the bundled plan of that name."""
    path = Path(name)
    if path.is_file():
        try:
            return path.read_bytes()
        except OSError as error:
            raise WrongUse(f"{name}: {error.strerror}") from error
    bundled = resources.files("bot") / "plans"
    known = sorted(
        entry.name.removesuffix(".yaml") for entry in bundled.iterdir() if entry.name.endswith(".yaml")
    )
    wanted = name.removesuffix(".yaml")
    if wanted in known:
        return (bundled / f"{wanted}.yaml").read_bytes()
    raise WrongUse(f"there is no file {name}; bundled plans: {', '.join(known)}")


def zone_of(options: Options) -> str:
    """The cook's zone: the one given, or else the machine's."""
    if options.zone:
        return _zone(str(options.zone))
    from tzlocal import get_localzone_name

    return get_localzone_name()


def _zone(name: str) -> str:
    try:
        hours.zone_named(name)
    except (zoneinfo.ZoneInfoNotFoundError, ValueError) as error:
        raise WrongUse(f"--zone {name!r}: expected a time zone such as Europe/Paris") from error
    return name


def awake_of(options: Options) -> str:
    """The cook's waking hours, as a plan file has them."""
    try:
        plantext.weekly_hours(options.awake)
    except plantext.TextError as error:
        raise WrongUse(f"--awake {options.awake!r}: {error}") from error
    return str(options.awake)


def plan_of(options: Options) -> Plan:
    """The plan given, with its serving hour as asked for."""
    try:
        plan = read(source_of(options.plan), zone=zone_of(options), awake=awake_of(options))
    except BadPlan as error:
        lines = [f"{options.plan}: {problem}" for problem in error.problems]
        raise WrongUse("\n".join(lines)) from error
    plan = for_those_there(plan, getattr(options, "serves", None))
    return replace(plan, serve=moment("--serve", options.serve, plan.zone)) if options.serve else plan


def now_of(options: Options, zone: str, wiring: Wiring) -> datetime:
    """The present: as given, on the clock of that zone, or else the real one."""
    return moment("--now", options.now, zone) if options.now else wiring.clock.now()


def moment(option: str, text: str, zone: str) -> datetime:
    """The instant that an option names on the clock of a zone."""
    try:
        there = plantext.local_datetime(text)
    except plantext.TextError as error:
        raise WrongUse(f"{option} {text!r}: {error}") from error
    if not hours.exists(there, zone):
        raise WrongUse(f"{option} {text!r}: there is no such hour in {zone}; the clocks go forward over it")
    return hours.instant(there, zone)


def timing_of(options: Options, wiring: Wiring) -> tuple[Plan, Timetable | Misfit, datetime]:
    """The plan with the serving hour it was given or that was found, its timetable or misfit, the present.

    An hour that was found is told first, but where JSON is wanted.
    """
    plan = plan_of(options)
    now = now_of(options, plan.zone, wiring)
    try:
        wish = serving_hour.wish_of(options, plan)
        timing = serving_hour.found(wish, plan, now)
    except serving_hour.BadWish as error:
        raise WrongUse(str(error)) from error
    if isinstance(timing, Misfit):
        timing = ways_out(timing, plan, now, lead=NO_TIME)
    if not getattr(options, "json", False):
        print("".join(f"{line}\n" for line in serving_hour.lines(wish, plan, timing, now)), end="")
    return replace(plan, serve=timing.serve), timing, now


# ---------------------------------------------------------------- commands about a plan


def check(options: Options, wiring: Wiring) -> int:
    from bot import report

    plan, timing, now = timing_of(options, wiring)
    if options.json:
        print(json.dumps(report.as_json(plan, timing, now), indent=2, ensure_ascii=False))
    else:
        print("\n".join(report.as_text(plan, timing, now)))
    return MISFIT if isinstance(timing, Misfit) else FITS


def why(options: Options, wiring: Wiring) -> int:
    from bot import reasoned, report

    plan = plan_of(options)
    now = now_of(options, plan.zone, wiring)
    try:
        step = reasoned.step_named(plan, options.step, now)
    except reasoned.NotOneStep as error:
        raise WrongUse(str(error)) from error
    plan, timing, now = timing_of(options, wiring)
    if isinstance(timing, Misfit):
        if not options.json:
            return _tell_misfit(plan, timing)
        print(json.dumps(report.as_json(plan, timing), indent=2, ensure_ascii=False))
        return MISFIT
    found = reasoned.found_for(plan, timing, step, now)
    text = json.dumps(reasoned.as_json(plan, found), indent=2, ensure_ascii=False)
    print(text if options.json else "\n".join(reasoned.as_text(plan, found)))
    return FITS


def rehearse(options: Options, wiring: Wiring) -> int:
    from bot import rehearsal, script
    from bot.simulated_cook import CookKind

    plan = plan_of(options)
    if plan.serve is None or options.when or options.comfortable or options.now:
        plan, timing, now = timing_of(options, wiring)
        serve = timing.serve
    else:
        serve = plan.serve
        now = rehearsal.good_start(plan, serve)
    told = rehearsal.Told(source_of(options.plan), serve, zone_of(options), awake_of(options), plan.serves)
    lines = rehearsal.rehearse(plan, told, now, CookKind(options.cook), wiring)
    printed = (script.as_json(line, plan.zone) for line in lines)
    for text in printed if options.json else script.as_chat(lines, plan.zone):
        print(text)
    return MISFIT if isinstance(time_out(plan, serve, now), Misfit) else FITS


def draw(options: Options, wiring: Wiring) -> int:
    from bot.picture import draw as drawn

    plan, timing, now = timing_of(options, wiring)
    if isinstance(timing, Misfit):
        return _tell_misfit(plan, timing)
    form = Path(options.output).suffix.lower().lstrip(".")
    if form not in ("png", "svg"):
        raise WrongUse(f"{options.output}: pictures are written as .png or .svg")
    return _write(options.output, drawn(plan, timing, now=now, form="png" if form == "png" else "svg"))


def calendar(options: Options, wiring: Wiring) -> int:
    from bot.calendar import calendar as written

    plan, timing, now = timing_of(options, wiring)
    if isinstance(timing, Misfit):
        return _tell_misfit(plan, timing)
    return _write(options.output, written(plan, timing, stamp=now))


def shop(options: Options, wiring: Wiring) -> int:
    from bot import shopping

    plan, timing, now = timing_of(options, wiring)
    if isinstance(timing, Misfit):
        return _tell_misfit(plan, timing)
    trips = shopping.trips(plan, timing, now)
    text = json.dumps(shopping.as_json(trips, plan), indent=2, ensure_ascii=False)
    print(text if options.json else "\n".join(shopping.as_text(trips, plan)))
    return FITS


def _tell_misfit(plan: Plan, misfit: Misfit) -> int:
    from bot import report

    print("\n".join(report.as_text(plan, misfit)))
    return MISFIT


def _write(path: str, content: bytes) -> int:
    try:
        Path(path).write_bytes(content)
    except OSError as error:
        raise WrongUse(f"{path}: {error.strerror}") from error
    print(f"wrote {path}")
    return FITS


def print_schema(options: Options, wiring: Wiring) -> int:
    print(json.dumps(schema(), indent=2, ensure_ascii=False))
    return FITS


# ---------------------------------------------------------------- understanding


def understand(options: Options, wiring: Wiring) -> int:
    from bot import trying

    print(trying.tried(options, wiring))
    return FITS


# ---------------------------------------------------------------- chats


def chat(options: Options, wiring: Wiring) -> int:
    from bot.sitting import sit

    return _with_database(lambda: sit(options.db, wiring, sys.stdin, sys.stdout))


def serve(options: Options, wiring: Wiring) -> int:
    from bot.serving import serve as serving

    return _with_database(lambda: serving(options.db, wiring))


def _with_database(run: Callable[[], int]) -> int:
    try:
        return run()
    except (NoDatabase, BadSettings) as error:
        raise WrongUse(str(error)) from error


# ---------------------------------------------------------------- the sums of the trade


def work_out(options: Options, wiring: Wiring) -> int:
    """A one-off question; what a published limit rules out ends with the code of a misfit."""
    from bot.config import rules_set

    def here() -> Here:
        zone = zone_of(options)
        return Here(now_of(options, zone, wiring), zone, rules_set())

    told = by_options(options.command, options, here)
    text = json.dumps(told.facts, indent=2, ensure_ascii=False)
    print(text if options.json else "\n".join((told.heading, *told.lines)))
    return MISFIT if told.refused else FITS


COMMANDS: dict[str, Command] = {
    "check": check,
    "why": why,
    "rehearse": rehearse,
    "draw": draw,
    "calendar": calendar,
    "shop": shop,
    **dict.fromkeys(SUMS, work_out),
    "schema": print_schema,
    "understand": understand,
    "chat": chat,
    "serve": serve,
}
