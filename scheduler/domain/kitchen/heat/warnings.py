"""What a cook is to know of a heating that was worked out: one sentence each, with its source."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import timedelta

from scheduler.domain.kitchen.core import Core, Food
from scheduler.domain.kitchen.heat.curve import Course
from scheduler.domain.kitchen.heat.reductions import regulator
from scheduler.domain.kitchen.written import in_hours

# Appendix A's times held for Listeria at 60, 65.6 and 71.1 C and not at 54.4 C (abstract read).
_LISTERIA_HELD_C = 60.0
_MCMINN = "McMinn et al., Meat and Muscle Biology"

# Six hours from 50 to 130 F: FSIS Cooking Guideline 2021, revised Appendix A (from memory). That C. perfringens
# grows a hundred- to a thousandfold in a slow come-up: Duan et al. 2016 (read in a copy).
_SLOW_FROM_C, _SLOW_TO_C, _SLOW_MIN = 10.0, 54.4, 6 * 60
_FSIS_SLOW = "FSIS Cooking Guideline 2021, from memory"

# Less than this above a table's first row, the middle takes for ever to get to that row.
_HARDLY_C = 0.5
# A slab without sides that takes this much longer is worth a word.
_LONGER = 1.05

# The thickness tables for meat and poultry end there.
_THICKEST_MM = 70.0
_TABLES = "Baldwin, A Practical Guide"


@dataclass(frozen=True, slots=True)
class Situation:
    """What was worked out: `endless_min` is the shortest for a slab without sides; None for other shapes."""

    core: Core
    medium: str
    transfer_w_m2k: float
    course: Course
    shortest_min: int
    endless_min: int | None


def warnings(now: Situation) -> tuple[str, ...]:
    """The sentences that apply, the gravest first."""
    if now.core.food is Food.PLANT:
        return tuple(_guessed(now))
    tellers = (_between, _table, _slow, _wide, _thick, _guessed)
    return tuple(sentence for teller in tellers for sentence in teller(now))


def _between(now: Situation) -> Iterator[str]:
    if now.core.at_c < _LISTERIA_HELD_C and now.core.food is not Food.FISH:
        yield (
            f"Below {_LISTERIA_HELD_C:g} C Listeria may outlive the times published for Salmonella: "
            f"at 54.4 C they did not match in roast beef, turkey and ham ({_MCMINN})."
        )


def _table(now: Situation) -> Iterator[str]:
    table = regulator(now.core.food)
    if table is None:
        return
    if now.core.at_c < table.lowest_c:
        yield f"The official table for this food begins at {table.lowest_c:g} C, above this ({table.source})."
        return
    met = now.course.first_done(table.part, 1.0)
    if met is not None and met <= now.shortest_min:
        return
    if met is None or now.core.at_c - table.lowest_c < _HARDLY_C:
        yield (
            f"The official table counts only time at {table.lowest_c:g} C and above, which the middle hardly "
            f"gets to: heat it to a degree more ({table.source})."
        )
    else:
        yield (
            "The official table counts only time at the temperatures it prints: "
            f"by it this takes {length(met)} ({table.source})."
        )


def _slow(now: Situation) -> Iterator[str]:
    cold, hot = now.course.reaches(_SLOW_FROM_C), now.course.reaches(_SLOW_TO_C - 0.5)
    if cold is not None and hot is not None and hot - cold > _SLOW_MIN:
        yield (
            f"The middle takes {length(hot - cold)} from {_SLOW_FROM_C:g} C to {_SLOW_TO_C:g} C, when bacteria that "
            f"outlive this heat can grow; at most 6 h is allowed ({_FSIS_SLOW}): use a thinner piece."
        )


def _wide(now: Situation) -> Iterator[str]:
    width, longest = now.course.piece.width_mm, now.endless_min
    if width is not None and longest is not None and longest > _LONGER * now.shortest_min:
        yield (
            f"This counts on a piece no wider than {width / 10:g} cm; a wider one takes up to "
            f"{length(longest)} (worked out)."
        )


def _thick(now: Situation) -> Iterator[str]:
    if now.core.thickness_mm > _THICKEST_MM:
        yield (
            f"No table of times goes beyond {_THICKEST_MM:g} mm, so nothing published checks this sum: "
            f"measure the middle ({_TABLES})."
        )


def _guessed(now: Situation) -> Iterator[str]:
    if now.medium == "oven":
        yield (
            f"How fast an oven heats is a guess ({now.transfer_w_m2k:g} W/(m2 K), from memory): "
            "trust a thermometer in the middle, not this time."
        )


def length(minutes: int) -> str:
    """ "2 h 30 min", as a plan writes it."""
    return in_hours(timedelta(minutes=minutes))
