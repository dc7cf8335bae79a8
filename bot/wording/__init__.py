"""Everything Crockbell says: answers and nudges put into words, the same words for the same facts."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from bot.wording import (
    asked,
    caution,
    company,
    days,
    marks,
    plan,
    questions,
    shopping,
    sums,
    talk,
    warmth,
    ways,
)
from bot.wording.ahead import buy, card, early, soon
from bot.wording.begin import begin
from bot.wording.catch_up import catch_up
from bot.wording.clock_answers import clock_is, no_clock
from bot.wording.clocks import clock_due, clock_nudge
from bot.wording.running import end, look, tend
from scheduler.domain.kitchen.rules import STRICTER, Rules
from scheduler.domain.stages import About, Nudge, Stage
from scheduler.service import answers
from scheduler.service.answers import Answer, Consequence, Said, Words
from scheduler.service.view import View

ANSWERS: dict[type[Any], Callable[[Any], Said]] = {
    answers.Welcome: talk.welcome,
    answers.ZoneUnclear: talk.zone_unclear,
    answers.AskHours: talk.ask_hours,
    answers.HoursUnclear: talk.hours_unclear,
    answers.Settled: talk.settled,
    answers.BadFile: plan.bad_file,
    answers.AskServe: plan.ask_serve,
    answers.Proposed: days.proposed,
    answers.NoFit: plan.no_fit,
    answers.Accepted: days.accepted,
    answers.Discarded: plan.discarded,
    answers.Taken: marks.taken,
    answers.Refused: talk.refused,
    answers.AskWhich: talk.ask_which,
    answers.Confirm: talk.confirm,
    answers.AskUntil: talk.ask_until,
    answers.HourFits: plan.hour_fits,
    answers.HourMoved: plan.hour_moved,
    answers.ChangeMade: ways.change_made,
    answers.ServesChanged: company.serves_changed,
    answers.Reckoned: warmth.reckoned,
    answers.NextIs: days.next_is,
    answers.DayIs: days.day_is,
    answers.PlanIs: days.plan_is,
    answers.WhenIs: questions.when_is,
    answers.WhyIs: questions.why_is,
    answers.Noted: marks.noted,
    answers.Undone: marks.undone,
    answers.TimerSet: talk.timer_set,
    answers.TimerGone: talk.timer_gone,
    answers.TimersAre: talk.timers_are,
    answers.Shopping: shopping.shopping,
    answers.AmountIs: asked.amount_is,
    answers.SumIs: sums.sum_is,
    answers.Caution: caution.caution_is,
    answers.QuietUntil: talk.quiet_until,
    answers.Stopped: plan.stopped,
    answers.StillGoing: marks.still_going,
    answers.AsItWas: talk.as_it_was,
    answers.AskHowLate: talk.ask_how_late,
    answers.Help: talk.help_,
    answers.NoPlan: talk.no_plan,
    answers.Unclear: talk.unclear,
    answers.ClockIs: clock_is,
    answers.ClockDue: clock_due,
    answers.NoClock: no_clock,
    answers.Failed: talk.failed,
    answers.Undelivered: talk.undelivered,
}
"""How each kind of answer is put; CatchUp besides, whose buttons are those of a nudge."""

NUDGES: dict[About, Callable[[Nudge, View], Said]] = {
    About.END: end,
    About.LOOK: look,
    About.TEND: tend,
    About.BUY: buy,
    About.EARLY: early,
    About.DAY: card,
}


class Wording(Words):
    """The words of the bot, in plain English. Text that came from a plan is shortened, never escaped.

    `rules` are the published limits by which food out of temperature control is spoken of.
    """

    def __init__(self, rules: Rules = STRICTER) -> None:
        self.rules = rules

    def answer(self, answer: Answer) -> Said:
        if isinstance(answer, answers.CatchUp):
            return catch_up(answer, self.nudge)
        return ANSWERS[type(answer)](answer)

    def nudge(self, nudge: Nudge, view: View, consequence: Consequence | None = None) -> Said:
        """The message for a nudge, as true at `view.now`. ValueError for a timer, which has no plan."""
        if nudge.about is About.CLOCK:
            return clock_nudge(nudge, view, self.rules)
        if nudge.about is About.TIMER:
            raise ValueError("a timer's words are found by its label")
        if nudge.about is not About.START:
            return NUDGES[nudge.about](nudge, view)
        if nudge.stage is Stage.HEADS_UP:
            return soon(nudge, view)
        return begin(nudge, view, consequence)

    def timer(self, label: str) -> Said:
        return talk.timer(label)
