"""Limits and rules as plain data, for programs: temperatures in C, lengths in minutes, moments with their offset."""

from __future__ import annotations

from typing import Any

from scheduler.domain import hours
from scheduler.domain.kitchen.holding import Limit, Miss
from scheduler.domain.kitchen.rules import CoolingLimit, OutLimit, Rules
from scheduler.domain.plan import MINUTE


def of_limit(limit: Limit, zone: str) -> dict[str, Any]:
    return {
        "at": hours.local(limit.at, zone).isoformat(),
        "to_c": limit.to_c,
        "max_c": limit.max_c,
        "says": limit.says,
        "rule": limit.rule,
        "source": str(limit.source),
        "how": limit.source.how.value,
        "hard": limit.hard,
    }


def of_miss(miss: Miss, zone: str) -> dict[str, Any]:
    return of_limit(miss.limit, zone) | {
        "minutes_over": miss.by / MINUTE,
        "shown": miss.shown,
        "then": miss.limit.then.says,
    }


def figures(rules: Rules) -> dict[str, Any]:
    """A set of rules."""
    return {
        "edition": rules.edition,
        "source": str(rules.source),
        "how": rules.source.how.value,
        "cooling": [_of_cooling(limit) for limit in rules.cooling],
        "ambient": [_of_cooling(limit) for limit in rules.ambient],
        "out": [_of_out(limit) for limit in rules.standing],
        "out_cold": [_of_out(limit) for limit in rules.standing_cold],
        "hot_c": rules.hot_c,
        "hot_roast_c": rules.hot_roast_c,
        "cold_c": rules.cold_c,
        "reheat_c": rules.reheat_c,
        "reheat_seconds": rules.reheat_for.total_seconds(),
        "reheat_microwave_stand_minutes": rules.microwave_stand / MINUTE,
        "reheat_packaged_c": rules.reheat_packaged_c,
        "reheat_within_minutes": rules.reheat_within / MINUTE,
    }


def _of_cooling(limit: CoolingLimit) -> dict[str, Any]:
    within = limit.within / MINUTE
    return {"from_c": limit.from_c, "to_c": limit.to_c, "within_minutes": within} | _whence(limit)


def _of_out(limit: OutLimit) -> dict[str, Any]:
    return {"within_minutes": limit.within / MINUTE, "max_c": limit.max_c} | _whence(limit)


def _whence(limit: CoolingLimit | OutLimit) -> dict[str, Any]:
    return {"then": limit.then.says, "source": str(limit.source), "how": limit.source.how.value}
