"""By when food has to be cold, and how long it may stand out: by the published rules, from the cook's own times."""

from __future__ import annotations

import argparse

from bot.sums import Here
from bot.sums.told import Told
from scheduler.domain.plan import Plan

KINDS = {"cooling": "COOLING", "ambient": "AMBIENT", "out": "OUT", "out-cold": "OUT_COLD"}
REHEAT = "reheat"


def arguments(sub: argparse.ArgumentParser) -> None:
    sub.add_argument(
        "--since", metavar="WHEN", help='when it came off the heat, or was taken out, such as "14:00"'
    )
    sub.add_argument(
        "--kind",
        choices=[*KINDS, REHEAT],
        default="cooling",
        help="cooked food cooling (the default), food made at room temperature, food standing neither hot nor cold, "
        "food standing out that stays cool, or how food is heated up again",
    )
    sub.add_argument(
        "--reading",
        metavar="READING",
        action="append",
        default=[],
        help='a temperature of the middle with its time, such as "15:00 38 C"; may be given several times',
    )
    sub.add_argument(
        "--around", metavar="TEMPERATURE", help='what is around it, for a forecast, such as "4 C"'
    )
    sub.add_argument(
        "--rules", metavar="NAME", help="the rules to go by; the stricter of all unless set otherwise"
    )
    sub.add_argument("--list-rules", action="store_true", help="list the rules there are, with their figures")
    sub.add_argument("--now", metavar="WHEN", help="take this as the present")
    sub.add_argument("--zone", help="your time zone")


def of_options(options: argparse.Namespace, here: Here) -> Told:
    from bot.sums import cool_answers, cool_options

    rules = cool_options.rules_of(options, here)
    if options.list_rules:
        return cool_answers.every_rule()
    if options.kind == REHEAT:
        return cool_answers.how_to_reheat(rules)
    clock = cool_options.clock_of(options, here)
    if clock is None:
        return cool_answers.what_the_rules_say(cool_options.kind_of(options), rules)
    return cool_answers.how_it_stands(clock, rules, here, cool_options.around_of(options))


def in_words(said: str, plan: Plan | None, here: Here) -> Told | None:
    from bot.sums import cool_answers, cool_words

    asked = cool_words.asked(said, here)
    if asked is None:
        return None
    if asked.kind is None:
        return cool_answers.how_to_reheat(here.rules)
    if asked.clock is None:
        return cool_answers.what_the_rules_say(asked.kind, here.rules)
    return cool_answers.how_it_stands(asked.clock, here.rules, here)
