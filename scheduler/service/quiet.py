"""When a nudge that may be sent is held back all the same: quiet was asked for, or everyone is asleep."""

from __future__ import annotations

from datetime import datetime, timedelta

from scheduler.domain.plan import Plan
from scheduler.domain.presence import Presence
from scheduler.domain.stages import About, Stage
from scheduler.records import Chat, Kind, Letter

SPARED = (About.START, About.LOOK, About.TEND, About.BUY, About.EARLY, About.DAY)
"""All but a pot that is to come off the fire, food out of temperature control, and timers: those were asked for, and
do not wait."""

SAID_AGAIN = (Stage.HEADS_UP, Stage.WAITING)
"""What is followed by something more pressing, which comes if it must."""


def quiet_until(chat: Chat, letter: Letter) -> datetime | None:
    """Until when a nudge waits because quiet was asked for; None for what would be lost by waiting."""
    quiet = chat.quiet_until
    if quiet is None or letter.kind is not Kind.NUDGE or letter.about not in SPARED:
        return None
    if letter.stage in (Stage.CLOSING, Stage.MISSED):
        return None
    followed = letter.stage in SAID_AGAIN and letter.about is not About.BUY
    lasts = letter.expires is None or letter.expires > quiet
    return quiet if followed or lasts else None


def asleep_until(plan: Plan, letter: Letter, now: datetime) -> datetime | None:
    """Until when a nudge that was held up waits because the house is asleep by now; None when it is not to.

    A nudge that falls in the night by itself was put there by the plan: somebody is up for it.
    """
    if letter.about is About.CLOCK:
        return None
    day = timedelta(days=1)
    presence = Presence(plan, letter.due - day, now + 7 * day)
    if presence.is_awake(now, at_home=False) or not presence.is_awake(letter.due, at_home=False):
        return None
    return presence.next_awake(now, at_home=False)
