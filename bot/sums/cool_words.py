"""What a cook asks about cooling and standing out, in plain words: "how long can the duck stay out"."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import datetime

from bot.sums import Here
from bot.understanding import instants
from bot.understanding.patterns import either, spoken
from bot.understanding.plainwords import bare, plain
from bot.understanding.timewords import split
from scheduler.domain.kitchen.holding import Clock, Kind

MUST = either("must, should, does, do, has, have, need, needs, may, can")
OUT = either(r"out(?! of the oven), unrefrigerated, at room temp\w*, on the (?:counter|side|worktop|bench)")
STAYS = either("stay, sit, stand, be, lie, keep, last, wait, remain, go, be left, be kept")

HOW_LONG_OUT = spoken(
    rf"how (?:long|many hours) (?:can|may|could|is|are|am)\b.*\b{STAYS} (?:\w+ )?{OUT}",
    rf"how (?:long|many hours) (?:can|may|could) (?:i|we|you|one) (?:leave|keep|let|hold)\b.* {OUT}",
    rf"how (?:long|many hours) is it (?:ok|okay|fine|alright|all right|safe) to (?:leave|keep|let|hold)\b.* {OUT}",
)
HOW_FAST = spoken(
    rf"how (?:fast|quick|quickly|rapidly) {MUST}\b.*\b(?:cool|cooled|chill|chilled|cold|cooling|go down)",
    r"how long (?:can|may|have i got|do i have|is allowed|has .* got)\b.* to (?:cool|chill|get cold)",
    r"(?:limits?|rules?) (?:for|on|of) (?:\w+ )?(?:cooling|chilling)",
)
COLD_BY_WHEN = spoken(
    rf"(?:when|by when|how soon|what time) {MUST}\b.*\b(?:have to|has to|had to|need to|needs to|got to) be"
    r" (?:cold|cool|cooled|chilled)",
    r"(?:when|by when|how soon|what time) (?:must|should) .*\bbe (?:cold|cooled|chilled)",
)
REHEAT = spoken(
    rf"(?:how (?:hot|far|warm|fast|quickly)|to what temperature|what temperature) {MUST}\b.*\b(?:reheat|rewarm)\w*",
    r"how (?:hot|far|warm) to reheat",
)
TO_COME = spoken(r"(?:take|takes|will take|coming|comes|come) (?:\w+ ){0,3}(?:off|out)")
"""A moment that lies ahead: "if I take it off at 2"."""


DEGREES = r"(-?\d{1,3})(?: ?(?:degrees?\b)? ?(?:c|f|celsius|fahrenheit)?\b)?"
COOLED = re.compile(rf"\b(?:cool\w*|chill\w*)\b.*\bfrom {DEGREES} (?:down )?to {DEGREES}")
"""How far it cooled."""

FAHRENHEIT = spoken(r"\d+ ?(?:degrees? )?(?:f|fahrenheit)")


@dataclass(frozen=True, slots=True)
class Asked:
    """What is asked for, and the clock where a moment was named; no kind is asked for by how to reheat."""

    kind: Kind | None
    clock: Clock | None = None


def asked(said: str, here: Here) -> Asked | None:
    """None for words that ask something else."""
    words = bare(plain(said)).replace("?", " ")
    if REHEAT.search(words):
        return Asked(None)
    if (clock := _cooled(words, here)) is not None:
        return Asked(Kind.COOLING, clock)
    if HOW_LONG_OUT.search(words):
        kind = Kind.OUT
    elif HOW_FAST.search(words) or COLD_BY_WHEN.search(words):
        kind = Kind.COOLING
    else:
        return None
    since = _since(words, here)
    return Asked(kind, None if since is None else Clock(kind, since))


def _cooled(words: str, here: Here) -> Clock | None:
    """ "It took 3 hours to cool from 60 to 21": until now, with what was measured at both ends."""
    found, said = COOLED.search(words), split(words.strip(" .,;:"))
    lasted = said.length or said.ahead
    if found is None or lasted is None:
        return None
    hot, cool = (float(figure) for figure in found.groups())
    if FAHRENHEIT.search(words):
        hot, cool = round((hot - 32) / 1.8, 1), round((cool - 32) / 1.8, 1)
    began = here.now - lasted
    return Clock(Kind.COOLING, began, ((began, hot), (here.now, cool)))


def _since(words: str, here: Here) -> datetime | None:
    """When it came off the heat, or will, or was taken out."""
    said = split(words.strip(" .,;:"))
    if said.to_come or (said.clock is not None and TO_COME.search(said.text)):
        return instants.future(said, here.now, None, here.zone)
    return instants.past(said, here.now, here.zone)
