"""How often, how early and how late the cook is spoken to: every distance of the nudges in one place.

The figures are judgement, not measurement: chosen so that people are neither forgotten nor pestered.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import time, timedelta

from scheduler.domain.kitchen.rules import STRICTER, Rules

MINUTE = timedelta(minutes=1)
HOUR = timedelta(hours=1)
DAY = timedelta(days=1)


def clamp(length: timedelta, least: timedelta, most: timedelta) -> timedelta:
    """`length`, but no shorter than `least` and no longer than `most`."""
    return max(least, min(length, most))


@dataclass(frozen=True, slots=True)
class Policy:
    """The distances between what happens and what is said about it; all elapsed time.

    Beginning a step
        `first_repeat`: the longest until an unanswered "now" is said again (a quarter of the window when
        that is shorter); where the window is wide, a hands-on job is given its own length first, with
        `hands_full` on top, but at most `patience`. Each repeat waits twice as long as the one before (up
        to `longest_doubled`), or an eighth of what is left of the window when that is longer; there are
        at most `repeats`.
        `apart`: two messages about one step are never closer.
        `closing_least`, `closing_most`: the last word comes a quarter of the window before it shuts,
        within these. Windows shorter than `closing_least` have none.
        `before_leaving`: the last word, moved ahead of a night or an absence, leaves so long to act.
        `grace`: how long after its window a step counts as merely late; then it is missed.
        `missed_useful`: how long after that it is still worth saying.
    Ending one
        `take_off`: a pot that was to come off is asked after so soon, again after twice that.
        `still_at_it`: the same for work of the hands. At most `end_repeats`; useful for `end_useful`.
    Looking at what nature ends
        Every quarter of its range, but at least `look_nearby` or `look_unattended` and at most `look_most`
        apart.
    Touches
        Asked after once, after `touch_repeat`, or `short_touch_repeat` when they return within `short_touch`.
        `night_touches`: send those that fall in sleep at their hour; otherwise they wait for the morning.
    Ahead of time
        The day's card comes `card` after the first of the house wakes, but at least `card_ahead` before
        the first thing to do; where nobody's waking begins that day, at `morning`.
        What starts within `early` of waking is announced `before_bed`.
        Shopping is announced `shopping` after waking on the last day that leaves `time_to_shop`.
        `heads_up`: so long before work that has things to bring out or an oven to heat, or that brings
        somebody home, where nothing was said for `quiet`; not for jobs of the hands of `small_job` or less.
    At the table
        `after_table`: nothing is said later than so long after the serving hour.
    Food that cools or stands
        `rules`: the published limits that its clocks run by. Before each comes a warning, by a quarter of the time
        it allows but within `clock_least` and `clock_most`; at each what the rule says, of use for `clock_useful`.
        Who has measured within `clock_told` before a warning was told then, and is warned halfway to the limit.
    """

    first_repeat: timedelta = 15 * MINUTE
    hands_full: timedelta = 5 * MINUTE
    patience: timedelta = HOUR
    longest_doubled: timedelta = 4 * HOUR
    repeats: int = 4
    apart: timedelta = 5 * MINUTE
    closing_least: timedelta = 10 * MINUTE
    closing_most: timedelta = HOUR
    before_leaving: timedelta = 10 * MINUTE
    grace: timedelta = 15 * MINUTE
    missed_useful: timedelta = 12 * HOUR
    take_off: timedelta = 5 * MINUTE
    still_at_it: timedelta = 10 * MINUTE
    end_repeats: int = 2
    end_useful: timedelta = 12 * HOUR
    look_nearby: timedelta = 10 * MINUTE
    look_unattended: timedelta = 30 * MINUTE
    look_most: timedelta = DAY
    touch_repeat: timedelta = 20 * MINUTE
    short_touch_repeat: timedelta = 5 * MINUTE
    short_touch: timedelta = 2 * HOUR
    night_touches: bool = False
    card: timedelta = 10 * MINUTE
    card_ahead: timedelta = 5 * MINUTE
    morning: time = time(7)
    early: timedelta = HOUR
    before_bed: timedelta = HOUR
    shopping: timedelta = 20 * MINUTE
    time_to_shop: timedelta = 3 * HOUR
    heads_up: timedelta = 45 * MINUTE
    quiet: timedelta = 2 * HOUR
    small_job: timedelta = 10 * MINUTE
    after_table: timedelta = HOUR
    rules: Rules = STRICTER
    clock_least: timedelta = 10 * MINUTE
    clock_most: timedelta = HOUR
    clock_useful: timedelta = DAY
    clock_told: timedelta = 15 * MINUTE

    def clock_lead(self, allowed: timedelta) -> timedelta:
        """How long before a limit that allows so long the warning comes, in whole minutes."""
        return clamp(allowed / 4, self.clock_least, self.clock_most) // MINUTE * MINUTE

    def lead(self, window: timedelta) -> timedelta:
        """How long before a window of that length shuts the last word comes, in whole minutes."""
        quarter = clamp(window / 4, self.closing_least, self.closing_most)
        return min(quarter, window / 2) // MINUTE * MINUTE
