"""Nudges and answers as letters in the outbox: keys, urgency, and which are still owed."""

from __future__ import annotations

from datetime import datetime

from scheduler.domain.nudges import Policy, owed
from scheduler.domain.stages import About, Nudge, Stage
from scheduler.ports import UnitOfWork
from scheduler.records import Chat, ChatStage, Kind, Letter
from scheduler.service.answers import Said
from scheduler.service.view import View

URGENCY = {Stage.CLOSING: 1, Stage.MISSED: 1, Stage.NOW: 2, Stage.WAITING: 3, Stage.HEADS_UP: 4}
"""When there is more to send than the limits allow, the lower goes first; answers go before all."""

ANSWER_URGENCY = 0
FILE_URGENCY = 5
UNBUTTON_URGENCY = 6


OWED_SINCE = "owed since"
"""The fact that says when a nudge was first owed, where it was overdue by then."""


def letter_of(nudge: Nudge, view: View) -> Letter:
    overdue = {OWED_SINCE: view.now.isoformat()} if nudge.due < view.now else {}
    return Letter(
        chat=view.row.chat,
        kind=Kind.NUDGE,
        due=nudge.due,
        key=f"{view.id}/{nudge.key}",
        stage=nudge.stage,
        about=nudge.about,
        subject=nudge.subject,
        expires=nudge.expires,
        plan=view.id,
        step=nudge.step,
        occurrence=nudge.occurrence,
        revision=view.row.revision,
        facts=dict(overdue),
        priority=URGENCY[Stage.CLOSING] if nudge.about is About.CLOCK else URGENCY[nudge.stage],
    )


def owed_since(letter: Letter) -> datetime:
    """The earliest moment at which it could have been sent."""
    first = letter.facts.get(OWED_SINCE)
    return letter.due if first is None else max(letter.due, datetime.fromisoformat(str(first)))


def nudge_of(letter: Letter) -> Nudge:
    """The nudge a letter carries; ValueError for a letter that is none."""
    if letter.about is None or letter.stage is None or letter.subject is None or letter.expires is None:
        raise ValueError(f"letter {letter.key} is not a nudge")
    return Nudge(
        letter.about, letter.stage, letter.due, letter.expires, letter.subject, letter.step, letter.occurrence
    )


def answer_letter(chat: int, said: Said, now: datetime, key: str, plan: int | None = None) -> Letter:
    return Letter(
        chat, Kind.ANSWER, now, key, plan=plan, text=said.text, buttons=said.buttons, priority=ANSWER_URGENCY
    )


def file_letter(chat: int, content: bytes, name: str, caption: str, now: datetime, key: str) -> Letter:
    return Letter(
        chat, Kind.FILE, now, key, text=caption, file=content, file_name=name, priority=FILE_URGENCY
    )


def timer_letter(chat: int, label: str, set_at: datetime, due: datetime, key: str) -> Letter:
    return Letter(
        chat,
        Kind.NUDGE,
        due,
        key,
        stage=Stage.NOW,
        about=About.TIMER,
        subject=set_at,
        expires=due.max.replace(tzinfo=due.tzinfo),
        facts={"label": label},
        priority=URGENCY[Stage.NOW],
    )


def replace_nudges(uow: UnitOfWork, view: View, policy: Policy) -> None:
    """Owe what the plan now owes and nothing it no longer does.

    What was sent already keeps its key, and so is not owed again.
    """
    letters = [
        letter_of(nudge, view) for nudge in owed(view.plan, view.timetable, view.progress, policy, view.now)
    ]
    waiting = {letter.key: letter for letter in uow.outbox.pending(view.id)}
    uow.outbox.obsolete(view.id, keep=[letter.key for letter in letters])
    uow.outbox.put([letter for letter in letters if not _as_before(letter, waiting.get(letter.key))])


def _as_before(letter: Letter, waiting: Letter | None) -> bool:
    """Whether the letter waits in the outbox as it should already."""
    return waiting is not None and (waiting.due, waiting.expires) == (letter.due, letter.expires)


def take_buttons_off(uow: UnitOfWork, view: View, steps: set[int]) -> None:
    """Messages about steps that are over lose their buttons."""
    over = [letter for step in sorted(steps) for letter in uow.outbox.with_buttons(view.id, step)]
    uow.outbox.put([_unbutton(letter, view.now) for letter in over if letter.about is not About.CLOCK])


def take_buttons_off_message(uow: UnitOfWork, letter: Letter, now: datetime) -> None:
    """One message loses its buttons."""
    uow.outbox.put([_unbutton(letter, now)])


def take_clock_buttons_off(uow: UnitOfWork, view: View, step: int, number: int) -> None:
    """Messages about a clock of which something was said since lose their buttons."""
    told = uow.outbox.with_buttons(view.id, step)
    mine = [letter for letter in told if (letter.about, letter.occurrence) == (About.CLOCK, number)]
    uow.outbox.put([_unbutton(letter, view.now) for letter in mine])


def _unbutton(letter: Letter, now: datetime) -> Letter:
    return Letter(
        letter.chat,
        Kind.UNBUTTON,
        now,
        f"unbutton/{letter.id}",
        plan=letter.plan,
        step=letter.step,
        receipt=letter.receipt,
        priority=UNBUTTON_URGENCY,
    )


def keys_owed(view: View, policy: Policy) -> frozenset[str]:
    """The keys of the nudges owed at the view's moment: what was withheld meanwhile is not among them."""
    nudges = owed(view.plan, view.timetable, view.progress, policy, view.now)
    return frozenset(nudge.key for nudge in nudges)


def readdress(uow: UnitOfWork, chat: Chat, address: str) -> None:
    """Move a chat to its new address. Of two chats that meet there, one that was hardly begun gives way.

    It may be the one that is to move: when the chat was moved already, an update sent from its old address
    before that begins another one there.
    """
    other = uow.chats.at(address)
    if other is None or other.id == chat.id:
        _move(uow, chat, address)
    elif chat.stage is not ChatStage.READY and other.stage is ChatStage.READY:
        _give_way(uow, chat, other)
    else:
        _give_way(uow, other, chat)
        _move(uow, chat, address)


def _move(uow: UnitOfWork, chat: Chat, address: str) -> None:
    chat.address = address
    uow.chats.save(chat)


def _give_way(uow: UnitOfWork, chat: Chat, other: Chat) -> None:
    """Nothing more is sent to a chat that another one stands for."""
    chat.address = f"{other.address}#chat-{chat.id}"
    chat.barred = "replaced"
    uow.chats.save(chat)
