"""Limits on cooling and on standing out, in words, for the chat and the command line alike."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta
from itertools import pairwise

from scheduler import words
from scheduler.domain.kitchen.holding import Limit, Miss, Verdict
from scheduler.domain.kitchen.rules import CoolingLimit, OutLimit, Rules
from scheduler.domain.kitchen.written import degrees, in_hours

Brief = tuple[str, datetime]
"""The zone whose clock is read, and the present."""


def moment(at: datetime, here: Brief) -> str:
    """ "16:00" today, otherwise with its day."""
    zone, now = here
    return words.brief(at, zone, now)


# ---------------------------------------------------------------- what the rules say


def stages(limits: Sequence[CoolingLimit]) -> list[str]:
    """The stages of each document on a line: "57 C to 21 C within 2 h, to 5 C within 6 h in all (...)"."""
    documents = dict.fromkeys(limit.source for limit in limits)
    return [
        f"{_joined([limit for limit in limits if limit.source == source])} ({source})" for source in documents
    ]


def first_document(limits: Sequence[CoolingLimit]) -> str:
    """The stages of the first document, without its name."""
    return _joined([limit for limit in limits if limit.source == limits[0].source])


def _joined(limits: Sequence[CoolingLimit]) -> str:
    said = [str(limits[0])]
    for before, limit in pairwise(limits):
        then = f"to {degrees(limit.to_c)} within {in_hours(limit.within)}"
        said.append(f"then {then}" if limit.from_c == before.to_c else f"{then} in all")
    return ", ".join(said)


def allowances(limits: Sequence[OutLimit]) -> list[str]:
    """How long food may stand out by each document, on a line each."""
    return [f"{limit} ({_where(limit)})" for limit in limits]


def _where(limit: OutLimit | Limit) -> str:
    return f"{limit.source}; {limit.but}" if limit.but else str(limit.source)


def counted_from(rules: Rules) -> str:
    """Since when food that stands out has been out."""
    return (
        f"Time counts from when it was last at {degrees(rules.hot_c)} or above, or {degrees(rules.cold_c)} or below, "
        "raw or cooked"
    )


def from_cold(rules: Rules, lasted: timedelta = timedelta(0)) -> list[str]:
    """How much longer food may stand out of which readings show that it never got warm, if it was no longer yet."""
    return [
        f"{in_hours(limit.within)} from cold, if readings show it never got above {degrees(limit.max_c)} "
        f"({limit.source})"
        for limit in rules.standing_cold
        if limit.max_c is not None and lasted <= limit.within
    ]


def reheating(rules: Rules) -> list[str]:
    """How food is heated up again that is to be held hot, and where that is told."""
    heat, source = degrees(rules.reheat_c), rules.reheating
    return [
        f"every part to {heat} for {words.length(rules.reheat_for)}, within {in_hours(rules.reheat_within)} "
        f"from the cold, to hold it hot afterwards ({source})",
        f"by microwave to {heat} all through, then covered for {words.length(rules.microwave_stand)} ({source})",
        f"ready-to-eat food that a food plant packed: to {degrees(rules.reheat_packaged_c)} ({source})",
    ]


# ---------------------------------------------------------------- how a clock stands


def by_when(limits: Sequence[Limit], here: Brief) -> str:
    """The limits to come: "21 C by 16:00 and 5 C by 20:00", or "eaten or thrown away by 18:00"."""
    said = [
        f"{degrees(limit.to_c)} by {moment(limit.at, here)}" for limit in limits if limit.to_c is not None
    ]
    if not said and limits:
        return f"eaten or thrown away by {moment(limits[0].at, here)}"
    return words.listed(said)


def out_lines(limits: Sequence[Limit], found: Verdict, here: Brief) -> list[str]:
    """Each limit on standing out, with how long is left of it or since when it is over, and what it says then."""
    missed = {miss.limit for miss in found.missed}
    return [f"{_allows(limit)}: {_stands(limit, limit in missed, here)}" for limit in limits]


def _allows(limit: Limit) -> str:
    return f"{limit.rule.removeprefix('out for ')} ({_where(limit)})"


def _stands(limit: Limit, missed: bool, here: Brief) -> str:
    at = moment(limit.at, here)
    if missed:
        return f"over since {at}, so {limit.then.says}"
    left = words.length(limit.at - here[1])
    return f"{limit.says} by {at}, in {left}" if limit.at > here[1] else f"{limit.says} now"


def missed_lines(found: Verdict, here: Brief) -> list[str]:
    """The last stage of each document that was not met, or not shown to be, and what the rule says then."""
    last = {miss.limit.source: miss for miss in found.missed}
    return [_missed(miss, here) for miss in last.values()]


def _missed(miss: Miss, here: Brief) -> str:
    limit = miss.limit
    asked = f"{degrees(limit.to_c or 0.0)} by {moment(limit.at, here)}"
    how = "was not met" if miss.shown else "was not shown by a reading"
    return f"{asked} {how} ({limit.source}): {limit.then.says}"


def capital(text: str) -> str:
    return text[:1].upper() + text[1:]
