"""What is told of food that cools or stands out. It says which published limit is met and which is not, no more."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta
from functools import cached_property
from typing import Any

from bot.sums import Here
from bot.sums.cool_facts import figures, of_limit, of_miss
from bot.sums.told import Told
from bot.wording import limits as put
from scheduler import words
from scheduler.domain import hours
from scheduler.domain.kitchen.hazards import DEFERRAL
from scheduler.domain.kitchen.holding import Clock, Kind, Limit, State, Verdict, limits, verdict
from scheduler.domain.kitchen.pace import FRIDGE_C, ROOM_C, reaches
from scheduler.domain.kitchen.rules import RULES, Rules
from scheduler.domain.kitchen.written import degrees
from scheduler.domain.plan import NO_TIME

FASTER = "Shallow pans, an ice bath and stirring cool it faster (common practice, no source)"
MEASURE = (
    "Counted as if it passed that heat at once: readings of the middle, hot ones too, show when it really did"
)
STANDING = (Kind.OUT, Kind.OUT_COLD)


# ---------------------------------------------------------------- the rules


def every_rule() -> Told:
    """The sets there are: a heading for each, and its figures."""
    lines = [line for rules in RULES.values() for line in _set_of(rules)]
    facts = {"rules": {rules.name: figures(rules) for rules in RULES.values()}}
    return Told("Choose one with --rules or CROCKBELL_RULES:", tuple(lines), facts)


def _set_of(rules: Rules) -> list[str]:
    return [
        f"{rules.name}: {rules.edition}",
        *(f"  cooked, cooling: {line}" for line in put.stages(rules.cooling)),
        *(f"  made at room temperature: {line}" for line in put.stages(rules.ambient)),
        *(f"  neither hot nor cold: {line}" for line in put.allowances(rules.standing)),
        *(f"  taken out cold: {line}" for line in put.allowances(rules.standing_cold)),
        f"  held hot at {degrees(rules.hot_c)} or above, cold at {degrees(rules.cold_c)} or below",
        *(f"  reheated: {line}" for line in put.reheating(rules)),
    ]


def what_the_rules_say(kind: Kind, rules: Rules) -> Told:
    """The limits of a kind of clock that has not begun."""
    first, *others = _lines_of(kind, rules)
    more = [*others, *([FASTER] if kind not in STANDING else _on_standing(kind, rules))]
    facts = {"kind": kind.value, "rules": rules.name, "figures": figures(rules)}
    return Told(f"{put.capital(first)}.", (*_sentences(more), DEFERRAL), facts)


def how_to_reheat(rules: Rules) -> Told:
    """What the rules say of heating food up again."""
    first, *others = _sentences(put.reheating(rules))
    facts = {"kind": "reheating", "rules": rules.name, "figures": figures(rules)}
    return Told(f"Reheat {first[:1].lower()}{first[1:]}", (*others, DEFERRAL), facts)


def _lines_of(kind: Kind, rules: Rules) -> list[str]:
    match kind:
        case Kind.COOLING:
            return put.stages(rules.cooling)
        case Kind.AMBIENT:
            return put.stages(rules.ambient)
        case Kind.OUT:
            return put.allowances(rules.standing)
        case Kind.OUT_COLD:
            return put.allowances(rules.standing_cold)


def _on_standing(kind: Kind, rules: Rules, lasted: timedelta = NO_TIME) -> list[str]:
    return [*(put.from_cold(rules, lasted) if kind is Kind.OUT else []), put.counted_from(rules)]


def _sentences(lines: list[str]) -> list[str]:
    return [f"{put.capital(line)}." for line in lines]


# ---------------------------------------------------------------- a clock


def how_it_stands(clock: Clock, rules: Rules, here: Here, around_c: float | None = None) -> Told:
    """A clock at the present: its limits, what was met or missed, and a forecast where readings allow one.

    `around_c` is what is around the food, where the cook said.
    """
    return Standing(clock, rules, here, around_c).told()


@dataclass(frozen=True)
class Standing:
    """One clock, asked about here and now."""

    clock: Clock
    rules: Rules
    here: Here
    around_c: float | None = None

    @cached_property
    def found(self) -> Verdict:
        return verdict(self.clock, self.rules, self.here.now)

    @cached_property
    def limits(self) -> tuple[Limit, ...]:
        """Those that no reading shows to be met."""
        return limits(self.clock, self.rules)

    @property
    def brief(self) -> put.Brief:
        return self.here.zone, self.here.now

    @property
    def _lasted(self) -> timedelta:
        return self.here.now - self.clock.started

    def told(self) -> Told:
        out = self.clock.kind in STANDING
        lines = self._while_out() if out else self._while_cooling()
        passed = self.found.state is State.PASSED
        return Told(self._heading(), (*_sentences(lines), DEFERRAL), self._facts(), refused=passed)

    # ------------------------------------------------------------ in words

    def _heading(self) -> str:
        if self.found.state is State.PASSED:
            return self._passed()
        if self.found.state is State.MET:
            return "By these readings every limit on cooling was met."
        to_come, since = put.by_when(self.limits, self.brief), put.moment(self.clock.started, self.brief)
        middle = "" if self.clock.kind in STANDING else "in the middle "
        return f"{put.capital(middle + to_come)}, counted from {since}."

    def _passed(self) -> str:
        if self.clock.kind in STANDING:
            first = self.found.missed[0]
            since, by = put.moment(first.limit.at, self.brief), words.length(first.by)
            return f"Out for {words.length(self._lasted)}: past the limit of {since}, by {by}."
        seen = [miss for miss in self.found.missed if miss.shown]
        last = (seen or self.found.missed)[-1]
        asked = f"{last.limit.says} by {put.moment(last.limit.at, self.brief)}"
        if last.shown:
            return f"Past the limit: {asked} was not met."
        return f"Past the limit, unless it was met: {asked}; no reading shows that it was."

    def _while_out(self) -> list[str]:
        told = put.out_lines(self.limits, self.found, self.brief)
        return [*told, *_on_standing(self.clock.kind, self.rules, self._lasted)]

    def _while_cooling(self) -> list[str]:
        missed = put.missed_lines(self.found, self.brief)
        over = {miss.limit for miss in self.found.missed}
        left = [limit for limit in self.limits if limit not in over]
        to_come = [f"still to come: {put.by_when(left, self.brief)}"] if missed and left else []
        hints = [FASTER] if left else []
        if missed:
            return [*missed, *to_come, *self._forecast(), *hints]
        if self.clock.kind is Kind.COOLING and not self.clock.readings:
            hints.insert(0, MEASURE)
        return [*self._forecast(), *_lines_of(self.clock.kind, self.rules), *hints]

    def _forecast(self) -> list[str]:
        """When the next limit is met at the pace of the last two readings."""
        limit = self.found.next
        if limit is None or limit.to_c is None or len(self.clock.readings) < 2:
            return []
        said = [
            f"{self._reached(limit, around)} with {degrees(around)} around it" for around in self._around()
        ]
        return [f"A forecast from the last two readings, no promise: {degrees(limit.to_c)} {', '.join(said)}"]

    def _reached(self, limit: Limit, around: float) -> str:
        at = reaches(self.clock.readings, limit.to_c or 0.0, around)
        if at is None:
            return "not at all"
        apart = words.length(abs(limit.at - at))
        late = f", {apart} after the limit" if at > limit.at else f", {apart} before the limit"
        return f"at {put.moment(at, self.brief)}{late}"

    def _around(self) -> list[float]:
        return [FRIDGE_C, ROOM_C] if self.around_c is None else [self.around_c]

    # ------------------------------------------------------------ as data

    def _facts(self) -> dict[str, Any]:
        zone, following = self.here.zone, self.found.next
        return {
            "kind": self.clock.kind.value,
            "rules": self.rules.name,
            "zone": zone,
            "since": hours.local(self.clock.started, zone).isoformat(),
            "now": hours.local(self.here.now, zone).isoformat(),
            "readings": [
                {"at": hours.local(at, zone).isoformat(), "celsius": celsius}
                for at, celsius in self.clock.readings
            ],
            "state": self.found.state.value,
            "limits": [of_limit(limit, zone) for limit in self.limits],
            "next": None if following is None else of_limit(following, zone),
            "minutes_left": None if self.found.left is None else self.found.left.total_seconds() / 60,
            "missed": [of_miss(miss, zone) for miss in self.found.missed],
            "forecast": self._forecasts(),
        }

    def _forecasts(self) -> list[dict[str, Any]]:
        limit = self.found.next
        if limit is None or limit.to_c is None or len(self.clock.readings) < 2:
            return []
        found = [(around, reaches(self.clock.readings, limit.to_c, around)) for around in self._around()]
        return [
            {
                "to_c": limit.to_c,
                "around_c": around,
                "at": None if at is None else hours.local(at, self.here.zone).isoformat(),
            }
            for around, at in found
        ]
