"""One message after a time in which nothing could be sent: what is to be done now, and nothing stale."""

from __future__ import annotations

from collections.abc import Callable

from bot.wording.days import coming
from bot.wording.facts import Facts
from bot.wording.lines import message, short, some
from scheduler import words
from scheduler.domain.progress import State
from scheduler.domain.stages import About, Nudge, Stage
from scheduler.service.answers import CatchUp, Consequence, Said
from scheduler.service.view import View

MOST_THINGS = 7
NOTHING = "nothing fell due that is still to do"
Told = tuple[View, Nudge]


def catch_up(answer: CatchUp, nudge: Callable[[Nudge, View, Consequence | None], Said]) -> Said:
    """What is due now in order of time; the buttons are those of the first given, the most pressing."""
    views = {view.row.id: view for view in answer.views}
    due = [
        (views[plan], each) for plan, each in answer.nudges if plan in views and _is_open(views[plan], each)
    ]
    if not due:
        rest = [coming(Facts(view)) for view in answer.views]
        return message(_heading(answer, NOTHING, "Nothing is due that is still to do"), *some(rest, 3))
    first = due[0]
    lines = [_line(Facts(view), each) for view, each in sorted(due, key=lambda pair: pair[1].subject)]
    said = nudge(first[1], first[0], answer.consequence)
    outcome = said.text.splitlines()[0] + "." if answer.consequence is not None else ""
    which = (
        f"The buttons are for: {_name(Facts(first[0]), first[1])}." if len(due) > 1 and said.buttons else ""
    )
    heading = _heading(answer, "this fell due", "This is due already")
    return message(heading, *some(lines, MOST_THINGS), outcome, which, buttons=said.buttons)


def _heading(answer: CatchUp, what: str, plainly: str) -> str:
    """What is told and why only now; `plainly` where nothing of ours held it up."""
    if answer.since is None:
        return plainly
    zone = answer.views[0].zone if answer.views else "UTC"
    return f"While I was away (since {words.brief(answer.since, zone, answer.now)}), {what}"


def _is_open(view: View, nudge: Nudge) -> bool:
    """Whether it is still to be done, and not too late for."""
    if nudge.expires <= view.now or nudge.step is None or view.timetable.slot(nudge.step) is None:
        return False
    if nudge.about is About.TEND:
        return (nudge.step, nudge.occurrence) not in view.progress.touched
    if nudge.about is About.CLOCK:
        return True  # it would not be owed any more if it were met
    state = view.progress.state(nudge.step)
    if nudge.about in (About.END, About.LOOK):
        return state is State.RUNNING
    return state is State.WAITING


def _line(facts: Facts, nudge: Nudge) -> str:
    """ "- Still to do: Soak the beans, planned for 13:40. It can wait until 22:10 today."."""
    number, name, planned = nudge.step or 0, _name(facts, nudge), facts.brief(nudge.subject)
    if nudge.about is About.CLOCK:
        limit = "a limit passed" if nudge.stage is Stage.MISSED else "its next limit comes"
        return f"- {facts.component(number)}, out or cooling: {limit} at {planned}."
    if nudge.about is About.END:
        return f"- Time was up at {planned}: {name}."
    if nudge.about is About.LOOK:
        return f"- Have a look: {name}."
    if nudge.about is About.TEND:
        return f"- {name}, due {planned}."
    if nudge.about is About.BUY:
        return f"- Buy for {facts.quoted(number)}, {facts.at(facts.start(number, nudge.subject))}."
    room = "It was not begun." if nudge.stage is Stage.MISSED else facts.room(number)
    return f"- {name}, planned for {planned}. {room}"


def _name(facts: Facts, nudge: Nudge) -> str:
    number = nudge.step or 0
    tend = facts.step(number).tend
    if nudge.about is About.CLOCK:
        return f"the clock of {facts.component(number)}"
    if nudge.about is About.TEND and tend is not None:
        return f"{short(tend.name, 40)} ({facts.component(number)})"
    return facts.titled(number)
